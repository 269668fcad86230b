//! Everything a person can set, and nothing else: what is set in each room, and the training system.
//!
//! A scenario file is an object of parameter keys and SI values; what is absent takes its default.
//! Defaults of spacing, tree and trellis follow the training system, so that a file naming only the
//! system gets that system's usual planting. Wrong fields are reported by name, all at once.

use crate::kit::choice::Choice;
use crate::kit::figure::Source;
use crate::kit::finding::{Change, Setting};
use crate::kit::group::{Group, TREES, YEAR};
use crate::kit::order::sort_by;
use crate::register::entries::{Entries, Entry};
use crate::register::parameter as register;
use crate::register::problem::{Fault, Problem};
use crate::register::table::{Holds, Note};
use crate::register::{link, parameter::options};
use crate::system::TrainingSystem;

/// One input of a scenario.
pub type Parameter = register::Parameter<Scenario>;
/// What an input of a scenario takes.
pub type Kind = register::Kind<Scenario>;

/// A number of a scenario.
pub type Number = register::Number<Scenario>;
/// One of a list, in a scenario.
pub type ChoiceList = register::ChoiceList<Scenario>;
/// A list of lengths of a scenario.
pub type Lengths = register::Lengths<Scenario>;

/// The version written into scenario files.
pub const VERSION: u32 = 1;

/// What a saved file may say beside the plan: how its reader looks at it. The model passes over it.
pub const READER: [&str; 3] = ["units", "paper", "chapter"];

/// Puts the rooms' inputs together. A room has a module of its name with `Inputs` (its `usual` values of a training
/// system, its `conflicts`), `Parameters` and `note`.
macro_rules! scenario {
    ($($room:ident),+) => {
        /// Everything a person can set.
        #[derive(Clone, Debug, PartialEq)]
        pub struct Scenario {
            /// Training system.
            pub system: TrainingSystem,
            $(
                #[doc = concat!("What is set in the room `", stringify!($room), "`.")]
                pub $room: crate::$room::inputs::Inputs,
            )+
        }

        $(
            impl Holds<crate::$room::inputs::Inputs> for Scenario {
                fn inputs(&self) -> &crate::$room::inputs::Inputs {
                    &self.$room
                }

                fn inputs_mut(&mut self) -> &mut crate::$room::inputs::Inputs {
                    &mut self.$room
                }
            }
        )+

        impl Scenario {
            /// The plan a training system starts from, on a five-acre block.
            ///
            /// ```
            /// use planting::{Scenario, TrainingSystem, feet};
            /// let plan = Scenario::for_system(TrainingSystem::TallSpindle);
            /// assert_eq!(plan.block.in_row_spacing, feet(3.0));
            /// assert_eq!(plan.block.row_width, feet(12.0));
            /// ```
            #[inline(never)] // A copy at each call would make the download a kilobyte larger.
            pub fn for_system(system: TrainingSystem) -> Self {
                Scenario { system, $($room: crate::$room::inputs::Inputs::usual(system),)+ }
            }

            fn conflicts(&self) -> Vec<Problem> {
                let mut problems = Vec::new();
                $(problems.extend(self.$room.conflicts());)+
                problems
            }
        }

        /// The rooms' lists of inputs.
        const LISTS: &[&[Parameter]] = &[$(crate::$room::inputs::Parameters::<Scenario>::LIST),+];

        /// What is told of an input when somebody asks.
        pub fn note(key: &str) -> Option<Note> {
            let own = system_note(key);
            $(let own = own.or_else(|| crate::$room::inputs::note(key));)+
            own
        }
    };
}

/// The rooms of the ground, then those of the manifest.
macro_rules! all_rooms {
    (ground $ground:ident $facts:tt $(room $room:ident $more:tt)*) => {
        scenario!(block, canopy, trellis $(, $room)*);
    };
}
crate::rooms!(all_rooms);

/// The one input that belongs to no room: all take their usual values from it.
const SYSTEM: Parameter = Parameter {
    key: "system",
    code: 1,
    label: "Training system",
    group: TREES,
    follows_system: false,
    view: "section",
    scale: None,
    kind: Kind::Choice(ChoiceList {
        options: options::<TrainingSystem>,
        get: |scenario: &Scenario| scenario.system.key(),
        set: |scenario: &mut Scenario, key: &str| {
            TrainingSystem::from_key(key).map(|system| scenario.system = system).is_some()
        },
    }),
};

/// What is told of the training system as an input; none where the key is another's.
pub fn system_note(key: &str) -> Option<Note> {
    (key == SYSTEM.key).then_some(SYSTEM_NOTE)
}

const SYSTEM_NOTE: Note = Note {
    help: "Sets spacing, tree size, rootstock and trellis to a usual planting of that system.",
    source: Source::published(
        "Robinson (Cornell); Good Fruit Grower 2015: tall spindle as today's usual planting",
    ),
};

