//! The sums: light at many points, from many directions, through endless rows of like crowns.
//!
//! A ray `p + t d` is inside a crown while four closed forms hold at once: it is between lowest branches
//! and top, between the two sloping sides of the space across the row, between the two ends of the space
//! along it, and inside the cone. Each is an interval of t; the path is what they share. A leaning crown
//! is upright in a sheared frame, and the shear leaves t alone.
//!
//! ```text
//!          d                cone:  |q + t d|² ≤ (R + t dr)²,  q from the axis, R radius at p's height
//!         /   ____          sides: ±(x + t dx) + n (z + t dz) ≤ w
//!        / /\ |  |          ends:  |y + t dy| ≤ half the space along the row
//!       p /__\|__|          light: T = exp(−κ Σ path)
//! ```
//!
//! Single precision, sixteen neighbouring points at a time; everything that depends only on the direction
//! is computed once for it, so that sixteen points never take different branches. Rows and trees that none
//! of the sixteen can meet are passed over. The tests of the model, `planting`, hold it against sums in double
//! precision over every tree, without any of this.
//!
//! This is a crate of its own because it takes nearly all of the time of a season of light: it is compiled for
//! speed, and everything around it for a small download. It knows nothing of orchards, only bodies on a lattice.

#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::indexing_slicing,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::float_cmp
    )
)]

/// Points that are followed together.
pub const LANES: usize = 16;
type Lanes = [f32; LANES];

/// Farther than any ray goes `[m]`.
const FAR: f32 = 1e9;
/// Trees between two looks at whether any light is left.
const LOOK_EVERY: u32 = 12;
/// Optical depth at which nothing that matters is left, e⁻¹⁴ being a millionth.
const DARK: f32 = 14.0;

/// The least that a component of a ray's direction is taken for `[–]`: a ray this near to parallel runs a metre in a thousand
/// kilometres to the side, and single precision still divides by it.
const LEAST_COMPONENT: f32 = 1e-6;
/// The least that the leading factor of the quadratic of a ray and a cone is taken for `[–]`: below it a ray runs along the cone's
/// side, and the rounding of single precision would place where they meet.
const LEAST_CURVATURE: f32 = 1e-5;

/// A point in the frame of the rows `[m]`: across from a row's line, along from a tree, above the ground.
pub type RowPoint = [f64; 3];

#[expect(clippy::cast_possible_truncation, reason = "single precision is what the sums are done in")]
fn single(value: f64) -> f32 {
    value as f32
}

// Written out, these become one instruction each; the library's forms also sort out what is no number.
fn least(a: f32, b: f32) -> f32 {
    if a < b { a } else { b }
}
fn most(a: f32, b: f32) -> f32 {
    if a > b { a } else { b }
}

/// A value that isn't nearer to nought than `least`, so that its inverse is large but finite.
fn off_nought(value: f32, least: f32) -> f32 {
    if value.abs() < least { least.copysign(value) } else { value }
}

/// eˣ for x ≤ 0: a power of two by its bits and a polynomial for the rest, to 2e-7.
fn exp(x: f32) -> f32 {
    const ROUND: f32 = 12_582_912.0;
    let x = most(x, -80.0);
    let powers = x * std::f32::consts::LOG2_E + ROUND;
    let whole = powers - ROUND;
    let rest = x - whole * 0.693_359_4 + whole * 2.121_944_4e-4;
    let tail = 1.0
        + rest
            * (1.0
                + rest
                    * (0.5
                        + rest
                            * (0.166_666_55
                                + rest * (0.041_665_795 + rest * (0.008_333_452 + rest * 0.001_39)))));
    let bits = powers.to_bits().wrapping_sub(ROUND.to_bits()).wrapping_add(127) << 23;
    tail * f32::from_bits(bits)
}

/// A body and the lattice it stands on: rows without end, in each of them bodies without end, all alike. Lengths in metres.
#[derive(Clone, Debug)]
pub struct Lattice {
    /// Height of the body's lower end above the ground.
    pub base: f32,
    /// Height of its upper end.
    pub top: f32,
    /// Radius of its cone at the base.
    pub radius: f32,
    /// What that radius loses per metre of height `[–]`.
    pub narrowing: f32,
    /// Half the space across the row at the base.
    pub half_across: f32,
    /// What that half loses per metre of height `[–]`.
    pub slope: f32,
    /// Half the space along the row.
    pub half_along: f32,
    /// Row to row.
    pub row_width: f32,
    /// Distance between bodies of one lean in a row.
    pub period: f32,
    /// Whether the cone reaches every corner of the space and the space goes on along the row.
    pub closed: bool,
    /// Each lean of the bodies in a row.
    pub leans: Vec<Lean>,
}

