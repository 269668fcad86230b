//! Free bodies: a part of the trellis cut loose, with every force on it as an arrow.
//!
//! ```text
//!        up
//!         ^         A point is where it is seen from the foot of the end post:
//!         |         `along` is positive into the row, `up` above the ground.
//!         o---> along   A body stands still when its forces add up to nothing
//!                       and turn about no point.
//! ```
//!
//! Laid end to end in any order, the arrows of a body that stands still come back to where they began.

/// A point in the plane of the row `[m]`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct EndPoint {
    /// Into the row, from the foot of the end post.
    pub along: f64,
    /// Above the ground.
    pub up: f64,
}

/// What a force comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// A trellis wire, by its number from below, from 1.
    Wire(usize),
    /// The guy to the anchor.
    Guy,
    /// The rail of a brace.
    Rail,
    /// The diagonal wire of a brace.
    BraceWire,
    /// The soil at the side of a post.
    Soil,
    /// The ground under a post, or its hold on it.
    Ground,
}

impl Origin {
    /// What it is called in a drawing.
    pub fn label(self) -> &'static str {
        match self {
            Origin::Wire(_) => "wire",
            Origin::Guy => "guy",
            Origin::Rail => "rail",
            Origin::BraceWire => "brace wire",
            Origin::Soil => "soil",
            Origin::Ground => "ground",
        }
    }
}

/// One force on a body `[N]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NamedForce {
    /// What it comes from.
    pub origin: Origin,
    /// Where it acts.
    pub at: EndPoint,
    /// Its part into the row `[N]`.
    pub along: f64,
    /// Its part upward `[N]`.
    pub up: f64,
}

impl NamedForce {
    /// How large it is `[N]`.
    pub fn size(&self) -> f64 {
        self.along.hypot(self.up)
    }

    /// How hard it turns about a point, from `along` to `up` `[N·m]`.
    pub fn turning(&self, about: EndPoint) -> f64 {
        (self.at.along - about.along) * self.up - (self.at.up - about.up) * self.along
    }
}

/// Which part was cut loose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Body {
    /// The end post.
    EndPost,
    /// A brace post, by its number from the row end, from 1.
    BracePost(usize),
}

impl Body {
    /// What it is called.
    pub fn label(self) -> &'static str {
        match self {
            Body::EndPost => "End post",
            Body::BracePost(1) => "Brace post",
            Body::BracePost(_) => "Second brace post",
        }
    }
}

/// A part of the trellis with every force on it.
#[derive(Clone, Debug, PartialEq)]
pub struct FreeBody {
    /// Which part it is.
    pub body: Body,
    /// Its foot at the ground line.
    pub foot: EndPoint,
    /// Its top.
    pub top: EndPoint,
    /// The forces, in the order in which a drawing lays them end to end.
    pub forces: Vec<NamedForce>,
}

impl FreeBody {
    /// What its forces add up to, into the row and upward `[N]`.
    pub fn resultant(&self) -> (f64, f64) {
        self.forces.iter().fold((0.0, 0.0), |(along, up), force| (along + force.along, up + force.up))
    }

    /// How hard its forces turn about a point together `[N·m]`.
    pub fn turning(&self, about: EndPoint) -> f64 {
        self.forces.iter().map(|force| force.turning(about)).sum()
    }

    /// The corners of its forces laid end to end, from (0, 0); the last is the first again where the body stands still `[N]`.
    ///
    /// ```
    /// use planting::loads::{Body, EndPoint, FreeBody, NamedForce, Origin};
    /// let at = EndPoint::default();
    /// let force = |origin, along, up| NamedForce { origin, at, along, up };
    /// let forces = vec![force(Origin::Wire(1), 3.0, 0.0), force(Origin::Guy, -3.0, -4.0), force(Origin::Ground, 0.0, 4.0)];
    /// let body = FreeBody { body: Body::EndPost, foot: at, top: at, forces };
    /// let corners = body.polygon();
    /// assert_eq!((corners[1], corners[2], corners[3]), ((3.0, 0.0), (0.0, -4.0), (0.0, 0.0)));
    /// ```
    pub fn polygon(&self) -> Vec<(f64, f64)> {
        let mut corners = vec![(0.0, 0.0)];
        let mut last = (0.0, 0.0);
        for force in &self.forces {
            last = (last.0 + force.along, last.1 + force.up);
            corners.push(last);
        }
        corners
    }
}
