//! From the settings' fees to the top bid.

use serde::Serialize;

use crate::bid::{self, BasisPoints, ChargedOn, Fees, FeesError, Tier};
use crate::figure::{Amount, Figure};
use crate::market::range::Range;
use crate::units::Money;
use crate::worksheet::{Entry, PremiumStep, SaleFees, Settings};

/// Step between bids where none is given: fifty major units.
const USUAL_STEPS: i64 = 50;

/// The top bid with its account.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TopBid {
    /// Highest hammer price; nothing if even the first step is too much.
    pub hammer: Option<Money>,
    /// What the whole outlay may be.
    pub limit: Money,
    /// The whole outlay at the top bid.
    pub all_in: Money,
    /// How it came about.
    pub working: Figure,
}

/// A share as basis points, nothing where there is none; one outside 0 to 1 is made so large that
/// [`Fees::check`] refuses it.
fn points(share: &Entry<f64>) -> BasisPoints {
    let share = share.value().unwrap_or(0.0);
    if share < 0.0 { BasisPoints(u32::MAX) } else { BasisPoints(libm::round(share * 10_000.0) as u32) }
}

/// The fees of the room alone, as entered. The last step holds for every higher price, whatever end it has.
///
/// # Errors
/// [`FeesError`] if a step of the premium is unfinished or an amount or rate cannot be used: a premium that is half
/// entered is not one of nothing.
pub fn room_fees(fees: &SaleFees) -> Result<Fees, FeesError> {
    if let Some(tier) = fees.premium.iter().position(|step| step.rate.value().is_none()) {
        return Err(FeesError::NoRate { tier });
    }
    let last = fees.premium.len().saturating_sub(1);
    let tier = |(place, step): (usize, &PremiumStep)| {
        let up_to = step.up_to.value().filter(|_| place < last);
        Tier { up_to, rate: points(&step.rate) }
    };
    let room = Fees {
        tiers: fees.premium.iter().enumerate().map(tier).collect(),
        charged_on: if fees.on_whole_price { ChargedOn::WholePrice } else { ChargedOn::PartInTier },
        minimum_premium: fees.least_premium.value().unwrap_or_default(),
        tax_on_premium: points(&fees.tax_on_premium),
        tax_on_hammer: points(&fees.tax_on_hammer),
        fixed: Money::ZERO,
    };
    room.check().map(|()| room)
}

/// The highest bid at which the whole outlay stays within the worth less the margin.
///
/// # Errors
/// [`FeesError`] if a step of the premium, the step between bids, a rate or an amount cannot be used.
pub fn top_bid(settings: &Settings, stands: &Range) -> Result<TopBid, FeesError> {
    let mut fees = room_fees(&settings.fees)?;
    let fixed = settings.fees.fixed.value().unwrap_or_default();
    let transport = settings.fees.transport.value().unwrap_or_default();
    fees.fixed = fixed + transport;
    let margin = settings.margin.value().unwrap_or(bid::USUAL_MARGIN);
    let limit = bid::highest_outlay(stands, margin);
    let usual = Money(settings.currency.minor_per_major().saturating_mul(USUAL_STEPS));
    let step = settings.fees.increment.value().unwrap_or(usual);
    let outlay = bid::top_bid(&fees, limit, step)?;
    let line = |label: &'static str, amount: Money| Figure::new(label, Amount::Exact(amount));
    let parts = outlay.map_or_else(Vec::new, |outlay| {
        vec![
            line("Hammer price", outlay.hammer),
            line("Buyer's premium", outlay.premium),
            line("Tax on the premium", outlay.tax_on_premium),
            line("Tax on the hammer price", outlay.tax_on_hammer),
            line("Charges of the sale", fixed),
            line("Getting the car home", transport),
            line("Whole outlay", outlay.all_in),
            line("Limit: the worth less the margin", limit),
        ]
    });
    let working = Figure::new("Top bid", outlay.map_or(Amount::None, |outlay| Amount::Exact(outlay.hammer)))
        .noted("The highest bid, in steps between bids, whose whole outlay stays within the limit")
        .from_parts(parts);
    Ok(TopBid {
        hammer: outlay.map(|outlay| outlay.hammer),
        limit,
        all_in: outlay.map_or(Money::ZERO, |outlay| outlay.all_in),
        working,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stands() -> Range {
        Range { low: 800_000.0, middle: 1_000_000.0, high: 1_200_000.0, cover: 0.8 }
    }

    fn step(up_to: Option<i64>, rate: Entry<f64>) -> PremiumStep {
        PremiumStep { up_to: up_to.map_or(Entry::Empty, |top| Entry::Read(Money(top))), rate }
    }

    #[track_caller]
    fn bid(premium: Vec<PremiumStep>, expected: Result<i64, FeesError>) {
        let fees = SaleFees { premium, ..SaleFees::default() };
        let settings = Settings { fees, ..Settings::default() };
        assert_eq!(top_bid(&settings, &stands()).map(|bid| bid.hammer.unwrap().0), expected);
    }

    #[test]
    fn an_unfinished_step_is_no_reason_to_bid_more() {
        let whole = || step(None, Entry::Read(0.2));
        bid(vec![whole()], Ok(750_000));
        bid(vec![whole(), PremiumStep::default()], Err(FeesError::NoRate { tier: 1 }));
        bid(vec![step(Some(10_000), Entry::Unread("ten".to_owned())), whole()], Err(FeesError::NoRate { tier: 0 }));
        bid(vec![step(None, Entry::Read(0.1)), whole()], Err(FeesError::TierEnd { tier: 0 }));
        bid(vec![step(Some(0), Entry::Read(0.1)), whole()], Err(FeesError::TierOutOfOrder { tier: 0 }));
        bid(vec![step(None, Entry::Read(-0.1))], Err(FeesError::RateAboveWhole));
        bid(vec![step(Some(10_000), Entry::Read(0.2))], Ok(750_000));
    }
}
