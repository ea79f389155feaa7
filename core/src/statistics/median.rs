//! Medians, plain and weighted.

use super::sums::Sum;

/// The middle value, or the mean of the two middle ones; `None` of none.
#[must_use]
pub fn median(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    let upper = *sorted.get(sorted.len() / 2)?;
    if sorted.len() % 2 == 1 {
        return Some(upper);
    }
    let lower = *sorted.get((sorted.len() / 2).checked_sub(1)?)?;
    // Halved before adding, so that two large values do not overflow.
    Some(lower / 2.0 + upper / 2.0)
}

/// The weighted quantile of type 1: the smallest value whose weight, with that of all smaller ones, reaches
/// the share `part` of the whole.
///
/// Pairs are (value, weight); weights that are not positive count for nothing. `None` when no weight is left.
/// Weights that reach the share but for rounding reach it: 0.1 + 0.2 reaches three tenths of one.
/// Source: R. J. Hyndman and Y. Fan, *Sample quantiles in statistical packages*, The American Statistician 50
/// (1996), definition 1, with weights for counts.
#[must_use]
pub fn weighted_quantile(pairs: &[(f64, f64)], part: f64) -> Option<f64> {
    let mut sorted: Vec<(f64, f64)> = pairs.iter().copied().filter(|(_, weight)| *weight > 0.0).collect();
    sorted.sort_unstable_by(|one, other| one.0.total_cmp(&other.0));
    let mut whole = Sum::default();
    whole.extend(sorted.iter().map(|(_, weight)| *weight));
    // A few units in the last place of the whole: more than a compensated sum can be out by.
    let wanted = whole.total() * (part - 4.0 * f64::EPSILON);
    let mut reached = Sum::default();
    for (value, weight) in &sorted {
        reached.add(*weight);
        if reached.total() >= wanted {
            return Some(*value);
        }
    }
    sorted.last().map(|(value, _)| *value)
}

/// The weighted median of type 1: see [`weighted_quantile`].
#[must_use]
pub fn weighted_median(pairs: &[(f64, f64)]) -> Option<f64> {
    weighted_quantile(pairs, 0.5)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn middle_of_odd_and_even() {
        assert_eq!(median(&[]), None);
        assert_eq!(median(&[7.0]), Some(7.0));
        assert_eq!(median(&[9.0, 1.0, 5.0]), Some(5.0));
        assert_eq!(median(&[9.0, 1.0, 5.0, 4.0]), Some(4.5));
        assert_eq!(median(&[f64::MAX, f64::MAX]), Some(f64::MAX));
    }

    #[test]
    fn without_weight_there_is_no_quantile() {
        assert_eq!(weighted_median(&[]), None);
        assert_eq!(weighted_median(&[(3.0, 0.0), (4.0, -1.0)]), None);
        assert_eq!(weighted_median(&[(3.0, 0.0), (4.0, 1.0)]), Some(4.0));
    }

    proptest! {
        /// Whole weights do what repeating each value that often does.
        #[test]
        fn whole_weights_repeat_the_value(pairs in prop::collection::vec((-50_i32..50, 1_usize..6), 1..20), tenths in 1_usize..10) {
            let weighted: Vec<_> = pairs.iter().map(|(value, times)| (f64::from(*value), *times as f64)).collect();
            let mut repeated: Vec<_> = pairs.iter().flat_map(|(value, times)| vec![*value; *times]).collect();
            repeated.sort_unstable();
            // The inverse of the step function: the ⌈n p⌉-th value, by whole numbers.
            let rank = (repeated.len() * tenths).div_ceil(10);
            prop_assert_eq!(weighted_quantile(&weighted, tenths as f64 / 10.0), Some(f64::from(repeated[rank - 1])));
        }
    }
}
