//! The row ends: what the pull of the wires asks of guy, post, rail and soil.
//!
//! ```text
//!        tie-back                                H-brace
//!     h_a .o----> wires                     o===== rail ====o     h_r
//!       .' |----> T h                  wires|<           .' |
//!     .'   |---->                        T h|        .'     |
//!   .'  θ  |                                |    .' brace   |
//!  x-------|--------                     ---|.'-----------  |---
//!    D     | foot                       foot|<---- L ------>|
//! ```
//!
//! The post is taken to turn freely at the ground line, so that the moment of the wires, `M = Σ T h`, falls on guy or rail alone; what is left of
//! the pull falls on the soil.

use super::forces::{Body, EndPoint, FreeBody, NamedForce, Origin};
use super::measures::Moment;
use crate::kit::choice::choice;
use crate::kit::count::as_number;
use crate::kit::units::psi;
use uom::si::f64::{Angle, Force, Length};
use uom::si::force::newton;

choice! {
    /// Spans of an H-brace in line.
    BraceSpans {
        /// One rail and one brace post.
        One = "one", "Single";
        /// Two of either.
        Two = "two", "Double";
    }
}

/// What holds the wires at a row end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RowEnd {
    /// A post guyed to an anchor.
    TieBack {
        /// Lean of the post toward the anchor, β `[rad]`.
        lean: Angle,
        /// From the foot of the post to the anchor, D `[m]`.
        distance: Length,
        /// Height at which the guy is fastened, h_a `[m]`.
        height: Length,
    },
    /// Posts with rails between them.
    HBrace {
        /// Post to post, L `[m]`.
        span: Length,
        /// Height of the rail, h_r `[m]`.
        rail: Length,
        /// How many spans there are.
        spans: BraceSpans,
    },
}

/// Forces of a row end with a guy `[N]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TieBack {
    /// Pull in the guy.
    pub guy: Force,
    /// Push of the post into the ground.
    pub thrust: Force,
    /// Push of the soil against the post at the ground line, away from the row.
    pub soil: Force,
    /// Angle of the guy above the ground, θ `[rad]`.
    pub slope: Angle,
}

/// Forces of a braced row end `[N]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HBrace {
    /// Push in the rail at the end post.
    pub rail: Force,
    /// Pull in the diagonal wire.
    pub wire: Force,
    /// Lift of the end post, as large as what the last brace post bears down with.
    pub uplift: Force,
    /// Push of the soil against all posts, away from the row.
    pub soil: Force,
}

/// What a row end is held by, under a pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Held {
    /// By a guy.
    TieBack(TieBack),
    /// By a brace.
    HBrace(HBrace),
}

/// The pull of the wires on a row end.
#[derive(Clone, Debug, PartialEq)]
pub struct Pull {
    /// Heights of the wires, from below `[m]`.
    pub heights: Vec<Length>,
    /// Tension of each `[N]`.
    pub tension: Force,
}

impl Pull {
    /// All wires together, `Σ T` `[N]`.
    pub fn total(&self) -> Force {
        self.tension * as_number(self.heights.len())
    }

    /// Their moment about the ground line, `M = Σ T h` `[N·m]`.
    pub fn moment(&self) -> Moment {
        let heights: Length = self.heights.iter().copied().sum();
        self.tension * heights
    }
}

