//! Sums that do not lose small terms beside large ones.

/// A running sum that carries what rounding would drop.
///
/// Source: A. Neumaier, *Rundungsfehleranalyse einiger Verfahren zur Summation endlicher Summen*, ZAMM 54 (1974).
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Sum {
    total: f64,
    dropped: f64,
}

impl Sum {
    /// Adds a term.
    pub fn add(&mut self, term: f64) {
        let total = self.total + term;
        // The smaller of the two is the one whose low digits were cut off.
        self.dropped += if libm::fabs(self.total) >= libm::fabs(term) {
            (self.total - total) + term
        } else {
            (term - total) + self.total
        };
        self.total = total;
    }

    /// The sum so far.
    #[must_use]
    pub fn total(self) -> f64 {
        let whole = self.total + self.dropped;
        // After an overflow the carried part is not a number; the plain total still says where it went.
        if whole.is_nan() { self.total } else { whole }
    }
}

impl Extend<f64> for Sum {
    fn extend<I: IntoIterator<Item = f64>>(&mut self, terms: I) {
        for term in terms {
            self.add(term);
        }
    }
}

/// The compensated sum of the terms; 0 of none.
#[must_use]
pub fn sum(terms: impl IntoIterator<Item = f64>) -> f64 {
    let mut running = Sum::default();
    running.extend(terms);
    running.total()
}

/// The mean; `None` of none.
#[must_use]
pub fn mean(values: &[f64]) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    let size = values.len() as f64;
    let first_pass = sum(values.iter().copied()) / size;
    // A second pass over what is left recovers the digits that the division lost.
    Some(first_pass + sum(values.iter().map(|value| value - first_pass)) / size)
}

/// The standard deviation with n − 1 in the divisor; `None` of fewer than two.
#[must_use]
pub fn standard_deviation(values: &[f64]) -> Option<f64> {
    let centre = mean(values)?;
    let spare = values.len().checked_sub(1).filter(|spare| *spare > 0)?;
    let squares = sum(values.iter().map(|value| (value - centre) * (value - centre)));
    Some(libm::sqrt(squares / spare as f64))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_small_term_survives_a_large_one() {
        assert_eq!(sum([1.0, 1e100, 1.0, -1e100]), 2.0);
        assert_eq!(sum([]), 0.0);
        assert_eq!(sum([f64::INFINITY, 1.0]), f64::INFINITY);
    }

    #[test]
    fn spread_needs_two() {
        assert_eq!(mean(&[]), None);
        assert_eq!(standard_deviation(&[3.0]), None);
        assert_eq!(standard_deviation(&[1.0, 3.0]), Some(libm::sqrt(2.0)));
    }

    proptest! {
        /// Integers below 2^53 sum exactly in any order: the twin is integer arithmetic.
        #[test]
        fn agrees_with_integers(terms in prop::collection::vec(-1_000_000_000_000_i64..1_000_000_000_000, 0..200)) {
            let thousandths = terms.iter().map(|term| *term as f64 / 1024.0);
            prop_assert_eq!(sum(thousandths), terms.iter().sum::<i64>() as f64 / 1024.0);
        }
    }
}
