//! One number of the scenario as something to turn: a parameter, or an item of a list of lengths.
//!
//! Sliders, fields and the handles in the drawings all turn dials, so that step, range and rounding
//! are the same wherever a number is set.

use drafting::Units;
use drafting::measure::{editable, number, one_way, read, unit, write};
use planting::Kind;
use planting::order::{sort_by, within};
use planting::register::scale::Scale;
use planting::{Fault, Problem, Quantity, Scenario, parameter};

/// How far beside a whole step a value may lie and still count as on it `[steps]`: far above the rounding of a change of units, far
/// below what anybody sets.
const ON_A_STEP: f64 = 1e-6;

/// Which number is meant: a parameter's key and, in a list, the item counted from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct ItemKey {
    pub(crate) key: &'static str,
    pub(crate) item: Option<usize>,
}

/// A number as a script writes it: the fewest digits that mean it.
pub(crate) fn exact(value: f64) -> String {
    let digits = js_sys::Number::from(value).to_string_with_radix(10);
    digits.map(String::from).unwrap_or_default()
}

impl ItemKey {
    pub(crate) fn of(key: &'static str) -> ItemKey {
        ItemKey { key, item: None }
    }

    pub(crate) fn item(key: &'static str, item: usize) -> ItemKey {
        ItemKey { key, item: Some(item) }
    }

    /// The field as problems name it.
    pub(crate) fn field(self) -> String {
        self.item.map_or_else(|| self.key.to_owned(), |item| format!("{}[{item}]", self.key))
    }
}

/// A number that can be turned, SI throughout.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Dial {
    pub(crate) item_key: ItemKey,
    pub(crate) quantity: Quantity,
    pub(crate) min: f64,
    pub(crate) max: f64,
    step_us: f64,
    step_metric: f64,
    scale: Option<&'static Scale>,
    kind: Kind,
}

/// The least, greatest and step a slider works with, in the reader's unit, all on the step's grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct SliderRange {
    pub(crate) min: f64,
    pub(crate) max: f64,
    pub(crate) step: f64,
}

impl Dial {
    /// The dial of a parameter or list item; none where the key names no number.
    pub(crate) fn of(item_key: ItemKey) -> Option<Dial> {
        let parameter = parameter(item_key.key)?;
        let (kind, scale) = (parameter.kind, parameter.scale);
        match kind {
            Kind::Number(number) => Some(Dial {
                kind,
                item_key,
                quantity: number.quantity,
                min: number.min,
                max: number.max,
                step_us: number.step_us,
                step_metric: number.step_metric,
                scale,
            }),
            Kind::Lengths(lengths) => Some(Dial {
                kind,
                item_key,
                quantity: Quantity::Length,
                min: lengths.min,
                max: lengths.max,
                step_us: lengths.step_us,
                step_metric: lengths.step_metric,
                scale,
            }),
            Kind::Choice(_) => None,
        }
    }

    /// Its value; none for an item the list no longer has.
    pub(crate) fn value(&self, scenario: &Scenario) -> Option<f64> {
        match (self.kind, self.item_key.item) {
            (Kind::Number(number), _) => Some((number.get)(scenario)),
            (Kind::Lengths(lengths), Some(item)) => {
                (lengths.get)(scenario).get(item).map(|length| length.value)
            }
            _ => None,
        }
    }

    /// Sets it.
    pub(crate) fn set(&self, scenario: &mut Scenario, value: f64) {
        match (self.kind, self.item_key.item) {
            (Kind::Number(number), _) => (number.set)(scenario, value),
            (Kind::Lengths(lengths), Some(item)) => {
                let mut items = (lengths.get)(scenario).to_vec();
                if let Some(length) = items.get_mut(item) {
                    length.value = value;
                }
                (lengths.set)(scenario, items);
            }
            _ => {}
        }
    }

    /// Puts a list back in order, lowest first, once a hand has let go of an item; a plain number has
    /// no order.
    pub(crate) fn order(&self, scenario: &mut Scenario) {
        if let Kind::Lengths(lengths) = self.kind {
            let mut items = (lengths.get)(scenario).to_vec();
            sort_by(&mut items, |a, b| a.value.total_cmp(&b.value));
            (lengths.set)(scenario, items);
        }
    }

    pub(crate) fn step(&self, units: Units) -> f64 {
        match units {
            Units::Us => self.step_us,
            Units::Metric => self.step_metric,
        }
    }

    /// The nearest whole step inside the range.
    pub(crate) fn snap(&self, value: f64, units: Units) -> f64 {
        let step = self.step(units);
        within((value / step).round() * step, self.min, self.max)
    }

    /// So many steps on from a value, landing on a whole step.
    pub(crate) fn turned(&self, value: f64, steps: f64, units: Units) -> f64 {
        let step = self.step(units);
        let from = value / step;
        let next =
            if steps > 0.0 { (from + ON_A_STEP).floor() + steps } else { (from - ON_A_STEP).ceil() + steps };
        within(next * step, self.min, self.max)
    }

    /// Why a value can't be taken, if it can't.
    pub(crate) fn fault(&self, value: f64) -> Option<Fault> {
        match self.kind {
            Kind::Number(number) => number.fault(value),
            Kind::Lengths(lengths) => lengths.fault(value),
            Kind::Choice(_) => None,
        }
    }

