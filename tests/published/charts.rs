//! Laws and known cases of the chart kit: values lie where the axes say, bars add up, lettering stays
//! apart, and nothing breaks on a chart of one value, of none, or of nonsense.

use drafting::charts::{Axis, BarPart, Chart, Plot, Ranged, Sample, Series};
use drafting::sheet::{Ink, LayerName};
use drafting::{Frame, Mark, Path, Sheet, Span, Units, View};
use planting::Quantity;
use proptest::prelude::*;

fn chart(plot: Plot) -> Chart {
    Chart {
        title: "A chart".to_owned(),
        across: Axis { label: "years".to_owned(), quantity: Quantity::Years, span: None },
        up: Axis { label: "height".to_owned(), quantity: Quantity::Length, span: None },
        plot,
        mark: None,
    }
}

fn line(name: &str, values: &[(f64, f64)]) -> Series {
    let samples = values.iter().map(|(across, up)| Sample { across: *across, up: *up }).collect();
    Series { name: name.to_owned(), samples }
}

fn bars(parts: &[(&str, &[f64])]) -> Plot {
    let count = parts.first().map_or(0, |part| part.1.len());
    Plot::Bars {
        labels: (1..=count).map(|bar| format!("bar {bar}")).collect(),
        parts: parts
            .iter()
            .map(|(name, values)| BarPart { name: (*name).to_owned(), values: values.to_vec() })
            .collect(),
    }
}

fn screen() -> Frame {
    Frame::screen(640.0, 360.0, Units::Metric)
}

fn drawn(plot: Plot) -> Sheet {
    chart(plot).sheet(View::Years, screen())
}

fn paths(sheet: &Sheet, wanted: impl Fn(Ink) -> bool) -> Vec<Path> {
    let of = |mark: &Mark| match mark {
        Mark::Path { ink, path } if wanted(*ink) => Some(path.clone()),
        _ => None,
    };
    sheet.layers.iter().flatten().filter_map(of).collect()
}

/// Where the figure of a tick stands: the middle of its text is level with its line.
fn level_of(sheet: &Sheet, figure: &str) -> f64 {
    sheet.texts().find(|text| text.content == figure).unwrap_or_else(|| panic!("no {figure}")).at.y
}

/// By hand: 0 to 4 m in metres has ticks 0, 1, 2, 3, 4 m; a value of 3 m lies on the line of 3 m, and
/// years 0 and 10 lie at the two ends of the axis.
#[test]
fn a_curve_lies_where_its_axes_say() {
    let sheet = drawn(Plot::Lines(vec![line("tree", &[(0.0, 0.0), (5.0, 3.0), (10.0, 4.0)])]));
    let curve = paths(&sheet, |ink| ink == Ink::Curve(0)).remove(0).lines();
    for (point, figure) in [(curve[0].from, "0 m"), (curve[0].to, "3 m"), (curve[1].to, "4 m")] {
        assert!((point.y - level_of(&sheet, figure)).abs() < 1e-9, "{figure}");
    }
    let middle = (curve[0].from.x + curve[1].to.x) / 2.0;
    assert!((curve[0].to.x - middle).abs() < 1e-9, "five of ten years lie in the middle");
    let grid = paths(&sheet, |ink| ink == Ink::Margin).remove(0).lines();
    let level = grid.iter().find(|line| (line.from.y - line.to.y).abs() < 1e-9).expect("a level line");
    assert!((level.from.x - curve[0].from.x).abs() < 1e-9 && (level.to.x - curve[1].to.x).abs() < 1e-9);
}

/// The same metres in feet: 4 m is 13.1 ft, so ticks go to 15 ft by 5.
#[test]
fn ticks_are_round_in_the_readers_units() {
    let plot = Plot::Lines(vec![line("tree", &[(0.0, 0.0), (10.0, 4.0)])]);
    let sheet = chart(plot).sheet(View::Years, Frame::screen(640.0, 360.0, Units::Us));
    for figure in ["0 ft", "5 ft", "10 ft", "15 ft"] {
        level_of(&sheet, figure);
    }
}

