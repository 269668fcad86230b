//! What a person can do to a limb, and what it leaves.
//!
//! Cuts are made in winter on the wood of the years before; what a cut leads to shows when the tree is grown a year on.

use super::chance::AxisId;
use super::{Axis, Kind, Life, Tree};

/// One thing done to a tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cut {
    /// Take an axis off and leave a stub that shoots again. The leader is cut to the ground.
    Off(AxisId),
    /// Take an axis off to its base, where nothing grows again.
    Flush(AxisId),
    /// Cut an axis back to a distance from its base `[m]`, to the spur or side axis next below it where there is one.
    Shorten(AxisId, f64),
    /// Take all side axes of an axis off to their base.
    SingleOut(AxisId),
    /// Cut the leader off above a limb, which becomes the top.
    Lower(AxisId),
    /// Rub the flower buds off an axis; its spurs stay.
    BudsOff(AxisId),
    /// Tip the soft shoot that an axis grew this year: half of it stays.
    Tip(AxisId),
}

impl Cut {
    /// The axis it is done to.
    pub fn axis(self) -> AxisId {
        match self {
            Cut::Off(axis)
            | Cut::Flush(axis)
            | Cut::Shorten(axis, _)
            | Cut::SingleOut(axis)
            | Cut::Lower(axis)
            | Cut::BudsOff(axis)
            | Cut::Tip(axis) => axis,
        }
    }
}

/// Why a cut can't be made; the tree stays as it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// No axis of this name grows on the tree.
    NotThere,
    /// Only a limb on the leader can become the top.
    NoLimb,
    /// The place lies outside the axis.
    NoPlace,
    /// It has nothing of what would be taken.
    Nothing,
}

impl Refusal {
    /// What is said.
    pub fn words(self) -> &'static str {
        match self {
            Refusal::NotThere => "That limb isn't there any more.",
            Refusal::NoLimb => "Only a limb on the leader can become the top.",
            Refusal::NoPlace => "That place isn't on the limb.",
            Refusal::Nothing => "There is nothing of that kind to take there.",
        }
    }
}

/// What a cut took.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Taken {
    /// Length of wood `[m]`.
    pub wood: f64,
    /// Large cuts.
    pub cuts: u32,
    /// Shortenings and small shoots.
    pub shortenings: u32,
    /// Flower buds, with the wood or rubbed off.
    pub flower_buds: u32,
    /// Flower buds rubbed off one by one.
    pub rubbed: u32,
}

/// An axis as short as this is all stub `[m]`.
const LEAST_LENGTH_M: f64 = 0.03;
/// How far below the place meant a spur or side axis is looked for `[m]`.
const LOOK_BELOW_M: f64 = 0.15;
/// Height at which a leader that is cut to the ground ends `[m]`.
const STUMP_M: f64 = 0.15;

impl Tree {
    /// Makes a cut.
    ///
    /// ```
    /// use planting::crop::tree::{AxisId, cut::{Cut, Refusal}, grow::plant, site::Site};
    /// let mut tree = plant(&Site::usual(1.0), 7);
    /// let limb = tree.axes[1].id;
    /// let taken = tree.cut(Cut::Off(limb)).unwrap();
    /// assert!(taken.wood > 0.1 && taken.cuts == 1);
    /// assert_eq!(tree.cut(Cut::Off(limb)), Err(Refusal::NotThere));
    /// ```
    ///
    /// # Errors
    /// Where there is nothing to cut; the tree is as it was.
    pub fn cut(&mut self, cut: Cut) -> Result<Taken, Refusal> {
        let before = self.tally();
        let (place, axis) = self.find(cut.axis()).ok_or(Refusal::NotThere)?;
        if !axis.grows() {
            return Err(Refusal::NotThere);
        }
        let counted = match cut {
            Cut::Off(_) if place == 0 => self.shorten(0, STUMP_M.min(axis.length())).map(|()| (1, 0))?,
            Cut::Off(_) => (self.take_off(place), 0),
            Cut::Flush(id) => {
                let small = axis.length() < super::LIMB_FROM_M || axis.kind == Kind::Side;
                self.keep_only(|axis| axis.id != id);
                (u32::from(!small), u32::from(small))
            }
            Cut::Shorten(_, to) => {
                let end = end_of(self, place, to)?;
                self.shorten(place, end).map(|()| (0, 1))?
            }
            Cut::SingleOut(_) => (0, self.single_out(place)?),
            Cut::Lower(_) => self.lower(place).map(|()| (1, 0))?,
            Cut::BudsOff(_) => (0, self.rub_buds(place)?),
            Cut::Tip(_) => self.tip(place).map(|()| (0, 1))?,
        };
        if !matches!(cut, Cut::BudsOff(_) | Cut::Tip(_)) {
            self.pruned = Some(self.year);
        }
        let after = self.tally();
        let flower_buds = before.1 - after.1;
        let rubs = matches!(cut, Cut::BudsOff(_));
        Ok(Taken {
            wood: before.0 - after.0,
            cuts: counted.0,
            shortenings: if rubs { 0 } else { counted.1 },
            flower_buds,
            rubbed: if rubs { flower_buds } else { 0 },
        })
    }

