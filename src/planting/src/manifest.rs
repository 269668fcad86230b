//! The chapters of the page, each with all that is to be said of it in one entry. Nothing else lists them.
//!
//! A chapter is a *room*: a folder or a file of the same name in each crate, whose code comes in a file of its own when a reader
//! turns to it. The first entry is the *ground*, which every chapter stands on: its code is in the first file.
//!
//! [`rooms!`](crate::rooms) hands the entries to a macro of the caller's, so that each crate opens its modules from them. Whoever
//! only reads them takes [`CHAPTERS`]. The page's bar of chapters, its headline figures and spoken line, the schema, the types, the pages
//! for embedders and the weighing of the built site are made from these.
//!
//! # Codes
//! An input has one byte in links, which is never given to another input. So that rooms can grow side by side, each takes its codes from
//! ranges of its own, in order:
//!
//! | chapter | codes |
//! |---|---|
//! | layout | 1–32, which are all given, and 200–223 but for 200 to 202, which kept links carry as fields of a later version |
//! | light | 33–63 |
//! | crop | 64–95, planned |
//! | trellis loads | 96–127, planned |
//! | water | 128–159, planned |
//! | money | 160–199, planned |
//!
//! A room that isn't listed takes 16 or 32 codes from 224 upwards. A chapter whose ranges are full takes another range from there.

/// A chapter of the page.
#[derive(Clone, Copy, Debug)]
pub struct Chapter {
    /// Its key: the name of its modules, and the word for it in links, files and attributes.
    pub key: &'static str,
    /// The name shown.
    pub label: &'static str,
    /// Keys of the drawings it shows, in reading order.
    pub views: &'static [&'static str],
    /// Whether its drawings are drawn in the light of the season or of an hour.
    pub lit: bool,
    /// The figures that lead.
    pub headlines: &'static [Headline],
    /// Keys of the inputs that come first: the few that are enough for a first visit. All others stand folded, in their groups.
    pub firsts: &'static [&'static str],
    /// Keys of the figures spoken when the plan stands still, after the trees on the reader's unit of land.
    pub spoken: &'static [&'static str],
    /// Keys of the groups of inputs that stand open; the others are folded.
    pub opens: &'static [&'static str],
    /// The codes its inputs may have in a link: ranges, each given by its first and its last code.
    pub codes: &'static [[u8; 2]],
    /// The name of the file its code comes in; none where that is the first file.
    pub file: Option<&'static str>,
}

impl Chapter {
    /// Whether an input with this code is one of the chapter's.
    ///
    /// ```
    /// let light = planting::manifest::CHAPTERS.iter().find(|chapter| chapter.key == "light");
    /// assert!(light.is_some_and(|light| light.owns(33) && !light.owns(32)));
    /// ```
    pub fn owns(&self, code: u8) -> bool {
        self.codes.iter().any(|[first, last]| (*first..=*last).contains(&code))
    }
}

