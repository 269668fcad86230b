//! A chapter of the page: what is drawn, which figures lead, which controls stand open. All that differs between chapters is said in
//! the manifest (`planting::manifest`); the plan is one and the same. A plain value: the bar that turns to one is in `chapter_bar`.

use drafting::View;
use planting::Group;
use planting::manifest::{self, CHAPTERS, Headline};

/// A chapter, by its place in the manifest.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Chapter(usize);

impl Chapter {
    /// All, in the order of the work.
    pub(crate) fn all() -> impl Iterator<Item = Chapter> {
        (0..CHAPTERS.len()).map(Chapter)
    }

    #[cfg_attr(
        not(test),
        expect(clippy::indexing_slicing, reason = "a chapter is one that `all` counts, or the first")
    )]
    fn entry(self) -> &'static manifest::Chapter {
        &CHAPTERS[self.0]
    }

    /// Stable key.
    pub(crate) fn key(self) -> &'static str {
        self.entry().key
    }

    /// The name shown.
    pub(crate) fn label(self) -> &'static str {
        self.entry().label
    }

    /// The chapter with this key.
    pub(crate) fn of(key: &str) -> Option<Chapter> {
        Chapter::all().find(|chapter| chapter.key() == key)
    }

    /// The keys of all, as a text.
    pub(crate) fn keys() -> String {
        Chapter::all().map(Chapter::key).collect::<Vec<_>>().join(", ")
    }

    /// The name of the file it comes in; none where that is the first.
    pub(crate) fn file(self) -> Option<&'static str> {
        self.entry().file
    }

    /// The drawings it shows, in reading order.
    pub(crate) fn views(self) -> impl Iterator<Item = View> {
        self.entry().views.iter().filter_map(|key| View::from_key(key))
    }

    /// Whether its drawings are drawn in the light of the season or of an hour.
    pub(crate) fn is_lit(self) -> bool {
        self.entry().lit
    }

    /// The figures that lead.
    pub(crate) fn headlines(self) -> &'static [Headline] {
        self.entry().headlines
    }

    /// The figures spoken, after the trees on the reader's unit of land.
    pub(crate) fn spoken(self) -> &'static [&'static str] {
        self.entry().spoken
    }

    /// The inputs that come first, in this order.
    pub(crate) fn firsts(self) -> &'static [&'static str] {
        self.entry().firsts
    }

    /// Whether a group of controls stands open from the start; the rest waits folded.
    pub(crate) fn opens(self, group: Group) -> bool {
        self.entry().opens.contains(&group.key)
    }
}
