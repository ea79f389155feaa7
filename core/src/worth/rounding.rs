//! Rounding the worth to what the evidence supports.
//!
//! The rule: the step is the largest of 1, 2 and 5 times a power of ten that is no more than a twentieth of the range's
//! width. Figures finer than that would claim a knowledge that the range denies; at that step, rounding moves no end by more
//! than a fortieth of the width.

use serde::Serialize;

use crate::market::range::Range;
use crate::units::Money;

/// Steps that the width holds at least.
const STEPS_IN_WIDTH: i64 = 20;

/// A range in money, each end a multiple of the step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct RoundedRange {
    /// The lower end.
    pub low: Money,
    /// The centre.
    pub middle: Money,
    /// The upper end.
    pub high: Money,
    /// What all three are multiples of.
    pub step: Money,
}

/// The step for a range of this width; at least one minor unit.
#[must_use]
pub fn step(width: Money) -> Money {
    let most = width.0 / STEPS_IN_WIDTH;
    let mut step = 1;
    // 1, 2, 5, 10: the factors of each to the next, over and over.
    for (times, over) in [(2, 1), (5, 2), (2, 1)].into_iter().cycle() {
        // At most MOST / 20 by the clamp that a width brings; checked all the same, so that the loop always ends.
        match i64::checked_mul(step, times) {
            Some(next) if next / over <= most => step = next / over,
            _ => break,
        }
    }
    Money(step)
}

/// Rounds a range in minor units to the step of its width.
#[must_use]
pub fn rounded(range: &Range) -> RoundedRange {
    at_the_step(range, step(Money::nearest(range.width())))
}

/// A range in minor units at a step, each end the nearest multiple.
#[must_use]
pub fn at_the_step(range: &Range, step: Money) -> RoundedRange {
    let nearest = |minor| Money::nearest(minor).to_nearest(step);
    RoundedRange { low: nearest(range.low), middle: nearest(range.middle), high: nearest(range.high), step }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn steps() {
        for (width, expected) in [
            (-5, 1),
            (0, 1),
            (39, 1),
            (40, 2),
            (99, 2),
            (100, 5),
            (199, 5),
            (200, 10),
            (1_380_900, 50_000),
            (2_000_000, 100_000),
            (i64::MAX, 200_000_000_000_000_000),
        ] {
            assert_eq!(step(Money(width)), Money(expected), "{width}");
        }
    }

    #[test]
    fn shows_no_more_than_it_knows() {
        // £15,725.20 to £29,534.30 around £21,826.70.
        let range = Range { low: 1_572_520.0, middle: 2_182_670.0, high: 2_953_430.0, cover: 0.8 };
        let shown = rounded(&range);
        assert_eq!(shown.step, Money(50_000));
        assert_eq!((shown.low, shown.middle, shown.high), (Money(1_550_000), Money(2_200_000), Money(2_950_000)));
    }

    proptest! {
        #[test]
        fn rounding_moves_no_end_far(low in 0.0..1e9_f64, up in 1000.0..1e9_f64, on in 1000.0..1e9_f64) {
            let range = Range { low, middle: low + up, high: low + up + on, cover: 0.8 };
            let shown = rounded(&range);
            for (before, after) in [(range.low, shown.low), (range.middle, shown.middle), (range.high, shown.high)] {
                prop_assert!((after.minor() - before).abs() <= range.width() / 40.0 + 1.0);
                prop_assert_eq!(after.0 % shown.step.0, 0);
            }
            prop_assert!(shown.low <= shown.middle && shown.middle <= shown.high);
        }
    }
}
