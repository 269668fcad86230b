//! A person's practice on one tree: cuts, undone and redone year by year, held against the rules, and repeated over years.
//!
//! What is kept is the seed, the site and the list of what was done. The tree follows from these, so that undoing is leaving
//! out the last of them, and a link can carry the whole of it.

use super::Tree;
use super::cut::{Cut, Refusal, Taken};
use super::grow::{a_year_on, plant};
use super::opinion::{Verdict, opinion, pruned};
use super::site::{MOST_YEARS, Site};
use crate::crop::hours::{Footing, Hours, pruning};
use crate::crop::rules::Rule;
use crate::kit::count::as_number;

/// The largest seed: seeds are shown in six digits.
pub const LARGEST_SEED: u32 = 999_999;

/// A seed within its range; a larger one wraps round.
///
/// ```
/// use planting::crop::tree::practice::seed_within;
/// assert_eq!((seed_within(4135), seed_within(1_000_007)), (4135, 7));
/// ```
pub fn seed_within(seed: u32) -> u32 {
    seed % (LARGEST_SEED + 1)
}

/// How a tree is treated over years.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Course {
    /// Pruned by the rules.
    Rules,
    /// Never pruned.
    Unpruned,
    /// Pruned as somebody does.
    Habit(Habit),
}

/// Somebody's habit: the share of what each rule would take that they take, in the order of [`Rule::ALL`] `[–]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Habit {
    /// Shares from 0 to 1.
    pub taken: [f64; Rule::ALL.len()],
}

impl Habit {
    /// What the habit takes of what the rules would: of each rule's cuts the first ones, rounded to the nearest number.
    fn of_verdicts(self, verdicts: &[Verdict]) -> Vec<Cut> {
        let mut cuts = Vec::new();
        for (rule, share) in Rule::ALL.into_iter().zip(self.taken) {
            let asked: Vec<Cut> =
                verdicts.iter().filter(|verdict| verdict.rule == rule).map(|verdict| verdict.cut).collect();
            let wanted = (as_number(asked.len()) * share).round();
            let first = asked.into_iter().enumerate().filter(|(place, _)| as_number(*place) < wanted);
            cuts.extend(first.map(|(_, cut)| cut));
        }
        cuts
    }
}

impl Course {
    /// The tree as this course leaves it in the winter it stands in.
    pub fn prune(self, tree: &Tree) -> Tree {
        match self {
            Course::Rules => pruned(tree).0,
            Course::Unpruned => tree.clone(),
            Course::Habit(habit) => {
                let mut after = tree.clone();
                for cut in habit.of_verdicts(&opinion(tree)) {
                    // A cut that an earlier one has made needless is left out.
                    let _ = after.cut(cut);
                }
                after
            }
        }
    }

    /// The tree so many years on: each year it grows and is then pruned.
    ///
    /// ```
    /// use planting::crop::tree::{grow::plant, practice::Course, site::Site};
    /// let planted = plant(&Site::usual(1.5), 7);
    /// let kept = Course::Rules.years_on(&planted, 7);
    /// let wild = Course::Unpruned.years_on(&planted, 7);
    /// assert!(wild.wood() > kept.wood());
    /// ```
    pub fn years_on(self, tree: &Tree, years: u32) -> Tree {
        (0..years.min(MOST_YEARS)).fold(tree.clone(), |tree, _| self.prune(&a_year_on(&tree)))
    }
}

/// The tree of a seed as the rules have kept it, grown into the winter of a year and not yet pruned in it.
///
/// ```
/// use planting::crop::tree::{practice::before_pruning, site::Site};
/// let tree = before_pruning(&Site::usual(1.0), 4135, 7);
/// assert_eq!(tree.year, 7);
/// ```
pub fn before_pruning(site: &Site, seed: u32, year: u32) -> Tree {
    let planted = plant(site, seed_within(seed));
    match year.min(MOST_YEARS) {
        0 => planted,
        year => a_year_on(&Course::Rules.years_on(&Course::Rules.prune(&planted), year - 1)),
    }
}

/// One winter of a practice: the tree as it came into it, and what was done.
#[derive(Clone, Debug, PartialEq)]
struct Season {
    grown: Tree,
    cuts: Vec<Cut>,
}

impl Season {
    fn after(&self) -> (Tree, Taken) {
        let mut tree = self.grown.clone();
        let mut sum = Taken::default();
        for cut in &self.cuts {
            if let Ok(taken) = tree.cut(*cut) {
                sum.wood += taken.wood;
                sum.cuts += taken.cuts;
                sum.shortenings += taken.shortenings;
                sum.flower_buds += taken.flower_buds;
                sum.rubbed += taken.rubbed;
            }
        }
        (tree, sum)
    }
}

/// A cut held against the rules.
#[derive(Clone, Debug, PartialEq)]
pub enum Compared {
    /// The rules would have made it too.
    Agreed(Verdict),
    /// The person made it, the rules wouldn't have.
    Also(Cut),
    /// The rules would have made it, the person left it.
    Left(Verdict),
}

/// A practice on one tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Practice {
    earlier: Vec<Season>,
    now: Season,
    tree: Tree,
}

impl Practice {
    /// A practice that starts from a tree.
    pub fn on(tree: Tree) -> Practice {
        Practice { earlier: Vec::new(), now: Season { grown: tree.clone(), cuts: Vec::new() }, tree }
    }

