//! What a check is worth before it is made (the method's section 6): by how much it may be expected to narrow the range.
//! Written out here only, to hold core's deduction and range to the worked example's figures; the app ranks checks by
//! what core's network says of them.

use kerbworth_core::market::range::Range;
use kerbworth_core::repair::deduction::{Deduction, Item, deduction};
use kerbworth_core::worth::range::as_it_stands;

/// How well a check tells: how often it shows a fault that is there, and nothing where there is none.
#[derive(Clone, Copy)]
pub struct Reliability {
    pub sensitivity: f64,
    pub specificity: f64,
}

/// It never errs.
pub const SURE: Reliability = Reliability { sensitivity: 1.0, specificity: 1.0 };

/// What a check of one item would bring.
pub struct NextLook {
    pub chance_of_finding: f64,
    pub probability_if_found: f64,
    pub probability_if_clear: f64,
    pub middle_if_found: f64,
    pub middle_if_clear: f64,
    pub width_now: f64,
    pub expected_width: f64,
    pub variance_saved: f64,
}

impl NextLook {
    /// By how much the range may be expected to narrow; where the floor at nothing binds, not below 0.
    pub fn narrowing(&self) -> f64 {
        (self.width_now - self.expected_width).max(0.0)
    }
}

/// Weighs a check of one item among faults that are independent: P(+) = p se + (1 − p)(1 − sp); q₊ = p se / P(+);
/// q₋ = p (1 − se) / (1 − P(+)). A result that cannot come leaves the probability as it is.
pub fn next_look(market: &Range, items: &[Item], checked: usize, reliability: Reliability) -> NextLook {
    let Reliability { sensitivity, specificity } = reliability;
    let p = items[checked].probability;
    let found = p * sensitivity + (1.0 - p) * (1.0 - specificity);
    let given = |joint: f64, chance: f64| if chance > 0.0 { (joint / chance).clamp(0.0, 1.0) } else { p };
    let after = |probability: f64| {
        let mut items = items.to_vec();
        items[checked].probability = probability;
        deduction(&items).unwrap()
    };
    let (if_found, if_clear) = (given(p * sensitivity, found), given(p * (1.0 - sensitivity), 1.0 - found));
    let (now, with, without) = (deduction(items).unwrap(), after(if_found), after(if_clear));
    let stands = |of: &Deduction| as_it_stands(market, of);
    NextLook {
        chance_of_finding: found,
        probability_if_found: if_found,
        probability_if_clear: if_clear,
        middle_if_found: stands(&with).middle,
        middle_if_clear: stands(&without).middle,
        width_now: stands(&now).width(),
        expected_width: found * stands(&with).width() + (1.0 - found) * stands(&without).width(),
        variance_saved: now.variance - found * with.variance - (1.0 - found) * without.variance,
    }
}

/// The variance saved in closed form: share² μ² [P(+) (q₊ − p)² + (1 − P(+)) (q₋ − p)²].
#[test]
fn variance_saved_is_the_closed_form() {
    use kerbworth_core::repair::deduction::JobGroup;
    use kerbworth_core::repair::three_point::ThreePoint;

    let market = Range { low: 8000.0, middle: 10_000.0, high: 12_500.0, cover: 0.8 };
    let item = |probability: f64| Item {
        probability,
        base_rate: 0.1,
        share: 0.75,
        cost: ThreePoint::new(540.0, 900.0, 1710.0).unwrap(),
        group: Some(JobGroup(3)),
    };
    for p in [0.0, 0.1, 0.5, 0.9, 1.0] {
        for (sensitivity, specificity) in [(1.0, 1.0), (0.8, 0.9), (0.5, 0.5), (0.0, 1.0)] {
            let items = [item(p), item(0.3)];
            let look = next_look(&market, &items, 0, Reliability { sensitivity, specificity });
            let (found, mean) = (look.chance_of_finding, items[0].cost.mean());
            let moved = found * (look.probability_if_found - p).powi(2)
                + (1.0 - found) * (look.probability_if_clear - p).powi(2);
            let closed = (items[0].share * mean).powi(2) * moved;
            assert!((look.variance_saved - closed).abs() < 1e-6 * mean * mean, "{p} {sensitivity} {specificity}");
            // The floor at nothing is far: a check never widens.
            assert!(look.expected_width <= look.width_now + 1e-9, "{p} {sensitivity} {specificity}");
        }
    }
}
