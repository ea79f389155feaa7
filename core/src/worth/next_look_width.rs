//! What a check is worth before it is made: by how much it may be expected to narrow the range.

use super::range::as_it_stands;
use crate::market::range::Range;
use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::repair::deduction::{Deduction, DeductionError, Item, deduction};

/// How well a check tells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reliability {
    /// Probability that it shows the fault when the fault is there, 0 to 1.
    pub sensitivity: f64,
    /// Probability that it shows nothing when the fault is not there, 0 to 1.
    pub specificity: f64,
}

impl Reliability {
    /// It never errs.
    pub const SURE: Self = Self { sensitivity: 1.0, specificity: 1.0 };
}

/// Why a check cannot be weighed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NextLookError {
    /// There is no such item.
    NoSuchItem,
    /// A probability of the check is not between 0 and 1.
    UnusableReliability,
    /// An item cannot be deducted.
    Deduction(DeductionError),
}

display!(NextLookError);

impl Say for NextLookError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::NoSuchItem => phrase!("no such item; choose one that is on the list"),
            Self::UnusableReliability => phrase!("how often a check finds the fault is from 0 to 100 %"),
            Self::Deduction(error) => error.phrase(),
        }
    }
}

impl core::error::Error for NextLookError {}

impl From<DeductionError> for NextLookError {
    fn from(error: DeductionError) -> Self {
        Self::Deduction(error)
    }
}

/// A result that a check may have, and the deduction that would then stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Its probability; those of all outcomes of a check sum to 1.
    pub chance: f64,
    /// The deduction after it.
    pub deduction: Deduction,
}

/// The width now and the width to be expected after a check.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Narrowing {
    /// Width of the range as it stands.
    pub width_now: f64,
    /// Mean width over the outcomes.
    pub expected_width: f64,
    /// By how much the variance of the deduction may be expected to fall.
    pub variance_saved: f64,
}

impl Narrowing {
    /// By how much the range may be expected to narrow. Where the floor at nothing binds it can come out below 0, which
    /// is shown as 0.
    #[must_use]
    pub fn narrowing(&self) -> f64 {
        (self.width_now - self.expected_width).max(0.0)
    }
}

/// The narrowing over any set of outcomes: for checks that bear on several faults, or on faults that depend on each
/// other.
#[must_use]
pub fn expected_narrowing(market: &Range, now: &Deduction, outcomes: &[Outcome]) -> Narrowing {
    let mean = |figure: &dyn Fn(&Deduction) -> f64| {
        crate::statistics::sums::sum(outcomes.iter().map(|outcome| outcome.chance * figure(&outcome.deduction)))
    };
    Narrowing {
        width_now: as_it_stands(market, now).width(),
        expected_width: mean(&|after| as_it_stands(market, after).width()),
        variance_saved: now.variance - mean(&|after| after.variance),
    }
}

/// What a check of one item would bring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NextLook {
    /// P(+): probability that it shows the fault.
    pub chance_of_finding: f64,
    /// q₊: probability of the fault if it shows it.
    pub probability_if_found: f64,
    /// q₋: probability of the fault if it shows nothing.
    pub probability_if_clear: f64,
    /// Centre as it stands if it shows the fault.
    pub middle_if_found: f64,
    /// Centre as it stands if it shows nothing.
    pub middle_if_clear: f64,
    /// Width now and after.
    pub narrowing: Narrowing,
}

impl NextLook {
    /// How far the centre swings on the result: what a buyer acts on.
    #[must_use]
    pub fn swing(&self) -> f64 {
        self.middle_if_clear - self.middle_if_found
    }

    /// Expected narrowing for each minute; checks are ranked by it. `None` for a check that takes no time.
    #[must_use]
    pub fn narrowing_per_minute(&self, minutes: f64) -> Option<f64> {
        (minutes > 0.0).then(|| self.narrowing.narrowing() / minutes)
    }
}