    /// Reads what somebody typed.
    pub(crate) fn read(&self, text: &str, units: Units) -> Result<f64, Fault> {
        let Some(value) = read(text, self.quantity, units) else {
            let got = match text.trim() {
                "" => "nothing".to_owned(),
                other => format!("\u{201c}{}\u{201d}", other.chars().take(24).collect::<String>()),
            };
            if let Some(plain) = one_way(text) {
                return Err(Fault::Ambiguous { got, plain });
            }
            return Err(Fault::NotANumber { got, min: self.min, max: self.max, quantity: self.quantity });
        };
        self.fault(value).map_or(Ok(value), Err)
    }

    /// A fault of this field as a problem.
    pub(crate) fn problem(&self, fault: Fault) -> Problem {
        Problem::new(&self.item_key.field(), fault)
    }

    /// The value as a reader reads it, with its unit.
    pub(crate) fn shown(&self, value: f64, units: Units) -> String {
        write(value, self.quantity, units)
    }

    /// The value as a reader edits it.
    pub(crate) fn editable(&self, value: f64, units: Units) -> String {
        editable(value, self.quantity, units)
    }

    /// The allowed range in words.
    pub(crate) fn range(&self, units: Units) -> String {
        format!("{} to {}", number(self.min, self.quantity, units), self.shown(self.max, units))
    }

    /// The name of the unit, without the space before it.
    pub(crate) fn unit(&self, units: Units) -> &'static str {
        unit(self.quantity, units).name.trim()
    }

    /// The value in the reader's unit, as a slider holds it.
    pub(crate) fn to_slider(self, value: f64, units: Units) -> f64 {
        tidy(value / unit(self.quantity, units).one)
    }

    /// A slider's position as a value on a whole step.
    pub(crate) fn of_slider(&self, position: f64, units: Units) -> f64 {
        self.snap(position * unit(self.quantity, units).one, units)
    }

    /// The range of the slider: the parameter's, drawn in to whole steps.
    pub(crate) fn slider(&self, units: Units) -> SliderRange {
        let (step, one) = (self.step(units), unit(self.quantity, units).one);
        SliderRange {
            min: tidy((self.min / step - ON_A_STEP).ceil() * step / one),
            max: tidy((self.max / step + ON_A_STEP).floor() * step / one),
            step: tidy(step / one),
        }
    }

    /// The value at a place on the slider, 0 to 1.
    pub(crate) fn at(&self, share: f64) -> f64 {
        match self.scale {
            Some(scale) => scale.value(share, self.min, self.max),
            None => self.min + share * (self.max - self.min),
        }
    }

    /// Values with a tick on the slider, SI; none for most.
    pub(crate) fn ticks(&self, units: Units) -> &'static [f64] {
        match (self.scale, units) {
            (Some(scale), Units::Us) => scale.ticks_us,
            (Some(scale), Units::Metric) => scale.ticks_metric,
            (None, _) => &[],
        }
    }

    /// The range the trade uses, which the slider gives most of its travel, SI; none where the slider is even.
    pub(crate) fn trade(&self) -> Option<[f64; 2]> {
        self.scale.map(|scale| scale.trade)
    }

    /// Where a value lies between the ends of the slider, 0 to 1.
    pub(crate) fn along(&self, value: f64) -> f64 {
        match self.scale {
            Some(scale) => scale.place(value, self.min, self.max),
            None => within((value - self.min) / (self.max - self.min).max(f64::MIN_POSITIVE), 0.0, 1.0),
        }
    }
}

/// Takes the last binary digits off, so that 0.35 isn't written 0.35000000000000003.
fn tidy(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

#[cfg(test)]
mod tests {
    use super::*;
    use planting::{REGISTRY, feet};

    #[test]
    fn sliders_stand_on_round_numbers() {
        let spacing = Dial::of(ItemKey::of("in_row_spacing")).unwrap();
        assert_eq!(spacing.slider(Units::Us), SliderRange { min: 1.0, max: 30.0, step: 0.25 });
        assert_eq!(spacing.slider(Units::Metric), SliderRange { min: 0.35, max: 9.1, step: 0.05 });
    }

    #[test]
    fn every_default_survives_the_slider() {
        let scenario = Scenario::default();
        for parameter in REGISTRY {
            let Some(dial) = Dial::of(ItemKey::of(parameter.key)) else { continue };
            let Some(value) = dial.value(&scenario) else { continue };
            let back = dial.of_slider(dial.to_slider(value, Units::Us), Units::Us);
            assert!((back - value).abs() <= 1e-9 * value.abs().max(1.0), "{}", parameter.key);
        }
    }

    #[test]
    fn turning_lands_on_whole_steps() {
        let row = Dial::of(ItemKey::of("row_width")).unwrap();
        for (from, steps, to) in
            [(12.0, 1.0, 12.5), (12.0, -1.0, 11.5), (12.2, 1.0, 12.5), (12.2, -1.0, 12.0), (39.9, 10.0, 40.0)]
        {
            let turned = row.turned(feet(from).value, steps, Units::Us);
            assert!((turned - feet(to).value).abs() < 1e-9, "{from} {steps}");
        }
    }

    #[test]
    fn bad_entries_say_what_is_allowed() {
        let row = Dial::of(ItemKey::of("row_width")).unwrap();
        assert!(matches!(row.read("twelve", Units::Us), Err(Fault::NotANumber { .. })));
        assert!(matches!(row.read("99", Units::Us), Err(Fault::OutOfRange { .. })));
        assert_eq!(row.read("12", Units::Us).ok(), Some(feet(12.0).value));
        let fault = row.read("12,5", Units::Us).expect_err("a comma before one digit");
        let said = drafting::wording::problem(&row.problem(fault), Units::Us);
        assert!(
            said.starts_with("Row width is written \u{201c}12,5\u{201d}") && said.contains("write 12.5"),
            "{said}"
        );
    }
}
