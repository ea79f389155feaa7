//! What the reckoning assumes; every figure here may be changed by the person.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Entry;
use crate::market::rates::{Column, Spread};
use crate::restore::record;
use crate::units::{Currency, Money};

/// The person's own rate for one column of the grid.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct RateChoice {
    /// Rate on the logarithm of the price, a unit of the column.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub mean: Entry<f64>,
    /// How sure it is: its standard deviation.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub spread: Entry<f64>,
}

record! { RateChoice { mean, spread } }

/// One step of a buyer's premium.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct PremiumStep {
    /// Hammer price up to which the rate holds; empty on the last step.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub up_to: Entry<Money>,
    /// Rate, as a share of the price: 0.15 for 15 %.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub rate: Entry<f64>,
}

record! { PremiumStep { up_to, rate } }

/// What the sale room adds to the hammer price, and what buying costs beside.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct SaleFees {
    /// Steps of the buyer's premium, rising.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub premium: Vec<PremiumStep>,
    /// The rate of the step reached applies to the whole price, not to the part within the step.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub on_whole_price: bool,
    /// Least premium.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub least_premium: Entry<Money>,
    /// Tax on the premium, as a share.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub tax_on_premium: Entry<f64>,
    /// Tax on the hammer price, as a share.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub tax_on_hammer: Entry<f64>,
    /// Fixed charges of the sale.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub fixed: Entry<Money>,
    /// Getting the car home.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub transport: Entry<Money>,
    /// Step between bids.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub increment: Entry<Money>,
}

record! { SaleFees {
    premium, on_whole_price, least_premium, tax_on_premium, tax_on_hammer, fixed, transport, increment,
} }

/// Rates of exchange that can be.
pub const RATES: core::ops::RangeInclusive<f64> = 1e-6..=1e6;

/// What the reckoning assumes.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Settings {
    /// Currency of the worksheet.
    pub currency: Currency,
    /// Price of an hour's work; empty, the type sheet's.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub labour_rate: Entry<Money>,
    /// Worksheet currency for one unit of another: of sales, and of the type sheet's costs.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub exchange: BTreeMap<Currency, Entry<f64>>,
    /// How much comparable cars are expected to differ.
    pub spread: Spread,
    /// The person's own rates, by column.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub rates: BTreeMap<Column, RateChoice>,
    /// What the sale room adds.
    pub fees: SaleFees,
    /// Where between the middle (0) and the low end (1) of the worth the whole outlay must stay; empty, 0.5.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub margin: Entry<f64>,
}

impl Settings {
    /// Minor units of the worksheet's currency for one of another; nothing without a rate of exchange within
    /// [`RATES`].
    #[must_use]
    pub fn per_minor(&self, of: Currency) -> Option<f64> {
        if of == self.currency {
            return Some(1.0);
        }
        let rate = self.exchange.get(&of).and_then(Entry::value).filter(|rate| RATES.contains(rate))?;
        Some(rate * Money(self.currency.minor_per_major()).minor() / Money(of.minor_per_major()).minor())
    }
}

record! { Settings { currency, labour_rate, exchange, spread, rates, fees, margin } }

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(of: &str, rate: Entry<f64>, expected: Option<f64>) {
        let of = Currency::parse(of).unwrap();
        let settings = Settings { exchange: [(of, rate)].into(), ..Settings::default() };
        assert_eq!(settings.per_minor(of), expected);
    }

    #[test]
    fn only_a_rate_that_can_be_is_used() {
        let own = Settings::default().currency;
        check(own.code(), Entry::Empty, Some(1.0));
        check("CHF", Entry::Read(0.8), Some(0.8));
        // A yen is a minor unit, a pound a hundred.
        check("JPY", Entry::Read(0.005), Some(0.5));
        check("KWD", Entry::Read(2.5), Some(0.25));
        for rate in [0.0, -1.0, f64::INFINITY, f64::NAN, 1e7] {
            check("JPY", Entry::Read(rate), None);
        }
        check("JPY", Entry::Empty, None);
        check("JPY", Entry::Unread("half".to_owned()), None);
    }
}
