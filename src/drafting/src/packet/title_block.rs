//! Frame, check bar and title block of a printed sheet, in millimetres of paper.
//!
//! ```text
//!   +--------------------------------------------+
//!   |                 the drawing                |
//!   +--------------------------------------------+
//!   | |=|=|=|=|=|=|=|=|=|=|  This bar is 100 mm  |  the check bar, for a person with a ruler
//!   +-----------------+---------------+----------+
//!   | planting        | drawing       | number   |  the data fields of ISO 7200
//!   | owner           | scale         | date     |
//!   | created by      | approved by   | status   |
//!   +-----------------+---------------+----------+
//! ```
//!
//! The fields are those of ISO 7200:2004. Owner, creator, approval and issue are lines to fill in by
//! hand: the plan can't know them. The frame is drawn in the heavy line of the sheet.

use super::paper::{Lie, Paper};
use super::text::STATUS;
use crate::board::PAPER_WEIGHTS;
use crate::board::geometry::{Point, Size};
use crate::board::path::Path;
use crate::board::sheet::{Anchor, Ink, Lettering, Mark, Text, ems};

/// What the title blocks of a set have in common.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Imprint<'a> {
    /// The planting, in words.
    pub planting: &'a str,
    /// Date of issue. Drafting has no clock; whoever prints knows the day.
    pub date: &'a str,
    /// How many sheets the set has.
    pub sheets: usize,
}

/// What a sheet's title block says, the drawing's own fields included.
pub(crate) struct Fields<'a> {
    pub(crate) imprint: Imprint<'a>,
    pub(crate) title: &'a str,
    pub(crate) scale: &'a str,
    pub(crate) number: String,
}

/// Height of the strip with the check bar `[mm]`.
const BAR_STRIP: f64 = 10.5;
/// Height of a row of fields `[mm]`.
const ROW: f64 = 10.5;
/// From the edge of a field to its text `[mm]`.
const PAD: f64 = 1.6;
/// Size of a field's name `[mm]`: 7 point, the least that is read at arm's length.
const NAME: f64 = 2.5;
/// Sizes a field's text is set in, the first that fits `[mm]`.
const SIZES: [f64; 3] = [3.5, 3.0, 2.6];
/// Height of the check bar `[mm]`.
const BAR: f64 = 3.0;

/// Hundredths of the block's width that a field takes, its name, and what it says.
type Cell<'a> = (f64, &'static str, &'a str);

/// The rows of fields: three on an upright sheet, two on a flat one.
fn rows<'a>(lie: Lie, fields: &'a Fields<'a>) -> Vec<Vec<Cell<'a>>> {
    let Fields { imprint, title, scale, number } = fields;
    match lie {
        Lie::Upright => vec![
            vec![
                (46.0, "Planting", imprint.planting),
                (34.0, "Drawing", title),
                (20.0, "Drawing number", number),
            ],
            vec![(46.0, "Owner", ""), (34.0, "Scale", scale), (20.0, "Date of issue", imprint.date)],
            vec![
                (23.0, "Created by", ""),
                (23.0, "Approved by", ""),
                (14.0, "Issue", ""),
                (40.0, "Status", STATUS),
            ],
        ],
        Lie::Flat => vec![
            vec![
                (38.0, "Planting", imprint.planting),
                (22.0, "Drawing", title),
                (26.0, "Scale", scale),
                (14.0, "Drawing number", number),
            ],
            vec![
                (23.0, "Owner", ""),
                (18.0, "Created by", ""),
                (19.0, "Approved by", ""),
                (8.0, "Issue", ""),
                (18.0, "Status", STATUS),
                (14.0, "Date of issue", imprint.date),
            ],
        ],
    }
}

/// Height of check bar and title block together `[mm]`.
pub(crate) fn height(lie: Lie) -> f64 {
    match lie {
        Lie::Upright => BAR_STRIP + 3.0 * ROW,
        Lie::Flat => BAR_STRIP + 2.0 * ROW,
    }
}

/// The bar by which a person with a ruler sees whether a sheet was printed at full size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CheckBar {
    /// Its length `[mm]`.
    pub length: f64,
    /// Its length in words.
    pub words: &'static str,
    /// Into how many fields it is cut.
    pub fields: u32,
}