impl RowEnd {
    /// What holds the row end under a pull; none where it can hold none: a guy fastened at the ground or running down along the post, a
    /// rail at the ground, posts in one place.
    ///
    /// Tie-back: `T_guy = M L_guy ÷ (h_a D)`, `L_guy = √((D − h_a tan β)² + h_a²)`. H-brace: `C = M ÷ h_r`, `tan θ = h_r ÷ L`,
    /// `B = C ÷ cos θ`, `V = M ÷ L`; of two spans each carries half (common practice), so that `B` and `V` are half as large.
    ///
    /// ```
    /// use planting::kit::units::{POUND_FORCE, pounds_force};
    /// use planting::{degrees, feet, loads::{Held, Pull, RowEnd}};
    /// // One wire at the top of a post that leans 30° to an equilateral triangle: the guy pulls as hard as the wire.
    /// let height = feet(9.0);
    /// let pull = Pull { heights: vec![height], tension: pounds_force(100.0) };
    /// let distance = height * 2.0 / 3f64.sqrt();
    /// let end = RowEnd::TieBack { lean: degrees(30.0), distance, height };
    /// let Some(Held::TieBack(forces)) = end.under(&pull) else { panic!() };
    /// assert!((forces.guy.value / POUND_FORCE - 100.0).abs() < 1e-9);
    /// ```
    pub fn under(&self, pull: &Pull) -> Option<Held> {
        let (total, moment) = (pull.total(), pull.moment());
        match *self {
            RowEnd::TieBack { lean, distance, height } => {
                let run = distance - height * lean.value.tan();
                let length = run.hypot(height);
                let guy = moment * length / (height * distance);
                let slope = height.atan2(run);
                let soil = total - guy * (run / length);
                let forces = TieBack { guy, thrust: guy * (height / length), soil, slope };
                [guy, forces.thrust, soil]
                    .iter()
                    .all(|force| force.value.is_finite())
                    .then_some(Held::TieBack(forces))
            }
            RowEnd::HBrace { span, rail, spans } => {
                let push = moment / rail;
                let share = 1.0 / span_count(spans);
                let wire = push * (rail.hypot(span) / span) * share;
                let uplift = moment / span * share;
                let is_there = push.value.is_finite() && wire.value.is_finite() && uplift.value.is_finite();
                is_there.then_some(Held::HBrace(HBrace { rail: push, wire, uplift, soil: total }))
            }
        }
    }

    /// Every post of the row end cut loose, with the forces on it; empty where it can hold none.
    ///
    /// ```
    /// use planting::kit::units::pounds_force;
    /// use planting::{degrees, feet, loads::{Pull, RowEnd}};
    /// let pull = Pull { heights: vec![feet(4.5), feet(9.0)], tension: pounds_force(250.0) };
    /// let end = RowEnd::TieBack { lean: degrees(15.0), distance: feet(9.0), height: feet(9.0) };
    /// let [post] = &end.free_bodies(&pull)[..] else { panic!() };
    /// // Two wires, the guy, the soil and the ground, which together come to nothing.
    /// assert_eq!(post.forces.len(), 5);
    /// assert!(post.resultant().0.abs() < 1e-9 && post.turning(post.foot).abs() < 1e-9);
    /// ```
    pub fn free_bodies(&self, pull: &Pull) -> Vec<FreeBody> {
        match (*self, self.under(pull)) {
            (RowEnd::TieBack { lean, height, .. }, Some(Held::TieBack(forces))) => {
                vec![guyed_post(pull, lean, height, &forces)]
            }
            (RowEnd::HBrace { span, rail, spans }, Some(Held::HBrace(forces))) => {
                braced_posts(pull, Brace { span: span.value, rail: rail.value, spans }, &forces)
            }
            _ => Vec::new(),
        }
    }
}

fn span_count(spans: BraceSpans) -> f64 {
    match spans {
        BraceSpans::One => 1.0,
        BraceSpans::Two => 2.0,
    }
}

/// The wires' pull, on a post that leans away from the row.
fn wires(pull: &Pull, lean: f64) -> Vec<NamedForce> {
    let number = pull.heights.iter().zip(1..);
    let force = |(height, number): (&Length, usize)| NamedForce {
        origin: Origin::Wire(number),
        at: EndPoint { along: -height.value * lean.tan(), up: height.value },
        along: pull.tension.value,
        up: 0.0,
    };
    number.map(force).collect()
}

fn highest(pull: &Pull) -> f64 {
    pull.heights.iter().map(|height| height.value).fold(0.0, f64::max)
}

