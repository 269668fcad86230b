//! What a planner begins with, of all that may be there: the plan kept in the browser, the plan of an element that was moved in
//! its page, and the plan the page or the address asks for.

use crate::desk::Refusal;
use crate::dial::{Dial, ItemKey};
use crate::saved::{Broken, Found, Reader};
use planting::Scenario;
use planting::digits::decimal;

/// Where a planner's plans come from.
#[derive(Default)]
pub(crate) struct Given {
    /// Whether the page is the planner's own; what is asked for is then a link somebody sent.
    pub(crate) alone: bool,
    /// The plan kept in the browser.
    pub(crate) kept: Found,
    /// The plan of an element that was taken out of its page and is put into it again.
    pub(crate) resumed: Option<Found>,
    /// The plan asked for.
    pub(crate) asked: Option<Found>,
    /// The year asked for.
    pub(crate) year: Option<String>,
}

/// What a planner begins with.
pub(crate) struct Start {
    /// The plan on the desk.
    pub(crate) scenario: Scenario,
    pub(crate) reader: Reader,
    /// The plan "Start again" leads to.
    pub(crate) home: Scenario,
    /// The plan one step back.
    pub(crate) before: Option<Scenario>,
    /// The reader's own plan, where a link's stands in its place.
    pub(crate) own: Option<(Scenario, Reader)>,
    /// Whether the plan on the desk is the one asked for.
    pub(crate) is_asked: bool,
    /// What could not be taken.
    pub(crate) refusal: Option<Refusal>,
}

/// Chooses the plan to begin with. A plan that was here before stays; on a page of the planner's own a link comes in place of the reader's plan, which is
/// one step back and kept.
pub(crate) fn start(given: Given) -> Start {
    let Given { alone, kept, resumed, asked, year } = given;
    let mut refusal = kept.fault.map(|broken| Refusal { saved: true, broken });
    let mut refuse = |broken| refusal = Some(Refusal { saved: false, broken });
    let asked = asked.and_then(|found| plan_in(found).map_err(&mut refuse).ok());
    let year = year.and_then(|text| year_in(&text).map_err(&mut refuse).ok());
    let resumed = resumed.and_then(|found| plan_in(found).ok());
    let own = kept.scenario.filter(|scenario| scenario.problems().is_empty());
    let mut home = match &asked {
        Some((scenario, _)) if !alone => scenario.clone(),
        _ => Scenario::default(),
    };
    if let Some(year) = year {
        home.canopy.year = year;
    }
    let begin = |scenario, reader, is_asked| (scenario, reader, is_asked);
    let (mut before, mut aside) = (None, None);
    let (scenario, reader, is_asked) = match (resumed, asked, own) {
        (Some((scenario, reader)), ..) => begin(scenario, reader, false),
        (None, Some((scenario, reader)), own) if alone => {
            let earlier = own.unwrap_or_default();
            if earlier != scenario {
                before = Some(earlier.clone());
                // The plan a planner shows to everybody is nobody's own.
                aside = (earlier != Scenario::default()).then_some((earlier, kept.reader));
            }
            begin(scenario, reader, true)
        }
        (None, _, Some(own)) => begin(own, kept.reader, false),
        (None, Some((_, reader)), None) => begin(home.clone(), reader, true),
        (None, None, None) => begin(home.clone(), kept.reader, false),
    };
    Start { scenario, reader, home, before, own: aside, is_asked, refusal }
}

/// The plan found in a text, or what is wrong with it.
pub(crate) fn plan_in(found: Found) -> Result<(Scenario, Reader), Broken> {
    if let Some(broken) = found.fault {
        return Err(broken);
    }
    let scenario = found.scenario.ok_or(Broken::Unreadable)?;
    let problems = scenario.problems();
    if problems.is_empty() { Ok((scenario, found.reader)) } else { Err(Broken::Fields(problems)) }
}