/// Weighs a check of one item among faults that are independent.
///
/// *Formula*: P(+) = p se + (1 − p)(1 − sp); q₊ = p se / P(+); q₋ = p (1 − se) / (1 − P(+)); the ordinary rate stays. A result
/// that cannot come leaves the probability as it is.
///
/// # Errors
/// [`NextLookError`] when the item is not on the list, or a probability is out of 0 to 1.
pub fn next_look(
    market: &Range,
    items: &[Item],
    checked: usize,
    reliability: Reliability,
) -> Result<NextLook, NextLookError> {
    let Reliability { sensitivity, specificity } = reliability;
    if ![sensitivity, specificity].iter().all(|part| (0.0..=1.0).contains(part)) {
        return Err(NextLookError::UnusableReliability);
    }
    let p = items.get(checked).ok_or(NextLookError::NoSuchItem)?.probability;
    let now = deduction(items)?;
    let found = p * sensitivity + (1.0 - p) * (1.0 - specificity);
    // Rounding must not lift a probability out of its bounds.
    let given = |joint: f64, chance: f64| if chance > 0.0 { (joint / chance).clamp(0.0, 1.0) } else { p };
    let if_found = given(p * sensitivity, found);
    let if_clear = given(p * (1.0 - sensitivity), 1.0 - found);
    let after = |chance, probability| -> Result<Outcome, NextLookError> {
        let mut items = items.to_vec();
        if let Some(item) = items.get_mut(checked) {
            item.probability = probability;
        }
        Ok(Outcome { chance, deduction: deduction(&items)? })
    };
    let outcomes = [after(found, if_found)?, after(1.0 - found, if_clear)?];
    let [middle_if_found, middle_if_clear] =
        outcomes.each_ref().map(|outcome| as_it_stands(market, &outcome.deduction).middle);
    Ok(NextLook {
        chance_of_finding: found,
        probability_if_found: if_found,
        probability_if_clear: if_clear,
        middle_if_found,
        middle_if_clear,
        narrowing: expected_narrowing(market, &now, &outcomes),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repair::deduction::JobGroup;
    use crate::repair::three_point::ThreePoint;
    use proptest::prelude::*;

    const MARKET: Range = Range { low: 8000.0, middle: 10_000.0, high: 12_500.0, cover: 0.8 };

    fn item(probability: f64, cost: f64, group: Option<usize>) -> Item {
        let cost = ThreePoint::new(0.6 * cost, cost, 1.9 * cost).unwrap();
        Item { probability, base_rate: 0.1, share: 0.75, cost, group: group.map(JobGroup) }
    }

    #[test]
    fn says_what_is_wrong() {
        let items = [item(0.3, 900.0, None)];
        let half_sure = Reliability { sensitivity: 0.5, specificity: 1.5 };
        assert_eq!(next_look(&MARKET, &items, 1, Reliability::SURE), Err(NextLookError::NoSuchItem));
        assert_eq!(next_look(&MARKET, &items, 0, half_sure), Err(NextLookError::UnusableReliability));
        let bad = [item(1.5, 900.0, None)];
        assert_eq!(
            next_look(&MARKET, &bad, 0, Reliability::SURE).map_err(|error| error.to_string()),
            Err("item 1: probability, usual rate and share are from 0 to 100 %".to_owned())
        );
        assert_eq!(NextLookError::NoSuchItem.to_string(), "no such item; choose one that is on the list");
        assert_eq!(
            NextLookError::UnusableReliability.to_string(),
            "how often a check finds the fault is from 0 to 100 %"
        );
    }

    #[test]
    fn a_check_that_tells_nothing_narrows_nothing() {
        let items = [item(0.3, 900.0, None), item(0.6, 1500.0, None)];
        let coin = Reliability { sensitivity: 0.5, specificity: 0.5 };
        let look = next_look(&MARKET, &items, 0, coin).unwrap();
        assert!(look.narrowing.narrowing() < 1e-9 && look.swing().abs() < 1e-9);
        for known in [0.0, 1.0] {
            let look = next_look(&MARKET, &[item(known, 900.0, None)], 0, Reliability::SURE).unwrap();
            assert!(look.narrowing.narrowing() == 0.0 && look.swing() == 0.0, "{known}");
        }
    }

    #[test]
    fn below_nothing_is_shown_as_nothing() {
        // Worth nothing over the whole range now; only a clear result, one time in ten, opens a range at all.
        let market = Range { low: 900.0, middle: 1000.0, high: 1100.0, cover: 0.8 };
        let look = next_look(&market, &[item(0.9, 4000.0, None)], 0, Reliability::SURE).unwrap();
        assert!(look.narrowing.width_now == 0.0 && look.narrowing.expected_width > 10.0);
        assert_eq!(look.narrowing.narrowing(), 0.0);
    }

    #[test]
    fn ranked_by_the_minute() {
        let look = next_look(&MARKET, &[item(0.4, 1500.0, None)], 0, Reliability::SURE).unwrap();
        assert_eq!(look.narrowing_per_minute(4.0), Some(look.narrowing.narrowing() / 4.0));
        assert_eq!(look.narrowing_per_minute(0.0), None);
    }

    proptest! {
        #[test]
        fn never_widens_where_the_floor_is_far(
            chances in prop::collection::vec(0.0..=1.0_f64, 1..5),
            sensitivity in 0.0..=1.0_f64,
            specificity in 0.0..=1.0_f64,
            shared in any::<bool>(),
        ) {
            let items: Vec<Item> = chances.iter().map(|p| item(*p, 400.0, shared.then_some(1))).collect();
            let look = next_look(&MARKET, &items, 0, Reliability { sensitivity, specificity }).unwrap();
            prop_assert!(look.narrowing.expected_width <= look.narrowing.width_now + 1e-9);
            // The mean of what may be believed after is what is believed now.
            let mean = look.chance_of_finding * look.probability_if_found + (1.0 - look.chance_of_finding) * look.probability_if_clear;
            prop_assert!((mean - chances[0]).abs() < 1e-12);
        }

        /// Variance saved in closed form: share² μ² [P(+) (q₊ − p)² + (1 − P(+)) (q₋ − p)²].
        #[test]
        fn variance_saved_is_the_closed_form(p in 0.0..=1.0_f64, other in 0.0..=1.0_f64, sensitivity in 0.0..=1.0_f64, specificity in 0.0..=1.0_f64) {
            let items = [item(p, 900.0, Some(3)), item(other, 500.0, Some(3))];
            let look = next_look(&MARKET, &items, 0, Reliability { sensitivity, specificity }).unwrap();
            let (found, mean) = (look.chance_of_finding, items[0].cost.mean());
            let moved = found * (look.probability_if_found - p).powi(2) + (1.0 - found) * (look.probability_if_clear - p).powi(2);
            let closed = (items[0].share * mean).powi(2) * moved;
            prop_assert!((look.narrowing.variance_saved - closed).abs() < 1e-6 * mean * mean);
        }
    }
}
