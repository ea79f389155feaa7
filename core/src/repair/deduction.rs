//! The deduction: what the market takes off for faults that are there, or may be, with its spread.
//!
//! Two doors and one rule against counting twice. A fault that stands here with its cost has its points given back to the
//! base score, so the score does not take the same money again. And comparables were sold with the ordinary
//! risk of hidden faults already in their prices, so a fault that was not looked for deducts only what its probability
//! exceeds that ordinary rate.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use std::collections::BTreeMap;

use super::three_point::ThreePoint;
use crate::statistics::sums;

/// Correlation between costs of one job: once a job runs dear, all of it does. Judgement.
pub const WITHIN_JOB_CORRELATION: f64 = 0.5;

/// The jobs whose costs move together; any number that the caller keeps apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobGroup(pub usize);

/// A fault with its cost, as the deduction sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    /// p: probability that it is there, 0 to 1; 1 when confirmed.
    pub probability: f64,
    /// p_base: ordinary rate for the type, 0 to 1; 0 for what anyone sees, because no seller of a comparable hid it.
    pub base_rate: f64,
    /// Share of the cost that the market takes off, 0 to 1.
    pub share: f64,
    /// Cost to put right if it is there.
    pub cost: ThreePoint,
    /// The job that it belongs to; `None` when it shares a job with nothing.
    pub group: Option<JobGroup>,
}

impl Item {
    /// What it deducts: share × (p − p_base) × mean cost. Negative when it is less likely here than usual.
    #[must_use]
    pub fn deduction(&self) -> f64 {
        self.share * (self.probability - self.base_rate) * self.cost.mean()
    }

    /// Variance of what it takes: share² [p v + p (1 − p) μ²].
    #[must_use]
    pub fn variance(&self) -> f64 {
        let (p, mean) = (self.probability, self.cost.mean());
        self.share * self.share * (p * self.cost.variance() + p * (1.0 - p) * mean * mean)
    }
}

/// Probabilities that two faults are both there, for pairs that are not independent. Items are counted from 0.
///
/// A pair that is not told is independent: its joint probability is the product.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Together(BTreeMap<(usize, usize), f64>);

impl Together {
    /// Pairs with their probabilities, given as lower and higher item in rising order.
    #[must_use]
    pub fn of(pairs: impl IntoIterator<Item = ((usize, usize), f64)>) -> Self {
        Self(pairs.into_iter().filter(|((one, other), _)| one < other).collect())
    }

    fn told(&self, one: usize, other: usize) -> Option<f64> {
        self.0.get(&(one.min(other), one.max(other))).copied()
    }
}

/// Why a deduction cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DeductionError {
    /// A probability, rate or share is not between 0 and 1.
    NotAShare {
        /// Which item, from 0.
        item: usize,
    },
}

display!(DeductionError);

impl Say for DeductionError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::NotAShare { item } => {
                phrase!("item {0}: probability, usual rate and share are from 0 to 100 %", item + 1)
            }
        }
    }
}

impl core::error::Error for DeductionError {}

/// The whole deduction. Those of the items add up to its mean; the variance also holds what they share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Deduction {
    /// D: what is taken off.
    pub mean: f64,
    /// Variance of what the faults may take.
    pub variance: f64,
}

impl Deduction {
    /// Standard deviation of what the faults may take.
    #[must_use]
    pub fn sd(&self) -> f64 {
        libm::sqrt(self.variance)
    }
}

/// The deduction for faults that occur independently of each other.
///
/// # Errors
/// [`DeductionError::NotAShare`] for a probability, rate or share out of 0 to 1.
///
/// ```
/// use kerbworth_core::repair::deduction::{Item, deduction};
/// use kerbworth_core::repair::three_point::ThreePoint;
///
/// let cost = ThreePoint::new(900.0, 1800.0, 3500.0)?;
/// let gearbox = Item { probability: 0.3, base_rate: 0.1, share: 0.75, cost, group: None };
/// assert!((deduction(&[gearbox])?.mean - 290.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn deduction(items: &[Item]) -> Result<Deduction, DeductionError> {
    deduction_together(items, &Together::default())
}

