//! What a room is, beyond the ground: how it is put, and what it gives back whatever its trade.
//!
//! A room is a folder with these files, each of them short:
//!
//! | file | holds |
//! |---|---|
//! | `mod.rs` | what it computes, from what, what it leaves out, its sources; `State`, `Memory`, `OFFERS`, `ASKS` |
//! | `inputs.rs` | `Inputs` with usual values and conflicts; their list, made with `inputs!` |
//! | `asks.rs` | `put`: takes what the room needs from the ground and the offers, and computes; the only file that names the ground |
//! | `figures.rs`, `workings.rs` | the table of figures, and how each comes about |
//! | `advice.rs` | its rules, each with the ways it sees to cure what it finds |
//! | one file a noun | the computation |
//!
//! Its entry in the [manifest](crate::manifest) makes it known.

use crate::kit::figure::{Figure, Working};
use crate::kit::finding::Advice;
use crate::kit::ordering::OrderLine;
use std::any::Any;

/// What a room has computed.
pub trait Outcome: Any + Send + Sync {
    /// The figure with this key, if the room has it.
    fn figure(&self, key: &str) -> Option<Figure>;
    /// Every figure, in reading order.
    fn figures(&self) -> Vec<Figure>;
    /// How the figure with this key comes about.
    fn working(&self, key: &str) -> Option<Working>;
    /// What its rules find.
    fn advice(&self) -> Vec<Advice>;
    /// What it asks to be ordered.
    fn orders(&self) -> Vec<OrderLine> {
        Vec::new()
    }
}

/// Makes what a room has computed an [`Outcome`], from the room's tables of figures, workings and rules.
///
/// It also makes `findings`, which puts the room and gives what its rules find: remedies are tried by it, many times over. A room whose
/// rules look at a part of what it computes writes one that computes that part alone, offers what rules of later rooms ask for,
/// and names the part's reader in a third place. A room that asks for something to be ordered names its module of order lines in a fourth.
macro_rules! outcome {
    ($state:ty, $room:path) => {
        $crate::trade::outcome!($state, $room, whole);

        impl $state {
            fn whole(&self) -> &Self {
                self
            }
        }

        /// What the rules find over a ground.
        pub fn findings(
            ground: &$crate::ground::Ground,
            offers: &mut $crate::kit::offers::Offers,
            memory: &mut Memory,
            _: $crate::kit::finding::Sought,
        ) -> Vec<$crate::kit::finding::Advice> {
            $crate::trade::Outcome::advice(&put(ground, offers, memory))
        }
    };
    ($state:ty, $room:path, $judged:ident $(, $orders:ident)?) => {
        const _: () = {
            use $crate::kit::figure::{Figure, Working, all, find};
            use $crate::kit::finding::Advice;
            use $room as room;

            impl $crate::trade::Outcome for $state {
                fn figure(&self, key: &str) -> Option<Figure> {
                    find(room::figures::FIGURES, key, self)
                }

                fn figures(&self) -> Vec<Figure> {
                    all(room::figures::FIGURES, self)
                }

                fn working(&self, key: &str) -> Option<Working> {
                    room::workings::working_of(key, self)
                }

                fn advice(&self) -> Vec<Advice> {
                    room::advice::RULES.iter().filter_map(|rule| rule(&self.$judged())).collect()
                }

                $(fn orders(&self) -> Vec<$crate::kit::ordering::OrderLine> {
                    room::$orders::orders(self)
                })?
            }
        };
    };
}
pub(crate) use outcome;