/// The year a page asks for, or what is wrong with it.
pub(crate) fn year_in(text: &str) -> Result<f64, Broken> {
    let read = decimal(text.trim()).and_then(|year| Some((Dial::of(ItemKey::of("year"))?, year)));
    let (dial, year) =
        read.ok_or_else(|| Broken::Said(format!("year: \u{201c}{text}\u{201d} is no number.")))?;
    match dial.fault(year) {
        Some(fault) => Err(Broken::Fields(vec![dial.problem(fault)])),
        None => Ok(year),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use drafting::Units;
    use planting::feet;

    fn found(width: f64, units: Units) -> Found {
        let scenario = Scenario::default().with(|s| s.block.row_width = feet(width));
        Found { scenario: Some(scenario), reader: Reader { units, ..Reader::default() }, fault: None }
    }

    fn width(scenario: &Scenario) -> f64 {
        (scenario.block.row_width.value / 0.3048 * 1e6).round() / 1e6
    }

    /// Row widths in feet: of the kept, resumed and asked plan, then what is on the desk, at home, one step back and put aside.
    #[test]
    fn every_plan_has_its_place() {
        let usual = width(&Scenario::default());
        for (alone, kept, resumed, asked, [desk, home], before, own) in [
            (true, None, None, None, [usual, usual], None, None),
            (true, Some(11.0), None, None, [11.0, usual], None, None),
            (true, None, None, Some(14.0), [14.0, usual], Some(usual), None),
            (true, Some(11.0), None, Some(14.0), [14.0, usual], Some(11.0), Some(11.0)),
            (true, Some(usual), None, Some(14.0), [14.0, usual], Some(usual), None),
            (true, Some(14.0), None, Some(14.0), [14.0, usual], None, None),
            (false, None, None, Some(14.0), [14.0, 14.0], None, None),
            (false, Some(11.0), None, Some(14.0), [11.0, 14.0], None, None),
            (false, None, Some(13.0), Some(14.0), [13.0, 14.0], None, None),
            (false, Some(11.0), Some(13.0), None, [13.0, usual], None, None),
        ] {
            let case = format!("{alone}, {kept:?}, {resumed:?}, {asked:?}");
            let start = start(Given {
                alone,
                kept: kept.map(|width| found(width, Units::Metric)).unwrap_or_default(),
                resumed: resumed.map(|width| found(width, Units::Us)),
                asked: asked.map(|width| found(width, Units::Us)),
                year: None,
            });
            assert_eq!([width(&start.scenario), width(&start.home)], [desk, home], "{case}");
            assert_eq!(start.before.as_ref().map(width), before, "{case}");
            assert_eq!(start.own.as_ref().map(|(own, _)| width(own)), own, "{case}");
            assert!(start.own.is_none_or(|(_, reader)| reader.units == Units::Metric), "{case}");
            assert_eq!(start.refusal, None, "{case}");
        }
    }

    #[test]
    fn a_year_is_of_the_plan_the_page_gives() {
        let year = |kept: Option<f64>, year: &str| {
            start(Given {
                kept: kept.map(|width| found(width, Units::Us)).unwrap_or_default(),
                asked: Some(found(14.0, Units::Us)),
                year: Some(year.to_owned()),
                ..Given::default()
            })
        };
        let first = year(None, "9");
        assert_eq!(
            [first.scenario.canopy.year, first.home.canopy.year, width(&first.scenario)],
            [9.0, 9.0, 14.0]
        );
        let kept = year(Some(11.0), "9");
        assert_eq!(
            [kept.scenario.canopy.year, kept.home.canopy.year],
            [Scenario::default().canopy.year, 9.0]
        );
        for wrong in ["soon", "4000"] {
            let start = year(None, wrong);
            assert_eq!(start.scenario.canopy.year, Scenario::default().canopy.year);
            assert!(start.refusal.is_some(), "{wrong}");
        }
    }

    #[test]
    fn what_is_wrong_leaves_the_plan_before_it() {
        let at_odds = Scenario::default().with(|s| s.block.block_length = feet(10.0));
        let asked = Found { scenario: Some(at_odds), ..Found::default() };
        let start = start(Given {
            alone: true,
            kept: found(11.0, Units::Us),
            asked: Some(asked),
            ..Given::default()
        });
        assert_eq!((width(&start.scenario), start.own.is_some(), start.is_asked), (11.0, false, false));
        assert!(matches!(start.refusal, Some(Refusal { saved: false, broken: Broken::Fields(_) })));
    }
}
