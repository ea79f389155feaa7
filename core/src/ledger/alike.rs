//! Sales that look like one and the same: noticed and said, never merged unasked.

use std::collections::BTreeMap;

use crate::units::{Currency, Date, Money};
use crate::worksheet::{Sale, SaleKind};

/// What two sales have in common.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Common {
    /// The id: one is a copy of the other.
    Id,
    /// Date, price and kind.
    Deal,
    /// The source.
    Source,
}

impl Common {
    /// What is in common, as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Id => "the same entry",
            Self::Deal => "the same date, price and kind",
            Self::Source => "the same source",
        }
    }
}

/// Sales that are known, found by what makes two of them alike. Of several alike the first is given.
#[derive(Debug, Clone, Default)]
pub struct Known {
    ids: BTreeMap<String, usize>,
    deals: BTreeMap<(Date, Money, Currency, SaleKind), usize>,
    sources: BTreeMap<String, usize>,
}

impl Known {
    /// All of these, by their places.
    #[must_use]
    pub fn of(sales: &[Sale]) -> Self {
        let mut known = Self::default();
        for (place, sale) in sales.iter().enumerate() {
            known.add(place, sale);
        }
        known
    }

    /// One more, at a place.
    pub fn add(&mut self, place: usize, sale: &Sale) {
        if !sale.id.is_empty() {
            self.ids.entry(sale.id.clone()).or_insert(place);
        }
        if let Some(deal) = deal(sale) {
            self.deals.entry(deal).or_insert(place);
        }
        if let Some(source) = source(sale) {
            self.sources.entry(source).or_insert(place);
        }
    }

    /// The place of the first that is like a sale, and in what.
    #[must_use]
    pub fn like(&self, sale: &Sale) -> Option<(usize, Common)> {
        let by_id = self.ids.get(&sale.id).map(|place| (*place, Common::Id));
        let by_deal = || deal(sale).and_then(|deal| self.deals.get(&deal)).map(|place| (*place, Common::Deal));
        let by_source =
            || source(sale).and_then(|source| self.sources.get(&source)).map(|place| (*place, Common::Source));
        by_id.or_else(by_deal).or_else(by_source)
    }
}

fn deal(sale: &Sale) -> Option<(Date, Money, Currency, SaleKind)> {
    Some((sale.date.value()?, sale.price.value()?, sale.currency, sale.kind))
}

fn source(sale: &Sale) -> Option<String> {
    let words: Vec<String> = sale.source.split_whitespace().map(str::to_lowercase).collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// For each sale of a list that is like an earlier one: its place, the earlier one's, and in what.
#[must_use]
pub fn twins(sales: &[Sale]) -> Vec<(usize, usize, Common)> {
    let mut known = Known::default();
    let mut found = Vec::new();
    for (place, sale) in sales.iter().enumerate() {
        if let Some((earlier, common)) = known.like(sale) {
            found.push((place, earlier, common));
        }
        known.add(place, sale);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::worksheet::Entry;

    fn sale(id: &str, price: i64, source: &str) -> Sale {
        Sale {
            id: id.to_owned(),
            date: Date::parse("2025-08-23").into(),
            price: Entry::Read(Money(price)),
            source: source.to_owned(),
            ..Sale::default()
        }
    }

    #[test]
    fn notices_each_likeness() {
        let sales = [
            sale("a", 100, "Lot 41"),
            sale("b", 200, "lot  41 "),
            sale("c", 100, ""),
            sale("a", 300, ""),
            sale("d", 400, ""),
            Sale { kind: SaleKind::Dealer, ..sale("e", 100, "") },
            Sale { currency: Currency::parse("EUR").unwrap(), ..sale("f", 100, "") },
        ];
        assert_eq!(twins(&sales), [(1, 0, Common::Source), (2, 0, Common::Deal), (3, 0, Common::Id)]);
    }

    #[test]
    fn blanks_are_not_alike() {
        let blank = Sale::default();
        assert_eq!(twins(&[blank.clone(), blank]), []);
    }
}
