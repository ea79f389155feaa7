//! Student's t distribution, for any positive degrees of freedom, whole or not.

use core::f64::consts::PI;

use super::{beta, normal};

/// From here on the normal distribution with its first correction is exact to the last digits.
const NORMAL_FROM: f64 = 1e8;

/// Probability of a value above `t`.
///
/// *Formula*: for t ≥ 0, I_x(ν/2, 1/2) / 2 with x = ν / (ν + t²); Abramowitz and Stegun, 26.7.1.
/// Not a number when the degrees of freedom are not positive.
#[must_use]
pub fn upper_tail(t: f64, degrees: f64) -> f64 {
    if degrees <= 0.0 || degrees.is_nan() || t.is_nan() {
        return f64::NAN;
    }
    if t < 0.0 {
        return 1.0 - upper_tail(-t, degrees);
    }
    if degrees >= NORMAL_FROM {
        // The quantile's first correction, turned round.
        return normal::upper_tail(t - (t * t * t + t) / (4.0 * degrees));
    }
    // Written with t²/ν alone, so that neither x nor its complement comes from a subtraction.
    let ratio = t * (t / degrees);
    if ratio.is_infinite() {
        return 0.0;
    }
    beta::regularised(degrees / 2.0, 0.5, 1.0 / (1.0 + ratio), ratio / (1.0 + ratio)) / 2.0
}

/// Probability of a value at or below `t`.
#[must_use]
pub fn probability_below(t: f64, degrees: f64) -> f64 {
    upper_tail(-t, degrees)
}

/// The density at `t`.
///
/// *Formula*: (1 + t²/ν)^(−(ν+1)/2) / (√ν B(ν/2, 1/2)).
#[must_use]
pub fn density(t: f64, degrees: f64) -> f64 {
    if degrees >= NORMAL_FROM {
        return libm::exp(-t * t / 2.0) / libm::sqrt(2.0 * PI);
    }
    let ln_front = beta::ln_beta(degrees / 2.0, 0.5) + libm::log(degrees) / 2.0;
    libm::exp(-ln_front - (degrees + 1.0) / 2.0 * libm::log1p(t * (t / degrees)))
}

/// The value that lies above the share `below` of the distribution: 1.533 for 0.9 at 4 degrees of freedom.
///
/// −∞ and +∞ at the ends 0 and 1; not a number when the degrees of freedom are not positive.
///
/// ```
/// use kerbworth_core::statistics::student;
/// assert!((student::quantile(0.9, 4.0) - 1.53321).abs() < 5e-6);
/// assert!((student::quantile(0.9, 2.5) - 1.73025).abs() < 5e-6);
/// ```
#[must_use]
pub fn quantile(below: f64, degrees: f64) -> f64 {
    if below > 0.5 { upper_quantile(1.0 - below, degrees) } else { -upper_quantile(below, degrees) }
}

/// The value that is exceeded with a probability of at most one half.
fn upper_quantile(tail: f64, degrees: f64) -> f64 {
    if degrees <= 0.0 || degrees.is_nan() || tail.is_nan() {
        return f64::NAN;
    }
    if tail <= 0.0 {
        return f64::INFINITY;
    }
    let start = normal::upper_quantile(tail);
    if degrees >= NORMAL_FROM {
        return start + (start * start * start + start) / (4.0 * degrees);
    }
    // The tail is convex on this side and t lies beyond the normal value, so Newton's steps climb to it and
    // never pass it; in a heavy tail each step at least adds a fixed part of t.
    let mut t = start.max(0.0);
    for _ in 0..2000 {
        let step = (upper_tail(t, degrees) - tail) / density(t, degrees);
        let next = t + step;
        if !next.is_finite() {
            return f64::INFINITY;
        }
        // At the top only rounding is left: a step back or one below the last place.
        if step <= 2.0 * f64::EPSILON * t {
            return next.max(0.0);
        }
        t = next;
    }
    t
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn near(found: f64, expected: f64) {
        assert!((found - expected).abs() <= 2e-14 * expected.abs().max(1.0), "found {found}, expected {expected}");
    }

    #[test]
    fn closed_forms() {
        for part in [0.6, 0.75, 0.9, 0.95, 0.995] {
            // One degree is Cauchy's: tan(π (p − 1/2)). Two: (2p − 1) √(2 / (4 p (1 − p))).
            near(quantile(part, 1.0), libm::tan(PI * (part - 0.5)));
            near(quantile(part, 2.0), (2.0 * part - 1.0) * libm::sqrt(2.0 / (4.0 * part * (1.0 - part))));
        }
        near(quantile(0.5, 3.0), 0.0);
        near(upper_tail(0.0, 2.5), 0.5);
    }

    /// By mpmath to 40 digits (tests/reference/market.py).
    #[test]
    fn fractional_degrees_to_the_last_digits() {
        near(quantile(0.9, 2.5), 1.730_250_928_807_176_6);
        near(quantile(0.75, 3.3263), 0.755_272_330_199_070_4);
        near(quantile(0.9, 6.86013), 1.417_919_140_578_54);
        near(quantile(0.9, 12.25), 1.354_608_187_663_655);
        near(quantile(0.9, 1002.5), 1.282_396_607_431_252_2);
        near(quantile(0.995, 0.7), 364.935_202_981_585_4);
    }

    #[test]
    fn ends_and_nonsense() {
        assert_eq!(quantile(1.0, 3.0), f64::INFINITY);
        assert_eq!(quantile(0.0, 3.0), f64::NEG_INFINITY);
        assert!(quantile(0.9, 0.0).is_nan());
        assert!(quantile(f64::NAN, 3.0).is_nan());
        assert_eq!(upper_tail(f64::INFINITY, 3.0), 0.0);
        assert!(upper_tail(1.0, -1.0).is_nan());
    }

    #[test]
    fn large_degrees_join_the_normal() {
        let just_below = quantile(0.9, NORMAL_FROM * 0.999);
        assert!((just_below - quantile(0.9, NORMAL_FROM)).abs() < 1e-10, "{just_below}");
        assert!((just_below - normal::deviations_holding(0.8)).abs() < 1e-7);
        assert!((upper_tail(1.0, NORMAL_FROM) - upper_tail(1.0, NORMAL_FROM * 0.999)).abs() < 1e-10);
    }

    proptest! {
        #[test]
        fn quantile_undoes_probability(part in 0.501..0.9999_f64, degrees in 0.5..2000.0_f64) {
            let t = quantile(part, degrees);
            prop_assert!((probability_below(t, degrees) - part).abs() < 1e-13, "{}", t);
            prop_assert!((t + quantile(1.0 - part, degrees)).abs() <= 1e-11 * t.abs().max(1.0));
        }

        #[test]
        fn fewer_degrees_reach_further(degrees in 0.5..500.0_f64, more in 0.1..50.0_f64) {
            prop_assert!(quantile(0.9, degrees) > quantile(0.9, degrees + more));
        }

        /// The density is the slope of the probability.
        #[test]
        fn density_is_the_slope(t in -5.0..5.0_f64, degrees in 0.5..200.0_f64) {
            let slope = (probability_below(t + 1e-4, degrees) - probability_below(t - 1e-4, degrees)) / 2e-4;
            prop_assert!((slope - density(t, degrees)).abs() < 1e-7);
        }
    }
}
