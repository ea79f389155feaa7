//! From the market's range and the deduction to the range as it stands.

use crate::market::range::Range;
use crate::repair::deduction::{Deduction, Item};
use crate::statistics::normal;

/// The worth as it stands, at the cover of the market's range; no end below nothing.
///
/// *Formula*: centre M − D; low = centre − √((M − L)² + (z sd)²), high = centre + √((U − M)² + (z sd)²), with z the
/// normal deviations that hold the cover (1.28155 for 80 %). The two spreads are taken as independent. Part of the
/// risk of hidden faults is also in the market's own spread, so the range errs on the wide side.
#[must_use]
pub fn as_it_stands(market: &Range, deduction: &Deduction) -> Range {
    let reach = normal::deviations_holding(market.cover) * deduction.sd();
    let middle = market.middle - deduction.mean;
    Range {
        low: (middle - libm::hypot(market.middle - market.low, reach)).max(0.0),
        middle: middle.max(0.0),
        high: (middle + libm::hypot(market.high - market.middle, reach)).max(0.0),
        cover: market.cover,
    }
}

/// The items that are known to be there: a deduction of these alone stands on nothing suspected.
#[must_use]
pub fn confirmed(items: &[Item]) -> Vec<Item> {
    items.iter().copied().filter(|item| item.probability >= 1.0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repair::deduction::deduction;
    use crate::repair::three_point::ThreePoint;
    use proptest::prelude::*;

    fn item(probability: f64, cost: f64) -> Item {
        let cost = ThreePoint::new(0.5 * cost, cost, 2.0 * cost).unwrap();
        Item { probability, base_rate: 0.0, share: 1.0, cost, group: None }
    }

    const MARKET: Range = Range { low: 8000.0, middle: 10_000.0, high: 12_500.0, cover: 0.8 };

    #[test]
    fn without_faults_the_market_stands() {
        assert_eq!(as_it_stands(&MARKET, &deduction(&[]).unwrap()), MARKET);
    }

    #[test]
    fn a_car_is_never_worth_less_than_nothing() {
        let wreck = as_it_stands(&MARKET, &deduction(&[item(1.0, 30_000.0)]).unwrap());
        assert_eq!((wreck.low, wreck.middle, wreck.high), (0.0, 0.0, 0.0));
        let nearly = as_it_stands(&MARKET, &deduction(&[item(1.0, 8000.0)]).unwrap());
        assert!(nearly.low == 0.0 && nearly.middle > 0.0 && nearly.high > nearly.middle);
    }

    #[test]
    fn only_what_is_known_is_confirmed() {
        assert_eq!(
            confirmed(&[item(1.0, 10.0), item(0.99, 20.0), item(1.0, 30.0)]),
            [item(1.0, 10.0), item(1.0, 30.0)]
        );
    }

    proptest! {
        #[test]
        fn faults_lower_and_widen(probability in 0.01..1.0_f64, cost in 10.0..2000.0_f64) {
            let stands = as_it_stands(&MARKET, &deduction(&[item(probability, cost)]).unwrap());
            prop_assert!(stands.middle < MARKET.middle && stands.width() > MARKET.width());
            prop_assert!(stands.low < stands.middle && stands.middle < stands.high);
        }
    }
}
