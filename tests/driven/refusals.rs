//! What can't be taken is refused where it was typed, and what can't be opened is put aside; the last good plan stays.

use anyhow::{Context, Result, ensure};
use drafting::{Units, measure, wording};
use planting::{EndAssembly, Fault, Kind, Problem, Quantity, Scenario, feet};
use serde_json::{Value, json};

use crate::harness::{Case, Visit, cases};
use crate::planner::{ASIDE, PLACE, Planner, Reading, control, element, file, numbers};

pub(crate) const CASES: &[Case] = cases![
    bad_entries_are_refused_in_every_field,
    a_half_typed_number_is_no_number,
    fields_at_odds_keep_the_last_plan,
    what_is_wrong_is_shown_where_it_is_folded,
    what_cannot_be_opened_is_put_aside,
];

/// What somebody may type; nought and less are in the range of some fields.
const ENTRIES: [&str; 9] = ["", "twelve", "NaN", "inf", "-", "1e", "0", "1e9", "-5"];

fn range(field: &str) -> Option<(f64, f64)> {
    let key = field.split('[').next()?;
    match planting::parameter(key)?.kind {
        Kind::Number(number) => Some((number.min, number.max)),
        Kind::Lengths(lengths) => Some((lengths.min, lengths.max)),
        Kind::Choice(_) => None,
    }
}

fn unchanged(before: &Reading, after: &Reading) -> Result<()> {
    ensure!(after.figures == before.figures, "the figures have changed");
    ensure!(after.drawings == before.drawings, "the drawings have changed");
    ensure!(after.saved == before.saved, "the saved plan has changed");
    Ok(())
}

fn bad_entries_are_refused_in_every_field(visit: &Visit) -> Result<()> {
    let start = Scenario::default();
    for units in [Units::Us, Units::Metric] {
        let planner = Planner::open_with(visit, &start, units)?;
        let mut before = planner.expect(&start)?;
        for text in ENTRIES {
            let refused: Vec<(String, Quantity, f64)> = numbers(&start)
                .into_iter()
                .filter(|(field, quantity, _)| {
                    let typed =
                        text.parse::<f64>().map(|number| number * measure::unit(*quantity, units).one);
                    range(field)
                        .is_some_and(|(min, max)| !typed.is_ok_and(|typed| (min..=max).contains(&typed)))
                })
                .collect();
            let fields: Vec<&str> = refused.iter().map(|(field, ..)| field.as_str()).collect();
            write_all(&planner, &fields, |_| text)?;
            let after = planner.read()?;
            unchanged(&before, &after).with_context(|| format!("“{text}”, {units:?}"))?;
            for (field, quantity, _) in &refused {
                let (min, max) = range(field).context("no range")?;
                let said = after.fault(field).with_context(|| format!("{field} takes “{text}”"))?;
                let allowed = [
                    measure::number(min, *quantity, units),
                    measure::write(max, *quantity, units),
                    wording::field_name(field),
                ];
                for part in allowed {
                    ensure!(said.contains(&part), "{field}, “{text}”: “{said}” does not say {part}");
                }
                ensure!(
                    after.field(field) == Some(text),
                    "{field}: “{text}” has become {:?}",
                    after.field(field)
                );
            }
            let told: bool = planner.browser.js(
                "return [...document.querySelectorAll('.rl-field')].every((field) => {
                   const fault = document.querySelector(`[data-error-for='${field.dataset.key + (field.dataset.item ? `[${field.dataset.item}]` : '')}']`);
                   return fault.hidden === (field.getAttribute('aria-invalid') !== 'true') &&
                     (fault.hidden || field.getAttribute('aria-describedby') === fault.id);
                 })",
            )?;
            ensure!(
                told,
                "“{text}”: a wrong field is not told from a right one, or not described by its fault"
            );
            let corrections: Vec<String> = refused
                .iter()
                .map(|(_, quantity, value)| (value / measure::unit(*quantity, units).one).to_string())
                .collect();
            let mut corrections = corrections.iter();
            write_all(&planner, &fields, |_| corrections.next().map_or("", String::as_str))?;
            let corrected = planner.expect(&start).with_context(|| format!("after “{text}”, {units:?}"))?;
            ensure!(corrected.fields == before.fields && corrected.drawings == before.drawings);
            before = corrected;
        }
    }
    Ok(())
}

/// Writes into many fields as if each were typed into and left.
fn write_all<'a>(planner: &Planner, fields: &[&str], mut text: impl FnMut(&str) -> &'a str) -> Result<()> {
    let entries: Vec<[String; 2]> =
        fields.iter().map(|field| [control(field, "field"), text(field).to_owned()]).collect();
    planner.browser.js(&format!(
        "for (const [selector, text] of {}) {{
           const field = document.querySelector(selector);
           field.value = text;
           field.dispatchEvent(new Event('input', {{ bubbles: true }}));
           field.dispatchEvent(new Event('change', {{ bubbles: true }}));
         }}",
        json!(entries)
    ))
}