/// The deduction for faults of which some occur together more, or less, than by chance.
///
/// *Formula*: mean Σ s (p − p_base) μ; variance Σ s² [p v + p (1 − p) μ²] + Σ_{i≠j} sᵢ sⱼ [(Pᵢⱼ − pᵢ pⱼ) μᵢ μⱼ +
/// ρᵢⱼ Pᵢⱼ √vᵢ √vⱼ], with ρ = [`WITHIN_JOB_CORRELATION`] within a job and 0 between jobs. Where a pair is independent, Pᵢⱼ
/// is the product and the first cross term vanishes. A joint probability that its own two do not allow is taken at the
/// nearest that they do.
///
/// # Errors
/// [`DeductionError::NotAShare`] for a probability, rate or share out of 0 to 1.
pub fn deduction_together(items: &[Item], together: &Together) -> Result<Deduction, DeductionError> {
    for (place, item) in items.iter().enumerate() {
        if ![item.probability, item.base_rate, item.share].iter().all(|part| (0.0..=1.0).contains(part)) {
            return Err(DeductionError::NotAShare { item: place });
        }
    }
    let mut variance = sums::Sum::default();
    variance.extend(items.iter().map(Item::variance));
    variance.extend(of_pairs_told(items, together));
    variance.extend(of_shared_jobs(items, together));
    Ok(Deduction {
        mean: sums::sum(items.iter().map(Item::deduction)),
        // Joint probabilities that contradict each other three by three could push it below nothing.
        variance: variance.total().max(0.0),
    })
}

/// What dependence adds: 2 sᵢ sⱼ (Pᵢⱼ − pᵢ pⱼ) μᵢ μⱼ of each pair told.
fn of_pairs_told<'a>(items: &'a [Item], together: &'a Together) -> impl Iterator<Item = f64> + 'a {
    together.0.iter().filter_map(|((one, other), both)| {
        let (one, other) = (items.get(*one)?, items.get(*other)?);
        let excess = allowed(one, other, *both) - one.probability * other.probability;
        Some(2.0 * one.share * other.share * excess * one.cost.mean() * other.cost.mean())
    })
}

/// What shared jobs add: 2 ρ sᵢ sⱼ Pᵢⱼ √vᵢ √vⱼ of each pair of one job.
fn of_shared_jobs<'a>(items: &'a [Item], together: &'a Together) -> impl Iterator<Item = f64> + 'a {
    let mut jobs: BTreeMap<JobGroup, Vec<(usize, &Item)>> = BTreeMap::new();
    for (place, item) in items.iter().enumerate() {
        if let Some(group) = item.group {
            jobs.entry(group).or_default().push((place, item));
        }
    }
    jobs.into_values().flat_map(move |members| {
        let mut added = Vec::new();
        for (rank, (one_place, one)) in members.iter().enumerate() {
            for (other_place, other) in members.iter().skip(rank + 1) {
                let both = match together.told(*one_place, *other_place) {
                    Some(both) => allowed(one, other, both),
                    None => one.probability * other.probability,
                };
                let spreads = one.share * one.cost.sd() * other.share * other.cost.sd();
                added.push(2.0 * WITHIN_JOB_CORRELATION * both * spreads);
            }
        }
        added
    })
}

