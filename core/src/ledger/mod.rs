//! The ledger: sales that all worksheets share. A worksheet uses copies, so that what was sealed or printed
//! stays as it was; a copy keeps the id, and where it has come to differ that is said.
//!
//! [`csv`] takes tables of text apart and puts them together; [`table`], [`heading`] and [`cells`] say what is in
//! one; [`import`] reads it as sales and [`export`] writes sales as one; [`alike`] notices sales entered twice.

pub mod alike;
pub mod cells;
pub mod csv;
pub mod export;
pub mod heading;
pub mod import;
pub mod table;

use std::sync::Arc;

use serde::Serialize;

use crate::ordered;
use crate::restore::{Unread, record};
use crate::units::NumberStyle;
use crate::worksheet::{Entry, Sale, tell_apart};

use heading::Heading;

/// The ledger format this build writes.
pub const FORMAT: u32 = 1;

/// The sales that all worksheets share.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Ledger {
    /// Format of this data, [`FORMAT`].
    pub format: u32,
    /// The sales, in the order in which they were kept.
    pub sales: Vec<Sale>,
    /// What could not be read when the ledger was opened, kept as it was.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unread: Vec<Unread>,
}

record! { Ledger { format, sales, unread } then Ledger::tell_apart }

impl Default for Ledger {
    fn default() -> Self {
        Self { format: FORMAT, sales: Vec::new(), unread: Vec::new() }
    }
}

impl Ledger {
    fn tell_apart(&mut self) {
        tell_apart(&mut self.sales);
    }

    /// The place of the sale with an id.
    #[must_use]
    pub fn place(&self, id: &str) -> Option<usize> {
        self.sales.iter().position(|sale| sale.id == id)
    }

    /// The sale with an id.
    #[must_use]
    pub fn sale(&self, id: &str) -> Option<&Sale> {
        self.sales.iter().find(|sale| sale.id == id)
    }

    /// Keeps a sale in the place of the one with its id, or as the last.
    pub fn keep(&mut self, sale: Sale) {
        match self.sales.iter_mut().find(|known| known.id == sale.id) {
            Some(known) => *known = sale,
            None => self.sales.push(sale),
        }
    }

    /// Takes a sale out; gives it and its place.
    pub fn take(&mut self, id: &str) -> Option<(usize, Sale)> {
        let place = self.place(id)?;
        Some((place, self.sales.remove(place)))
    }

    /// Puts a sale back where it was.
    pub fn put_back(&mut self, place: usize, sale: Sale) {
        self.sales.insert(place.min(self.sales.len()), sale);
    }

    /// What a search looks through.
    #[must_use]
    pub fn searched(&self) -> Searched {
        let mut sales: Vec<&Sale> = self.sales.iter().rev().collect();
        let date = |sale: &&Sale| sale.date.value();
        // Stable: of one day, the last kept comes first.
        ordered::sort(&mut sales, |a, b| date(a).is_some().cmp(&date(b).is_some()).then_with(|| date(b).cmp(&date(a))));
        Searched(sales.into_iter().map(|sale| (Arc::from(sale.id.as_str()), words_of(sale))).collect())
    }
}

/// The sales of a ledger as a search goes through them: latest first, those without a date before them; the id of each with
/// all that may be searched for. Made once for many searches: it takes longer than one of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Searched(Vec<(Arc<str>, String)>);

impl Searched {
    /// Ids of the sales that have every one of the words.
    #[must_use]
    pub fn find(&self, words: &str) -> Vec<Arc<str>> {
        let words = words.to_lowercase();
        let words: Vec<&str> = words.split_whitespace().collect();
        let found = self.0.iter().filter(|(_, text)| words.iter().all(|word| text.contains(word)));
        found.map(|(id, _)| Arc::clone(id)).collect()
    }
}

fn words_of(sale: &Sale) -> String {
    let date = sale.date.read().map(ToString::to_string).unwrap_or_default();
    let price = sale.price.value().map(|price| sale.currency.show_plain(price, NumberStyle::POINT)).unwrap_or_default();
    let unread = [sale.date.unread(), sale.price.unread()].map(Option::unwrap_or_default);
    let parts = [&sale.source, &sale.departures, sale.kind.name(), &date, &price, sale.currency.code()];
    parts.into_iter().chain(unread).collect::<Vec<_>>().join("\n").to_lowercase()
}

/// A worksheet's sale as the ledger keeps it: without this worksheet's decision about it.
#[must_use]
pub fn kept(sale: &Sale) -> Sale {
    Sale { left_out: false, reason: String::new(), ..sale.clone() }
}

/// A worksheet's copy brought up to date with the ledger's sale; the worksheet's decision about it stays.
#[must_use]
pub fn refreshed(copy: &Sale, kept: &Sale) -> Sale {
    Sale { left_out: copy.left_out, reason: copy.reason.clone(), ..kept.clone() }
}

/// In what a worksheet's copy differs from the ledger's sale.
#[must_use]
pub fn differences(copy: &Sale, kept: &Sale) -> Vec<Heading> {
    let differ = |heading: &Heading| match heading {
        Heading::Date => copy.date != kept.date,
        Heading::Price => copy.price != kept.price,
        Heading::Currency => copy.currency != kept.currency,
        Heading::Kind => copy.kind != kept.kind,
        Heading::Mileage => copy.mileage != kept.mileage,
        Heading::Condition => copy.condition != kept.condition,
        Heading::ConditionKnown => copy.condition_known != kept.condition_known,
        Heading::Departures => copy.departures != kept.departures,
        Heading::Source => copy.source != kept.source,
        Heading::LeftOut | Heading::Reason | Heading::Id => false,
    };
    Heading::ALL.into_iter().filter(differ).collect()
}

