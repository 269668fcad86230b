//! Scenario in, plan out: all rooms in one call, for the host, tests and print.
//!
//! The ground is laid first; then the rooms of the [manifest](crate::manifest) are put in their order, each with what those
//! before it offer.

use crate::ground::{self, Ground, gravest_first};
use crate::kit::figure::{self, Figure, Named, Working};
use crate::kit::finding::{Advice, Sought};
use crate::kit::offers::Offers;
use crate::kit::ordering::OrderLine;
use crate::register::problem::Problem;
use crate::scenario::Scenario;
use crate::trade::Outcome;
use std::ops::Deref;

/// Makes the plan from the list of rooms.
macro_rules! whole {
    (ground $ground:ident $facts:tt $(room $room:ident $more:tt)*) => {
        /// A whole planting, computed.
        #[derive(Clone, Debug, PartialEq)]
        pub struct Plan {
            /// Field, crowns and trellis.
            pub ground: Ground,
            $(
                #[doc = concat!("What the room `", stringify!($room), "` has computed.")]
                pub $room: crate::$room::State,
            )*
            /// Every figure, in reading order.
            pub figures: Vec<Figure>,
            /// Findings, the gravest first.
            pub advice: Vec<Advice>,
        }

        impl Plan {
            fn rooms(&self) -> Vec<&dyn Outcome> {
                vec![$(&self.$room),*]
            }

            /// What the room of a chapter has computed; nothing for the chapter of the ground and for a key that names no chapter.
            ///
            /// ```
            /// use planting::{Scenario, manifest::CHAPTERS, plan};
            /// let plan = plan(&Scenario::default()).unwrap();
            /// assert!(plan.room("light").unwrap().figure("light_intercepted").is_some());
            /// assert!(plan.room(CHAPTERS[0].key).is_none());
            /// ```
            pub fn room(&self, chapter: &str) -> Option<&dyn Outcome> {
                match chapter {
                    $(stringify!($room) => Some(&self.$room),)*
                    _ => None,
                }
            }
        }

        /// What has been computed already. With an empty memory the results are the same; they only take longer.
        #[derive(Clone, Debug, Default)]
        pub struct Memory {
            /// Of the ground.
            pub ground: ground::Memory,
            $(
                #[doc = concat!("Of the room `", stringify!($room), "`.")]
                pub $room: crate::$room::Memory,
            )*
        }

        fn put_all(ground: Ground, memory: &mut Memory) -> Plan {
            let mut offers = Offers::default();
            $(let $room = crate::$room::asks::put(&ground, &mut offers, &mut memory.$room);)*
            Plan { ground, $($room,)* figures: Vec::new(), advice: Vec::new() }
        }

        /// What the rules of the rooms find over a ground, without the rest of what the rooms compute.
        pub(crate) fn findings_of_rooms(ground: &Ground, memory: &mut Memory, sought: Sought) -> Vec<Advice> {
            let mut offers = Offers::default();
            let mut found = Vec::new();
            $(found.extend(crate::$room::asks::findings(ground, &mut offers, &mut memory.$room, sought));)*
            found
        }

        /// The names of all figures there are, those of other plans included.
        pub fn figure_names() -> Vec<Named> {
            let mut names = ground::names();
            $(names.extend(figure::names(crate::$room::figures::FIGURES));)*
            names
        }
    };
}
crate::rooms!(whole);

impl Deref for Plan {
    type Target = Ground;

    /// A plan is its ground and more: who draws the ground takes either.
    fn deref(&self) -> &Ground {
        &self.ground
    }
}

impl Plan {
    /// The figure with this key.
    pub fn figure(&self, key: &str) -> Option<&Figure> {
        self.figures.iter().find(|figure| figure.key == key)
    }

    /// How the figure with this key comes about.
    ///
    /// ```
    /// use planting::{Scenario, plan};
    /// let plan = plan(&Scenario::default()).unwrap();
    /// assert!(plan.working("light_intercepted").unwrap().formula.starts_with("F = 1"));
    /// ```
    pub fn working(&self, key: &str) -> Option<Working> {
        self.ground.working(key).or_else(|| self.rooms().into_iter().find_map(|room| room.working(key)))
    }

    /// What is to be ordered, room by room.
    pub fn orders(&self) -> Vec<OrderLine> {
        let mut orders = self.ground.orders();
        orders.extend(self.rooms().into_iter().flat_map(|room| room.orders()));
        orders
    }
}

/// Computes a plan. Pure and total: every scenario gives a plan or the list of fields that are wrong.
///
/// ```
/// use planting::{Scenario, plan};
/// let plan = plan(&Scenario::default()).unwrap();
/// assert_eq!(plan.figure("trees_per_acre").unwrap().value.map(|v| (v * 4046.8564224).round()), Some(1210.0));
/// ```
///
/// # Errors
/// The fields that are out of range, not finite, or at odds with each other.
pub fn plan(scenario: &Scenario) -> Result<Plan, Vec<Problem>> {
    plan_with(scenario, &mut Memory::default())
}

/// What the rules find on a scenario, the gravest first, without the rest of its plan: many times as quick.
///
/// ```
/// use planting::{Memory, Scenario, findings, inches, plan};
/// let low = Scenario::default().with(|plan| plan.canopy.graft_union_height = inches(2.0));
/// assert_eq!(findings(&low, &mut Memory::default()).unwrap(), plan(&low).unwrap().advice);
/// ```
///
/// # Errors
/// The fields that are out of range, not finite, or at odds with each other.
pub fn findings(scenario: &Scenario, memory: &mut Memory) -> Result<Vec<Advice>, Vec<Problem>> {
    let ground = Ground::lay(scenario, &mut memory.ground)?;
    let mut found = ground.advice();
    found.extend(findings_of_rooms(&ground, memory, Sought::All));
    gravest_first(&mut found);
    Ok(found)
}

/// Computes a plan as [`plan`] does, and doesn't compute again what a memory holds.
///
/// ```
/// use planting::{Memory, Scenario, plan, plan_with};
/// let mut memory = Memory::default();
/// let scenario = Scenario::default();
/// assert_eq!(plan_with(&scenario, &mut memory).unwrap().figures, plan(&scenario).unwrap().figures);
/// ```
///
/// # Errors
/// The fields that are out of range, not finite, or at odds with each other.
pub fn plan_with(scenario: &Scenario, memory: &mut Memory) -> Result<Plan, Vec<Problem>> {
    let mut plan = put_all(Ground::lay(scenario, &mut memory.ground)?, memory);
    let of_rooms: Vec<Figure> = plan.rooms().into_iter().flat_map(|room| room.figures()).collect();
    plan.figures = plan.ground.figures_with(of_rooms);
    plan.advice = plan.ground.advice();
    let of_rooms: Vec<Advice> = plan.rooms().into_iter().flat_map(|room| room.advice()).collect();
    plan.advice.extend(of_rooms);
    gravest_first(&mut plan.advice);
    Ok(plan)
}
