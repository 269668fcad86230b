//! Paths: straight lines, closed outlines and circles, as geometry. How a path is written is for
//! whoever writes it: [`crate::svg`] does.

use super::geometry::{Line, Point};

/// One step of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// The pen is set down here.
    Start(Point),
    /// A straight line to here.
    To(Point),
    /// A straight line back to where the pen was set down.
    Close,
    /// A whole circle of its own, by its centre and radius.
    Circle(Point, f64),
}

/// A path: steps of a pen, one after the other.
///
/// ```
/// use drafting::{Line, Path, Point};
/// let (a, b, c) = (Point::new(0.0, 0.0), Point::new(4.0, 0.0), Point::new(4.0, 3.0));
/// let path = Path::new().closed(&[a, b, c]);
/// assert_eq!(path.lines(), [Line::new(a, b), Line::new(b, c), Line::new(c, a)]);
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path(Vec<Step>);

impl Path {
    /// An empty path.
    pub fn new() -> Path {
        Path::default()
    }

    /// A straight line from one point to another.
    #[must_use]
    pub fn line(mut self, from: Point, to: Point) -> Path {
        self.0.push(Step::Start(from));
        self.0.push(Step::To(to));
        self
    }

    /// Straight lines through points, open.
    #[must_use]
    pub fn open(mut self, points: &[Point]) -> Path {
        for (index, point) in points.iter().enumerate() {
            self.0.push(if index == 0 { Step::Start(*point) } else { Step::To(*point) });
        }
        self
    }

    /// Straight lines through points, closed.
    #[must_use]
    pub fn closed(self, points: &[Point]) -> Path {
        let mut path = self.open(points);
        if !points.is_empty() {
            path.0.push(Step::Close);
        }
        path
    }

    /// A rectangle between two opposite corners.
    #[must_use]
    pub fn rectangle(self, one: Point, other: Point) -> Path {
        self.closed(&[one, Point::new(other.x, one.y), other, Point::new(one.x, other.y)])
    }

    /// A circle.
    #[must_use]
    pub fn circle(mut self, centre: Point, radius: f64) -> Path {
        self.0.push(Step::Circle(centre, radius));
        self
    }

    /// This path, and then another.
    #[must_use]
    pub fn joined(mut self, mut other: Path) -> Path {
        self.0.append(&mut other.0);
        self
    }

    /// Whether nothing has been drawn.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The steps of the pen.
    pub fn steps(&self) -> &[Step] {
        &self.0
    }

    /// The straight lines of the path, those that close an outline included; circles are left out.
    pub fn lines(&self) -> Vec<Line> {
        let mut lines = Vec::new();
        let (mut start, mut at) = (Point::default(), Point::default());
        for step in &self.0 {
            match *step {
                Step::Start(point) => (start, at) = (point, point),
                Step::To(point) => {
                    lines.push(Line::new(at, point));
                    at = point;
                }
                Step::Close => {
                    lines.push(Line::new(at, start));
                    at = start;
                }
                Step::Circle(..) => {}
            }
        }
        lines
    }

    /// Whether the path's closed outlines cover a point, by its winding number; circles are left out.
    ///
    /// ```
    /// use drafting::{Path, Point};
    /// let square = Path::new().rectangle(Point::new(0.0, 0.0), Point::new(2.0, 2.0));
    /// assert!(square.covers(Point::new(1.0, 1.0)) && !square.covers(Point::new(3.0, 1.0)));
    /// ```
    pub fn covers(&self, point: Point) -> bool {
        let mut winding = 0;
        for Line { from, to } in self.lines() {
            let side = (to.x - from.x) * (point.y - from.y) - (point.x - from.x) * (to.y - from.y);
            if from.y <= point.y && to.y > point.y && side > 0.0 {
                winding += 1;
            } else if from.y > point.y && to.y <= point.y && side < 0.0 {
                winding -= 1;
            }
        }
        winding != 0
    }

    /// Whether every number of the path is a finite one.
    pub fn is_finite(&self) -> bool {
        let finite = |point: &Point| point.x.is_finite() && point.y.is_finite();
        self.0.iter().all(|step| match step {
            Step::Start(point) | Step::To(point) => finite(point),
            Step::Circle(centre, radius) => finite(centre) && radius.is_finite(),
            Step::Close => true,
        })
    }
}