/// A sale in another currency: the same number of it, whatever minor units the two have. A price with more
/// decimals than the new currency has is kept as text.
#[must_use]
pub fn in_currency(sale: &Sale, currency: crate::units::Currency) -> Sale {
    let (old, new) = (sale.currency.minor_per_major(), currency.minor_per_major());
    let price = match &sale.price {
        Entry::Read(price) => {
            let scaled = i128::from(price.0) * i128::from(new);
            let whole = (scaled % i128::from(old) == 0).then(|| i64::try_from(scaled / i128::from(old)).ok()).flatten();
            match whole.map(crate::units::Money).filter(|price| *price <= crate::units::Money::MOST) {
                Some(price) => Entry::Read(price),
                None => Entry::Unread(sale.currency.show_plain(*price, NumberStyle::POINT)),
            }
        }
        other => other.clone(),
    };
    Sale { currency, price, ..sale.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::restore::{STORED, restore};
    use crate::units::{Currency, Date, Money};
    use crate::worksheet::SaleKind;

    fn sale(id: &str, date: &str, source: &str) -> Sale {
        Sale { id: id.to_owned(), date: Date::parse(date).into(), source: source.to_owned(), ..Sale::default() }
    }

    fn ledger() -> Ledger {
        let mut ledger = Ledger::default();
        ledger.keep(sale("a", "2025-08-23", "Harrowmere lot 41"));
        ledger.keep(Sale { kind: SaleKind::Dealer, ..sale("b", "2026-03-01", "Brackenford") });
        ledger.keep(sale("c", "", "undated"));
        ledger.keep(sale("d", "2026-03-01", "Penwick Quay"));
        ledger
    }

    #[test]
    fn finds_by_words_latest_first() {
        let ledger = ledger();
        let found = |words| -> Vec<&str> {
            let found = ledger.searched().find(words);
            found.iter().map(|id| ledger.sale(id).unwrap().id.as_str()).collect()
        };
        assert_eq!(found(""), ["c", "d", "b", "a"]);
        assert_eq!(found("LOT harrow"), ["a"]);
        assert_eq!(found("harrowmere 41 private"), ["a"]);
        assert_eq!(found("2026"), ["d", "b"]);
        assert_eq!(found("dealer gbp"), ["b"]);
        assert_eq!(found("lot dealer"), Vec::<&str>::new());
    }

    #[test]
    fn takes_out_and_puts_back() {
        let mut changed = ledger();
        let (place, sale) = changed.take("b").unwrap();
        assert_eq!(changed.sales.len(), 3);
        changed.put_back(place, sale);
        assert_eq!(changed, ledger());
        assert_eq!(changed.take("x"), None);
    }

    #[test]
    fn a_copy_keeps_the_decision_of_its_worksheet() {
        let copy = Sale { left_out: true, reason: "another engine".to_owned(), ..sale("a", "2025-08-23", "Lot 41") };
        let entry = Sale { price: Money(100).into(), ..kept(&copy) };
        assert!(!entry.left_out && entry.reason.is_empty());
        assert_eq!(differences(&copy, &entry), [Heading::Price]);
        let fresh = refreshed(&copy, &entry);
        assert!(fresh.left_out && fresh.reason == "another engine");
        assert_eq!(differences(&fresh, &entry), []);
    }

    #[test]
    fn one_bad_value_sinks_nothing() {
        let text = r#"{"format":1,"sales":[{"id":"a","kind":"barter","price":1200},{"id":"b","price":"about 9"}]}"#;
        let (ledger, unread) = restore::<Ledger>(text, FORMAT).unwrap();
        assert_eq!(ledger.sales.len(), 2);
        assert_eq!(ledger.sales[0].price, Entry::Read(Money(1200)));
        assert_eq!(ledger.sales[1].price, Entry::Unread("about 9".to_owned()));
        assert_eq!(unread.len(), 1);
        let again = serde_json::to_string(&ledger).unwrap();
        assert_eq!(restore::<Ledger>(&again, FORMAT), Ok((ledger, Vec::new())));
    }

    #[test]
    fn ten_thousand_sales_can_be_stored_and_read_again() {
        let ledger = Ledger {
            sales: vec![sale("abcdefghijkmnpqr", "2025-08-23", "Harrowmere summer sale, lot 41"); 10_000],
            ..Ledger::default()
        };
        assert!(serde_json::to_string(&ledger).unwrap().len() < STORED.bytes * 9 / 10);
    }

    #[test]
    fn another_currency_keeps_the_number() {
        let currency = |code| Currency::parse(code).unwrap();
        let pounds = Sale { price: Money(1_280_000).into(), ..Sale::default() };
        let yen = in_currency(&pounds, currency("JPY"));
        assert_eq!((yen.price.clone(), yen.currency.code()), (Entry::Read(Money(12_800)), "JPY"));
        assert_eq!(in_currency(&yen, currency("GBP")), pounds);
        let odd = Sale { price: Money(1_280_050).into(), ..Sale::default() };
        assert_eq!(in_currency(&odd, currency("JPY")).price, Entry::Unread("12800.5".to_owned()));
        assert_eq!(in_currency(&Sale::default(), currency("JPY")).price, Entry::Empty);
    }
}
