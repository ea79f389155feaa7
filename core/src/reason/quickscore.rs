//! Quickscore: seen signs as an alternating sum over their subsets.
//!
//! D. Heckerman, "A tractable algorithm for diagnosing multiple diseases", Uncertainty in Artificial
//! Intelligence 1989, pages 174–181. A seen sign is 1 minus an absent one, and absent signs factorise over the
//! faults, so P(all seen) is the sum over subsets S of the seen signs of (−1)^|S| · P(all of S absent). The work
//! is 2^signs · faults however many faults a sign has, where elimination needs a table over them all.
//!
//! The terms alternate, so digits cancel: the sum of their sizes is kept beside the sum itself, and
//! [`Quickscore::new`] refuses where rounding could reach [`MOST_LOSS`] of the result. Clamping a fault or
//! adding an absent sign only makes terms smaller, so what passes once stays within that error, as a part of
//! the whole, in every later sweep.

use super::component::{Part, Weight};
use super::joint::Pairs;
use super::sweep::Sweep;
use crate::statistics::sums::{self, Sum};

/// Greatest share of the result that rounding may reach.
pub(super) const MOST_LOSS: f64 = 1e-9;

/// P(a subset of the seen signs all absent | faults), with its sign in the sum.
#[derive(Debug, Clone)]
struct Term {
    coefficient: f64,
    /// For each fault: how much of its weight stays if it is there.
    kept: Vec<f64>,
}

/// The terms of one component, scaled so that the base weights give 1.
#[derive(Debug, Clone)]
pub(super) struct Quickscore {
    terms: Vec<Term>,
    log_scale: f64,
}

impl Quickscore {
    /// Products of one sweep; saturates.
    pub fn work(part: &Part) -> usize {
        let subsets = 1_usize.checked_shl(part.signs.len() as u32).unwrap_or(usize::MAX);
        subsets.saturating_mul(part.faults.len())
    }

    /// Lays out the terms; `None` if too many digits would cancel. The caller has seen to the work.
    pub fn new(part: &Part) -> Option<Self> {
        let faults = part.faults.len();
        let mut terms = vec![Term { coefficient: 1.0, kept: vec![1.0; faults] }];
        for sign in &part.signs {
            let absent: Vec<Term> = terms
                .iter()
                .map(|term| {
                    let mut term = term.clone();
                    term.coefficient *= sign.none - 1.0;
                    for &(fault, strength) in &sign.parents {
                        if let Some(kept) = term.kept.get_mut(fault) {
                            *kept *= 1.0 - strength;
                        }
                    }
                    term
                })
                .collect();
            terms.extend(absent);
        }
        let values = terms.iter().map(|term| term.value(&part.weights));
        let sum = sums::sum(values.clone());
        let size: f64 = values.map(f64::abs).sum();
        // Each term is a product of so many factors at most; the sum itself is compensated.
        let roundings = (2 * (faults + part.signs.len()) + 2) as f64;
        if sum.is_nan() || size * roundings * f64::EPSILON > MOST_LOSS * sum {
            return None;
        }
        for term in &mut terms {
            term.coefficient /= sum;
        }
        Some(Self { terms, log_scale: libm::log(sum) })
    }

    /// Logarithm of the probability that a sweep at the base weights would have without the scaling.
    pub fn log_scale(&self) -> f64 {
        self.log_scale
    }

    /// The sum alone.
    pub fn total(&self, weights: &[Weight]) -> f64 {
        sums::sum(self.terms.iter().map(|term| term.value(weights)))
    }

    /// The sum, and the share of it with each fault there.
    pub fn sweep(&self, weights: &[Weight]) -> Sweep {
        let mut total = Sum::default();
        let mut present = vec![Sum::default(); weights.len()];
        for term in &self.terms {
            let value = term.value(weights);
            total.add(value);
            for ((present, weight), kept) in present.iter_mut().zip(weights).zip(&term.kept) {
                present.add(value * weight.share(*kept));
            }
        }
        Sweep { total: total.total(), present: present.into_iter().map(Sum::total).collect() }
    }

    /// The share of the sum with both faults there, for every pair.
    pub fn pairs(&self, weights: &[Weight]) -> Pairs {
        let laid: Vec<(f64, Vec<f64>)> = self
            .terms
            .iter()
            .map(|term| {
                let shares = weights.iter().zip(&term.kept).map(|(weight, kept)| weight.share(*kept)).collect();
                (term.value(weights), shares)
            })
            .collect();
        Pairs::fill(weights.len(), |i, j| {
            sums::sum(laid.iter().map(|(value, shares)| {
                let share = |fault: usize| shares.get(fault).copied().unwrap_or(0.0);
                value * if i == j { share(i) } else { share(i) * share(j) }
            }))
        })
    }
}

impl Term {
    fn value(&self, weights: &[Weight]) -> f64 {
        let product = |value: f64, (weight, kept): (&Weight, &f64)| value * (weight.absent + weight.present * kept);
        weights.iter().zip(&self.kept).fold(self.coefficient, product)
    }
}

#[cfg(test)]
mod tests {
    use super::super::component::SeenSign;
    use super::*;

    fn part(signs: usize, none: f64, strength: f64, prior: f64) -> Part {
        let weights = vec![Weight { absent: 1.0 - prior, present: prior }; 2];
        let signs = (0..signs).map(|sign| SeenSign { sign, none, parents: vec![(0, strength), (1, strength)] });
        Part { faults: vec![0, 1], weights, signs: signs.collect() }
    }

    #[test]
    fn it_declines_where_digits_cancel() {
        assert!(Quickscore::new(&part(2, 0.01, 0.9, 0.1)).is_some());
        // Eight signs that hardly ever show: terms near 1 cancel to about 1e-24.
        assert!(Quickscore::new(&part(8, 0.001, 0.001, 0.1)).is_none());
    }
}
