//! The shape of one crown: the part of a free-growing cone that lies inside the space it is given.
//!
//! ```text
//!     across the row                from above, at one height
//!          /--\      <- height kept      ____________
//!         / /\ \                        |  .-''''-.  |   disc: what the tree would fill
//!        / /  \ \                       |/          \|   box:  spacing along the row,
//!       / /    \ \                      |\          /|         canopy width across it
//!      /_/______\_\  <- lowest branches |__'-....-'__|   crown: what lies in both
//! ```
//!
//! While the disc is smaller than the box the crown is a truncated cone; once it covers the corners
//! of the box the row has closed and the crown is a prism; between, it is exactly what the two share.
//! A leaning crown is the same body sheared sideways, which keeps every level section and so its volume.

use super::count::as_number;
use super::order::{least_of_uneven, within};
use std::f64::consts::PI;

/// Slices for the volume; Simpson's rule is exact for the cone and for the prism.
const SLICES: usize = 24;

/// One crown. Metres; heights above the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crown {
    /// Height of the lowest branches.
    pub base: f64,
    /// Height of the top as kept.
    pub top: f64,
    /// Diameter the tree would have at its base if it had room.
    pub free_diameter: f64,
    /// Height at which the free-growing cone would end.
    pub free_top: f64,
    /// Space along the row.
    pub along: f64,
    /// Space across the row at the base.
    pub across: f64,
    /// Height over which the space across tapers.
    pub space_top: f64,
    /// Top against base, of the cone and of the space `[–]`.
    pub taper: f64,
}

/// The space each tree is given. Metres; heights above the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Space {
    /// Along the row, to the next tree of the same lean.
    pub along: f64,
    /// Across the row at the lowest branches.
    pub across: f64,
    /// Height of the lowest branches.
    pub base: f64,
    /// Height the tree is kept at.
    pub height: f64,
    /// Width at the top against that at the base `[–]`.
    pub taper: f64,
}

/// What one season's shoots add to a crown that is kept in its space `[m]`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shoots {
    /// To its width, both sides together.
    pub wider: f64,
    /// To its height.
    pub taller: f64,
}

impl Space {
    /// The crown of a tree that grows to this height and spread where nobody cuts it, kept in the space `[m]`.
    ///
    /// ```
    /// use planting::kit::crown::Space;
    /// let space = Space { along: 1.0, across: 1.2, base: 0.6, height: 3.0, taper: 0.5 };
    /// let young = space.crown(2.0, 0.8);
    /// assert_eq!((young.top, young.width_along(0.6)), (2.0, 0.8));
    /// let grown = space.crown(6.0, 4.0);
    /// assert_eq!((grown.top, grown.width_along(0.6)), (3.0, 1.0), "cut to the space it is given");
    /// ```
    pub fn crown(&self, free_height: f64, free_spread: f64) -> Crown {
        let top = least_of_uneven(free_height, self.height);
        Crown {
            // A small tree has branches lower than the height they are later kept from.
            base: least_of_uneven(top / 2.0, self.base),
            top,
            free_diameter: free_spread,
            free_top: free_height,
            along: self.along,
            across: self.across,
            space_top: self.height,
            taper: self.taper,
        }
    }
}

impl Crown {
    /// The free-growing diameter at a height.
    pub fn disc(&self, height: f64) -> f64 {
        self.free_diameter * tapered(self.taper, height - self.base, self.free_top - self.base)
    }

    /// The space across the row at a height.
    pub fn box_across(&self, height: f64) -> f64 {
        self.across * tapered(self.taper, height - self.base, self.space_top - self.base)
    }

    /// Width across the row at a height.
    pub fn width_across(&self, height: f64) -> f64 {
        self.disc(height).min(self.box_across(height))
    }

    /// Width along the row at a height.
    pub fn width_along(&self, height: f64) -> f64 {
        self.disc(height).min(self.along)
    }

    /// The crown with part of a season's shoots on it: taller, and wider across the row until it meets the crowns of the next
    /// row; along the row neighbours stand where they stood.
    ///
    /// ```
    /// use planting::kit::crown::{Shoots, Space};
    /// let kept = Space { along: 1.0, across: 1.2, base: 0.6, height: 3.0, taper: 0.5 }.crown(6.0, 4.0);
    /// let in_leaf = kept.with_shoots(Shoots { wider: 0.4, taller: 0.6 }, 0.5, 3.5);
    /// assert!((in_leaf.top - 3.3).abs() < 1e-12 && (in_leaf.width_across(0.6) - 1.4).abs() < 1e-12);
    /// assert_eq!(in_leaf.width_along(0.6), 1.0);
    /// ```
    pub fn with_shoots(&self, shoots: Shoots, part: f64, row_width: f64) -> Crown {
        let (wider, taller) = (shoots.wider * part, shoots.taller * part);
        Crown {
            top: self.top + taller,
            free_diameter: self.free_diameter + wider,
            free_top: self.free_top + taller,
            across: least_of_uneven(self.across + wider, row_width),
            space_top: self.space_top + taller,
            ..*self
        }
    }

    /// How far the crown of a tree that leans from the ground up reaches across the row, to the side it
    /// leans to `[m]`; of an upright one, half its width.
    ///
    /// ```text
    ///        /  /      half span: x(z) = z · tan lean + width(z) / 2, the larger of base and top
    ///       /  /
    ///   ___/__/___|
    /// ```
    pub fn half_span(&self, lean: f64) -> f64 {
        let reach = |height: f64| height * lean.max(0.0).tan() + self.width_across(height) / 2.0;
        reach(self.base).max(reach(self.top))
    }

