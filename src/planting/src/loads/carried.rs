//! All loads of one trellis, in the order a person would work them by hand: crop, wires, wind, post, soil, row end.

use super::bay::{Bay, Hung};
use super::crop::{crop_on_row, crop_on_wire};
use super::ends::{Held, Pull};
use super::measures::LinearLoad;
use super::posts::bending_stress;
use super::soil::Embedment;
use super::trellis::{Asked, Frame};
use super::wind::{Wind, gust_pressure};
use super::wire::Wire;
use crate::kit::count::as_number;
use uom::si::f64::{ArealMassDensity, Force, Length, LinearMassDensity, Pressure, TemperatureInterval};

/// What a trellis carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Carried {
    /// The crop it is to carry `[kg/m²]`.
    pub crop: ArealMassDensity,
    /// That crop on a metre of row `[kg/m]`.
    pub crop_on_row: LinearMassDensity,
    /// The trellis wire.
    pub wire: Wire,
    /// Wires that share the crop of a row.
    pub wires: usize,
    /// Crop and wire on a metre of each wire `[N/m]`.
    pub on_wire: LinearLoad,
    /// A wire in the longest bay.
    pub bay: Bay,
    /// As it was strung.
    pub empty: Hung,
    /// Under the crop.
    pub loaded: Hung,
    /// Under the crop, if the ends gave way until it pulls as when it was strung.
    pub held: Hung,
    /// On the coldest day, without crop and with the ice that is set.
    pub cold: Hung,
    /// On the hottest day, without crop.
    pub hot: Hung,
    /// The gust on an outer row.
    pub wind: Wind,
    /// Stress of a line post at the ground line in that gust `[Pa]`.
    pub post_stress: Pressure,
    /// A line post in the ground, pushed where the wind acts.
    pub embedment: Embedment,
    /// The wires' pull on a row end as strung.
    pub pull_strung: Pull,
    /// The same under the crop.
    pub pull: Pull,
    /// What holds a row end as strung; none where nothing does.
    pub held_strung: Option<Held>,
    /// What holds it under the crop.
    pub held_loaded: Option<Held>,
}

impl Carried {
    /// The loads of a trellis; none where it has no wires, or no bay that could hang.
    pub fn of(asked: &Asked) -> Option<Carried> {
        let inputs = &asked.inputs;
        let frame = asked.frame.as_ref()?;
        let wires = frame.heights.len() * frame.sides;
        let wire = asked.wire();
        let bay = Bay {
            span: frame.bay,
            wire,
            stiffness: wire.stiffness_between(asked.compliance(), asked.longest_row()),
            pretension: inputs.pretension,
        };
        let crop_on_row = crop_on_row(asked.crop(), asked.spacing.row_width);
        let own = wire.weight(Length::default());
        let on_wire = crop_on_wire(crop_on_row, inputs.share_on_wires, as_number(wires))? + own;
        let unwarmed = TemperatureInterval::default();
        let loaded = bay.under(on_wire, unwarmed)?;
        let pressure = gust_pressure(inputs.gust, inputs.exposure, asked.crowns.top);
        let wind = Wind::on(pressure, inputs.canopy_drag, asked.crowns, frame.bay, as_number(frame.sides));
        let embedment =
            Embedment { soil: inputs.soil, diameter: frame.line_post, depth: frame.depth, height: wind.arm };
        let (pull_strung, pull) = (pull(frame, inputs.pretension), pull(frame, loaded.tension));
        Some(Carried {
            crop: asked.crop(),
            crop_on_row,
            wire,
            wires,
            on_wire,
            bay,
            empty: bay.under(own, unwarmed)?,
            loaded,
            held: bay.held(on_wire),
            cold: bay.under(wire.weight(inputs.ice), -inputs.cold_drop)?,
            hot: bay.under(own, inputs.hot_rise)?,
            wind,
            post_stress: bending_stress(wind.moment, frame.line_post)?,
            embedment,
            held_strung: frame.end.under(&pull_strung),
            held_loaded: frame.end.under(&pull),
            pull_strung,
            pull,
        })
    }
}

fn pull(frame: &Frame, tension: Force) -> Pull {
    Pull { heights: frame.heights.clone(), tension }
}