#[test]
fn stacked_bars_add_up() {
    let sheet = drawn(bars(&[("posts", &[1.0, 2.0]), ("wire", &[2.0, -1.0]), ("labour", &[0.5, 1.0])]));
    let metre = level_of(&sheet, "0 m") - level_of(&sheet, "1 m");
    let parts = paths(&sheet, |ink| matches!(ink, Ink::Fill(_)));
    let box_of = |path: &Path| {
        let lines = path.lines();
        let levels = lines.iter().map(|line| line.from.y);
        let (top, foot) = levels.fold((f64::MAX, f64::MIN), |(top, foot), y| (top.min(y), foot.max(y)));
        (top, foot)
    };
    // Each bar's parts stand one on the other, in the order they are given; what is below 0 hangs down.
    let zero = level_of(&sheet, "0 m");
    for (part, (from, to)) in [
        (0, (0.0, 1.0)),
        (1, (1.0, 3.0)),
        (2, (3.0, 3.5)),
        (3, (0.0, 2.0)),
        (4, (-1.0, 0.0)),
        (5, (2.0, 3.0)),
    ] {
        let (top, foot) = box_of(&parts[part]);
        assert!((zero - foot - from * metre).abs() < 1e-9, "part {part} begins at {from} m");
        assert!((zero - top - to * metre).abs() < 1e-9, "part {part} ends at {to} m");
    }
    for sum in ["3.5 m", "2 m"] {
        assert!(sheet.texts().any(|text| text.content == sum), "the sum {sum} stands at its bar");
    }
    for name in ["posts", "wire", "labour"] {
        assert!(sheet.texts().any(|text| text.content == name), "{name} is in the key");
    }
}

#[test]
fn one_part_needs_no_key() {
    let sheet = drawn(bars(&[("posts", &[1.0, 2.0])]));
    assert!(!sheet.texts().any(|text| text.content == "posts"));
}

#[test]
fn a_histogram_is_as_high_as_its_counts() {
    let edges = vec![0.0, 10.0, 20.0, 30.0];
    let plot = Plot::Histogram { edges, counts: vec![2.0, 5.0, 1.0] };
    let counted = Axis { label: "draws".to_owned(), quantity: Quantity::Count, span: None };
    let chart = Chart { up: counted, ..chart(plot) };
    let sheet = chart.sheet(View::Years, screen());
    let boxes = paths(&sheet, |ink| matches!(ink, Ink::Fill(_))).remove(0).lines();
    let one = level_of(&sheet, "0") - level_of(&sheet, "1");
    for (index, count) in [2.0, 5.0, 1.0].into_iter().enumerate() {
        let side = boxes[index * 4 + 1];
        assert!(((side.from.y - side.to.y).abs() - count * one).abs() < 1e-9, "class {index}");
    }
    assert_eq!(chart.table(Units::Metric).rows, [["0 to 10", "2"], ["10 to 20", "5"], ["20 to 30", "1"]]);
}

#[test]
fn a_band_lies_round_its_curve() {
    let samples = [1.0, 2.0, 3.0].map(|up| Ranged { across: up, up, range: Span::new(up - 0.5, up + 0.75) });
    let names = || ("median".to_owned(), "nine in ten".to_owned());
    let plot = Plot::Band { name: names().0, range: names().1, samples: samples.to_vec() };
    let sheet = drawn(plot);
    let range = paths(&sheet, |ink| ink == Ink::Range).remove(0);
    let curve = paths(&sheet, |ink| ink == Ink::Curve(0)).remove(0).lines();
    assert!(range.covers(curve[0].at(0.5)) && range.covers(curve[1].at(0.5)));
    for name in [names().0, names().1] {
        assert!(sheet.texts().any(|text| text.content == name), "{name}");
    }
}

