//! What counts on a few trees say of the block: how many flower buds there are, how far trees differ, how many to take.
//!
//! The spread told is the 95 % interval of the mean, Student's `t × s ÷ √n`; five trees are usual. Left out: trees that
//! were picked and not drawn by lot.

use super::target::Span;
use crate::kit::count::as_number;

/// Counts on trees of one kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Trees with a count.
    pub trees: usize,
    /// Trees of the sheet left empty, or with what is no count.
    pub gaps: usize,
    /// The mean.
    pub mean: f64,
    /// How far trees differ, as a standard deviation; none from a single tree.
    pub deviation: Option<f64>,
    /// Where the block's mean lies with 95 %; none from a single tree.
    pub interval: Option<Span>,
}

impl Sample {
    /// The sample of a sheet; what isn't a count of none or more is a gap. None where nothing was counted.
    ///
    /// ```
    /// use planting::crop::sampling::Sample;
    /// let sheet = [Some(180.0), None, Some(220.0), Some(200.0)];
    /// let sample = Sample::of(&sheet).unwrap();
    /// assert_eq!((sample.trees, sample.gaps, sample.mean), (3, 1, 200.0));
    /// assert_eq!(sample.deviation, Some(20.0));
    /// // t = 4.303 with two degrees of freedom, 20 ÷ √3.
    /// assert!((sample.interval.unwrap().high - 249.69).abs() < 0.01);
    /// ```
    pub fn of(sheet: &[Option<f64>]) -> Option<Sample> {
        let counts: Vec<f64> =
            sheet.iter().flatten().copied().filter(|count| count.is_finite() && *count >= 0.0).collect();
        let trees = counts.len();
        if trees == 0 {
            return None;
        }
        let mean = counts.iter().sum::<f64>() / as_number(trees);
        let squares: f64 = counts.iter().map(|count| (count - mean) * (count - mean)).sum();
        let deviation = (trees > 1).then(|| (squares / as_number(trees - 1)).sqrt());
        let interval = deviation.map(|deviation| {
            let half = student_t(trees - 1) * deviation / as_number(trees).sqrt();
            Span { low: (mean - half).max(0.0), high: mean + half }
        });
        Some(Sample { trees, gaps: sheet.len() - trees, mean, deviation, interval })
    }

    /// How many to take from a tree that should keep so many, and between what this may lie.
    ///
    /// ```
    /// use planting::crop::sampling::Sample;
    /// let sample = Sample::of(&[Some(180.0), Some(220.0)]).unwrap();
    /// let removal = sample.removal(150.0);
    /// assert_eq!((removal.take, removal.lacking), (50.0, 0.0));
    /// assert_eq!(sample.removal(260.0).lacking, 60.0);
    /// ```
    pub fn removal(&self, keep: f64) -> Removal {
        let over = |mean: f64| (mean - keep).max(0.0);
        Removal {
            take: over(self.mean),
            between: self.interval.map(|span| Span { low: over(span.low), high: over(span.high) }),
            lacking: (keep - self.mean).max(0.0),
        }
    }
}

/// What has to come off a tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Removal {
    /// How many to take from a tree.
    pub take: f64,
    /// Between what that may lie; none from a single tree.
    pub between: Option<Span>,
    /// How many the tree is short of.
    pub lacking: f64,
}

/// Share of the buds looked at that flower, with its 95 % interval after Wilson 1927; none where nothing was looked at.
///
/// ```
/// use planting::crop::sampling::floral_share;
/// // 68 of 100 spurs.
/// let (share, between) = floral_share(68, 100).unwrap();
/// assert_eq!(share, 0.68);
/// assert!((between.low - 0.583).abs() < 0.001 && (between.high - 0.763).abs() < 0.001);
/// ```
pub fn floral_share(flowering: usize, looked_at: usize) -> Option<(f64, Span)> {
    if looked_at == 0 {
        return None;
    }
    let (count, of) = (as_number(flowering.min(looked_at)), as_number(looked_at));
    let share = count / of;
    let z = NORMAL_975;
    let middle = (share + z * z / (2.0 * of)) / (1.0 + z * z / of);
    let half = z / (1.0 + z * z / of) * (share * (1.0 - share) / of + z * z / (4.0 * of * of)).sqrt();
    Some((share, Span { low: (middle - half).max(0.0), high: (middle + half).min(1.0) }))
}

/// The normal distribution's 97.5 % point.
const NORMAL_975: f64 = 1.959_964;

/// Student's 97.5 % point for 1 to 30 degrees of freedom (printed tables), beyond that the normal one with its first
/// correction.
fn student_t(degrees: usize) -> f64 {
    const TABLE: [f64; 30] = [
        12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145,
        2.131, 2.120, 2.110, 2.101, 2.093, 2.086, 2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048,
        2.045, 2.042,
    ];
    let printed = degrees.checked_sub(1).and_then(|place| TABLE.get(place));
    printed.copied().unwrap_or_else(|| {
        let z = NORMAL_975;
        z + (z * z * z + z) / (4.0 * as_number(degrees).max(1.0))
    })
}