/// A joint probability brought within what the two allow: max(0, p + q − 1) to min(p, q).
fn allowed(one: &Item, other: &Item, both: f64) -> f64 {
    let (p, q) = (one.probability, other.probability);
    if both.is_nan() { p * q } else { both.min(p.min(q)).max((p + q - 1.0).max(0.0)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn item(probability: f64, cost: (f64, f64, f64), group: Option<usize>) -> Item {
        Item {
            probability,
            base_rate: 0.0,
            share: 1.0,
            cost: ThreePoint::new(cost.0, cost.1, cost.2).unwrap(),
            group: group.map(JobGroup),
        }
    }

    #[test]
    fn refuses_what_is_not_a_share() {
        let good = item(0.5, (1.0, 2.0, 3.0), None);
        for bad in
            [Item { probability: 1.1, ..good }, Item { base_rate: -0.1, ..good }, Item { share: f64::NAN, ..good }]
        {
            assert_eq!(deduction(&[good, bad]), Err(DeductionError::NotAShare { item: 1 }));
        }
        assert_eq!(
            DeductionError::NotAShare { item: 1 }.to_string(),
            "item 2: probability, usual rate and share are from 0 to 100 %"
        );
    }

    #[test]
    fn nothing_takes_nothing() {
        assert_eq!(deduction(&[]), Ok(Deduction { mean: 0.0, variance: 0.0 }));
    }

    /// Found clean, a fault that is usual for the type is worth a little more than the comparables' prices say.
    #[test]
    fn clean_where_others_are_not_is_a_gain() {
        let clean = Item { base_rate: 0.2, ..item(0.0, (1000.0, 1000.0, 1000.0), None) };
        let unsuspicious = Item { probability: 0.2, ..clean };
        assert_eq!(deduction(&[clean]).map(|all| (all.mean, all.variance)), Ok((-200.0, 0.0)));
        assert_eq!(deduction(&[unsuspicious]).map(|all| all.mean), Ok(0.0));
    }

    #[test]
    fn two_that_come_only_together_are_one() {
        let half = item(0.5, (100.0, 100.0, 100.0), None);
        let mut together = Together::default();
        together.0.insert((0, 1), 0.5);
        let pair = deduction_together(&[half, half], &together).unwrap();
        // One fault of 200: p (1 − p) 200².
        assert!((pair.variance - 10_000.0).abs() < 1e-9);
        // Told more than either allows, it is taken as the most that they do.
        together.0.insert((0, 1), 0.9);
        assert_eq!(deduction_together(&[half, half], &together).unwrap(), pair);
        // Never together: always exactly one of them, so nothing is left to chance.
        together.0.insert((0, 1), 0.0);
        assert!(deduction_together(&[half, half], &together).unwrap().variance.abs() < 1e-9);
        // Of an item with itself there is nothing to tell.
        assert_eq!(Together::of([((0, 0), 0.1)]), Together::default());
    }

    fn items() -> impl Strategy<Value = Vec<Item>> {
        let one =
            (0.0..=1.0_f64, 0.0..=1.0_f64, 0.0..=1.0_f64, 0.0..500.0_f64, 0.0..500.0_f64, 0.0..900.0_f64, 0_usize..5);
        prop::collection::vec(one, 0..8).prop_map(|all| {
            all.into_iter()
                .map(|(probability, base_rate, share, low, up, on, group)| Item {
                    probability,
                    base_rate,
                    share,
                    cost: ThreePoint::new(low, low + up, low + up + on).unwrap(),
                    group: (group > 0).then_some(JobGroup(group)),
                })
                .collect()
        })
    }

    proptest! {
        /// The plain formula of independent faults, by jobs: Σ own + ρ Σ_jobs [(Σ s p √v)² − Σ (s p √v)²].
        #[test]
        fn equals_the_plain_formula_when_independent(items in items()) {
            let found = deduction(&items).unwrap();
            let mut plain: f64 = items.iter().map(Item::variance).sum();
            for group in 1..5 {
                let terms: Vec<f64> = items.iter().filter(|item| item.group == Some(JobGroup(group)))
                    .map(|item| item.share * item.probability * item.cost.sd()).collect();
                plain += 0.5 * (terms.iter().sum::<f64>().powi(2) - terms.iter().map(|term| term * term).sum::<f64>());
            }
            prop_assert!((found.variance - plain).abs() < 1e-9 * plain.max(1.0));
            // Telling the product changes nothing.
            let mut together = Together::default();
            for one in 0..items.len() {
                for other in 0..one {
                    together.0.insert((one, other), items[one].probability * items[other].probability);
                }
            }
            let told = deduction_together(&items, &together).unwrap();
            prop_assert!((told.variance - plain).abs() < 1e-9 * plain.max(1.0));
            prop_assert_eq!(told.mean, found.mean);
        }

        /// Brute-force twin: any joint distribution of three faults with known costs, summed over its eight cases.
        #[test]
        fn agrees_with_all_cases_counted_out(weights in prop::collection::vec(0.01..1.0_f64, 8), costs in prop::collection::vec(1.0..100.0_f64, 3)) {
            let all: f64 = weights.iter().sum();
            let chance = |has: &dyn Fn(usize) -> bool| -> f64 {
                weights.iter().enumerate().filter(|(case, _)| has(*case)).map(|(_, weight)| weight).sum::<f64>() / all
            };
            let items: Vec<Item> = (0..3).map(|k| item(chance(&|case| case >> k & 1 == 1), (costs[k], costs[k], costs[k]), None)).collect();
            let mut together = Together::default();
            for (one, other) in [(0, 1), (0, 2), (1, 2)] {
                together.0.insert((one, other), chance(&|case| case >> one & case >> other & 1 == 1));
            }
            let bill = |case: usize| (0..3).map(|k| if case >> k & 1 == 1 { costs[k] } else { 0.0 }).sum::<f64>();
            let mean: f64 = weights.iter().enumerate().map(|(case, weight)| weight / all * bill(case)).sum();
            let variance: f64 = weights.iter().enumerate().map(|(case, weight)| weight / all * (bill(case) - mean).powi(2)).sum();
            let found = deduction_together(&items, &together).unwrap();
            prop_assert!((found.mean - mean).abs() < 1e-9);
            prop_assert!((found.variance - variance).abs() < 1e-8 * variance.max(1.0), "{} {}", found.variance, variance);
        }

        #[test]
        fn lines_add_up(items in items()) {
            let found = deduction(&items).unwrap();
            let added: f64 = items.iter().map(Item::deduction).sum();
            prop_assert!((added - found.mean).abs() < 1e-9);
            prop_assert!(found.variance + 1e-9 >= items.iter().map(Item::variance).sum::<f64>());
        }
    }
}
