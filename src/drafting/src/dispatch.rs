//! The one way to any drawing: from a view to who draws it, and the printed set.

use crate::board::Frame;
use crate::board::sheet::Sheet;
use crate::light::Daylight;
use crate::view::View;
use crate::views::{Overlay, Plain, Subject, elevation, plan, section};
use planting::Plan;

/// Makes the dispatch from the manifest.
macro_rules! dispatch {
    (ground $ground:ident $facts:tt $(room $room:ident { draws: [$($view:ident $key:literal $title:literal),* $(,)?], $($more:tt)* })*) => {
        /// Draws one view of a plan with what a room adds to it. A room's own views take no overlay.
        ///
        /// ```
        /// use drafting::{Daylight, Frame, Units, View, draw_with, light};
        /// let plan = planting::plan(&planting::Scenario::default()).unwrap();
        /// let frame = Frame::screen(720.0, 420.0, Units::Us);
        /// let sheet = draw_with(View::Section, &plan, frame, &*light::over(Daylight::Hour, &plan.light));
        /// assert!(sheet.texts().any(|text| text.content.contains("solar time")));
        /// ```
        pub fn draw_with(view: View, plan: &Plan, frame: Frame, over: &dyn Overlay) -> Sheet {
            match view {
                View::Plan => plan::draw(plan, frame, over),
                View::Section => section::draw(plan, frame, over),
                View::Elevation => elevation::draw(plan, frame, over),
                $($(View::$view => crate::$room::draw(view, plan, frame),)*)*
            }
        }

        /// What the room of a chapter adds to the views of a planting, in this light; nothing for the chapter of the ground and for a
        /// key that names no chapter.
        ///
        /// ```
        /// use drafting::{Daylight, Frame, Units, View, draw, draw_with, over};
        /// let plan = planting::plan(&planting::Scenario::default()).unwrap();
        /// let frame = Frame::screen(720.0, 420.0, Units::Us);
        /// let drawn = |chapter| draw_with(View::Section, &plan, frame, &*over(chapter, Daylight::Season, &plan));
        /// let ground = planting::manifest::CHAPTERS[0].key;
        /// assert_eq!(drawn(ground), draw(View::Section, &plan, frame));
        /// assert_ne!(drawn("light"), drawn(ground));
        /// ```
        pub fn over<'a>(chapter: &str, daylight: Daylight, plan: &'a Plan) -> Box<dyn Overlay + 'a> {
            match chapter {
                $(stringify!($room) => crate::$room::over(daylight, &plan.$room),)*
                _ => Box::new(Plain),
            }
        }

        /// The sheets of the printed set, in order: the three views, then what the rooms add.
        ///
        /// ```
        /// let titles: Vec<_> = drafting::sheet_set().iter().map(|subject| subject.title).collect();
        /// assert_eq!(titles[..3], ["Plan", "Cross-section", "Row elevation"]);
        /// assert!(titles.contains(&"Light of the season"));
        /// ```
        pub fn sheet_set() -> Vec<Subject> {
            let mut set: Vec<Subject> = View::ALL.map(Subject::plain).into();
            $(set.extend_from_slice(crate::$room::SHEETS);)*
            set
        }
    };
}
planting::rooms!(dispatch);

/// Draws one view of a plan, nothing added.
///
/// ```
/// use drafting::{Frame, Units, View, draw};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let sheet = draw(View::Section, &plan, Frame::screen(720.0, 420.0, Units::Us));
/// assert!(sheet.texts().any(|text| text.content == "row width 12 ft"));
/// ```
pub fn draw(view: View, plan: &Plan, frame: Frame) -> Sheet {
    draw_with(view, plan, frame, &Plain)
}