/// How some of the bodies of a row lean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lean {
    /// How far they are sheared across the row per metre above the ground `[–]`.
    pub shear: f32,
    /// Where along the row the first of them stands `[m]`.
    pub along: f32,
}

/// One way light comes, in the frame of the rows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beam {
    /// Unit vector towards the light: across the rows, along them, up.
    pub direction: [f32; 3],
    /// Its share of all the light `[–]`.
    pub share: f32,
}

/// A direction in the frame of one lean, with all that sixteen points share.
#[derive(Clone, Copy, Debug)]
struct Ray {
    dx: f32,
    dy: f32,
    dz: f32,
    per_dz: f32,
    /// How the cone's radius changes along the ray.
    dr: f32,
    /// The cone's quadratic: `a t² + 2 b t + c`.
    per_a: f32,
    a: f32,
    /// The ray is shallower than the cone's side and enters through it.
    shallow: bool,
    /// Half the space along the row, as a stretch of the ray.
    half_stretch: f32,
    per_dy: f32,
    /// The two sides of the space across.
    right: Side,
    left: Side,
    /// Level length and its inverse.
    level2: f32,
    per_level: f32,
    /// Place along the row of the trees with this lean.
    offset: f32,
}

/// How a ray goes toward one side of the space across.
#[derive(Clone, Copy, Debug)]
struct Side {
    per_speed: f32,
    leaving: bool,
}

impl Side {
    fn new(speed: f32) -> Side {
        let speed = off_nought(speed, LEAST_COMPONENT);
        Side { per_speed: 1.0 / speed, leaving: speed > 0.0 }
    }

    /// The part of the ray that lies inside this side, as an interval of t, given how far inside it starts `[m]`.
    fn interval(self, room: f32) -> (f32, f32) {
        let at = room * self.per_speed;
        if self.leaving { (-FAR, at) } else { (at, FAR) }
    }
}

impl Ray {
    fn new(body: &Lattice, [dx, dy, dz]: [f32; 3], lean: Lean) -> Ray {
        let dx = dx - lean.shear * dz;
        let dr = -body.narrowing * dz;
        let level2 = dx * dx + dy * dy;
        let a = off_nought(level2 - dr * dr, LEAST_CURVATURE);
        let per_dy = 1.0 / off_nought(dy, LEAST_COMPONENT);
        Ray {
            dx,
            dy,
            dz,
            per_dz: 1.0 / dz,
            dr,
            per_a: 1.0 / a,
            a,
            shallow: a > 0.0,
            half_stretch: body.half_along * per_dy.abs(),
            per_dy,
            right: Side::new(dx + body.slope * dz),
            left: Side::new(body.slope * dz - dx),
            level2,
            per_level: 1.0 / most(level2.sqrt(), LEAST_COMPONENT),
            offset: lean.along,
        }
    }
}

/// Least and greatest of some numbers.
#[derive(Clone, Copy, Debug)]
struct Span {
    low: f32,
    high: f32,
}

impl Span {
    fn of(values: &Lanes) -> Span {
        values.iter().fold(Span { low: FAR, high: -FAR }, |span, value| Span {
            low: least(span.low, *value),
            high: most(span.high, *value),
        })
    }

    fn middle(self) -> f32 {
        (self.low + self.high) / 2.0
    }

    /// What the span sweeps while a ray goes from start to end.
    fn swept(self, speed: f32, start: f32, end: f32) -> Span {
        let (first, last) = (speed * start, speed * end);
        Span { low: self.low + least(first, last), high: self.high + most(first, last) }
    }
}

/// Sixteen points in the frame of one lean, which stands it upright; heights above the lowest branches.
#[derive(Clone, Debug)]
struct Block {
    x: Lanes,
    y: Lanes,
    z: Lanes,
    xs: Span,
    ys: Span,
    zs: Span,
    /// Farthest any of them is from their middle, seen from above.
    radius: f32,
}

