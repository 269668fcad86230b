//! Points, sizes, spans and directions on the sheet.
//!
//! ```text
//!     +------> x, to the right        Paper units: pixels on screen, millimetres on paper. Lengths of
//!     |                               the model are metres: to the right of its origin, and up from it.
//!     v  y, down                      A `Projection` puts the one on the other.
//! ```

/// A line shorter than this along an axis has no length along it, in paper units: a millionth of the
/// hundredth to which coordinates are written, far above the rounding of a sheet's coordinates.
const LEVEL: f64 = 1e-9;

/// A point on the sheet. `x` grows to the right, `y` grows downwards.
///
/// ```
/// use drafting::Point;
/// let corner = Point::new(10.0, 20.0);
/// assert_eq!(corner.moved(2.0, -5.0), Point::new(12.0, 15.0));
/// assert_eq!(corner.distance(Point::new(13.0, 24.0)), 5.0);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right of the sheet's left edge.
    pub x: f64,
    /// Below the sheet's upper edge.
    pub y: f64,
}

impl Point {
    /// The point so far from the left edge and from the upper edge.
    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    /// The point so much further to the right and further down.
    #[must_use]
    pub fn moved(self, right: f64, down: f64) -> Point {
        Point { x: self.x + right, y: self.y + down }
    }

    /// How far another point is from this one.
    pub fn distance(self, other: Point) -> f64 {
        (other.x - self.x).hypot(other.y - self.y)
    }
}

/// Width and height of something that stands upright; the unit is named where one is used.
///
/// ```
/// use drafting::Size;
/// assert_eq!(Size::new(4.0, 3.0).turned(), Size::new(3.0, 4.0));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Size {
    /// From left to right.
    pub width: f64,
    /// From top to bottom.
    pub height: f64,
}

impl Size {
    /// So wide and so high.
    pub const fn new(width: f64, height: f64) -> Size {
        Size { width, height }
    }

    /// The same thing lying on its side.
    #[must_use]
    pub fn turned(self) -> Size {
        Size { width: self.height, height: self.width }
    }

    /// The least of the two ratios of this size to another: what the other may be enlarged by and still fit.
    ///
    /// ```
    /// use drafting::Size;
    /// assert_eq!(Size::new(100.0, 30.0).enlarges(Size::new(20.0, 10.0)), 3.0);
    /// ```
    pub fn enlarges(self, other: Size) -> f64 {
        (self.width / other.width).min(self.height / other.height)
    }
}

/// From one place to another along one axis; `from` is not above `to` where both are edges of something.
///
/// ```
/// use drafting::Span;
/// let alley = Span::new(2.0, 5.0);
/// assert_eq!((alley.length(), alley.middle(), alley.at(0.5)), (3.0, 3.5, 3.5));
/// assert!(alley.holds(5.0) && !alley.holds(5.1));
/// assert_eq!(alley.widened(1.0), Span::new(1.0, 6.0));
/// assert!(alley.meets(Span::new(4.0, 9.0)) && !alley.meets(Span::new(5.0, 9.0)));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Span {
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

impl Span {
    /// From one place to another.
    pub const fn new(from: f64, to: f64) -> Span {
        Span { from, to }
    }

    /// Both ends at one place.
    pub const fn point(at: f64) -> Span {
        Span { from: at, to: at }
    }

    /// How far it is from its beginning to its end.
    pub fn length(self) -> f64 {
        self.to - self.from
    }

    /// Halfway between its ends.
    pub fn middle(self) -> f64 {
        (self.from + self.to) / 2.0
    }

    /// The place so far on, 0 being its beginning and 1 its end.
    pub fn at(self, part: f64) -> f64 {
        self.from + (self.to - self.from) * part
    }

    /// Whether a place lies on it, its ends included.
    pub fn holds(self, place: f64) -> bool {
        place >= self.from && place <= self.to
    }

    /// Whether two spans share more than an end.
    pub fn meets(self, other: Span) -> bool {
        self.from < other.to && other.from < self.to
    }

    /// Whether this span lies within another.
    pub fn within(self, other: Span) -> bool {
        self.from >= other.from && self.to <= other.to
    }

