//! Numbers in few bytes that come back to the last bit.
//!
//! What a person sets is round in some unit: 3¼ ft, 4.5 m, 15°, 45 %. Such a number is written as a
//! whole multiple of a part of that unit, together with how many representable numbers it lies beside
//! `multiple ÷ parts × unit`, for 3 × 0.05 and 15 ÷ 100 aren't quite the same. What is round in no
//! unit is written out in full.

/// The bytes of a link that are still to be read.
pub(super) type Bytes<'a> = std::slice::Iter<'a, u8>;

const FT: f64 = 0.3048;
const IN: f64 = 0.0254;
const DEG: f64 = std::f64::consts::PI / 180.0;

/// Units in SI with their parts; the form of a number is its place here, from 1. Never change a line, add
/// below, up to 13.
const UNITS: [(f64, f64); 12] = [
    (1.0, 1.0),
    (1.0, 20.0),
    (1.0, 100.0),
    (1.0, 1000.0),
    (FT, 4.0),
    (FT, 100.0),
    (IN, 4.0),
    (IN, 16.0),
    (IN, 100.0),
    (DEG, 1.0),
    (DEG, 100.0),
    (1.0 / FT, 100.0),
];

/// The form of a number written out in full.
const BITS: u8 = 0;
/// The form's upper half where a number lies on the multiple itself.
const ON: i64 = 8;

/// The number `beside` representable numbers beyond a multiple of a unit.
fn place((one, parts): (f64, f64), multiple: i64, beside: i64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "beyond 2^53 it would not be the number looked for")]
    let multiple = multiple as f64;
    f64::from_bits((multiple / parts * one).to_bits().wrapping_add_signed(beside))
}

/// Appends a number in the shortest form that gives it back exactly.
pub(super) fn write(bytes: &mut Vec<u8>, value: f64) {
    let mut best: Option<(u8, i64, i64)> = None;
    for (form, unit) in (1..).zip(UNITS) {
        let multiple = (value / unit.0 * unit.1).round();
        if multiple.abs() > 1e9 || multiple.is_nan() {
            continue;
        }
        #[expect(clippy::cast_possible_truncation, reason = "whole and at most 10^9")]
        let multiple = multiple as i64;
        let beside = value.to_bits().wrapping_sub(place(unit, multiple, 0).to_bits()).cast_signed();
        if (-ON..ON).contains(&beside) && best.is_none_or(|(_, least, _)| multiple.abs() < least.abs()) {
            best = Some((form, multiple, beside));
        }
    }
    let Some((form, multiple, beside)) = best else {
        bytes.push(BITS);
        bytes.extend(value.to_bits().to_be_bytes());
        return;
    };
    let beside = u8::try_from(beside + ON).unwrap_or_default();
    bytes.push(form | beside << 4);
    // Seven bits a byte, the lowest first, the sign below them all.
    let mut rest = (multiple << 1 ^ multiple >> 63).cast_unsigned();
    while rest > 127 {
        let [low, ..] = rest.to_le_bytes();
        bytes.push(low | 128);
        rest >>= 7;
    }
    let [low, ..] = rest.to_le_bytes();
    bytes.push(low);
}

/// Reads a number whose form has been read.
pub(super) fn read(form: u8, bytes: &mut Bytes) -> Option<f64> {
    if form == BITS {
        let mut bits = 0;
        for _ in 0..8 {
            bits = bits << 8 | u64::from(*bytes.next()?);
        }
        return Some(f64::from_bits(bits));
    }
    let unit = *UNITS.get(usize::from(form & 15).checked_sub(1)?)?;
    let beside = i64::from(form >> 4) - ON;
    let mut rest = 0_u64;
    for shift in (0..35).step_by(7) {
        let byte = *bytes.next()?;
        rest |= u64::from(byte & 127) << shift;
        if byte < 128 {
            let multiple = (rest >> 1).cast_signed() ^ -(rest & 1).cast_signed();
            return Some(place(unit, multiple, beside));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn length(value: f64) -> usize {
        let mut bytes = Vec::new();
        write(&mut bytes, value);
        let mut rest = bytes.iter();
        let form = *rest.next().unwrap();
        let back = read(form, &mut rest).unwrap();
        assert_eq!(back.to_bits(), value.to_bits(), "{value:e}");
        assert_eq!(rest.len(), 0);
        bytes.len()
    }

    #[test]
    fn what_people_set_takes_few_bytes() {
        for (value, bytes) in [
            (0.0, 2),
            (4.0 * FT, 2),
            (3.25 * FT, 2),
            (3.33 * FT, 3),
            (660.0 * FT, 3),
            (66.0 * (10.0 * FT), 3),
            (4.5, 3),
            (0.45, 2),
            (9.0 * 0.05, 2),
            (3.0 * 0.05, 2),
            (1.07, 3),
            (2.345, 3),
            (15.0 * DEG, 2),
            (3.0 * (5.0 * DEG), 2),
            (-33.5 * DEG, 3),
            (5.0625 * IN, 3),
            (2.0 / FT, 3),
            (1.0 / 3.0, 9),
            (-0.0, 9),
            (f64::NAN, 9),
            (f64::INFINITY, 9),
            (f64::MAX, 9),
            (f64::MIN_POSITIVE, 9),
            (5e-324, 9),
        ] {
            assert!(length(value) <= bytes, "{value} takes {}", length(value));
        }
    }

    proptest! {
        #[test]
        fn every_number_comes_back(bits in any::<u64>(), steps in -100_000..100_000_i32, step in 0..12_usize) {
            length(f64::from_bits(bits));
            let (one, parts) = UNITS[step];
            length(f64::from(steps) * (one / parts));
        }
    }
}
