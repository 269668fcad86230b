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

use crate::packet::{Lie, Paper};
use crate::path::Path;
use crate::sheet::{Anchor, Ink, Lettering, Mark, Text, ems};

/// What the title blocks of a set have in common.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Imprint<'a> {
    /// The planting, in words.
    pub planting: &'a str,
    /// Date of issue. Drafting has no clock; whoever prints knows the day.
    pub date: &'a str,
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

/// A field of the block, its share of the width in hundredths, and what it says.
type Cell<'a> = (f64, &'static str, &'a str);

/// The rows of fields: three on an upright sheet, two on a flat one.
fn rows<'a>(lie: Lie, fields: &'a Fields<'a>) -> Vec<Vec<Cell<'a>>> {
    const STATUS: &str = "For planning, not for construction";
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

/// The check bar of a paper: its length `[mm]`, its length in words, and into how many fields it is cut.
pub fn check_bar(paper: Paper) -> (f64, &'static str, u32) {
    match paper {
        Paper::Letter => (4.0 * 25.4, "4 in", 8),
        Paper::A4 => (100.0, "100 mm", 10),
    }
}

/// Frame, check bar and title block of a sheet of so many millimetres.
pub(crate) fn marks(paper: Paper, lie: Lie, (width, high): (f64, f64), fields: &Fields) -> Vec<Mark> {
    let half = crate::board::PAPER_WEIGHTS[2] / 2.0;
    let (left, right, bottom) = (half, width - half, high - half);
    let mut y = high - height(lie);
    let mut out = bar(paper, (left + PAD + 1.0, y + (BAR_STRIP - BAR) / 2.0));
    let frame = Path::new().rectangle((left, half), (right, bottom)).line((left, y), (right, y));
    let mut lines = Path::new();
    y += BAR_STRIP;
    for row in rows(lie, fields) {
        lines = lines.line((left, y), (right, y));
        let mut x = left;
        for (place, (share, name, content)) in row.into_iter().enumerate() {
            let room = share * (right - left) / 100.0;
            if place > 0 {
                lines = lines.line((x, y), (x, (y + ROW).min(bottom)));
            }
            out.extend(words((x + PAD, y + 2.2), NAME, Lettering::Note, name));
            set(&mut out, (x + PAD, y), room - 2.0 * PAD, content);
            x += room;
        }
        y += ROW;
    }
    out.extend([path(Ink::Fine, lines), path(Ink::Frame, frame)]);
    out
}

/// A field's text in the largest size that fits one line, or in two lines of the smallest: broken after
/// a semicolon, or where the first line is full.
fn set(out: &mut Vec<Mark>, (x, y): (f64, f64), room: f64, content: &str) {
    let fits = |text: &str, size: f64| ems(text) * size * 1.08 <= room;
    if let Some(size) = SIZES.into_iter().find(|size| fits(content, *size)) {
        out.extend(words((x, y + 6.6), size, Lettering::Title, content));
        return;
    }
    let size = SIZES.into_iter().fold(f64::INFINITY, f64::min);
    let full = || {
        let spaces = content.match_indices(' ').map(|(at, _)| content.split_at(at));
        spaces.take_while(|(first, _)| fits(first, size)).last()
    };
    let (first, second) = content.split_once("; ").or_else(full).unwrap_or((content, ""));
    out.extend(words((x, y + 5.2), size, Lettering::Title, first));
    out.extend(words((x, y + 8.4), size, Lettering::Title, second.trim_start()));
}

/// A text that begins at a point; none where there is nothing to say.
fn words(at: (f64, f64), size: f64, lettering: Lettering, content: &str) -> Option<Mark> {
    let text =
        Text { at, anchor: Anchor::Start, lettering, upright: false, content: content.to_owned(), size };
    (!content.is_empty()).then_some(Mark::Text(text))
}

fn path(ink: Ink, path: Path) -> Mark {
    Mark::Path { ink, d: path.text() }
}

/// The check bar with its upper left corner at a point, and what it is for.
fn bar(paper: Paper, (x, y): (f64, f64)) -> Vec<Mark> {
    let (length, name, parts) = check_bar(paper);
    let step = length / f64::from(parts);
    let filled = (0..parts).step_by(2).map(|part| x + f64::from(part) * step);
    let solid = filled.fold(Path::new(), |path, from| path.rectangle((from, y), (from + step, y + BAR)));
    let beside = x + length + 4.0;
    let mut out =
        vec![path(Ink::Solid, solid), path(Ink::Fine, Path::new().rectangle((x, y), (x + length, y + BAR)))];
    let first = format!("This bar is {name} long if the sheet");
    out.extend(words((beside, y - 0.4), NAME, Lettering::Note, &first));
    out.extend(words((beside, y + 3.4), NAME, Lettering::Note, "was printed at full size, 100 %."));
    out
}
