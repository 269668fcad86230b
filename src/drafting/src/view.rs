//! The views there are: three of a whole planting, and those of the rooms.

/// Makes [`View`] from the manifest.
macro_rules! views {
    (ground $ground:ident $facts:tt $(room $room:ident { draws: [$($view:ident $key:literal $title:literal),* $(,)?], $($more:tt)* })*) => {
        /// What a drawing shows.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum View {
            /// The whole block from above, with an enlarged detail.
            Plan,
            /// Across the rows.
            Section,
            /// Along a row.
            Elevation,
            $($(#[doc = $title] $view,)*)*
        }

        impl View {
            /// Every view: those of a whole planting, then those of the rooms in the order of the manifest.
            pub const EVERY: &[View] = &[View::Plan, View::Section, View::Elevation, $($(View::$view,)*)*];

            /// Stable key.
            pub fn key(self) -> &'static str {
                match self {
                    View::Plan => "plan",
                    View::Section => "section",
                    View::Elevation => "elevation",
                    $($(View::$view => $key,)*)*
                }
            }

            /// The drawing's title.
            pub fn title(self) -> &'static str {
                match self {
                    View::Plan => "Plan",
                    View::Section => "Cross-section",
                    View::Elevation => "Row elevation",
                    $($(View::$view => $title,)*)*
                }
            }
        }
    };
}
planting::rooms!(views);

impl View {
    /// The views to scale of a whole planting, in the order of the sheet set.
    pub const ALL: [View; 3] = [View::Plan, View::Section, View::Elevation];

    /// The view with this key, a room's own included.
    ///
    /// ```
    /// use drafting::View;
    /// assert_eq!(View::from_key("section"), Some(View::Section));
    /// assert_eq!(View::from_key("years"), Some(View::Years));
    /// assert_eq!(View::from_key("attic"), None);
    /// ```
    pub fn from_key(key: &str) -> Option<View> {
        View::EVERY.iter().copied().find(|view| view.key() == key)
    }
}
