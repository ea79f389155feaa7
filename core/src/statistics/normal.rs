//! The standard normal distribution.

use core::f64::consts::{FRAC_1_SQRT_2, PI};

/// Probability of a value above `z`.
///
/// *Formula*: erfc(z / √2) / 2.
#[must_use]
pub fn upper_tail(z: f64) -> f64 {
    libm::erfc(z * FRAC_1_SQRT_2) / 2.0
}

/// The value that is exceeded with a probability: +∞ at 0 (or below), −∞ at 1 (or above).
#[must_use]
pub fn upper_quantile(tail: f64) -> f64 {
    if tail.is_nan() {
        return f64::NAN;
    }
    if tail <= 0.0 {
        return f64::INFINITY;
    }
    if tail >= 1.0 {
        return f64::NEG_INFINITY;
    }
    if tail > 0.5 {
        return -upper_quantile(1.0 - tail);
    }
    // Start: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.2.23, out by less than 0.00045.
    let t = libm::sqrt(-2.0 * libm::log(tail));
    let mut z =
        t - (2.515_517 + t * (0.802_853 + t * 0.010_328)) / (1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308)));
    // Each step of Halley's method triples the right digits: two pass the last place, the third is spare.
    for _ in 0..3 {
        let density = libm::exp(-z * z / 2.0) / libm::sqrt(2.0 * PI);
        let newton = (upper_tail(z) - tail) / density;
        z += newton / (1.0 - z * newton / 2.0);
    }
    z
}

/// How many standard deviations to each side hold a share of the values: 1.2816 for 0.8.
#[must_use]
pub fn deviations_holding(cover: f64) -> f64 {
    upper_quantile((1.0 - cover) / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn known_points() {
        // Standard values, 16 digits by exact series (any handbook prints their first digits).
        for (tail, z) in [
            (0.5, 0.0),
            (0.25, 0.674_489_750_196_081_7),
            (0.1, 1.281_551_565_544_600_4),
            (0.025, 1.959_963_984_540_054),
            (1e-10, 6.361_340_902_404_056),
            (0.9, -1.281_551_565_544_600_4),
        ] {
            assert!((upper_quantile(tail) - z).abs() <= 1e-14 * z.abs().max(1.0), "{tail}: {}", upper_quantile(tail));
        }
        assert_eq!(upper_quantile(0.0), f64::INFINITY);
        assert_eq!(upper_quantile(1.0), f64::NEG_INFINITY);
        assert!(upper_quantile(f64::NAN).is_nan());
    }

    proptest! {
        #[test]
        fn quantile_undoes_tail(z in -7.0..25.0_f64) {
            let back = upper_quantile(upper_tail(z));
            // On the far left the tail is nearly 1 and has few digits left of its distance to 1.
            let tolerance = if z < 0.0 { 1e-16 / upper_tail(-z) + 1e-13 } else { 1e-13 };
            prop_assert!((back - z).abs() <= tolerance * z.abs().max(1.0), "{} {}", z, back);
        }
    }
}