    /// The tree as it stands.
    pub fn tree(&self) -> &Tree {
        &self.tree
    }

    /// The tree as it came into this winter.
    pub fn grown(&self) -> &Tree {
        &self.now.grown
    }

    /// What was done this winter.
    pub fn cuts(&self) -> &[Cut] {
        &self.now.cuts
    }

    /// Makes a cut.
    ///
    /// ```
    /// use planting::crop::tree::{cut::Cut, practice::{Practice, before_pruning}, site::Site};
    /// let mut practice = Practice::on(before_pruning(&Site::usual(1.0), 7, 5));
    /// let before = practice.tree().clone();
    /// practice.cut(Cut::Off(before.axes[1].id)).unwrap();
    /// assert_ne!(practice.tree(), &before);
    /// assert!(practice.undo());
    /// assert_eq!(practice.tree(), &before);
    /// ```
    ///
    /// # Errors
    /// Where there is nothing to cut; nothing is lost.
    pub fn cut(&mut self, cut: Cut) -> Result<Taken, Refusal> {
        let taken = self.tree.cut(cut)?;
        self.now.cuts.push(cut);
        Ok(taken)
    }

    /// Takes back the last cut, or the last year where nothing was cut in it; false at the start.
    pub fn undo(&mut self) -> bool {
        if self.now.cuts.pop().is_none() {
            let Some(season) = self.earlier.pop() else { return false };
            self.now = season;
        }
        self.tree = self.now.after().0;
        true
    }

    /// Back to the tree the practice started from.
    pub fn again(&mut self) {
        while self.undo() {}
    }

    /// Grows the tree into the next winter.
    pub fn a_year_on(&mut self) {
        let grown = a_year_on(&self.tree);
        let next = Season { grown: grown.clone(), cuts: Vec::new() };
        self.earlier.push(std::mem::replace(&mut self.now, next));
        self.tree = grown;
    }

    /// The time used in this winter.
    pub fn time(&self, footing: Footing) -> Hours {
        let (_, taken) = self.now.after();
        // A bud rubbed off takes as long as a fruitlet: a quarter of a shortening.
        let small = f64::from(taken.shortenings) + f64::from(taken.rubbed) / 4.0;
        pruning(f64::from(taken.cuts), small, footing)
    }

    /// This winter's cuts held against what the rules would have taken, in the rules' order, then the others.
    ///
    /// ```
    /// use planting::crop::tree::practice::{Compared, Practice, before_pruning};
    /// use planting::crop::tree::{opinion::opinion, site::Site};
    /// let mut practice = Practice::on(before_pruning(&Site::usual(1.5), 7, 7));
    /// let first = opinion(practice.tree())[0].clone();
    /// practice.cut(first.cut).unwrap();
    /// assert_eq!(practice.compared()[0], Compared::Agreed(first));
    /// ```
    pub fn compared(&self) -> Vec<Compared> {
        let verdicts = opinion(&self.now.grown);
        let is_like = |one: Cut, other: Cut| one.axis() == other.axis() && kind(one) == kind(other);
        let made = |cut: Cut| self.now.cuts.iter().any(|own| is_like(*own, cut));
        let asked = |cut: Cut| verdicts.iter().any(|verdict| is_like(verdict.cut, cut));
        let also = self.now.cuts.iter().filter(|cut| !asked(**cut)).map(|cut| Compared::Also(*cut));
        let held = verdicts.iter().map(|verdict| {
            if made(verdict.cut) {
                Compared::Agreed(verdict.clone())
            } else {
                Compared::Left(verdict.clone())
            }
        });
        held.chain(also).collect()
    }

    /// The person's habit, from all winters so far. A rule that had nothing to ask is taken as kept.
    ///
    /// ```
    /// use planting::crop::tree::{practice::{Practice, before_pruning}, site::Site};
    /// let practice = Practice::on(before_pruning(&Site::usual(1.5), 7, 7));
    /// assert!(practice.habit().taken.contains(&0.0), "nothing was cut");
    /// ```
    pub fn habit(&self) -> Habit {
        let mut asked = [0.0; Rule::ALL.len()];
        let mut made = [0.0; Rule::ALL.len()];
        for season in self.earlier.iter().chain(std::iter::once(&self.now)) {
            for verdict in opinion(&season.grown) {
                let done = season
                    .cuts
                    .iter()
                    .any(|cut| cut.axis() == verdict.cut.axis() && kind(*cut) == kind(verdict.cut));
                let counts = asked.iter_mut().zip(&mut made).zip(Rule::ALL);
                for ((asked, made), _) in counts.filter(|(_, rule)| *rule == verdict.rule) {
                    *asked += 1.0;
                    *made += if done { 1.0 } else { 0.0 };
                }
            }
        }
        let mut taken = [1.0; Rule::ALL.len()];
        for (share, (asked, made)) in taken.iter_mut().zip(asked.into_iter().zip(made)) {
            if asked > 0.0 {
                *share = made / asked;
            }
        }
        Habit { taken }
    }
}

/// Cuts of like kind agree: whether a limb is taken with a stub or flush, both take it.
fn kind(cut: Cut) -> u8 {
    match cut {
        Cut::Off(_) | Cut::Flush(_) => 0,
        Cut::Shorten(..) => 1,
        Cut::SingleOut(_) => 2,
        Cut::Lower(_) => 3,
        Cut::BudsOff(_) => 4,
        Cut::Tip(_) => 5,
    }
}
