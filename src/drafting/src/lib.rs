//! Plan in, scaled drawings out.
//!
//! [`draw`] turns a plan into a [`Sheet`], a display list in paper units: pixels on screen, millimetres
//! on paper. [`svg`] writes it as SVG text, [`measure`] and [`wording`] turn the model's numbers and
//! sentences into a reader's units. Knows the model, never the browser.
//!
//! | a question about | is answered in |
//! |---|---|
//! | points, paths, lettering that never overlaps, scales, what every sheet carries | `board` |
//! | plan, cross-section, row elevation, and what a room adds to them | `views` |
//! | charts for any room | [`charts`] |
//! | the light of a season and of an hour | [`light`] |
//! | sheets of the printed set, their title blocks, what to order, the pages of text | [`packet`] |
//! | feet, metres, what may be typed | [`measure`] |
//! | tables and stations for other programs | [`export`] |
//!
//! A chapter of the page is a room, and a room has one folder here, with its own views and its
//! [`Overlay`] on the three views of a planting. Its entry in `planting::manifest` makes it known; nothing else does.

#![cfg_attr(test, allow(clippy::disallowed_methods, reason = "tests run on the host"))]
#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::indexing_slicing,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss
    )
)]

// The rooms are those of the manifest. A room's module has `draw(View, &Plan, Frame) -> Sheet` for its own views,
// `over(Daylight, &State) -> Box<dyn Overlay>`, what it adds to the views of a planting, and `SHEETS`, what it adds to the
// printed set.
macro_rules! modules {
    (ground $ground:ident $facts:tt $(room $room:ident $more:tt)*) => {
        $(pub mod $room;)*
    };
}
planting::rooms!(modules);

mod board;
pub mod charts;
mod dispatch;
pub mod export;
pub mod measure;
pub mod packet;
pub mod svg;
mod view;
mod views;
pub mod wording;

pub use board::geometry::{Bounds, Direction, Line, Point, Projection, Size, Span, Spot};
pub use board::path::{Path, Step};
pub use board::sheet::{self, Handle, Held, LayerName, Mark, Sheet};
pub use board::{Board, Frame, Lit, ScaleChoice, scale};
pub use dispatch::{draw, draw_with, over, sheet_set};
pub use light::{Daylight, draw_pair, draw_years};
pub use measure::Units;
pub use packet::{order_list, title_block};
pub use view::View;
pub use views::{Asks, DrawnTree, Overlay, Plain, Shown, Subject, trace};

pub use views::elevation::draw as draw_elevation;
pub use views::plan::draw as draw_plan;
pub use views::section::draw as draw_section;
