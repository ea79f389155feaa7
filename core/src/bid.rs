//! The top bid: from what the whole outlay may be, back through the fees of a sale, to the hammer price.
//!
//! Everything is in whole minor units and basis points, so that a bid stated to keep within a limit keeps within it to
//! the penny. Each line of the account is rounded to a minor unit, half up, as an invoice is.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use serde::Serialize;

use crate::market::range::Range;
use crate::units::Money;

/// A rate in hundredths of a per cent: 1500 is 15 %.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct BasisPoints(pub u32);

impl BasisPoints {
    /// All of it.
    pub const WHOLE: Self = Self(10_000);

    /// This share of an amount, not yet rounded: in ten-thousandths of a minor unit.
    fn of(self, amount: Money) -> i128 {
        i128::from(amount.0) * i128::from(self.0)
    }
}

/// Ten-thousandths of a minor unit, rounded half up to minor units; the amounts here are never negative.
fn to_minor(ten_thousandths: i128) -> Money {
    let units = (ten_thousandths + 5000).div_euclid(10_000);
    Money(i64::try_from(units).unwrap_or(i64::MAX))
}

/// A stretch of hammer prices with its rate of premium.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Tier {
    /// The highest price in it; `None` in the last, which has no end.
    pub up_to: Option<Money>,
    /// The rate charged in it.
    pub rate: BasisPoints,
}

/// What a tier's rate is charged on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum ChargedOn {
    /// On the part of the price within each tier: the usual way.
    #[default]
    PartInTier,
    /// On the whole price, at the rate of the tier that it falls in. The outlay then jumps at an edge, up or down.
    WholePrice,
}

/// What a buyer pays beside the hammer price.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Fees {
    /// Tiers of the buyer's premium, lowest first; none means no premium but the minimum.
    pub tiers: Vec<Tier>,
    /// What their rates are charged on.
    pub charged_on: ChargedOn,
    /// The least premium, whatever the price.
    pub minimum_premium: Money,
    /// Tax charged on the premium.
    pub tax_on_premium: BasisPoints,
    /// Tax charged on the hammer price.
    pub tax_on_hammer: BasisPoints,
    /// What comes on top whatever the price: transport, registration, a lot fee.
    pub fixed: Money,
}

/// Why fees cannot be reckoned with. Tiers count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FeesError {
    /// A tier does not end above the one before it.
    TierOutOfOrder {
        /// Which tier.
        tier: usize,
    },
    /// Only the last tier may, and must, be without an end.
    TierEnd {
        /// Which tier.
        tier: usize,
    },
    /// A step of the premium has no rate that can be read.
    NoRate {
        /// Which step.
        tier: usize,
    },
    /// A rate is not from 0 to 100 %.
    RateAboveWhole,
    /// An amount is below nothing or above [`Money::MOST`].
    AmountOutOfBounds,
    /// The step between bids is not above nothing.
    NoIncrement,
}

display!(FeesError);

impl Say for FeesError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::TierOutOfOrder { tier } => {
                phrase!("step {0} must end above the one before it; enter the steps lowest first", tier + 1)
            }
            Self::TierEnd { tier } => {
                phrase!("step {0}: every step but the last needs an end, and the last has none", tier + 1)
            }
            Self::NoRate { tier } => phrase!("step {0} needs a rate", tier + 1),
            Self::RateAboveWhole => phrase!("a rate is from 0 to 100 %"),
            Self::AmountOutOfBounds => phrase!("fees and limit are amounts from nothing upwards"),
            Self::NoIncrement => phrase!("the step between bids must be above nothing"),
        }
    }
}

impl core::error::Error for FeesError {}

/// The account for one hammer price. The lines sum to the whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Outlay {
    /// The price at the fall of the hammer.
    pub hammer: Money,
    /// Buyer's premium.
    pub premium: Money,
    /// Tax on the premium.
    pub tax_on_premium: Money,
    /// Tax on the hammer price.
    pub tax_on_hammer: Money,
    /// Fixed costs.
    pub fixed: Money,
    /// All of it.
    pub all_in: Money,
}

