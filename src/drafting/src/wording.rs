//! Sentences of the model in a reader's units.

use crate::measure::{Units, write, write_figure, write_order};
use planting::ground::is_ordered;
use planting::{Advice, Figure, Message, Problem, Remedy, Slot, Working, parameter};

/// A sentence with its numbers written out.
///
/// ```
/// use drafting::{measure::Units, wording::sentence};
/// use planting::{Message, Quantity, feet};
/// let message = Message::new("Keep {0} clear.", [(feet(7.0).value, Quantity::Length).into()]);
/// assert_eq!(sentence(&message, Units::Us), "Keep 7 ft clear.");
/// ```
pub fn sentence(message: &Message, units: Units) -> String {
    let mut text = String::new();
    let mut rest = message.template;
    while let Some((before, (place, after))) =
        rest.split_once('{').and_then(|(before, rest)| Some((before, rest.split_once('}')?)))
    {
        text.push_str(before);
        match place.parse().ok().and_then(|place: usize| message.values.get(place)) {
            Some(Slot::Number(value, quantity)) => text.push_str(&write(*value, *quantity, units)),
            Some(Slot::Order(value, quantity)) => text.push_str(&write_order(*value, *quantity, units)),
            Some(Slot::Word(word)) => text.push_str(word),
            None => text.push('…'),
        }
        rest = after;
    }
    text + rest
}

/// A problem as a sentence that names the field.
pub fn problem(problem: &Problem, units: Units) -> String {
    format!("{} {}.", field_name(&problem.field), sentence(&problem.message(), units))
}

/// A field's name as a reader knows it; an unknown key in quotes.
pub fn field_name(field: &str) -> String {
    if matches!(field, "link" | "file") {
        return format!("The {field}");
    }
    let (key, place) =
        field.split_once('[').map_or((field, None), |(key, rest)| (key, rest.strip_suffix(']')));
    let place = place.and_then(|place| place.parse::<usize>().ok());
    match (parameter(key), place) {
        (Some(parameter), Some(place)) => format!("{}, number {}", parameter.label, place + 1),
        (Some(parameter), None) => parameter.label.to_owned(),
        (None, _) => format!("\u{201c}{}\u{201d}", field.chars().take(40).collect::<String>()),
    }
}

/// A finding in one paragraph, with what cures it where that has been worked out.
///
/// ```
/// use drafting::{measure::Units, wording};
/// use planting::{Rounding, Scenario, inches, plan, remedies};
/// let low = Scenario::default().with(|plan| plan.canopy.graft_union_height = inches(2.0));
/// let mut found = plan(&low).unwrap().advice;
/// remedies::solve_all(&low, &mut found, Rounding::Us);
/// let said = wording::advice(&found[0], Units::Us);
/// assert!(said.ends_with("3 in to 6 in are wanted. Plant with the union 4 in above the ground."), "{said}");
/// ```
pub fn advice(advice: &Advice, units: Units) -> String {
    let finding = sentence(&advice.finding, units);
    match &advice.remedies {
        None => finding,
        Some(cures) if cures.is_empty() => format!("{finding} {}", without_remedy(advice)),
        Some(cures) => {
            let cures: Vec<String> = cures.iter().map(|cure| remedy(cure, units)).collect();
            format!("{finding} {}", cures.join(" Or: "))
        }
    }
}

/// What is said where nothing within range cures a finding by itself.
pub fn without_remedy(advice: &Advice) -> String {
    match advice.otherwise {
        "" => NONE_WITHIN_RANGE.to_owned(),
        otherwise => format!("{NONE_WITHIN_RANGE} {otherwise}"),
    }
}

const NONE_WITHIN_RANGE: &str = "No single change within range cures this.";

/// A remedy as a sentence, with the cautions that come with it.
pub fn remedy(remedy: &Remedy, units: Units) -> String {
    let said = sentence(&remedy.sentence, units);
    if remedy.brings.is_empty() { said } else { format!("{said} This brings: {}.", remedy.brings.join("; ")) }
}

/// A figure's value with its unit, claiming no more than is known of it, or what is said where there is none. What is ordered is
/// never less than the need.
pub fn value(figure: &Figure, units: Units) -> String {
    match figure.value {
        Some(value) if is_ordered(figure.key) => write_order(value, figure.quantity, units),
        Some(value) => write_figure(value, figure.quantity, figure.certainty, units),
        None => figure.without.to_owned(),
    }
}

/// The numbers put into a formula, each as `a = 3 ft, in-row spacing`.
pub fn terms(working: &Working, units: Units) -> Vec<String> {
    working
        .terms
        .iter()
        .map(|term| {
            format!("{} = {}, {}", term.symbol, write(term.value, term.quantity, units), term.meaning)
        })
        .collect()
}