#[expect(
    clippy::indexing_slicing,
    reason = "worked out by the compiler, which a place out of range would stop"
)]
const COUNT: usize = {
    let (mut count, mut list) = (1, 0);
    while list < LISTS.len() {
        count += LISTS[list].len();
        list += 1;
    }
    count
};

/// All lists in one, by the codes of links: put in order while the program is compiled.
#[expect(
    clippy::indexing_slicing,
    reason = "worked out by the compiler, which a place out of range would stop"
)]
static SORTED: [Parameter; COUNT] = {
    let mut sorted = [SYSTEM; COUNT];
    let (mut filled, mut list) = (1, 0);
    while list < LISTS.len() {
        let mut item = 0;
        while item < LISTS[list].len() {
            let mut place = filled;
            while place > 0 && sorted[place - 1].code > LISTS[list][item].code {
                sorted[place] = sorted[place - 1];
                place -= 1;
            }
            sorted[place] = LISTS[list][item];
            filled += 1;
            item += 1;
        }
        list += 1;
    }
    sorted
};

/// Every input, by the codes of links; within a group that is the order of the page.
pub static REGISTRY: &[Parameter] = &SORTED;

/// The input with this key.
pub fn parameter(key: &str) -> Option<&'static Parameter> {
    REGISTRY.iter().find(|parameter| parameter.key == key)
}

/// Every group of inputs, in the order of the page.
pub fn groups() -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for parameter in REGISTRY {
        if !groups.contains(&parameter.group) {
            groups.push(parameter.group);
        }
    }
    sort_by(&mut groups, |one, other| one.rank.cmp(&other.rank));
    groups
}

/// The groups of controls, in the order of the page: every group but the year, which stands under the drawings. A host names
/// these to show some inputs only.
///
/// ```
/// let keys: Vec<_> = planting::control_groups().iter().map(|group| group.key).collect();
/// assert_eq!(keys[..2], ["spacing", "trees"]);
/// assert!(!keys.contains(&"year"));
/// ```
pub fn control_groups() -> Vec<Group> {
    let mut groups = groups();
    groups.retain(|group| *group != YEAR);
    groups
}

impl Default for Scenario {
    fn default() -> Self {
        Scenario::for_system(TrainingSystem::TallSpindle)
    }
}

impl Scenario {
    /// A scenario that differs from this one as `change` says.
    ///
    /// ```
    /// use planting::{Scenario, feet};
    /// let wide = Scenario::default().with(|plan| plan.block.row_width = feet(14.0));
    /// assert_eq!(wide.block.row_width, feet(14.0));
    /// ```
    pub fn with(mut self, change: impl FnOnce(&mut Scenario)) -> Scenario {
        change(&mut self);
        self
    }

    /// A scenario with these fields set; a key that names no input, or one of another kind, changes nothing.
    ///
    /// ```
    /// use planting::kit::finding::{Change, Setting};
    /// use planting::{Scenario, feet};
    /// let wider = Change { key: "row_width", to: Setting::Number(feet(14.0).value) };
    /// assert_eq!(Scenario::default().with_changes(&[wider]).block.row_width, feet(14.0));
    /// ```
    pub fn with_changes(&self, changes: &[Change]) -> Scenario {
        let mut changed = self.clone();
        for change in changes {
            match (&change.to, parameter(change.key).map(|parameter| parameter.kind)) {
                (Setting::Number(value), Some(Kind::Number(number))) => (number.set)(&mut changed, *value),
                (Setting::Word(word), Some(Kind::Choice(choice))) => {
                    (choice.set)(&mut changed, word);
                }
                (Setting::Lengths(to), Some(Kind::Lengths(lengths))) => {
                    (lengths.set)(&mut changed, to.clone());
                }
                _ => {}
            }
        }
        changed
    }

    /// The same site under another training system: everything that follows the system is taken
    /// from its starting plan, block, site and machines stay.
    pub fn with_system(&self, system: TrainingSystem) -> Self {
        let start = Scenario::for_system(system);
        let mut changed = self.clone();
        for parameter in REGISTRY.iter().filter(|parameter| parameter.follows_system) {
            parameter.copy(&start, &mut changed);
        }
        changed.system = system;
        changed
    }

    /// The fields that are wrong: outside their range, not finite, or at odds with each other.
    pub fn problems(&self) -> Vec<Problem> {
        let mut problems: Vec<Problem> =
            REGISTRY.iter().flat_map(|parameter| parameter.faults(self)).collect();
        if problems.is_empty() {
            problems.extend(self.conflicts());
        }
        problems
    }

