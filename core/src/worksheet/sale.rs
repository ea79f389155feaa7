//! A comparable sale.

use std::collections::BTreeSet;

use serde::Serialize;

use super::Entry;
use crate::market::imputed::ScoreSource;
use crate::restore::{record, words};
use crate::units::{Currency, Date, Length, Money};

/// How the price came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum SaleKind {
    /// Between private people: the reference.
    #[default]
    Private,
    /// From a dealer.
    Dealer,
    /// At auction, the hammer price: the settings' premium is added.
    AuctionHammer,
    /// At auction, with the premium in the price.
    AuctionWithPremium,
    /// Asked, not known to have been paid.
    Asking,
}

words! { SaleKind { Private, Dealer, AuctionHammer, AuctionWithPremium, Asking } }

impl SaleKind {
    /// The kind as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Private => "private",
            Self::Dealer => "dealer",
            Self::AuctionHammer => "auction, hammer price",
            Self::AuctionWithPremium => "auction, with premium",
            Self::Asking => "asking only",
        }
    }
}

/// A comparable sale, as entered.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Sale {
    /// Identifies the sale.
    pub id: String,
    /// When it was sold, or seen on offer.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub date: Entry<Date>,
    /// Price as published, in `currency`.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub price: Entry<Money>,
    /// Currency of the price.
    pub currency: Currency,
    /// How the price came about.
    pub kind: SaleKind,
    /// Mileage, if known.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub mileage: Entry<Length>,
    /// Condition on the worksheet's score, 0 to 100.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub condition: Entry<f64>,
    /// How the condition is known.
    pub condition_known: ScoreSource,
    /// How that car departed from standard.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub departures: String,
    /// Where the sale is known from.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub source: String,
    /// Whether it is left out of the reckoning.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub left_out: bool,
    /// Why it is left out, or kept although it looks odd.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub reason: String,
}

record! { Sale {
    id, date, price, currency, kind, mileage, condition, condition_known, departures, source, left_out, reason,
} }

impl Default for Sale {
    fn default() -> Self {
        Self {
            id: String::new(),
            date: Entry::Empty,
            price: Entry::Empty,
            currency: Currency::default(),
            kind: SaleKind::default(),
            mileage: Entry::Empty,
            condition: Entry::Empty,
            condition_known: ScoreSource::default(),
            departures: String::new(),
            source: String::new(),
            left_out: false,
            reason: String::new(),
        }
    }
}

impl Sale {
    /// Whether another says the same apart from words, of which nothing is reckoned.
    #[must_use]
    pub fn counts_as(&self, other: &Self) -> bool {
        let Self { date, price, currency, kind, mileage, condition, condition_known, left_out, .. } = self;
        *date == other.date
            && *price == other.price
            && *currency == other.currency
            && *kind == other.kind
            && *mileage == other.mileage
            && *condition == other.condition
            && *condition_known == other.condition_known
            && *left_out == other.left_out
    }
}

/// Gives each sale from elsewhere an id of its own where it has none, or another's: a sale is found by it. The same
/// sales are always given the same ids.
pub(crate) fn tell_apart(sales: &mut [Sale]) {
    let given: BTreeSet<String> = sales.iter().map(|sale| sale.id.clone()).collect();
    let mut met = BTreeSet::new();
    let mut free = (1..).map(|number: usize| format!("sale-{number}")).filter(|id| !given.contains(id));
    for sale in sales {
        if sale.id.is_empty() || !met.insert(sale.id.clone()) {
            sale.id = free.next().unwrap_or_default();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn become_apart(ids: &[&str], want: &[&str]) {
        let mut sales: Vec<Sale> = ids.iter().map(|id| Sale { id: (*id).to_owned(), ..Sale::default() }).collect();
        tell_apart(&mut sales);
        assert_eq!(sales.iter().map(|sale| sale.id.as_str()).collect::<Vec<_>>(), want);
    }

    #[test]
    fn sales_without_an_id_of_their_own_are_given_one() {
        become_apart(&["a", "b"], &["a", "b"]);
        become_apart(&["", "", ""], &["sale-1", "sale-2", "sale-3"]);
        become_apart(&["a", "a", "sale-1", ""], &["a", "sale-2", "sale-1", "sale-3"]);
    }

    #[test]
    fn a_file_without_ids_is_read_with_them() {
        let (read, _) = crate::restore::restore::<crate::worksheet::Worksheet>(r#"{"sales": [{}, {}]}"#, 1).unwrap();
        assert_eq!(read.sales.iter().map(|sale| sale.id.as_str()).collect::<Vec<_>>(), ["sale-1", "sale-2"]);
    }
}
