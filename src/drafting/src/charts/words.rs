//! What a chart says: its data as a table, and itself in sentences.

use super::{BarPart, Chart, Plot};
use crate::measure::{Units, write};

/// The data behind a chart, as they are read: the heads of the columns, and a text for each cell.
#[derive(Clone, Debug, PartialEq)]
pub struct DataTable {
    /// Heads of the columns.
    pub columns: Vec<String>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
}

/// What a set of values is called, and the values with where they stand.
struct Told {
    name: String,
    values: Vec<(String, f64)>,
}

impl Chart {
    fn on_foot(&self, value: f64, units: Units) -> String {
        write(value, self.across.quantity, units)
    }

    fn on_side(&self, value: f64, units: Units) -> String {
        write(value, self.up.quantity, units)
    }

    /// Every set of values of the chart.
    fn told(&self, units: Units) -> Vec<Told> {
        let at = |value: f64| self.on_foot(value, units);
        match &self.plot {
            Plot::Lines(series) => series
                .iter()
                .map(|one| Told {
                    name: one.name.clone(),
                    values: one.samples.iter().map(|it| (at(it.across), it.up)).collect(),
                })
                .collect(),
            Plot::Band { name, range, samples } => {
                let set = |name: String, value: fn(&super::Ranged) -> f64| Told {
                    name,
                    values: samples.iter().map(|it| (at(it.across), value(it))).collect(),
                };
                vec![
                    set(name.clone(), |it| it.up),
                    set(format!("{range}, from"), |it| it.range.from),
                    set(format!("{range}, to"), |it| it.range.to),
                ]
            }
            Plot::Bars { labels, parts } => parts
                .iter()
                .map(|BarPart { name, values }| Told {
                    name: name.clone(),
                    values: labels.iter().cloned().zip(values.iter().copied()).collect(),
                })
                .collect(),
            Plot::Histogram { edges, counts } => {
                let classes = edges.iter().zip(edges.iter().skip(1));
                let classes = classes.map(|(from, to)| format!("{} to {}", at(*from), at(*to)));
                vec![Told {
                    name: self.up.label.clone(),
                    values: classes.zip(counts.iter().copied()).collect(),
                }]
            }
        }
    }

    /// The data behind the chart, a row for each place on the axis at the foot.
    pub fn table(&self, units: Units) -> DataTable {
        let told = self.told(units);
        let columns = std::iter::once(&self.across.label).chain(told.iter().map(|set| &set.name));
        let columns = columns.cloned().collect();
        let mut rows: Vec<Vec<String>> = Vec::new();
        for (index, set) in told.iter().enumerate() {
            for (at, value) in &set.values {
                let found = rows.iter().position(|row| row.first() == Some(at));
                let place = found.unwrap_or(rows.len());
                if found.is_none() {
                    rows.push(vec![at.clone()]);
                }
                if let Some(row) = rows.get_mut(place) {
                    row.resize(index + 1, String::new());
                    row.push(self.on_side(*value, units));
                }
            }
        }
        for row in &mut rows {
            row.resize(told.len() + 1, String::new());
        }
        DataTable { columns, rows }
    }

    /// What the chart shows, for readers who can't see it: title and axes, and of every set of values
    /// the first, the last, the least and the most.
    pub fn describe(&self, units: Units) -> String {
        let told = self.told(units);
        let mut out = format!("{}: {} over {}", self.title, self.up.label, self.across.label);
        let ends = told.first().and_then(|set| set.values.first().zip(set.values.last()));
        if let Some((first, last)) = ends {
            out.push_str(&format!(", {} to {}", first.0, last.0));
        } else {
            out.push_str("; there is nothing to show yet");
        }
        out.push('.');
        for set in &told {
            let finite = || set.values.iter().filter(|(_, value)| value.is_finite());
            let Some((first, last)) = finite().next().zip(finite().next_back()) else { continue };
            let least = finite().fold(f64::INFINITY, |least, (_, value)| least.min(*value));
            let most = finite().fold(f64::NEG_INFINITY, |most, (_, value)| most.max(*value));
            let value = |value: f64| self.on_side(value, units);
            out.push_str(&format!(
                " {}: {} at {}, {} at {}, least {}, most {}.",
                capital(&set.name),
                value(first.1),
                first.0,
                value(last.1),
                last.0,
                value(least),
                value(most)
            ));
        }
        out
    }
}

/// A name as a sentence begins with it.
fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + letters.as_str())
}
