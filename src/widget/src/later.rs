//! What a page can do without until it stands: it comes in a file of its own.
//!
//! The build splits the module (`xtask/src/site/wasm.rs`): what only [`fetched`] reaches goes into the second file. So the names of the
//! functions in it are written nowhere else in this crate; everybody goes through [`Later`], which is there or isn't.

use crate::desk::Desk;
use crate::signal::RwSignal;
use drafting::export::{self, Place};
use drafting::svg::{PaperUnit, document};
use drafting::{
    Daylight, Frame, Painters, Sheet, Units, View, draw, draw_pair, draw_years, painters, wording,
};
use leptos::prelude::on_cleanup;
use planting::Plan;
use planting::light::{Memory, Season, YearLight};
use std::cell::{Cell, RefCell};
use std::sync::Arc;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// The size of a drawing handed out `[px]`.
const DRAWING: (f64, f64) = (1200.0, 780.0);
/// Marks a table as UTF-8 for spreadsheets.
const UTF_8: char = '\u{feff}';

/// The doors into the second file.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Later {
    /// Who paints light into the drawings.
    pub(crate) painters: &'static Painters,
    /// The light under the wide trees a planting replaces, on the same ground.
    pub(crate) beside: fn(&mut Memory, &Plan) -> Arc<Season>,
    /// The light of every year.
    pub(crate) by_year: fn(&mut Memory, &Plan) -> Vec<YearLight>,
    /// Two crowns, one beside the other.
    pub(crate) pair: fn(&Plan, &Season, Frame) -> Sheet,
    /// The chart of light by year.
    pub(crate) years: fn(&Plan, &[YearLight], Frame) -> Sheet,
    /// Puts the printed set where it is printed from.
    pub(crate) set_out: fn(Desk),
    /// Takes it away again.
    pub(crate) clear: fn(),
    /// A drawing as SVG, by its key.
    pub(crate) drawing: fn(&Plan, Units, Daylight, &str) -> Option<String>,
    /// A table as CSV, by its name.
    pub(crate) table: fn(&Plan, Units, &str) -> Option<String>,
    /// Every tree and post as GeoJSON, or what is wrong with the place.
    pub(crate) map: fn(&Plan, Units, Place) -> Result<String, String>,
}

#[wasm_split(later, fallible)]
fn fetched() -> Result<Later, SplitLoaderError> {
    Ok(Later {
        painters: painters(),
        beside: |memory, plan| memory.beside(&plan.scenario),
        by_year: |memory, plan| memory.by_year(&plan.scenario, &plan.canopy).to_vec(),
        pair: draw_pair,
        years: draw_years,
        set_out: crate::print::set_out,
        clear: crate::print::clear,
        drawing,
        table,
        map,
    })
}

fn drawing(plan: &Plan, units: Units, light: Daylight, key: &str) -> Option<String> {
    let views = [View::Plan, View::Section, View::Elevation, View::Pair, View::Years];
    let view = views.into_iter().find(|one| one.key() == key)?;
    let (width, height) = DRAWING;
    let frame = Frame::screen(width, height, units).with_light(light);
    Some(document(&draw(view, plan, frame), PaperUnit::Fluid))
}

fn table(plan: &Plan, units: Units, name: &str) -> Option<String> {
    let table = match name {
        "figures" => export::figures(plan, units),
        "orders" => export::orders(plan, units),
        "stations" => export::stations(plan),
        _ => return None,
    };
    Some(format!("{UTF_8}{table}"))
}

fn map(plan: &Plan, units: Units, corner: Place) -> Result<String, String> {
    export::geojson(plan, Some(corner)).map_err(|fault| wording::sentence(&fault, units))
}

thread_local! {
    static LATER: Cell<Option<Later>> = const { Cell::new(None) };
    /// The planners that wait, by number.
    static WAITING: RefCell<Vec<(usize, RwSignal<bool>)>> = const { RefCell::new(Vec::new()) };
}

/// The second file's doors, once it has come.
pub(crate) fn now() -> Option<Later> {
    LATER.get()
}

/// A signal that turns when the second file has come, for the planner of this number.
pub(crate) fn arrival(number: usize) -> RwSignal<bool> {
    let here = RwSignal::new(now().is_some());
    WAITING.with_borrow_mut(|waiting| waiting.push((number, here)));
    on_cleanup(move || WAITING.with_borrow_mut(|waiting| waiting.retain(|one| one.0 != number)));
    here
}

/// Fetches the second file where it isn't there yet; false where it couldn't be fetched, and the next one who asks tries again.
pub(crate) async fn come() -> bool {
    if now().is_some() {
        return true;
    }
    let Ok(later) = fetched().await else { return false };
    if LATER.replace(Some(later)).is_none() {
        // Whoever follows may ask for more while being told.
        let waiting = WAITING.with_borrow(Vec::clone);
        for (_, here) in waiting {
            here.set(true);
        }
    }
    true
}
