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

record! { Settings { currency, labour_rate, exchange, spread, rates, fees, margin } }
