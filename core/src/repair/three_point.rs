//! A cost as low, likely and high: the three figures that a tradesman can give.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::statistics::beta;

/// Low, likely and high, in one unit; the beta-PERT distribution over them.
///
/// The variance is that of the distribution itself, (μ − l)(h − μ)/7, not the classic ((h − l)/6)², which is right only
/// near the middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThreePoint {
    low: f64,
    likely: f64,
    high: f64,
}

/// Three figures that are not low ≤ likely ≤ high.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OutOfOrder;

display!(OutOfOrder);

impl Say for OutOfOrder {
    fn phrase(&self) -> Phrase {
        phrase!("low, likely and high are out of order; enter the smallest first")
    }
}

impl core::error::Error for OutOfOrder {}

impl ThreePoint {
    /// The three figures; all the same means that the cost is known.
    ///
    /// # Errors
    /// [`OutOfOrder`] when they are not low ≤ likely ≤ high, or one is not a finite number.
    pub fn new(low: f64, likely: f64, high: f64) -> Result<Self, OutOfOrder> {
        let finite = low.is_finite() && likely.is_finite() && high.is_finite();
        if finite && low <= likely && likely <= high { Ok(Self { low, likely, high }) } else { Err(OutOfOrder) }
    }

    /// The lowest that it may come to.
    #[must_use]
    pub fn low(self) -> f64 {
        self.low
    }

    /// What it most likely comes to.
    #[must_use]
    pub fn likely(self) -> f64 {
        self.likely
    }

    /// The highest that it may come to.
    #[must_use]
    pub fn high(self) -> f64 {
        self.high
    }

    /// Mean: (l + 4m + h) / 6.
    #[must_use]
    pub fn mean(self) -> f64 {
        (self.low + 4.0 * self.likely + self.high) / 6.0
    }

    /// Variance: (μ − l)(h − μ) / 7.
    #[must_use]
    pub fn variance(self) -> f64 {
        // Rounding of the mean of three equal figures must not make it negative.
        ((self.mean() - self.low) * (self.high - self.mean()) / 7.0).max(0.0)
    }

    /// Standard deviation.
    #[must_use]
    pub fn sd(self) -> f64 {
        libm::sqrt(self.variance())
    }

    /// The shape parameters of the beta distribution: 1 + 4(m − l)/(h − l) and 1 + 4(h − m)/(h − l); `None` when the
    /// cost is known.
    #[must_use]
    pub fn shape(self) -> Option<(f64, f64)> {
        let span = self.high - self.low;
        (span > 0.0)
            .then(|| (1.0 + 4.0 * (self.likely - self.low) / span, 1.0 + 4.0 * (self.high - self.likely) / span))
    }

    /// The figure that the cost stays below with a probability, 0 to 1.
    #[must_use]
    pub fn quantile(self, below: f64) -> f64 {
        match self.shape() {
            Some((alpha, beta)) => self.low + (self.high - self.low) * beta::quantile(alpha, beta, below),
            None => self.likely,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn refuses_figures_out_of_order() {
        for (low, likely, high) in [(2.0, 1.0, 3.0), (1.0, 4.0, 3.0), (f64::NAN, 1.0, 2.0), (0.0, 1.0, f64::INFINITY)] {
            assert_eq!(ThreePoint::new(low, likely, high), Err(OutOfOrder), "{low} {likely} {high}");
        }
        assert_eq!(OutOfOrder.to_string(), "low, likely and high are out of order; enter the smallest first");
    }

    #[test]
    fn a_known_cost_has_no_spread() {
        let known = ThreePoint::new(0.1, 0.1, 0.1).unwrap();
        assert_eq!((known.variance(), known.shape(), known.quantile(0.9)), (0.0, None, 0.1));
    }

    proptest! {
        /// Mean and variance are those of the distribution: summed over its quantiles, they come out the same.
        #[test]
        fn moments_are_those_of_the_quantiles(low in 0.0..1000.0_f64, up in 0.0..500.0_f64, on in 1.0..2000.0_f64) {
            let cost = ThreePoint::new(low, low + up, low + up + on).unwrap();
            let steps = 2000;
            let values: Vec<f64> = (0..steps).map(|step| cost.quantile((f64::from(step) + 0.5) / f64::from(steps))).collect();
            let mean = values.iter().sum::<f64>() / f64::from(steps);
            let variance = values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / f64::from(steps);
            prop_assert!((mean - cost.mean()).abs() < 1e-4 * (up + on), "{} {}", mean, cost.mean());
            prop_assert!((variance / cost.variance() - 1.0).abs() < 5e-3, "{} {}", variance, cost.variance());
        }
    }
}
