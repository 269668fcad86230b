//! The edge of a field: a polygon with holes, and its crossings with row lines.

use crate::kit::order::{sort_by, within};
use crate::kit::row::FieldPoint;
use uom::si::area::square_meter;
use uom::si::f64::Area;

/// A polygon with holes, in the row frame. Rings are open (the last corner isn't repeated).
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// The outer edge.
    pub exterior: Vec<FieldPoint>,
    /// Ground inside it that is left out.
    pub holes: Vec<Vec<FieldPoint>>,
}

/// How far a row line on the very edge is moved inward, as a share of the field's width and at least of a metre `[–]`: far below
/// what is measured on a field, far above the rounding of its corners.
const INWARD: f64 = 1e-9;

/// The chord of a row line: a part of it inside the outline, lower and upper `along` `[m]`.
pub type Chord = (f64, f64);

impl Outline {
    /// A rectangle with one corner at the origin.
    pub fn rectangle(width: f64, length: f64) -> Outline {
        let corner = |across, along| FieldPoint { across, along };
        Outline {
            exterior: vec![corner(0.0, 0.0), corner(width, 0.0), corner(width, length), corner(0.0, length)],
            holes: Vec::new(),
        }
    }

    fn rings(&self) -> impl Iterator<Item = &[FieldPoint]> {
        std::iter::once(self.exterior.as_slice()).chain(self.holes.iter().map(Vec::as_slice))
    }

    /// The least and greatest `across` of the outer edge.
    pub fn across_range(&self) -> (f64, f64) {
        range(self.exterior.iter().map(|point| point.across))
    }

    /// The least and greatest `along` of the outer edge.
    pub fn along_range(&self) -> (f64, f64) {
        range(self.exterior.iter().map(|point| point.along))
    }

    /// The area of the outer edge less its holes, whichever way the rings run.
    ///
    /// ```
    /// use planting::{FieldPoint, Outline, uom::si::area::square_meter};
    /// let corner = |across, along| FieldPoint { across, along };
    /// let mut field = Outline::rectangle(100.0, 200.0);
    /// field.holes.push(vec![corner(40.0, 50.0), corner(60.0, 50.0), corner(60.0, 80.0), corner(40.0, 80.0)]);
    /// assert_eq!(field.area().get::<square_meter>(), 20_000.0 - 600.0);
    /// ```
    pub fn area(&self) -> Area {
        let holes: f64 = self.holes.iter().map(|ring| shoelace(ring).abs()).sum();
        Area::new::<square_meter>((shoelace(&self.exterior).abs() - holes).max(0.0))
    }

    /// The chords of a row line, which are its parts inside: crossings with every ring, sorted and paired.
    ///
    /// ```
    /// use planting::{Outline, FieldPoint};
    /// let mut field = Outline::rectangle(100.0, 200.0);
    /// let corner = |across, along| FieldPoint { across, along };
    /// field.holes.push(vec![corner(40.0, 50.0), corner(60.0, 50.0), corner(60.0, 80.0), corner(40.0, 80.0)]);
    /// assert_eq!(field.clip(10.0), vec![(0.0, 200.0)]);
    /// assert_eq!(field.clip(50.0), vec![(0.0, 50.0), (80.0, 200.0)]);
    /// ```
    pub fn clip(&self, across: f64) -> Vec<Chord> {
        // A line through a corner or along an edge must still cross in pairs: a corner exactly on
        // the line counts as lying to its left, and a line along the right-hand edge is moved inward.
        let (left, right) = self.across_range();
        let inward = INWARD * (right - left).max(1.0);
        let line = within(across, left + inward, (right - inward).max(left + inward));
        let mut crossings: Vec<f64> = self
            .rings()
            .flat_map(|ring| edges(ring).filter_map(move |(from, to)| crossing(from, to, line)))
            .collect();
        sort_by(&mut crossings, f64::total_cmp);
        crossings
            .chunks_exact(2)
            .filter_map(|pair| match pair {
                [low, high] if high > low => Some((*low, *high)),
                _ => None,
            })
            .collect()
    }
}

fn range(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
}

fn edges(ring: &[FieldPoint]) -> impl Iterator<Item = (FieldPoint, FieldPoint)> + '_ {
    let next = ring.get(1..).into_iter().flatten().chain(ring.first());
    ring.iter().copied().zip(next.copied())
}

fn crossing(from: FieldPoint, to: FieldPoint, across: f64) -> Option<f64> {
    if (from.across > across) == (to.across > across) {
        return None;
    }
    let share = (across - from.across) / (to.across - from.across);
    Some(from.along + share * (to.along - from.along))
}

fn shoelace(ring: &[FieldPoint]) -> f64 {
    // Measured from the first corner, so that a field far from the origin loses no digits.
    let Some(&origin) = ring.first() else { return 0.0 };
    edges(ring)
        .map(|(from, to)| {
            (from.across - origin.across) * (to.along - origin.along)
                - (to.across - origin.across) * (from.along - origin.along)
        })
        .sum::<f64>()
        / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn corner(across: f64, along: f64) -> FieldPoint {
        FieldPoint { across, along }
    }

    #[test]
    fn rows_along_the_edges_of_a_rectangle_are_whole() {
        let field = Outline::rectangle(30.0, 90.0);
        for across in [0.0, 15.0, 30.0] {
            assert_eq!(field.clip(across), vec![(0.0, 90.0)], "{across}");
        }
    }

    #[test]
    fn a_triangle_is_cut_where_its_sides_are() {
        let field =
            Outline { exterior: vec![corner(0.0, 0.0), corner(10.0, 0.0), corner(0.0, 10.0)], holes: vec![] };
        assert!((field.area().value - 50.0).abs() < 1e-12);
        let [(low, high)] = field.clip(4.0)[..] else { panic!("one piece") };
        assert!(low.abs() < 1e-12 && (high - 6.0).abs() < 1e-9);
    }

    #[test]
    fn area_is_outer_ring_less_holes_in_any_winding() {
        let mut field = Outline::rectangle(100.0, 50.0);
        field.holes.push(vec![
            corner(10.0, 10.0),
            corner(10.0, 20.0),
            corner(30.0, 20.0),
            corner(30.0, 10.0),
        ]);
        assert!((field.area().value - 4800.0).abs() < 1e-9);
    }
}