    /// Reads a scenario from the entries of a file. What it says of its [`READER`] is passed over.
    ///
    /// # Errors
    /// Every unknown, repeated, mistyped or out-of-range field, each by name.
    pub fn from_entries(entries: &Entries) -> Result<Scenario, Vec<Problem>> {
        let mut problems = Vec::new();
        let mut scenario = Scenario::default();
        match entries.get("version") {
            None => problems.push(Problem::new("version", Fault::VersionMissing)),
            Some(Entry::Number(number)) if (*number - f64::from(VERSION)).abs() < 1e-9 => {}
            Some(other) => {
                problems.push(Problem::new("version", Fault::VersionUnknown { got: other.shown() }))
            }
        }
        if let Some(Entry::Text(key)) = entries.get("system")
            && let Some(system) = TrainingSystem::from_key(key)
        {
            scenario = Scenario::for_system(system);
        }
        for (place, (key, entry)) in entries.0.iter().enumerate() {
            if entries.0.iter().take(place).any(|(earlier, _)| earlier == key) {
                problems.push(Problem::new(key, Fault::Repeated));
            } else if let Some(parameter) = parameter(key) {
                if let Err(fault) = parameter.read(entry, &mut scenario) {
                    problems.push(Problem::new(key, fault));
                }
            } else if key != "version" && !READER.contains(&key.as_str()) {
                problems.push(Problem::new(key, Fault::Unknown));
            }
        }
        problems.extend(
            scenario
                .problems()
                .into_iter()
                .filter(|found| !problems.iter().any(|known| known.field == found.field))
                .collect::<Vec<_>>(),
        );
        if problems.is_empty() { Ok(scenario) } else { Err(problems) }
    }

    /// The entries of a file that reads back as this scenario: every parameter, so that a later
    /// change of defaults can't change a saved plan.
    pub fn to_entries(&self) -> Entries {
        let version = ("version".to_owned(), Entry::Number(f64::from(VERSION)));
        let fields = REGISTRY.iter().map(|parameter| {
            let entry = match parameter.kind {
                Kind::Number(number) => Entry::Number((number.get)(self)),
                Kind::Choice(choice) => Entry::Text((choice.get)(self).to_owned()),
                Kind::Lengths(lengths) => Entry::List(
                    (lengths.get)(self).iter().map(|length| Entry::Number(length.value)).collect(),
                ),
            };
            (parameter.key.to_owned(), entry)
        });
        Entries(std::iter::once(version).chain(fields).collect())
    }
}

/// Changes as the entries of a file: keys and SI values.
///
/// ```
/// use planting::kit::finding::{Change, Setting};
/// use planting::{Entry, scenario};
/// let changes = [Change { key: "rootstock", to: Setting::Word("b9") }];
/// assert_eq!(scenario::entries_of(&changes).get("rootstock"), Some(&Entry::Text("b9".to_owned())));
/// ```
pub fn entries_of(changes: &[Change]) -> Entries {
    let entry = |to: &Setting| match to {
        Setting::Number(value) => Entry::Number(*value),
        Setting::Word(word) => Entry::Text((*word).to_owned()),
        Setting::Lengths(lengths) => {
            Entry::List(lengths.iter().map(|length| Entry::Number(length.value)).collect())
        }
    };
    Entries(changes.iter().map(|change| (change.key.to_owned(), entry(&change.to))).collect())
}

/// The link of a scenario.
///
/// ```
/// use planting::{Scenario, feet, link};
/// assert_eq!(link::write(&Scenario::default()), "1.KsAwYQ");
/// let wider = Scenario::default().with(|plan| plan.block.row_width = feet(14.0));
/// assert_eq!(link::read(&link::write(&wider)), Ok(wider));
/// ```
pub fn write_link(scenario: &Scenario) -> String {
    link::write(REGISTRY, &scenario.to_entries(), &Scenario::for_system(scenario.system).to_entries())
}

/// The scenario of a link. Parts behind the plan are left to the caller, see [`link::appended`].
///
/// ```
/// use planting::{Scenario, link};
/// assert_eq!(link::read("1.KsAwYQ.us"), Ok(Scenario::default()));
/// let problems = link::read("1.KsAwYQQ").unwrap_err();
/// assert_eq!(problems[0].field, "link");
/// ```
///
/// # Errors
/// Every wrong field by name, one that only a later version has by its number; a text that is no link,
/// or no longer whole, as a problem of the field `link`.
pub fn read_link(text: &str) -> Result<Scenario, Vec<Problem>> {
    let (entries, mut problems) = link::read(REGISTRY, VERSION, text)
        .map_err(|message| vec![Problem::new("link", Fault::Unreadable(message))])?;
    match Scenario::from_entries(&entries) {
        Ok(scenario) if problems.is_empty() => Ok(scenario),
        found => {
            problems.extend(found.err().unwrap_or_default());
            Err(problems)
        }
    }
}