    /// Length of all wood `[m]`, and flower buds.
    fn tally(&self) -> (f64, u32) {
        let growing = || self.axes.iter().filter(|axis| axis.grows());
        let buds =
            growing().map(|axis| axis.spurs.iter().map(|spur| u32::from(spur.flowers)).sum::<u32>()).sum();
        (self.wood(), buds)
    }

    /// Length of all wood, stubs included `[m]`.
    pub fn wood(&self) -> f64 {
        self.axes.iter().fold(0.0, |sum, axis| sum + axis.length())
    }

    fn take_off(&mut self, place: usize) -> u32 {
        let (year, stub) = (self.year, self.site.keeping.stub().value);
        if place == self.top {
            self.top = 0;
        }
        if let Some(axis) = self.axes.get_mut(place) {
            axis.life = Life::Stub(year);
            axis.spurs.clear();
            truncate(axis, stub);
        }
        self.drop_children(place, 0.0);
        1
    }

    /// Takes off all that grows from an axis beyond a distance.
    fn drop_children(&mut self, place: usize, beyond: f64) {
        let gone: Vec<AxisId> = self
            .axes
            .iter()
            .filter(|axis| axis.parent == Some(place) && axis.at > beyond)
            .map(|axis| axis.id)
            .collect();
        self.keep_only(|axis| !gone.contains(&axis.id));
    }

    fn shorten(&mut self, place: usize, end: f64) -> Result<(), Refusal> {
        let year = self.year;
        let axis = self.axes.get_mut(place).ok_or(Refusal::NotThere)?;
        truncate(axis, end);
        axis.spurs.retain(|spur| spur.at <= end);
        axis.shortened = Some(year);
        self.drop_children(place, end);
        Ok(())
    }

    fn single_out(&mut self, place: usize) -> Result<u32, Refusal> {
        // The leader's side axes are the limbs: those aren't singled out.
        if place == 0 {
            return Err(Refusal::Nothing);
        }
        let sides = self.axes.iter().filter(|axis| axis.parent == Some(place)).count();
        if sides == 0 {
            return Err(Refusal::Nothing);
        }
        self.drop_children(place, -1.0);
        Ok(u32::try_from(sides).unwrap_or(u32::MAX))
    }

    fn lower(&mut self, place: usize) -> Result<(), Refusal> {
        let axis = self.axes.get(place).filter(|axis| axis.kind == Kind::Limb).ok_or(Refusal::NoLimb)?;
        let (id, end) = (axis.id, axis.at + ABOVE_SIDE_LIMB_M);
        self.shorten(0, end)?;
        self.top = self.find(id).map_or(0, |(place, _)| place);
        Ok(())
    }

    fn rub_buds(&mut self, place: usize) -> Result<u32, Refusal> {
        let axis = self.axes.get_mut(place).ok_or(Refusal::NotThere)?;
        let mut rubbed = 0;
        for spur in axis.spurs.iter_mut().filter(|spur| spur.flowers) {
            spur.flowers = false;
            rubbed += 1;
        }
        if rubbed == 0 { Err(Refusal::Nothing) } else { Ok(rubbed) }
    }

    fn tip(&mut self, place: usize) -> Result<(), Refusal> {
        let year = self.year;
        let axis = self.axes.get(place).ok_or(Refusal::NotThere)?;
        let soft = axis.pieces.last().filter(|piece| piece.year == year).ok_or(Refusal::Nothing)?.length;
        let end = axis.length() - soft / 2.0;
        let shortened = axis.shortened;
        self.shorten(place, end)?;
        // A tipped shoot doesn't answer like one that is cut into older wood.
        if let Some(axis) = self.axes.get_mut(place) {
            axis.shortened = shortened;
        }
        Ok(())
    }
}

/// How far above the limb that becomes the top the leader is cut `[m]`.
const ABOVE_SIDE_LIMB_M: f64 = 0.01;

/// Where an axis is cut when a distance is meant: at the spur or side axis next below.
fn end_of(tree: &Tree, place: usize, to: f64) -> Result<f64, Refusal> {
    let axis = tree.axes.get(place).ok_or(Refusal::NotThere)?;
    if to.is_nan() || to < LEAST_LENGTH_M || to >= axis.length() {
        return Err(Refusal::NoPlace);
    }
    let sides =
        tree.axes.iter().filter(|side| side.parent == Some(place) && side.grows()).map(|side| side.at);
    let found = axis
        .spurs
        .iter()
        .map(|spur| spur.at)
        .chain(sides)
        .filter(|at| *at <= to && *at >= to - LOOK_BELOW_M && *at >= LEAST_LENGTH_M)
        .fold(None, |best: Option<f64>, at| Some(best.map_or(at, |best| best.max(at))));
    Ok(found.map_or(to, |at| (at + ABOVE_SIDE_LIMB_M).min(to)))
}

/// Cuts the pieces of an axis off at a distance.
fn truncate(axis: &mut Axis, end: f64) {
    let mut start = 0.0;
    axis.pieces.retain_mut(|piece| {
        let left = end - start;
        start += piece.length;
        piece.length = piece.length.min(left.max(0.0));
        left > 0.0
    });
}