impl Block {
    fn new(body: &Lattice, places: &[RowPoint], shear: f32) -> Block {
        let mut block = (([0.0; LANES], [0.0; LANES]), [0.0; LANES]);
        // A last block that isn't full repeats its last point.
        let padded = places.iter().chain(std::iter::repeat_n(places.last().unwrap_or(&[0.0; 3]), LANES));
        let lanes = block.0.0.iter_mut().zip(&mut block.0.1).zip(&mut block.1);
        for ([across, along, up], ((x, y), z)) in padded.zip(lanes) {
            *z = single(*up) - body.base;
            *x = single(*across) - shear * single(*up);
            *y = single(*along);
        }
        let ((x, y), z) = block;
        let (xs, ys, zs) = (Span::of(&x), Span::of(&y), Span::of(&z));
        let radius = ((xs.high - xs.low) / 2.0).hypot((ys.high - ys.low) / 2.0);
        Block { x, y, z, xs, ys, zs, radius }
    }
}

/// Light at each place as a share of that in the open, bodies of this extinction `[1/m]` in the way; places in the order given. Numbers
/// that aren't finite give numbers that mean nothing, and never a panic.
///
/// ```
/// use rays::{Beam, Lattice, Lean, light};
/// // Cones 4 m high and far apart, seen from straight above: Beer's law over the height of the cone.
/// let cones = Lattice {
///     base: 0.0,
///     top: 4.0,
///     radius: 1.0,
///     narrowing: 0.25,
///     half_across: 5.0,
///     slope: 0.0,
///     half_along: 5.0,
///     row_width: 20.0,
///     period: 20.0,
///     closed: false,
///     leans: vec![Lean { shear: 0.0, along: 0.0 }],
/// };
/// let above = [Beam { direction: [0.0, 0.0, 1.0], share: 1.0 }];
/// let found = light(&[[0.0, 0.0, 0.0], [3.0, 0.0, 0.0]], &cones, 0.5, &above);
/// assert!((found[0] - (-0.5f32 * 4.0).exp()).abs() < 1e-6 && (found[1] - 1.0).abs() < 1e-6);
/// ```
pub fn light(places: &[RowPoint], body: &Lattice, extinction: f32, beams: &[Beam]) -> Vec<f32> {
    let rays: Vec<(f32, Vec<Ray>)> = beams
        .iter()
        .map(|beam| {
            let rays = body.leans.iter().map(|lean| Ray::new(body, beam.direction, *lean)).collect();
            (beam.share, rays)
        })
        .collect();
    let mut found = Vec::with_capacity(places.len() + LANES);
    for chunk in places.chunks(LANES) {
        let blocks: Vec<Block> = body.leans.iter().map(|lean| Block::new(body, chunk, lean.shear)).collect();
        let mut light = [0.0; LANES];
        for (share, rays) in &rays {
            let mut path = [0.0; LANES];
            for (block, ray) in blocks.iter().zip(rays) {
                add_rows(body, block, ray, extinction, &mut path);
            }
            for (light, path) in light.iter_mut().zip(&path) {
                *light += share * exp(-extinction * path);
            }
        }
        found.extend(light.iter().map(|light| least(*light, 1.0)));
    }
    found.truncate(places.len());
    found
}

/// Adds the path through every row that a block's rays can meet.
fn add_rows(body: &Lattice, block: &Block, ray: &Ray, extinction: f32, path: &mut Lanes) {
    let start = most(0.0, -block.zs.high * ray.per_dz);
    let end = (body.top - body.base - block.zs.low) * ray.per_dz;
    if end <= start {
        return;
    }
    let swept = block.xs.swept(ray.dx, start, end);
    let reach = least(body.half_across, body.radius);
    let mut row = ((swept.low - reach) / body.row_width).ceil();
    let last = ((swept.high + reach) / body.row_width).floor();
    while row <= last {
        add_row(body, block, ray, row * body.row_width, (start, end), extinction, path);
        row += 1.0;
    }
}