/// One of the figures that lead a chapter.
#[derive(Clone, Copy, Debug)]
pub struct Headline {
    /// Key of the figure shown to readers of US units.
    pub us: &'static str,
    /// Key of the figure shown to readers of metric units.
    pub metric: &'static str,
    /// The few words over it, for US and for metric units.
    pub words: [&'static str; 2],
    /// Whether a narrow screen keeps it.
    pub narrow: bool,
}

/// A headline that every screen keeps.
const fn kept(key: &'static str, words: &'static str) -> Headline {
    Headline { us: key, metric: key, words: [words, words], narrow: true }
}

/// A headline that a narrow screen leaves out.
const fn wide(key: &'static str, words: &'static str) -> Headline {
    Headline { us: key, metric: key, words: [words, words], narrow: false }
}

/// The trees on the reader's unit of land.
const fn density(narrow: bool) -> Headline {
    let words = ["Trees per acre", "Trees per hectare"];
    Headline { us: "trees_per_acre", metric: "trees_per_hectare", words, narrow }
}

/// Calls the macro named with every chapter: `ground KEY { … }` for the first, `room KEY { … }` for each of the others, in the order of the
/// work. Between the braces of a room stand first the views it draws itself, each with its name, key and title; then, as for the ground, the
/// fields of [`Chapter`](crate::manifest::Chapter).
///
/// ```
/// macro_rules! keys {
///     (ground $ground:ident $facts:tt $(room $room:ident $more:tt)*) => {
///         [stringify!($ground), $(stringify!($room)),*]
///     };
/// }
/// assert_eq!(planting::rooms!(keys)[..2], ["layout", "light"]);
/// ```
#[macro_export]
macro_rules! rooms {
    ($then:ident) => {
        $then! {
            ground layout {
                label: "Layout",
                views: &["section", "elevation", "plan"],
                lit: false,
                headlines: &[
                    density(true),
                    wide("trees_in_block", "Trees in the block"),
                    kept("canopy_fill", "Canopy fill"),
                    kept("years_to_fill", "Row closes, year"),
                    wide("clear_alley", "Clear alley"),
                    wide("yearly_excess_share", "Growth beyond its space"),
                ],
                firsts: &["in_row_spacing", "row_width", "rootstock", "tree_height", "wire_heights"],
                spoken: &["trees_in_block", "canopy_fill", "years_to_fill"],
                opens: &[],
                codes: &[[1, 32], [200, 223]],
                file: None,
            }
            room light {
                draws: [Pair "pair" "Two crowns", Years "years" "Light by year"],
                label: "Canopy and light",
                views: &["section", "plan", "pair", "years"],
                lit: true,
                headlines: &[
                    kept("light_intercepted", "Light caught"),
                    kept("crown_under_flowering_light", "Crown too dark to flower"),
                    kept("light_lowest_third", "Light, lowest third"),
                    wide("light_floor", "Light on the alley"),
                    wide("light_self_shading", "Of the most it could"),
                    density(false),
                ],
                firsts: &["in_row_spacing", "row_width", "canopy_width", "tree_height"],
                spoken: &["light_intercepted", "crown_under_flowering_light", "light_lowest_third"],
                opens: &["light"],
                codes: &[[33, 63]],
                file: Some("light"),
            }
        }
    };
}

macro_rules! list {
    (ground $ground:ident { $($fact:ident: $is:expr),* $(,)? } $(room $room:ident { draws: $draws:tt, $($more:ident: $has:expr),* $(,)? })*) => {
        /// Every chapter, in the order of the work; the ground first.
        pub static CHAPTERS: &[Chapter] = &[
            Chapter { key: stringify!($ground), $($fact: $is),* },
            $(Chapter { key: stringify!($room), $($more: $has),* },)*
        ];
    };
}
rooms!(list);

/// Parts of the page that belong to every chapter and come in files of their own too: the printed set; drawings, tables and the map
/// as files; the texts a reader asks for.
pub const SERVICES: [&str; 3] = ["print", "files", "words"];

/// The names of all files that come after the first: those of the chapters, then those of the [`SERVICES`].
///
/// ```
/// let files: Vec<&str> = planting::manifest::files().collect();
/// assert_eq!(files.first(), Some(&"light"));
/// assert_eq!(files.last(), Some(&"words"));
/// ```
pub fn files() -> impl Iterator<Item = &'static str> {
    CHAPTERS.iter().filter_map(|chapter| chapter.file).chain(SERVICES)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{REGISTRY, Scenario, plan};

    #[test]
    fn keys_are_single_words_and_told_apart() {
        let mut keys: Vec<&str> = CHAPTERS.iter().map(|chapter| chapter.key).chain(SERVICES).collect();
        // Files of the module carry these names; links and attributes set them apart by signs and spaces.
        assert!(keys.iter().all(|key| key.bytes().all(|byte| byte.is_ascii_lowercase())), "{keys:?}");
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), CHAPTERS.len() + SERVICES.len());
    }

    #[test]
    fn every_figure_named_is_there() {
        let plan = plan(&Scenario::default()).expect("the starting plan");
        for chapter in CHAPTERS {
            let headlines = chapter.headlines.iter().flat_map(|headline| [headline.us, headline.metric]);
            for key in headlines.chain(chapter.spoken.iter().copied()) {
                assert!(plan.figure(key).is_some(), "{}: there is no figure {key}", chapter.key);
            }
        }
    }

    #[test]
    fn every_input_that_comes_first_is_there() {
        for key in CHAPTERS.iter().flat_map(|chapter| chapter.firsts) {
            assert!(crate::parameter(key).is_some(), "there is no input {key}");
        }
    }

    /// The page makes its doors from the keys of rooms and fetches them by the names of files.
    #[test]
    fn a_room_comes_in_a_file_of_its_own_name() {
        assert!(CHAPTERS.iter().all(|chapter| chapter.file.is_none_or(|file| file == chapter.key)));
    }

    #[test]
    fn each_code_has_one_chapter() {
        let owners = |code: u8| {
            CHAPTERS
                .iter()
                .flat_map(|chapter| chapter.codes)
                .filter(move |[first, last]| (*first..=*last).contains(&code))
        };
        for code in 0..=u8::MAX {
            assert!(owners(code).count() <= 1, "code {code} lies in two ranges");
        }
        for parameter in REGISTRY {
            let owned = CHAPTERS.iter().any(|chapter| chapter.owns(parameter.code));
            assert!(owned, "{}, code {}, belongs to no chapter", parameter.key, parameter.code);
        }
    }

    #[test]
    fn ranges_of_codes_run_from_first_to_last() {
        for [first, last] in CHAPTERS.iter().flat_map(|chapter| chapter.codes) {
            assert!(first <= last, "{first} to {last}");
        }
    }
}
