//! Ticks: round values along an axis, few enough to read.

/// Round values from `low` to `high`, at most `most` of them: multiples of the smallest step of 1, 2 or 5 times a
/// power of ten that is few enough. None if the ends are not two numbers in order.
///
/// ```
/// use kerbworth_core::plot::ticks::ticks;
/// assert_eq!(ticks(9300.0, 21_700.0, 4), [10_000.0, 15_000.0, 20_000.0]);
/// ```
#[must_use]
pub fn ticks(low: f64, high: f64, most: usize) -> Vec<f64> {
    if !(low.is_finite() && high.is_finite() && low < high) || most == 0 {
        return Vec::new();
    }
    let power = libm::pow(10.0, libm::floor(libm::log10((high - low) / most as f64)));
    for step in [1.0, 2.0, 5.0, 10.0, 20.0].map(|times| times * power) {
        // A value on the end is taken in, though rounding may put it a hair outside.
        let (first, last) = (libm::ceil(low / step - 1e-9), libm::floor(high / step + 1e-9));
        let count = last - first + 1.0;
        if count <= most as f64 {
            // At most `most`, so the conversion is exact; below nothing it is nothing.
            return (0..count.max(0.0) as usize).map(|place| (first + place as f64) * step).collect();
        }
    }
    Vec::new()
}

/// Steps between ticks in months: within a year, then whole years.
const MONTH_STEPS: [i32; 10] = [1, 2, 3, 6, 12, 24, 60, 120, 240, 600];

/// The same for months, counted from the year 0: multiples of a month, a quarter, half a year or years. The
/// second value is the step.
#[must_use]
pub fn month_ticks(low: f64, high: f64, most: usize) -> (Vec<i32>, i32) {
    // Years 0 to 9999 only: what a date can be.
    if !(0.0..=120_000.0).contains(&low) || !(0.0..=120_000.0).contains(&high) || low >= high {
        return (Vec::new(), 12);
    }
    for step in MONTH_STEPS {
        let first = libm::ceil(low / f64::from(step)) as i32;
        let last = libm::floor(high / f64::from(step)) as i32;
        let months: Vec<i32> = (first..=last).map(|place| place * step).collect();
        if months.len() <= most {
            return (months, step);
        }
    }
    (Vec::new(), 12)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn round_values() {
        assert_eq!(ticks(0.0, 10.0, 11), [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0]);
        assert_eq!(ticks(0.0, 10.0, 6), [0.0, 2.0, 4.0, 6.0, 8.0, 10.0]);
        assert_eq!(ticks(-0.3, 0.3, 3), [-0.2, 0.0, 0.2]);
        assert_eq!(ticks(5.0, 5.0, 4), [0.0; 0]);
        assert_eq!(ticks(f64::NAN, 5.0, 4), [0.0; 0]);
    }

    #[test]
    fn months_and_years() {
        let month = |year: i32, month: i32| year * 12 + month - 1;
        let span = |from: i32, to: i32, most| month_ticks(f64::from(from) + 0.5, f64::from(to), most);
        assert_eq!(
            span(month(2025, 8), month(2025, 11), 5),
            (vec![month(2025, 9), month(2025, 10), month(2025, 11)], 1)
        );
        assert_eq!(span(month(2025, 8), month(2026, 9), 3), (vec![month(2026, 1), month(2026, 7)], 6));
        assert_eq!(
            span(month(2019, 8), month(2026, 9), 4),
            (vec![month(2020, 1), month(2022, 1), month(2024, 1), month(2026, 1)], 24)
        );
        assert_eq!(month_ticks(5.0, 5.0, 4).0, [0; 0]);
    }

    proptest! {
        #[test]
        fn few_and_within(low in -1e7..1e7_f64, width in 1e-3..1e7_f64, most in 2..9_usize) {
            let found = ticks(low, low + width, most);
            prop_assert!(found.len() <= most && found.is_sorted());
            let slack = width * 1e-6;
            prop_assert!(found.iter().all(|tick| (low - slack..=low + width + slack).contains(tick)));
            // Enough to read by, too: the next smaller step would have been too many.
            prop_assert!(found.len() * 5 + 5 >= most, "{found:?}");
        }

        #[test]
        fn months_are_few_and_within(low in 20_000.0..25_000.0_f64, width in 0.1..3000.0_f64, most in 2..9_usize) {
            let (found, step) = month_ticks(low, low + width, most);
            prop_assert!(found.len() <= most);
            prop_assert!(found.iter().all(|tick| (low..=low + width).contains(&f64::from(*tick)) && tick % step == 0));
        }
    }
}