    /// The span that begins so much earlier and ends so much later.
    #[must_use]
    pub fn widened(self, by: f64) -> Span {
        Span { from: self.from - by, to: self.to + by }
    }
}

/// A way on the sheet, one unit long: how much of it goes right and how much goes down.
///
/// ```
/// use drafting::Direction;
/// assert_eq!(Direction::UP.along(3.0, -4.0), 4.0);
/// assert_eq!(Direction::LEFT.along(3.0, -4.0), -3.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Direction {
    /// To the right above 0, to the left below 0.
    pub right: f64,
    /// Down the sheet above 0, up the sheet below 0.
    pub down: f64,
}

impl Direction {
    /// To the left edge of the sheet.
    pub const LEFT: Direction = Direction { right: -1.0, down: 0.0 };
    /// To the right edge.
    pub const RIGHT: Direction = Direction { right: 1.0, down: 0.0 };
    /// To the upper edge.
    pub const UP: Direction = Direction { right: 0.0, down: -1.0 };
    /// To the lower edge.
    pub const DOWN: Direction = Direction { right: 0.0, down: 1.0 };

    /// How far a move to the right and down goes this way.
    pub fn along(self, right: f64, down: f64) -> f64 {
        right * self.right + down * self.down
    }
}

/// A straight line between two points of the sheet.
///
/// ```
/// use drafting::{Line, Point};
/// let line = Line::new(Point::new(0.0, 1.0), Point::new(10.0, 1.0));
/// assert_eq!(line.at(0.4), Point::new(4.0, 1.0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Where it begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
}

impl Line {
    /// From one point to another.
    pub const fn new(from: Point, to: Point) -> Line {
        Line { from, to }
    }

    /// The point so far on, 0 being its beginning and 1 its end.
    pub fn at(self, part: f64) -> Point {
        Point::new(Span::new(self.from.x, self.to.x).at(part), Span::new(self.from.y, self.to.y).at(part))
    }
}

/// An upright rectangle of the sheet.
///
/// ```
/// use drafting::{Bounds, Point};
/// let text = Bounds::between(Point::new(4.0, 0.0), Point::new(6.0, 2.0));
/// assert!(text.meets(&Bounds::between(Point::new(5.0, 1.0), Point::new(9.0, 9.0))));
/// assert!(text.inside(&Bounds::between(Point::new(0.0, 0.0), Point::new(6.0, 2.0))));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// From the left edge to the right edge.
    pub across: Span,
    /// From the upper edge to the lower edge.
    pub down: Span,
}

impl Bounds {
    /// The rectangle between its upper left and its lower right corner.
    pub const fn between(upper_left: Point, lower_right: Point) -> Bounds {
        Bounds {
            across: Span::new(upper_left.x, lower_right.x),
            down: Span::new(upper_left.y, lower_right.y),
        }
    }

    /// The square around a point, so far to every side.
    pub fn around(centre: Point, far: f64) -> Bounds {
        Bounds::between(centre.moved(-far, -far), centre.moved(far, far))
    }

    /// Whether two rectangles share ground.
    pub fn meets(&self, other: &Bounds) -> bool {
        self.across.meets(other.across) && self.down.meets(other.down)
    }

    /// Whether this rectangle lies inside another.
    pub fn inside(&self, other: &Bounds) -> bool {
        self.across.within(other.across) && self.down.within(other.down)
    }

    /// The part of a straight line that lies within, as parts of the line: 0 at its beginning, 1 at its end.
    ///
    /// ```
    /// use drafting::{Bounds, Line, Point, Span};
    /// let text = Bounds::between(Point::new(4.0, 0.0), Point::new(6.0, 2.0));
    /// let level = |y| Line::new(Point::new(0.0, y), Point::new(10.0, y));
    /// assert_eq!(text.cuts(level(1.0)), Some(Span::new(0.4, 0.6)));
    /// assert_eq!(text.cuts(level(3.0)), None);
    /// ```
    pub fn cuts(&self, line: Line) -> Option<Span> {
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (start, end, side) in [(line.from.x, line.to.x, self.across), (line.from.y, line.to.y, self.down)]
        {
            let way = end - start;
            if way.abs() < LEVEL {
                if start <= side.from || start >= side.to {
                    return None;
                }
            } else {
                let (a, b) = ((side.from - start) / way, (side.to - start) / way);
                enters = enters.max(a.min(b));
                leaves = leaves.min(a.max(b));
            }
        }
        (enters < leaves).then_some(Span::new(enters, leaves))
    }
}