/// “Show me” opens the group that an input stands folded in, for fields at odds and for a finding.
fn what_is_wrong_is_shown_where_it_is_folded(visit: &Visit) -> Result<()> {
    let narrow = Scenario::default().with(|s| s.block.headland = feet(12.0));
    let planner = Planner::open_with(visit, &narrow, Units::Us)?;
    let shown_by = |action: &str| -> Result<()> {
        planner
            .browser
            .js::<()>("for (const fold of document.querySelectorAll('details')) fold.open = false")?;
        planner.browser.until(&format!("!{}", element("[data-group=block] [data-role=field]")))?;
        planner.browser.js::<()>(&format!("{}.click()", element(action)))?;
        planner.browser.until(
            "document.activeElement.matches('[data-group=block] [data-role=field]') && document.activeElement.checkVisibility()",
        )?;
        planner.unfold()
    };
    shown_by("[data-rule=headland] [data-action=show-me]").context("a finding")?;
    planner.enter("headland", "30")?;
    planner.enter("block_length", "40")?;
    planner.browser.until(&element("[data-notice=conflict]"))?;
    shown_by("[data-action=show-problem]").context("fields at odds")
}

/// Typed key by key: a pause within it refuses what stands there, the rest of it is then taken.
fn a_half_typed_number_is_no_number(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let start = Scenario::default();
    let before = planner.expect(&start)?;
    let field = control("row_width", "field");
    planner.click(&field)?;
    planner.browser.js::<()>(&format!("{}.select()", element(&field)))?;
    planner.browser.key("1")?;
    planner.browser.until("!document.querySelector('[data-error-for=row_width]').hidden")?;
    let half = planner.read()?;
    unchanged(&before, &half)?;
    let said = half.fault("row_width").context("nothing is said")?;
    ensure!(said == "Row width must be between 6 ft and 40 ft; 1 ft was given.", "{said}");
    planner.browser.key("5")?;
    planner.browser.until("document.querySelector('[data-error-for=row_width]').hidden")?;
    let asked = start.with(|s| s.block.row_width = feet(15.0));
    planner.expect(&asked)?;
    // Left as it stands, nonsense stays with its reason; the slider clears both.
    planner.browser.js::<()>(&format!("{}.select()", element(&field)))?;
    planner.browser.write("15 ft or so")?;
    planner.browser.key("Tab")?;
    let left = planner.read()?;
    ensure!(left.fault("row_width").is_some() && left.field("row_width") == Some("15 ft or so"));
    planner.focus(&control("row_width", "slider"))?;
    planner.browser.key("ArrowRight")?;
    planner.expect(&asked.with(|s| s.block.row_width = feet(15.5)))?;
    Ok(())
}

/// Values that are each allowed and not together: what is said, the drawings that stay, the way back.
fn fields_at_odds_keep_the_last_plan(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let start = Scenario::default();
    let before = planner.expect(&start)?;
    // What is typed first, the field, what is typed into it, the field that is at odds with it, what cures that.
    let table = [
        (None, "block_length", "40", "headland", "10"),
        (None, "block_width", "20", "side_margin", "5"),
        (Some(("tree_height", "8.5")), "crown_base", "8", "tree_height", "12"),
        (Some(("post_length", "8")), "post_embedment", "6", "post_length", "16"),
        (Some(("crown_base", "1")), "graft_union_height", "18", "crown_base", "3"),
    ];
    for (first, field, text, other, cure) in table {
        if let Some((other, text)) = first {
            planner.enter(other, text)?;
        }
        let good = planner.read()?;
        planner.enter(field, text)?;
        let odd = planner.read()?;
        unchanged(&good, &odd).with_context(|| field)?;
        ensure!(odd.faults.len() == 1, "{field}: {:?}", odd.faults);
        ensure!(odd.field(field) == Some(text), "{field} shows {:?}", odd.field(field));
        ensure!(planner.sees("[data-notice=conflict]")?, "{field}: nothing says that the drawings wait");
        planner.click("[data-action=show-problem]")?;
        let shown: String = planner.browser.js("return document.activeElement.dataset.key ?? ''")?;
        ensure!(odd.fault(&shown).is_some(), "{field}: “Show me” leads to {shown}");
        // A reader may as well leave the page: what is kept is the last plan that works.
        planner.enter(other, cure)?;
        let cured = planner.read()?;
        cured.expect(&cured.scenario()?).with_context(|| format!("{field}, cured by {other}"))?;
        ensure!(!planner.sees("[data-notice=conflict]")?);
        ensure!(
            cured.figures != good.figures || cured.drawings != good.drawings,
            "{field}: nothing has changed"
        );
        planner.click("[data-action=reset]")?;
        let reset = planner.expect(&start)?;
        ensure!(reset == before, "start again leads elsewhere");
    }
    Ok(())
}

