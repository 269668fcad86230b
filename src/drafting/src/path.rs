//! Paths in SVG path syntax, built from paper coordinates.

use crate::svg::push_coordinate;

/// A path under construction.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path(String);

impl Path {
    /// An empty path.
    pub fn new() -> Path {
        Path::default()
    }

    fn point(&mut self, command: char, (x, y): (f64, f64)) {
        self.0.push(command);
        push_coordinate(&mut self.0, x);
        self.0.push(' ');
        push_coordinate(&mut self.0, y);
    }

    /// A straight line from one point to another.
    #[must_use]
    pub fn line(mut self, from: (f64, f64), to: (f64, f64)) -> Path {
        self.point('M', from);
        self.point('L', to);
        self
    }

    /// Straight lines through points, open.
    #[must_use]
    pub fn open(mut self, points: &[(f64, f64)]) -> Path {
        for (place, point) in points.iter().enumerate() {
            self.point(if place == 0 { 'M' } else { 'L' }, *point);
        }
        self
    }

    /// Straight lines through points, closed.
    #[must_use]
    pub fn closed(self, points: &[(f64, f64)]) -> Path {
        let mut path = self.open(points);
        if !points.is_empty() {
            path.0.push('Z');
        }
        path
    }

    /// A rectangle between two corners.
    #[must_use]
    pub fn rectangle(self, (x1, y1): (f64, f64), (x2, y2): (f64, f64)) -> Path {
        self.closed(&[(x1, y1), (x2, y1), (x2, y2), (x1, y2)])
    }

    /// A circle.
    #[must_use]
    pub fn circle(mut self, (x, y): (f64, f64), radius: f64) -> Path {
        self.point('M', (x - radius, y));
        for end in [x + radius, x - radius] {
            self.0.push('A');
            push_coordinate(&mut self.0, radius);
            self.0.push(' ');
            push_coordinate(&mut self.0, radius);
            self.0.push_str(" 0 0 1 ");
            push_coordinate(&mut self.0, end);
            self.0.push(' ');
            push_coordinate(&mut self.0, y);
        }
        self.0.push('Z');
        self
    }

    /// Whether nothing has been drawn.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The path's text.
    pub fn text(self) -> String {
        self.0
    }
}
