//! Lists a person chooses from, each entry with a stable key and a label.

/// One of a closed list of named things.
pub trait Choice: Copy + PartialEq + Sized + 'static {
    /// Every entry, in the order it is offered.
    const ALL: &'static [Self];
    /// The stable key used in files and links.
    fn key(self) -> &'static str;
    /// The name shown to a reader.
    fn label(self) -> &'static str;
    /// The entry with this key.
    fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|entry| entry.key() == key)
    }
}

/// Declares a closed list: the enum, its keys and its labels in one place.
macro_rules! choice {
    ($(#[$doc:meta])* $name:ident { $($(#[$entry_doc:meta])* $entry:ident = $key:literal, $label:literal;)+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name { $($(#[$entry_doc])* $entry,)+ }
        impl $crate::kit::choice::Choice for $name {
            const ALL: &'static [Self] = &[$($name::$entry,)+];
            fn key(self) -> &'static str { match self { $($name::$entry => $key,)+ } }
            fn label(self) -> &'static str { match self { $($name::$entry => $label,)+ } }
        }
    };
}
pub(crate) use choice;
