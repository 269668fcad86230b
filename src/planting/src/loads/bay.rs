//! A wire between two posts: how tension and sag change with load and warmth.
//!
//! ```text
//!     post                              post          H   pull along the wire, alike everywhere in it
//!      |------..__            __..------|             T   pull at the posts, √(H² + (w L ÷ 2)²)
//!      |          ''--....--''          |   ] sag f   w   load on a metre
//!      |<------------- L -------------->|             f   w L² ÷ 8 H
//! ```
//!
//! The wire is a flat parabola, `f = w L² ÷ 8H` (*Civil Engineering Formulas*, eq. 10.81), longer than the bay by
//! `8 f² ÷ 3 L` (eq. 10.85). What load and warmth add to it must be what the pull stretches it by. Between a state 1 without and a
//! state 2 with a load, both ends held fast, that is
//!
//! `H₂² (H₂ − H₁ + EA w₁² L² ÷ 24 H₁² + EA α ΔT) = EA w₂² L² ÷ 24`
//!
//! with one positive root. Ends that yield lower EA (see [`Wire::stiffness_between`]); ends that give way until the pull is what it was
//! are the other bound.
//!
//! Every bay of a row is taken to be as long and as loaded as this one, so that no wire slides through its staples.

use super::measures::LinearLoad;
use super::roots;
use super::wire::{EXPANSION, Wire};
use uom::si::f64::{Force, Length, TemperatureInterval};
use uom::si::force::newton;
use uom::si::length::meter;

/// A wire as it was strung in a bay.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bay {
    /// Post to post `[m]`.
    pub span: Length,
    /// The wire.
    pub wire: Wire,
    /// Its stiffness, that of the row ends included `[N]`.
    pub stiffness: Force,
    /// Its tension when it was strung, without crop or ice `[N]`.
    pub pretension: Force,
}

/// A wire under a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hung {
    /// Pull along the wire `[N]`.
    pub horizontal: Force,
    /// Pull at the posts, the largest there is in it `[N]`.
    pub tension: Force,
    /// How far it hangs down midway between the posts `[m]`.
    pub sag: Length,
}

impl Bay {
    /// The wire under a pull and a load.
    fn hung(&self, horizontal: f64, load: f64) -> Hung {
        let span = self.span.value;
        Hung {
            horizontal: Force::new::<newton>(horizontal),
            tension: Force::new::<newton>(horizontal.hypot(load * span / 2.0)),
            sag: Length::new::<meter>(load * span * span / (8.0 * horizontal)),
        }
    }

    /// What the state equation adds to the pull before any load, `EA w₁² L² ÷ 24 H₁² + EA α ΔT − H₁` `[N]`.
    fn slack(&self, warming: TemperatureInterval) -> f64 {
        let (stiffness, pull) = (self.stiffness.value, self.pretension.value);
        let own = self.wire.weight(Length::new::<meter>(0.0)).value * self.span.value;
        stiffness * (own * own / (24.0 * pull * pull) + EXPANSION * warming.value) - pull
    }

    /// The wire with a load on each metre, its own weight included, so much warmer than when it was strung. None where it has no load, no
    /// length or no tension to start from.
    ///
    /// ```
    /// use planting::kit::units::{POUND_FORCE, fahrenheit, pounds_force};
    /// use planting::{feet, inches, loads::{Bay, Gauge, Grade, Wire}};
    /// let wire = Wire { gauge: Gauge::No12Half, grade: Grade::Ksi170 };
    /// let bay = Bay { span: feet(30.0), wire, stiffness: wire.stiffness(), pretension: pounds_force(250.0) };
    /// let load = pounds_force(4.365) / feet(1.0);
    /// let hung = bay.under(load, fahrenheit(0.0)).unwrap();
    /// assert!((hung.horizontal.value / POUND_FORCE - 639.69).abs() < 0.01);
    /// assert!((hung.sag.value / 0.0254 - 9.212).abs() < 0.001);
    /// ```
    pub fn under(&self, load: LinearLoad, warming: TemperatureInterval) -> Option<Hung> {
        let (span, w) = (self.span.value, load.value);
        if !(self.pretension.value > 0.0 && span > 0.0 && w > 0.0) {
            return None;
        }
        let stretched = self.stiffness.value * (w * span) * (w * span) / 24.0;
        let horizontal = roots::of_square_and_cube(self.slack(warming), stretched)?;
        Some(self.hung(horizontal, w))
    }

    /// The wire under a load where the ends give way until it pulls no more than when it was strung: the lower bound of its pull and
    /// the upper one of its sag.
    ///
    /// ```
    /// use planting::kit::units::pounds_force;
    /// use planting::{feet, loads::{Bay, Gauge, Grade, Wire}};
    /// let wire = Wire { gauge: Gauge::No12Half, grade: Grade::Ksi170 };
    /// let bay = Bay { span: feet(30.0), wire, stiffness: wire.stiffness(), pretension: pounds_force(250.0) };
    /// let held = bay.held(pounds_force(4.365) / feet(1.0));
    /// assert!((held.sag.value / 0.0254 - 23.571).abs() < 0.001);
    /// ```
    pub fn held(&self, load: LinearLoad) -> Hung {
        self.hung(self.pretension.value, load.value)
    }

    /// The load on each metre, the wire's own weight included, under which the pull at the posts is this. Nothing where the wire
    /// pulls as much before any load; none where there is no bay.
    ///
    /// From the state equation `(w L ÷ 2)² = 6 H² (H + slack) ÷ EA`, so that `T² = H² + 6 H² (H + slack) ÷ EA`: again a cubic in H.
    ///
    /// ```
    /// use planting::kit::units::{fahrenheit, pounds_force};
    /// use planting::{feet, loads::{Bay, Gauge, Grade, Wire}};
    /// let wire = Wire { gauge: Gauge::No12Half, grade: Grade::Ksi170 };
    /// let bay = Bay { span: feet(30.0), wire, stiffness: wire.stiffness(), pretension: pounds_force(250.0) };
    /// let load = pounds_force(4.365) / feet(1.0);
    /// let tension = bay.under(load, fahrenheit(0.0)).unwrap().tension;
    /// assert!(((bay.load_for(tension).unwrap() / load).value - 1.0).abs() < 1e-12);
    /// ```
    pub fn load_for(&self, tension: Force) -> Option<LinearLoad> {
        let (span, stiffness, pull) = (self.span.value, self.stiffness.value, tension.value);
        if !(self.pretension.value > 0.0 && span > 0.0 && stiffness > 0.0 && pull > 0.0) {
            return None;
        }
        let slack = self.slack(TemperatureInterval::default());
        let sixth = stiffness / 6.0;
        let horizontal = roots::of_square_and_cube(sixth + slack, sixth * pull * pull)?;
        let half = 6.0 * horizontal * horizontal * (horizontal + slack).max(0.0) / stiffness;
        Some(Force::new::<newton>(2.0 * half.sqrt()) / self.span)
    }
}