/// Adds the path through one row.
fn add_row(
    body: &Lattice,
    block: &Block,
    ray: &Ray,
    line: f32,
    (mut start, mut end): (f32, f32),
    extinction: f32,
    path: &mut Lanes,
) {
    // First for the whole block, with the most room any of its points has.
    let widest = body.half_across - body.slope * block.zs.low;
    for (side, room) in
        [(ray.right, widest - (block.xs.low - line)), (ray.left, widest + (block.xs.high - line))]
    {
        let (from, to) = side.interval(room);
        start = most(start, from);
        end = least(end, to);
    }
    if end <= start {
        return;
    }
    let (mut enter, mut leave) = ([0.0; LANES], [0.0; LANES]);
    let height = body.top - body.base;
    for (((x, z), enter), leave) in block.x.iter().zip(&block.z).zip(&mut enter).zip(&mut leave) {
        let half = body.half_across - body.slope * z;
        let (right_from, right_to) = ray.right.interval(half - (x - line));
        let (left_from, left_to) = ray.left.interval(half + (x - line));
        *enter = most(most(0.0, -z * ray.per_dz), most(right_from, left_from));
        *leave = least((height - z) * ray.per_dz, least(right_to, left_to));
    }
    if body.closed {
        for ((path, enter), leave) in path.iter_mut().zip(&enter).zip(&leave) {
            *path += most(leave - enter, 0.0);
        }
        return;
    }
    // The cone is widest where the block's rays come in lowest.
    let radius = body.radius - body.narrowing * most(block.zs.low + start * ray.dz, 0.0);
    let reach = least(body.half_along, radius);
    let swept = block.ys.swept(ray.dy, start, end);
    let mut tree = ((swept.low - reach - ray.offset) / body.period).ceil();
    let last = ((swept.high + reach - ray.offset) / body.period).floor();
    let mut met = 0;
    while tree <= last {
        let stem = (line, tree * body.period + ray.offset);
        let middle = (block.xs.middle() - stem.0, block.ys.middle() - stem.1);
        let aside = (middle.0 * ray.dy - middle.1 * ray.dx) * ray.per_level;
        if aside.abs() <= radius + block.radius {
            // Distances are counted from where the block passes the stem, or rounding would blur far trees;
            // but from within the crowns, or rays that rise steeply would pass far above them.
            let along = -(middle.0 * ray.dx + middle.1 * ray.dy);
            let pass = if ray.level2 > 1e-6 { least(most(along / ray.level2, start), end) } else { start };
            add_tree(body, block, ray, stem, pass, (&enter, &leave), path);
            met += 1;
            if met % LOOK_EVERY == 0 && Span::of(path).low * extinction > DARK {
                return;
            }
        }
        tree += 1.0;
    }
}

/// Adds the path through one tree; distances along the rays count from `pass`.
fn add_tree(
    body: &Lattice,
    block: &Block,
    ray: &Ray,
    stem: (f32, f32),
    pass: f32,
    (enter, leave): (&Lanes, &Lanes),
    path: &mut Lanes,
) {
    let (to_x, to_y, to_radius) =
        (pass * ray.dx - stem.0, pass * ray.dy - stem.1, body.radius + pass * ray.dr);
    let points = block.x.iter().zip(&block.y).zip(&block.z);
    for (((((x, y), z), enter), leave), path) in points.zip(enter).zip(leave).zip(path) {
        let (qx, qy, radius) = (x + to_x, y + to_y, to_radius - body.narrowing * z);
        let b = qx * ray.dx + qy * ray.dy - radius * ray.dr;
        let c = qx * qx + qy * qy - radius * radius;
        // A ray that misses has no root; taken as nought, it enters where it leaves.
        let root = most(b * b - ray.a * c, 0.0).sqrt();
        let out = (root - b) * ray.per_a;
        let into = if ray.shallow { (-b - root) * ray.per_a } else { -FAR };
        let passes = -qy * ray.per_dy;
        let from = most(*enter - pass, most(into, passes - ray.half_stretch));
        let to = least(*leave - pass, least(out, passes + ray.half_stretch));
        *path += most(to - from, 0.0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_exponential_is_right_to_a_few_ulps() {
        for step in 0..20_000 {
            let x = -f64::from(step) * 0.001;
            let found = f64::from(exp(single(x)));
            let exact = f64::from(single(x)).exp();
            assert!((found - exact).abs() < 4e-7 * exact, "exp({x}): {found}, not {exact}");
        }
        assert!(exp(-1e9) >= 0.0 && exp(-1e9) < 1e-30);
        assert!((exp(0.0) - 1.0).abs() < 1e-7);
    }
}