/// What a browser may have kept: by an older program, by hand, by mistake.
fn what_cannot_be_opened_is_put_aside(visit: &Visit) -> Result<()> {
    let start = Scenario::default();
    let good: Value = serde_json::from_str(&file(&start, Units::Metric)?)?;
    let with = |key: &str, value: Value| {
        let mut file = good.clone();
        file["scenario"][key] = value;
        file.to_string()
    };
    let without_version = {
        let mut file = good.clone();
        if let Some(entries) = file["scenario"].as_object_mut() {
            entries.remove("version");
        }
        file.to_string()
    };
    let deep = |open: &str, close: &str| {
        let nest = format!("{}0{}", open.repeat(50_000), close.repeat(50_000));
        good.to_string().replacen("\"scenario\":{", &format!("\"scenario\":{{\"nest\":{nest},"), 1)
    };
    let range = |key: &str, value: f64| {
        let (min, max) = range(key).unwrap_or_default();
        let fault = Fault::OutOfRange { value, min, max, quantity: Quantity::Length };
        wording::problem(&Problem::new(key, fault), Units::Metric)
    };
    let table: Vec<(&str, String, String)> = vec![
        ("no JSON", "{scenario:".to_owned(), String::new()),
        ("empty", String::new(), String::new()),
        ("null", "null".to_owned(), String::new()),
        ("a number", "12".to_owned(), String::new()),
        ("a text", "\"plan\"".to_owned(), String::new()),
        ("a list", "[]".to_owned(), String::new()),
        ("an object", "{}".to_owned(), String::new()),
        (
            "a list for the scenario",
            json!({ "scenario": [1, 2], "units": "metric" }).to_string(),
            String::new(),
        ),
        (
            "a text for the scenario",
            json!({ "scenario": "all", "units": "metric" }).to_string(),
            String::new(),
        ),
        ("another version", with("version", json!(2)), "version".to_owned()),
        ("no version", without_version, "version".to_owned()),
        ("an unknown key", with("colour", json!("red")), "colour".to_owned()),
        ("a marked key", with("<b>colour</b>", json!(1)), "<b>colour</b>".to_owned()),
        ("beyond the range", with("row_width", json!(1e9)), range("row_width", 1e9)),
        ("below nought", with("tree_height", json!(-5)), range("tree_height", -5.0)),
        ("a text for a number", with("row_width", json!("wide")), "Row width".to_owned()),
        ("a list for a number", with("row_width", json!([1, 2])), "Row width".to_owned()),
        ("nothing for a number", with("row_width", json!(null)), "Row width".to_owned()),
        ("an object for a number", with("row_width", json!({ "m": 3 })), "Row width".to_owned()),
        ("a number for a list", with("wire_heights", json!(3)), "Wire heights".to_owned()),
        ("a text in a list", with("wire_heights", json!(["high"])), "Wire heights".to_owned()),
        ("too long a list", with("wire_heights", json!(vec![1.0; 5000])), "Wire heights".to_owned()),
        ("an unknown choice", with("system", json!("hedge")), "Training system".to_owned()),
        ("at odds", with("headland", json!(30.0)).replace("201.168", "20"), "Block length".to_owned()),
        ("huge", with("colour", json!("x".repeat(2_000_000))), "colour".to_owned()),
        ("a deep list", deep("[", "]"), String::new()),
        ("a deep object", deep("{\"a\":", "}"), String::new()),
    ];
    for (name, kept, reason) in table {
        let planner = Planner::open_on(visit, &kept).with_context(|| name)?;
        let notice: String =
            planner.browser.js("return document.querySelector('[data-notice=saved]')?.textContent ?? ''")?;
        ensure!(notice.contains("could not be opened"), "{name}: nothing is said");
        ensure!(notice.contains(&reason), "{name}: “{notice}” does not say “{reason}”");
        let aside: bool = planner
            .browser
            .js(&format!("return localStorage.getItem('{ASIDE}') === {}", Value::from(kept)))?;
        ensure!(aside, "{name}: what was kept is lost");
        planner.expect(&start).with_context(|| name)?;
        planner.click("[data-action=notice-close]")?;
        ensure!(!planner.sees("[data-notice=saved]")?, "{name}: the notice stays");
        visit.browser.expect_quiet_console().with_context(|| name)?;
        planner.browser.js::<()>(&format!("localStorage.removeItem('{PLACE}')"))?;
    }
    // Without the words for units and paper the plan itself is opened.
    let asked = start.with(|s| s.trellis.end_assembly = EndAssembly::HBrace);
    let mut bare: Value = serde_json::from_str(&file(&asked, Units::Us)?)?;
    for (units, paper) in
        [(json!("furlongs"), json!("a0")), (json!(7), json!([])), (Value::Null, Value::Null)]
    {
        bare["units"] = units;
        bare["paper"] = paper;
        let planner = Planner::open_on(visit, &bare.to_string())?;
        ensure!(!planner.sees("[data-notice=saved]")?);
        planner.expect(&asked)?;
    }
    Ok(())
}
