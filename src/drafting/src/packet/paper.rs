//! Paper, how it lies, and the room a sheet has on it.

use crate::board::geometry::Size;

/// Paper a sheet set is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// US Letter, 8.5 × 11 in.
    #[default]
    Letter,
    /// ISO 216 A4, 210 × 297 mm.
    A4,
}

impl Paper {
    /// Stable key.
    pub fn key(self) -> &'static str {
        match self {
            Paper::Letter => "letter",
            Paper::A4 => "a4",
        }
    }

    /// The name shown.
    pub fn label(self) -> &'static str {
        match self {
            Paper::Letter => "Letter (8.5 × 11 in)",
            Paper::A4 => "A4 (210 × 297 mm)",
        }
    }

    /// Width and height of the sheet, upright `[mm]`.
    ///
    /// ```
    /// use drafting::{Size, packet::Paper};
    /// assert_eq!(Paper::A4.size(), Size::new(210.0, 297.0));
    /// ```
    pub fn size(self) -> Size {
        match self {
            Paper::Letter => Size::new(215.9, 279.4),
            Paper::A4 => Size::new(210.0, 297.0),
        }
    }
}

/// How a sheet lies when it is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lie {
    /// The long side up.
    Upright,
    /// The long side across.
    Flat,
}

/// Paper left free on the four sides of a sheet `[mm]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    /// Above the frame.
    pub top: f64,
    /// To the right of it.
    pub right: f64,
    /// Below it.
    pub bottom: f64,
    /// To the left of it.
    pub left: f64,
}

/// Margins outside the frame, the left one wider for filing (ISO 5457).
pub const MARGINS: Margins = Margins { top: 10.0, right: 10.0, bottom: 10.0, left: 20.0 };

/// By how much a sheet stays below the height of its page `[mm]`: browsers round heights to pixels, and
/// a sheet a pixel too high makes a blank page after it.
const BLANK_PAGE_GUARD: f64 = 0.5;

/// Width and height inside the margins `[mm]`.
pub(super) fn frame_size(paper: Paper, lie: Lie) -> Size {
    let page = match lie {
        Lie::Upright => paper.size(),
        Lie::Flat => paper.size().turned(),
    };
    let Margins { top, right, bottom, left } = MARGINS;
    Size::new(page.width - left - right, page.height - top - bottom - BLANK_PAGE_GUARD)
}