#[test]
fn what_a_chart_says() {
    let lines = chart(Plot::Lines(vec![
        line("tree", &[(0.0, 1.0), (2.0, 3.0), (4.0, 2.0)]),
        line("post", &[(2.0, 2.5)]),
    ]));
    assert_eq!(
        lines.describe(Units::Metric),
        "A chart: height over years, 0 to 4. Tree: 1 m at 0, 2 m at 4, least 1 m, most 3 m. Post: 2.5 m at 2, 2.5 m at 2, least 2.5 m, most 2.5 m."
    );
    let table = lines.table(Units::Metric);
    assert_eq!(table.columns, ["years", "tree", "post"]);
    assert_eq!(table.rows, [["0", "1 m", ""], ["2", "3 m", "2.5 m"], ["4", "2 m", ""]]);
    let none = chart(Plot::Lines(Vec::new()));
    assert_eq!(none.describe(Units::Metric), "A chart: height over years; there is nothing to show yet.");
    assert!(none.table(Units::Metric).rows.is_empty());
}

fn sound(sheet: &Sheet) -> Result<(), TestCaseError> {
    let page = drafting::Bounds::between(
        drafting::Point::default(),
        drafting::Point::new(sheet.width, sheet.height),
    );
    let texts: Vec<_> = sheet.texts().collect();
    for (index, text) in texts.iter().enumerate() {
        prop_assert!(text.bounds().inside(&page), "{:?} runs off the sheet", text.content);
        for other in &texts[index + 1..] {
            prop_assert!(!text.bounds().meets(&other.bounds()), "{:?} on {:?}", text.content, other.content);
        }
    }
    prop_assert!(sheet.layers.len() == LayerName::ALL.len());
    for path in paths(sheet, |_| true) {
        prop_assert!(path.is_finite(), "{path:?}");
    }
    prop_assert!(!sheet.description.contains("NaN"), "{}", sheet.description);
    prop_assert!(sheet.projection.scale.is_finite() && sheet.projection.scale > 0.0);
    Ok(())
}

/// Values a chart may be handed, nonsense among them.
fn value() -> impl Strategy<Value = f64> {
    prop_oneof![6 => -50.0..50.0f64, 2 => -1e9..1e9f64, 1 => Just(0.0), 1 => Just(f64::NAN), 1 => Just(f64::INFINITY)]
}

fn plot() -> impl Strategy<Value = Plot> {
    let samples = prop::collection::vec((value(), value()), 0..12);
    let lines = prop::collection::vec(samples, 0..4).prop_map(|curves| {
        let named = curves.iter().enumerate().map(|(index, curve)| line(&format!("curve {index}"), curve));
        Plot::Lines(named.collect())
    });
    let parts = prop::collection::vec(prop::collection::vec(value(), 7), 0..6);
    let bars = (0..8usize, parts).prop_map(|(count, parts)| Plot::Bars {
        labels: (0..count).map(|bar| format!("year {bar}")).collect(),
        parts: parts
            .into_iter()
            .enumerate()
            .map(|(index, values)| BarPart { name: format!("part {index}"), values })
            .collect(),
    });
    let band =
        prop::collection::vec((value(), value(), value(), value()), 0..9).prop_map(|samples| Plot::Band {
            name: "median".to_owned(),
            range: "range".to_owned(),
            samples: samples
                .into_iter()
                .map(|(across, up, from, to)| Ranged { across, up, range: Span::new(from, to) })
                .collect(),
        });
    let histogram = prop::collection::vec(value(), 0..9)
        .prop_map(|edges| Plot::Histogram { counts: edges.iter().map(|it| it.abs()).collect(), edges });
    prop_oneof![lines, bars, band, histogram]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn charts_are_sound(plot in plot(), width in 160.0..1200.0f64, height in 140.0..700.0f64, metric: bool) {
        let units = if metric { Units::Metric } else { Units::Us };
        sound(&chart(plot).sheet(View::Years, Frame::screen(width, height, units)))?;
    }
}

#[test]
fn charts_of_one_value_and_of_none_are_sound() {
    for plot in [
        Plot::Lines(vec![line("one", &[(3.0, 2.0)])]),
        Plot::Lines(vec![line("none", &[])]),
        bars(&[("one", &[2.0])]),
        bars(&[]),
        Plot::Band { name: String::new(), range: String::new(), samples: Vec::new() },
        Plot::Histogram { edges: vec![1.0], counts: vec![4.0] },
    ] {
        sound(&drawn(plot)).expect("a sound chart");
    }
}