impl Fees {
    /// Checks that the fees can be reckoned with.
    ///
    /// # Errors
    /// The first [`FeesError`] that is met.
    pub fn check(&self) -> Result<(), FeesError> {
        let mut edge = Money::ZERO;
        for (place, tier) in self.tiers.iter().enumerate() {
            let is_last = place + 1 == self.tiers.len();
            match tier.up_to {
                Some(end) if !is_last && end > edge => edge = end,
                Some(_) if !is_last => return Err(FeesError::TierOutOfOrder { tier: place }),
                None if is_last => {}
                _ => return Err(FeesError::TierEnd { tier: place }),
            }
        }
        let mut rates = self.tiers.iter().map(|tier| tier.rate).chain([self.tax_on_premium, self.tax_on_hammer]);
        if rates.any(|rate| rate > BasisPoints::WHOLE) {
            return Err(FeesError::RateAboveWhole);
        }
        let mut amounts = [self.minimum_premium, self.fixed, edge].into_iter();
        if amounts.any(|amount| amount < Money::ZERO || amount > Money::MOST) {
            return Err(FeesError::AmountOutOfBounds);
        }
        Ok(())
    }

    /// The buyer's premium on a hammer price.
    #[must_use]
    pub fn premium(&self, hammer: Money) -> Money {
        let charged = match self.charged_on {
            ChargedOn::PartInTier => {
                self.stretches().map(|(above, tier)| tier.rate.of(part_in(above, tier, hammer))).sum()
            }
            ChargedOn::WholePrice => self
                .tiers
                .iter()
                .find(|tier| tier.up_to.is_none_or(|end| hammer <= end))
                .map_or(0, |tier| tier.rate.of(hammer)),
        };
        to_minor(charged).max(self.minimum_premium)
    }

    /// The account for a hammer price.
    #[must_use]
    pub fn outlay(&self, hammer: Money) -> Outlay {
        let premium = self.premium(hammer);
        let tax_on_premium = to_minor(self.tax_on_premium.of(premium));
        let tax_on_hammer = to_minor(self.tax_on_hammer.of(hammer));
        Outlay {
            hammer,
            premium,
            tax_on_premium,
            tax_on_hammer,
            fixed: self.fixed,
            all_in: hammer + premium + tax_on_premium + tax_on_hammer + self.fixed,
        }
    }

    /// Each tier with the price that it begins above.
    fn stretches(&self) -> impl DoubleEndedIterator<Item = (Money, Tier)> + '_ {
        let starts = core::iter::once(Money::ZERO).chain(self.tiers.iter().filter_map(|tier| tier.up_to));
        starts.zip(self.tiers.iter().copied()).collect::<Vec<_>>().into_iter()
    }
}

/// The part of a price that lies in a tier.
fn part_in(above: Money, tier: Tier, hammer: Money) -> Money {
    let top = tier.up_to.map_or(hammer, |end| end.min(hammer));
    (top - above).max(Money::ZERO)
}

/// The highest whole outlay that a buyer should go to: T = centre − r (centre − low), rounded down to a minor unit.
///
/// `stands` is the worth as it stands in minor units; `margin` r from 0 (pays the centre) to 1 (pays the low end), beyond
/// which it is taken as the nearer of the two.
#[must_use]
pub fn highest_outlay(stands: &Range, margin: f64) -> Money {
    let margin = if margin.is_nan() { 1.0 } else { margin.clamp(0.0, 1.0) };
    Money::nearest(libm::floor(stands.middle - margin * (stands.middle - stands.low)))
}

/// Margin that the app starts with: halfway from the centre to the low end. Judgement.
pub const USUAL_MARGIN: f64 = 0.5;

/// The highest bid, a multiple of the step between bids, whose whole outlay is within a limit; `None` when not even
/// the first step is.
///
/// Within a stretch in which the outlay only rises, it is found by halving. With rates on the whole price the outlay
/// can fall at the edge of a tier, so each tier is tried from the top and the first bid found is the highest.
///
/// # Errors
/// [`FeesError`] when the fees, the limit or the step cannot be reckoned with.
///
/// ```
/// use kerbworth_core::bid::{BasisPoints, Fees, Tier, top_bid};
/// use kerbworth_core::units::Money;
///
/// // 12 % premium with 20 % tax on it: 100 at the hammer is 114.40 in all.
/// let fees = Fees {
///     tiers: vec![Tier { up_to: None, rate: BasisPoints(1200) }],
///     tax_on_premium: BasisPoints(2000),
///     ..Fees::default()
/// };
/// let bid = top_bid(&fees, Money(1_150_000), Money(5_000))?.map(|outlay| (outlay.hammer, outlay.all_in));
/// assert_eq!(bid, Some((Money(1_005_000), Money(1_149_720))));
/// # Ok::<(), kerbworth_core::bid::FeesError>(())
/// ```
pub fn top_bid(fees: &Fees, limit: Money, increment: Money) -> Result<Option<Outlay>, FeesError> {
    fees.check()?;
    if increment <= Money::ZERO {
        return Err(FeesError::NoIncrement);
    }
    if limit > Money::MOST {
        return Err(FeesError::AmountOutOfBounds);
    }
    let everything = (Money::ZERO, Tier { up_to: None, rate: BasisPoints(0) });
    let rising: Vec<(Money, Tier)> = match fees.charged_on {
        ChargedOn::WholePrice if !fees.tiers.is_empty() => fees.stretches().collect(),
        _ => vec![everything],
    };
    Ok(rising.into_iter().rev().find_map(|(above, tier)| {
        // A bid never passes the limit, so an open stretch ends there.
        let last = tier.up_to.map_or(limit, |end| end.min(limit)).0.div_euclid(increment.0);
        let first = above.0.div_euclid(increment.0) + 1;
        highest_within(fees, limit, increment, first, last)
    }))
}