/// How metres lie on paper: `x = origin.x + scale · right`, `y = origin.y − scale · up`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Projection {
    /// Paper units to a metre.
    pub scale: f64,
    /// Where the model's origin lies on paper.
    pub origin: Point,
}

impl Projection {
    /// Where something lies on paper that stands so many metres to the right of the model's origin and so
    /// many above it.
    ///
    /// ```
    /// use drafting::{Point, Projection};
    /// let to = Projection { scale: 10.0, origin: Point::new(100.0, 80.0) };
    /// assert_eq!(to.paper(2.0, 3.0), Point::new(120.0, 50.0));
    /// ```
    pub fn paper(&self, right: f64, up: f64) -> Point {
        Point::new(self.origin.x + right * self.scale, self.origin.y - up * self.scale)
    }

    /// Where a spot of the model lies on paper.
    pub(crate) fn spot(&self, spot: Spot) -> Point {
        self.paper(spot.right, spot.up)
    }

    /// Where an outline of the model lies on paper.
    pub(crate) fn outline(&self, spots: &[Spot]) -> Vec<Point> {
        spots.iter().map(|spot| self.spot(*spot)).collect()
    }
}

/// A spot of the model in the plane of a picture, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// To the right of the model's origin `[m]`.
    pub right: f64,
    /// Above the model's origin; on the plan, along the rows from it `[m]`.
    pub up: f64,
}

impl Spot {
    /// The spot so many metres to the right of the origin and above it.
    pub const fn new(right: f64, up: f64) -> Spot {
        Spot { right, up }
    }

    /// The spot so many metres further right and further up.
    #[must_use]
    pub fn moved(self, right: f64, up: f64) -> Spot {
        Spot { right: self.right + right, up: self.up + up }
    }

    /// The same spot with its two directions exchanged.
    #[must_use]
    pub(crate) fn turned(self) -> Spot {
        Spot { right: self.up, up: self.right }
    }
}

/// The smallest convex outline around spots, counter-clockwise (Andrew 1979, monotone chain).
pub(crate) fn convex_hull(mut spots: Vec<Spot>) -> Vec<Spot> {
    planting::order::sort_by(&mut spots, |a, b| a.right.total_cmp(&b.right).then(a.up.total_cmp(&b.up)));
    let chain = |spots: &mut dyn Iterator<Item = Spot>| {
        let mut hull: Vec<Spot> = Vec::new();
        for spot in spots {
            while let [.., before, last] = hull.as_slice() {
                let turn = (last.right - before.right) * (spot.up - before.up)
                    - (last.up - before.up) * (spot.right - before.right);
                if turn > 0.0 {
                    break;
                }
                hull.pop();
            }
            hull.push(spot);
        }
        hull.pop();
        hull
    };
    let mut outline = chain(&mut spots.iter().copied());
    outline.extend(chain(&mut spots.iter().rev().copied()));
    outline
}

/// The part of a convex outline between two uprights (Sutherland & Hodgman 1974).
pub(crate) fn between(outline: &[Spot], across: Span) -> Vec<Spot> {
    cut(&cut(outline, across.from, 1.0), across.to, -1.0)
}

/// The part of a convex outline on one side of an upright: to its right where `side` is 1, to its left
/// where it is −1.
fn cut(outline: &[Spot], edge: f64, side: f64) -> Vec<Spot> {
    let inside = |spot: &Spot| (spot.right - edge) * side >= 0.0;
    let mut kept = Vec::new();
    for (index, from) in outline.iter().enumerate() {
        let Some(to) = outline.get(index + 1).or(outline.first()) else { continue };
        if inside(from) != inside(to) {
            let part = (edge - from.right) / (to.right - from.right);
            kept.push(Spot::new(edge, from.up + (to.up - from.up) * part));
        }
        if inside(to) {
            kept.push(*to);
        }
    }
    kept
}