fn guyed_post(pull: &Pull, lean: Angle, height: Length, held: &TieBack) -> FreeBody {
    let foot = EndPoint::default();
    let fastened = EndPoint { along: -height.value * lean.value.tan(), up: height.value };
    let (sin, cos) = held.slope.value.sin_cos();
    let guy = held.guy.value;
    let mut forces = wires(pull, lean.value);
    forces.push(NamedForce { origin: Origin::Guy, at: fastened, along: -guy * cos, up: -guy * sin });
    forces.push(NamedForce { origin: Origin::Soil, at: foot, along: -held.soil.value, up: 0.0 });
    forces.push(NamedForce { origin: Origin::Ground, at: foot, along: 0.0, up: held.thrust.value });
    let top = highest(pull).max(height.value);
    FreeBody { body: Body::EndPost, foot, top: EndPoint { along: -top * lean.value.tan(), up: top }, forces }
}

/// An H-brace in numbers `[m]`.
struct Brace {
    span: f64,
    rail: f64,
    spans: BraceSpans,
}

/// The posts of an H-brace from the row end inward. At each, what the rails push and the diagonals pull, and what is left for the soil.
fn braced_posts(pull: &Pull, brace: Brace, held: &HBrace) -> Vec<FreeBody> {
    let spans = match brace.spans {
        BraceSpans::One => 1,
        BraceSpans::Two => 2,
    };
    // Of the rail's push, each span's diagonal takes its share; what it leaves goes on through the next rail.
    let taken = held.rail.value / span_count(brace.spans);
    let push = |span: usize| held.rail.value - taken * as_number(span);
    let (level, lift) = (taken, held.uplift.value);
    let post = |number: usize| {
        let along = brace.span * as_number(number);
        let (foot, head) = (EndPoint { along, up: 0.0 }, EndPoint { along, up: brace.rail });
        let mut forces = if number == 0 { wires(pull, 0.0) } else { Vec::new() };
        let (mut to_soil, mut to_ground) = (if number == 0 { pull.total().value } else { 0.0 }, 0.0);
        if number > 0 {
            // The rail from the row end, and the diagonal that runs down to the foot of the post before.
            to_soil += push(number - 1) - level;
            to_ground += lift;
            forces.push(NamedForce { origin: Origin::Rail, at: head, along: push(number - 1), up: 0.0 });
            forces.push(NamedForce { origin: Origin::BraceWire, at: head, along: -level, up: -lift });
        }
        if number < spans {
            // The rail into the row, and the diagonal that runs up to the head of the post behind.
            to_soil += level - push(number);
            to_ground -= lift;
            forces.push(NamedForce { origin: Origin::Rail, at: head, along: -push(number), up: 0.0 });
            forces.push(NamedForce { origin: Origin::BraceWire, at: foot, along: level, up: lift });
        }
        forces.push(NamedForce { origin: Origin::Soil, at: foot, along: -to_soil, up: 0.0 });
        forces.push(NamedForce { origin: Origin::Ground, at: foot, along: 0.0, up: to_ground });
        let top = if number == 0 { highest(pull).max(brace.rail) } else { brace.rail };
        let body = if number == 0 { Body::EndPost } else { Body::BracePost(number) };
        FreeBody { body, foot, top: EndPoint { along, up: top }, forces }
    };
    (0..=spans).map(post).collect()
}

/// The push at which a round rail buckles, `P = π² E I ÷ L²`, `I = π d⁴ ÷ 64`, E of wood 1,000,000 psi; none where it has no length `[N]`.
///
/// ```
/// use planting::kit::units::POUND_FORCE;
/// use planting::{feet, inches, loads::rail_buckles};
/// assert_eq!((rail_buckles(inches(4.0), feet(8.0)).unwrap().value / POUND_FORCE).round(), 13_458.0);
/// ```
pub fn rail_buckles(diameter: Length, span: Length) -> Option<Force> {
    let d = diameter.value;
    let second_moment = std::f64::consts::PI * d * d * d * d / 64.0;
    let modulus = psi(RAIL_MODULUS_PSI).value;
    let push = std::f64::consts::PI.powi(2) * modulus * second_moment / (span.value * span.value);
    push.is_finite().then(|| Force::new::<newton>(push))
}

/// Young's modulus of a wooden rail (assumption) `[psi]`.
const RAIL_MODULUS_PSI: f64 = 1.0e6;