    /// Area of the level section at a height `[m²]`.
    pub fn section(&self, height: f64) -> f64 {
        disc_in_box(self.disc(height), self.along, self.box_across(height))
    }

    /// Volume `[m³]`.
    ///
    /// ```
    /// use planting::Crown;
    /// // Room to spare and no top: the simple cone, a third of pi r squared h.
    /// let cone = Crown { base: 0.0, top: 3.0, free_diameter: 2.0, free_top: 3.0, along: 9.0, across: 9.0, space_top: 3.0, taper: 0.0 };
    /// assert!((cone.volume() - std::f64::consts::PI).abs() < 0.02);
    /// ```
    pub fn volume(&self) -> f64 {
        let height = self.top - self.base;
        if height <= 0.0 {
            return 0.0;
        }
        let at = |slices: f64| self.section(self.base + height * slices / as_number(SLICES));
        let (mut sum, mut below) = (0.0, at(0.0));
        for slice in 0..SLICES {
            // The upper end of a slice is the lower one of the next.
            let above = at(as_number(slice + 1));
            sum += below + 4.0 * at(as_number(slice) + 0.5) + above;
            below = above;
        }
        sum * height / (6.0 * as_number(SLICES))
    }

    /// Volume of the space the crown is given, filled to its corners `[m³]`.
    ///
    /// ```
    /// use planting::kit::crown::Space;
    /// // 1.0 m along, 1.2 m to 0.6 m across, 2.4 m high.
    /// let crown = Space { along: 1.0, across: 1.2, base: 0.6, height: 3.0, taper: 0.5 }.crown(2.0, 0.8);
    /// assert!((crown.space_volume() - 1.0 * 0.9 * 2.4).abs() < 1e-12);
    /// ```
    pub fn space_volume(&self) -> f64 {
        let height = (self.space_top - self.base).max(0.0);
        self.along * self.across * (1.0 + self.taper) / 2.0 * height
    }
}

fn tapered(taper: f64, height: f64, over: f64) -> f64 {
    if over <= 0.0 {
        return taper;
    }
    1.0 - (1.0 - taper) * within(height / over, 0.0, 1.0)
}

/// Area shared by a disc and a box with the same centre `[m²]`.
///
/// Four times the area under the lower of the box's side and the circle, over a quarter.
///
/// ```
/// use planting::kit::crown::disc_in_box;
/// use std::f64::consts::PI;
/// // A disc that lies inside the box, and a box that lies inside the disc.
/// assert!((disc_in_box(1.0, 2.0, 3.0) - PI / 4.0).abs() < 1e-12);
/// assert!((disc_in_box(9.0, 2.0, 3.0) - 6.0).abs() < 1e-12);
/// ```
pub fn disc_in_box(diameter: f64, along: f64, across: f64) -> f64 {
    let radius = diameter / 2.0;
    let (half_along, half_across) = (along / 2.0, across / 2.0);
    if radius <= 0.0 || half_along <= 0.0 || half_across <= 0.0 {
        return 0.0;
    }
    let end = half_along.min(radius);
    let flat_to = (radius * radius - half_across * half_across).max(0.0).sqrt();
    if flat_to >= end {
        return 4.0 * end * half_across;
    }
    let under_circle = |x: f64| {
        let share = within(x / radius, -1.0, 1.0);
        (x * (radius * radius - x * x).max(0.0).sqrt() + radius * radius * share.asin()) / 2.0
    };
    4.0 * (flat_to * half_across + under_circle(end) - under_circle(flat_to))
}

/// Volume of a frustum of a cone with these end diameters `[m³]`; the closed form the slices are
/// checked against.
pub fn frustum_volume(base_diameter: f64, top_diameter: f64, height: f64) -> f64 {
    PI * height / 12.0
        * (base_diameter * base_diameter + base_diameter * top_diameter + top_diameter * top_diameter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn disc_and_box_meet_their_limits() {
        for (diameter, along, across, expected) in [
            (2.0, 9.0, 9.0, PI),
            (9.0, 2.0, 3.0, 6.0),
            (2.0, 9.0, 0.0, 0.0),
            (0.0, 1.0, 1.0, 0.0),
            // A strip of width r cut from a circle of radius r: r²(π/3 + √3/2), handbook circle segment.
            (2.0, 9.0, 1.0, PI / 3.0 + 3f64.sqrt() / 2.0),
            (2.0, 1.0, 9.0, PI / 3.0 + 3f64.sqrt() / 2.0),
        ] {
            let area = disc_in_box(diameter, along, across);
            assert!(
                (area - expected).abs() < 1e-12,
                "{diameter} in {along} x {across}: {area}, not {expected}"
            );
        }
    }

    #[test]
    fn a_crown_with_room_is_a_frustum_and_one_without_is_a_prism() {
        let free = Crown {
            base: 0.5,
            top: 3.0,
            free_diameter: 1.2,
            free_top: 3.0,
            along: 5.0,
            across: 5.0,
            space_top: 3.0,
            taper: 0.3,
        };
        assert!((free.volume() - frustum_volume(1.2, 0.36, 2.5)).abs() < 1e-12);
        let tight = Crown { free_diameter: 50.0, along: 1.0, across: 1.5, ..free };
        assert!((tight.volume() - tight.space_volume()).abs() < 1e-12);
        assert!((tight.space_volume() - 1.0 * 1.5 * 1.3 / 2.0 * 2.5).abs() < 1e-12);
    }
}