/// The check bar of a paper.
///
/// ```
/// use drafting::packet::Paper;
/// use drafting::title_block::check_bar;
/// assert_eq!(check_bar(Paper::A4).length, 100.0);
/// assert_eq!(check_bar(Paper::Letter).words, "4 in");
/// ```
pub fn check_bar(paper: Paper) -> CheckBar {
    match paper {
        Paper::Letter => CheckBar { length: 4.0 * 25.4, words: "4 in", fields: 8 },
        Paper::A4 => CheckBar { length: 100.0, words: "100 mm", fields: 10 },
    }
}

/// Frame, check bar and title block of a sheet of so many millimetres.
pub(crate) fn marks(paper: Paper, lie: Lie, sheet: Size, fields: &Fields) -> Vec<Mark> {
    let half = PAPER_WEIGHTS[2] / 2.0;
    let (left, right, bottom) = (half, sheet.width - half, sheet.height - half);
    let mut y = sheet.height - height(lie);
    let mut out = bar(paper, Point::new(left + PAD + 1.0, y + (BAR_STRIP - BAR) / 2.0));
    let level = |path: Path, y: f64| path.line(Point::new(left, y), Point::new(right, y));
    let frame = level(Path::new().rectangle(Point::new(left, half), Point::new(right, bottom)), y);
    let mut lines = Path::new();
    y += BAR_STRIP;
    for row in rows(lie, fields) {
        lines = level(lines, y);
        let mut corner = Point::new(left, y);
        for (index, (hundredths, name, content)) in row.into_iter().enumerate() {
            let room = hundredths * (right - left) / 100.0;
            if index > 0 {
                lines = lines.line(corner, Point::new(corner.x, (y + ROW).min(bottom)));
            }
            out.extend(words(corner.moved(PAD, 2.2), NAME, Lettering::Note, name));
            set(&mut out, corner.moved(PAD, 0.0), room - 2.0 * PAD, content);
            corner = corner.moved(room, 0.0);
        }
        y += ROW;
    }
    out.extend([Mark::Path { ink: Ink::Fine, path: lines }, Mark::Path { ink: Ink::Frame, path: frame }]);
    out
}

/// A field's text in the largest size that fits one line, or in two lines of the smallest: broken after
/// a semicolon, or where the first line is full.
fn set(out: &mut Vec<Mark>, corner: Point, room: f64, content: &str) {
    let fits = |text: &str, size: f64| ems(text) * size * 1.08 <= room;
    if let Some(size) = SIZES.into_iter().find(|size| fits(content, *size)) {
        out.extend(words(corner.moved(0.0, 6.6), size, Lettering::Title, content));
        return;
    }
    let size = SIZES.into_iter().fold(f64::INFINITY, f64::min);
    let full = || {
        let spaces = content.match_indices(' ').map(|(at, _)| content.split_at(at));
        spaces.take_while(|(first, _)| fits(first, size)).last()
    };
    let (first, second) = content.split_once("; ").or_else(full).unwrap_or((content, ""));
    out.extend(words(corner.moved(0.0, 5.2), size, Lettering::Title, first));
    out.extend(words(corner.moved(0.0, 8.4), size, Lettering::Title, second.trim_start()));
}

/// A text that begins at a point; none where there is nothing to say.
fn words(at: Point, size: f64, lettering: Lettering, content: &str) -> Option<Mark> {
    let text =
        Text { at, anchor: Anchor::Start, lettering, upright: false, content: content.to_owned(), size };
    (!content.is_empty()).then_some(Mark::Text(text))
}

/// The check bar with its upper left corner at a point, and what it is for.
fn bar(paper: Paper, corner: Point) -> Vec<Mark> {
    let CheckBar { length, words: name, fields } = check_bar(paper);
    let step = length / f64::from(fields);
    let filled = (0..fields).step_by(2).map(|field| corner.moved(f64::from(field) * step, 0.0));
    let solid = filled.fold(Path::new(), |path, from| path.rectangle(from, from.moved(step, BAR)));
    let outline = Path::new().rectangle(corner, corner.moved(length, BAR));
    let beside = corner.moved(length + 4.0, 0.0);
    let mut out =
        vec![Mark::Path { ink: Ink::Solid, path: solid }, Mark::Path { ink: Ink::Fine, path: outline }];
    let first = format!("This bar is {name} long if the sheet");
    out.extend(words(beside.moved(0.0, -0.4), NAME, Lettering::Note, &first));
    out.extend(words(beside.moved(0.0, 3.4), NAME, Lettering::Note, "was printed at full size, 100 %."));
    out
}