/// The highest of the bids `first` to `last`, counted in steps, within the limit; the outlay rises between them.
fn highest_within(fees: &Fees, limit: Money, increment: Money, first: i64, last: i64) -> Option<Outlay> {
    let within = |steps: i64| {
        let outlay = fees.outlay(Money(steps.saturating_mul(increment.0)));
        (outlay.all_in <= limit).then_some(outlay)
    };
    let (mut low, mut high) = (first, last);
    let mut found = None;
    while low <= high {
        let middle = low + (high - low) / 2;
        match within(middle) {
            Some(outlay) => {
                found = Some(outlay);
                low = middle + 1;
            }
            None => high = middle - 1,
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn tier(up_to: Option<i64>, rate: u32) -> Tier {
        Tier { up_to: up_to.map(Money), rate: BasisPoints(rate) }
    }

    #[track_caller]
    fn refused(fees: &Fees, expected: FeesError, sentence: &str) {
        assert_eq!(fees.check(), Err(expected));
        assert_eq!(top_bid(fees, Money(100), Money(1)), Err(expected));
        assert_eq!(expected.to_string(), sentence);
    }

    #[test]
    fn says_what_is_wrong() {
        let with = |tiers: &[Tier]| Fees { tiers: tiers.to_vec(), ..Fees::default() };
        let order = "step 2 must end above the one before it; enter the steps lowest first";
        refused(
            &with(&[tier(Some(500), 10), tier(Some(500), 10), tier(None, 10)]),
            FeesError::TierOutOfOrder { tier: 1 },
            order,
        );
        let end = "step 1: every step but the last needs an end, and the last has none";
        refused(&with(&[tier(Some(500), 10)]), FeesError::TierEnd { tier: 0 }, end);
        refused(&with(&[tier(None, 10), tier(None, 10)]), FeesError::TierEnd { tier: 0 }, end);
        refused(&with(&[tier(None, 10_001)]), FeesError::RateAboveWhole, "a rate is from 0 to 100 %");
        refused(
            &Fees { fixed: Money(-1), ..Fees::default() },
            FeesError::AmountOutOfBounds,
            "fees and limit are amounts from nothing upwards",
        );
        assert_eq!(top_bid(&Fees::default(), Money(100), Money(0)), Err(FeesError::NoIncrement));
        assert_eq!(FeesError::NoIncrement.to_string(), "the step between bids must be above nothing");
        assert_eq!(top_bid(&Fees::default(), Money(i64::MAX), Money(1)), Err(FeesError::AmountOutOfBounds));
    }

    #[track_caller]
    fn check(fees: &Fees, limit: i64, increment: i64, expected: Option<(i64, i64)>) {
        let found = top_bid(fees, Money(limit), Money(increment)).unwrap();
        assert_eq!(found.map(|outlay| (outlay.hammer.0, outlay.all_in.0)), expected);
    }

    #[test]
    fn bids() {
        let none = Fees::default();
        check(&none, 1000, 50, Some((1000, 1000)));
        check(&none, 49, 50, None);
        check(&none, 0, 50, None);
        check(&none, -500, 50, None);
        let least = Fees { minimum_premium: Money(200), tiers: vec![tier(None, 1000)], ..Fees::default() };
        check(&least, 1000, 50, Some((800, 1000)));
        check(&least, 3300, 50, Some((3000, 3300)));
        let fixed = Fees { fixed: Money(900), ..Fees::default() };
        check(&fixed, 930, 50, None);
        check(&fixed, 950, 50, Some((50, 950)));
        // Half up: 15 % of 110 is 16.5.
        let rounding = Fees { tiers: vec![tier(None, 1500)], ..Fees::default() };
        check(&rounding, 126, 10, Some((100, 115)));
        check(&rounding, 127, 10, Some((110, 127)));
    }

    /// Rates on the whole price: the outlay jumps at the edge.
    #[test]
    fn whole_price_rates_jump() {
        let falling = Fees {
            tiers: vec![tier(Some(1000), 2000), tier(None, 1000)],
            charged_on: ChargedOn::WholePrice,
            ..Fees::default()
        };
        // 1000 costs 1200 and 1010 costs 1111: for 1150 one does best beyond the edge.
        check(&falling, 1150, 10, Some((1040, 1144)));
        check(&falling, 1105, 10, Some((920, 1104)));
        let rising = Fees { tiers: vec![tier(Some(1000), 1000), tier(None, 2000)], ..falling };
        check(&rising, 1150, 10, Some((1000, 1100)));
        check(&rising, 1212, 10, Some((1010, 1212)));
    }

    #[test]
    fn a_bid_within_the_worth() {
        let stands = Range { low: 1_572_520.6, middle: 2_182_670.2, high: 2_953_430.0, cover: 0.8 };
        assert_eq!(highest_outlay(&stands, 0.0), Money(2_182_670));
        assert_eq!(highest_outlay(&stands, 1.0), Money(1_572_520));
        assert_eq!(highest_outlay(&stands, USUAL_MARGIN), Money(1_877_595));
        assert_eq!(highest_outlay(&stands, 7.0), Money(1_572_520));
        assert_eq!(highest_outlay(&stands, f64::NAN), Money(1_572_520));
    }

    fn fees() -> impl Strategy<Value = Fees> {
        let edges = prop::collection::btree_set(1_i64..3_000_000, 0..4);
        let rates = prop::collection::vec(0_u32..=3000, 5);
        (edges, rates, any::<bool>(), 0_i64..100_000, 0_u32..=2500, 0_u32..=2500, 0_i64..100_000).prop_map(
            |(edges, rates, whole, minimum, tax_on_premium, tax_on_hammer, fixed)| {
                let ends = edges.into_iter().map(Some).chain([None]);
                Fees {
                    tiers: ends.zip(rates).map(|(end, rate)| tier(end, rate)).collect(),
                    charged_on: if whole { ChargedOn::WholePrice } else { ChargedOn::PartInTier },
                    minimum_premium: Money(minimum),
                    tax_on_premium: BasisPoints(tax_on_premium),
                    tax_on_hammer: BasisPoints(tax_on_hammer),
                    fixed: Money(fixed),
                }
            },
        )
    }

    proptest! {
        #[test]
        fn the_bid_keeps_the_limit_and_the_next_breaks_it(fees in fees(), limit in 0_i64..6_000_000, increment in 1_i64..20_000) {
            let (limit, increment) = (Money(limit), Money(increment));
            match top_bid(&fees, limit, increment).unwrap() {
                Some(bid) => {
                    prop_assert!(bid.all_in <= limit && bid.hammer.0 % increment.0 == 0 && bid.hammer > Money::ZERO);
                    prop_assert!(fees.outlay(bid.hammer + increment).all_in > limit);
                }
                None => prop_assert!(fees.outlay(increment).all_in > limit),
            }
        }

        /// Brute-force twin: every bid up to the limit is tried.
        #[test]
        fn no_higher_bid_keeps_the_limit(fees in fees(), limit in 0_i64..6_000_000) {
            let increment = 10_000;
            let best = (1..=limit / increment).rev().map(|steps| fees.outlay(Money(steps * increment))).find(|outlay| outlay.all_in.0 <= limit);
            prop_assert_eq!(top_bid(&fees, Money(limit), Money(increment)).unwrap(), best);
        }

        #[test]
        fn the_account_adds_up(fees in fees(), hammer in 0_i64..10_000_000) {
            let outlay = fees.outlay(Money(hammer));
            prop_assert_eq!(outlay.all_in, outlay.hammer + outlay.premium + outlay.tax_on_premium + outlay.tax_on_hammer + outlay.fixed);
            // Within a minor unit of the same in floating point, penny by penny of each part.
            if fees.charged_on == ChargedOn::PartInTier {
                let mut above = 0;
                let mut premium = 0.0;
                for tier in &fees.tiers {
                    let end = tier.up_to.map_or(i64::MAX, |end| end.0);
                    premium += (hammer.min(end) - above).max(0) as f64 * f64::from(tier.rate.0) / 10_000.0;
                    above = end;
                }
                let premium = premium.max(fees.minimum_premium.minor());
                prop_assert!((outlay.premium.minor() - premium).abs() <= 0.51);
            }
        }
    }
}
