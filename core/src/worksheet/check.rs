//! What is wrong in a worksheet, place by place: what the screens show beside the fields and the example
//! program prints.

use crate::phrase;
use crate::phrase::{Phrase, Say, display, key};
use crate::units::number::may_part_thousands;
use serde::{Serialize, Serializer};

use super::settings::RATES;
use super::{Entry, Sale, Worksheet};
use crate::sheet::TypeSheet;
use crate::units::{Currency, Date, Length, Money, Unit};

/// What a field wants.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)] // `fmt` says each in full
pub enum Want {
    Date,
    Year,
    Amount,
    Distance,
    Score,
    Share,
    Number,
    Minutes,
}

impl Want {
    /// Whether a number is wanted in which thousands may be parted.
    const fn is_number(self) -> bool {
        !matches!(self, Self::Date | Self::Year)
    }
}

display!(Want);

impl Say for Want {
    fn phrase(&self) -> Phrase {
        Phrase::from(match self {
            Self::Date => "a date, as in 2026-10-04",
            Self::Year => "a year, as in 1967",
            Self::Amount => "an amount of money, as in 1250.50",
            Self::Distance => "a distance, as in 62000",
            Self::Score => "a score from 0 to 100",
            Self::Share => "a share from 0 to 100 %",
            Self::Number => "a number, as in 1.25",
            Self::Minutes => "a number of minutes, as in 10",
        })
    }
}

/// What is wrong.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    /// The text is not what the field wants.
    Unread(String, Want),
    /// The value lies outside what it can be.
    Outside {
        /// Least that it can be, as shown.
        low: String,
        /// Most that it can be, as shown.
        high: String,
    },
    /// The type sheet has nothing with this id.
    Unknown(&'static str, String),
    /// Low, likely and high do not rise, or are not all there.
    NotRising,
    /// Steps of the premium do not rise.
    StepsNotRising,
    /// A sale is left out without a reason.
    NoReason,
    /// A sale in another currency has no rate of exchange.
    NoExchange(String),
    /// A value that could not be read on opening.
    KeptText {
        /// What was there.
        text: String,
        /// What is wrong with it.
        why: String,
    },
}

display!(Kind);

impl Say for Kind {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Unread(text, want) if want.is_number() && may_part_thousands(text) => {
                phrase!("“{0}” can be read in two ways; write it without a sign between thousands", text)
            }
            Self::Unread(text, want) => phrase!("“{0}” cannot be read; write {1}", text, want),
            Self::Outside { low, high } => phrase!("should lie between {0} and {1}", low, high),
            Self::Unknown(what, id) => {
                phrase!("the type sheet has no {0} “{1}”; it is kept, and not counted", what, id)
            }
            Self::NotRising => phrase!("give all three of low, likely and high, in rising order"),
            Self::StepsNotRising => {
                phrase!("give each step but the last a rising price up to which it holds, and each a rate")
            }
            Self::NoReason => phrase!("say why this sale is left out; the report shows it"),
            Self::NoExchange(code) => phrase!("give the rate of exchange for {0} in the settings", code),
            Self::KeptText { text, why } => {
                phrase!("could not be read on opening ({0}); kept as it was: {1}", why, text)
            }
        }
    }
}

/// Something wrong at a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Where, as in `car.year` or `sales[2].price`.
    pub place: String,
    /// What.
    pub kind: Kind,
}

/// Its place and its sentence.
impl Serialize for Problem {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map([("place", self.place.clone()), ("problem", self.kind.to_string())])
    }
}

display!(Problem);

impl Say for Problem {
    fn phrase(&self) -> Phrase {
        phrase!("{0}: {1}", self.place, self.kind)
    }
}

/// Years in which a car can have been made.
pub const YEARS: core::ops::RangeInclusive<i32> = 1885..=2100;

/// Furthest that a car can have gone: three million kilometres.
pub const FURTHEST: Length = Length(3.0e9);

/// Collects problems under a place.
struct Collector {
    problems: Vec<Problem>,
}

impl Collector {
    fn add(&mut self, place: String, kind: Kind) {
        self.problems.push(Problem { place, kind });
    }

    /// An entry that is unread, or whose value `outside` finds fault with.
    fn entry<T>(&mut self, place: &str, entry: &Entry<T>, want: Want, outside: impl FnOnce(&T) -> Option<Kind>) {
        match entry {
            Entry::Empty => {}
            Entry::Unread(text) => self.add(place.to_owned(), Kind::Unread(text.clone(), want)),
            Entry::Read(value) => {
                if let Some(kind) = outside(value) {
                    self.add(place.to_owned(), kind);
                }
            }
        }
    }

    fn amount(&mut self, place: &str, entry: &Entry<Money>, currency: Currency) {
        self.entry(place, entry, Want::Amount, |amount| {
            let outside = *amount < Money::ZERO || *amount > Money::MOST;
            let high =
                || format!("{} million {}", Money::MOST.0 / currency.minor_per_major() / 1_000_000, currency.code());
            outside.then(|| Kind::Outside { low: "0".to_owned(), high: high() })
        });
    }

    fn date(&mut self, place: &str, entry: &Entry<Date>) {
        self.entry(place, entry, Want::Date, |date| {
            let outside = !YEARS.contains(&date.year());
            outside.then(|| Kind::Outside { low: "1885".to_owned(), high: "2100".to_owned() })
        });
    }

    fn distance(&mut self, place: &str, entry: &Entry<Length>) {
        self.entry(place, entry, Want::Distance, |distance| {
            let outside = !(0.0..=FURTHEST.0).contains(&distance.0);
            outside
                .then(|| Kind::Outside { low: "0".to_owned(), high: format!("{:.0} km", FURTHEST.to(Unit::Kilometre)) })
        });
    }

    fn number(&mut self, place: &str, entry: &Entry<f64>, want: Want, low: f64, high: f64) {
        self.entry(place, entry, want, |number| {
            let outside = !(low..=high).contains(number);
            // A share is typed in per cent.
            let typed = |limit: f64| match want {
                Want::Share => format!("{} %", limit * 100.0),
                _ => limit.to_string(),
            };
            outside.then(|| Kind::Outside { low: typed(low), high: typed(high) })
        });
    }
}

/// Everything wrong in a worksheet, in the order of its parts. None of it stops the reckoning: what is wrong
/// is left out of it, and said.
#[must_use]
pub fn check(worksheet: &Worksheet, sheet: &TypeSheet) -> Vec<Problem> {
    let mut found = Collector { problems: Vec::new() };
    for unread in &worksheet.unread {
        let kind = Kind::KeptText { text: unread.text.clone(), why: unread.why.clone() };
        found.add(unread.place.clone(), kind);
    }
    car(&mut found, worksheet);
    ids(&mut found, worksheet, sheet);
    jobs(&mut found, worksheet);
    sales(&mut found, worksheet);
    settings(&mut found, worksheet, sheet);
    found.problems
}

fn car(found: &mut Collector, worksheet: &Worksheet) {
    found.entry("car.year", &worksheet.car.year, Want::Year, |year| {
        let outside = !YEARS.contains(year);
        outside.then(|| Kind::Outside { low: YEARS.start().to_string(), high: YEARS.end().to_string() })
    });
    found.distance("car.mileage", &worksheet.car.mileage);
    found.amount("car.asked", &worksheet.car.asked, worksheet.settings.currency);
    found.date("visit.date", &worksheet.visit.date);
    found.number("visit.minutes", &worksheet.visit.minutes, Want::Minutes, 1.0, 1440.0);
}

fn ids(found: &mut Collector, worksheet: &Worksheet, sheet: &TypeSheet) {
    for (id, finding) in &worksheet.findings {
        let Some(check) = sheet.check(id) else {
            found.add(format!("findings.{id}"), Kind::Unknown(key("check"), id.clone()));
            continue;
        };
        for sign in finding.signs.keys() {
            if !check.signs.iter().any(|known| known.id == *sign) {
                found.add(format!("findings.{id}.signs.{sign}"), Kind::Unknown(key("sign"), sign.clone()));
            }
        }
    }
    for id in worksheet.rulings.keys().filter(|id| sheet.fault(id).is_none()) {
        found.add(format!("rulings.{id}"), Kind::Unknown(key("fault"), id.clone()));
    }
    for id in worksheet.readings.keys().filter(|id| !sheet.readings.iter().any(|spec| spec.id == **id)) {
        found.add(format!("readings.{id}"), Kind::Unknown(key("reading"), id.clone()));
    }
    for id in worksheet.departures.keys().filter(|id| !sheet.departures.iter().any(|known| known.id == **id)) {
        found.add(format!("departures.{id}"), Kind::Unknown(key("departure"), id.clone()));
    }
    for id in worksheet.jobs.keys().filter(|id| sheet.job(id).is_none()) {
        found.add(format!("jobs.{id}"), Kind::Unknown(key("job"), id.clone()));
    }
}

fn jobs(found: &mut Collector, worksheet: &Worksheet) {
    for (id, choice) in &worksheet.jobs {
        let currency = worksheet.settings.currency;
        found.amount(&format!("jobs.{id}.low"), &choice.low, currency);
        found.amount(&format!("jobs.{id}.likely"), &choice.likely, currency);
        found.amount(&format!("jobs.{id}.high"), &choice.high, currency);
        let entries = [&choice.low, &choice.likely, &choice.high];
        if entries.iter().all(|entry| entry.is_empty()) || entries.iter().any(|entry| entry.unread().is_some()) {
            continue;
        }
        let rising = matches!(
            entries.map(Entry::value),
            [Some(low), Some(likely), Some(high)] if low <= likely && likely <= high
        );
        if !rising {
            found.add(format!("jobs.{id}"), Kind::NotRising);
        }
    }
}

/// What is wrong in a sale by itself, at a place such as `ledger`.
#[must_use]
pub fn check_sale(place: &str, sale: &Sale) -> Vec<Problem> {
    let mut found = Collector { problems: Vec::new() };
    one_sale(&mut found, place, sale);
    found.problems
}

fn one_sale(found: &mut Collector, place: &str, sale: &Sale) {
    found.date(&format!("{place}.date"), &sale.date);
    found.amount(&format!("{place}.price"), &sale.price, sale.currency);
    found.distance(&format!("{place}.mileage"), &sale.mileage);
    found.number(&format!("{place}.condition"), &sale.condition, Want::Score, 0.0, 100.0);
}

fn sales(found: &mut Collector, worksheet: &Worksheet) {
    let settings = &worksheet.settings;
    for (place, sale) in worksheet.sales.iter().enumerate() {
        one_sale(found, &format!("sales[{place}]"), sale);
        if sale.left_out && sale.reason.trim().is_empty() {
            found.add(format!("sales[{place}].reason"), Kind::NoReason);
        }
        let foreign = sale.currency != settings.currency;
        if foreign && settings.exchange.get(&sale.currency).and_then(Entry::value).is_none() {
            found.add(format!("sales[{place}].currency"), Kind::NoExchange(sale.currency.code().to_owned()));
        }
    }
    for (place, receipt) in worksheet.receipts.iter().enumerate() {
        found.date(&format!("receipts[{place}].date"), &receipt.date);
        found.amount(&format!("receipts[{place}].cost"), &receipt.cost, settings.currency);
    }
}

fn settings(found: &mut Collector, worksheet: &Worksheet, sheet: &TypeSheet) {
    let settings = &worksheet.settings;
    let priced = settings.exchange.get(&sheet.currency).and_then(Entry::value).is_some();
    if sheet.currency != settings.currency && !priced && !sheet.jobs.is_empty() {
        let place = format!("settings.exchange.{}", sheet.currency.code());
        found.add(place, Kind::NoExchange(sheet.currency.code().to_owned()));
    }
    found.amount("settings.labour-rate", &settings.labour_rate, settings.currency);
    for (currency, rate) in &settings.exchange {
        found.number(
            &format!("settings.exchange.{}", currency.code()),
            rate,
            Want::Number,
            *RATES.start(),
            *RATES.end(),
        );
    }
    for (column, rate) in &settings.rates {
        let place = format!("settings.rates.{}", column.name());
        found.number(&format!("{place}.mean"), &rate.mean, Want::Number, -1.0, 1.0);
        found.number(&format!("{place}.spread"), &rate.spread, Want::Number, 1e-6, 1.0);
    }
    found.number("settings.margin", &settings.margin, Want::Share, 0.0, 1.0);
    let fees = &settings.fees;
    for (place, step) in fees.premium.iter().enumerate() {
        found.amount(&format!("settings.fees.premium[{place}].up-to"), &step.up_to, settings.currency);
        found.number(&format!("settings.fees.premium[{place}].rate"), &step.rate, Want::Share, 0.0, 1.0);
    }
    let tops: Vec<Option<Money>> = fees.premium.iter().map(|step| step.up_to.value()).collect();
    let (last, firsts) = tops.split_last().map_or((None, [].as_slice()), |(last, firsts)| (*last, firsts));
    let rising = firsts.iter().all(Option::is_some)
        && firsts.is_sorted_by(|low, high| low < high)
        && last.is_none_or(|last| firsts.iter().flatten().all(|top| *top < last));
    if !rising || fees.premium.iter().any(|step| step.rate.is_empty()) {
        found.add("settings.fees.premium".to_owned(), Kind::StepsNotRising);
    }
    found.amount("settings.fees.least-premium", &fees.least_premium, settings.currency);
    found.number("settings.fees.tax-on-premium", &fees.tax_on_premium, Want::Share, 0.0, 1.0);
    found.number("settings.fees.tax-on-hammer", &fees.tax_on_hammer, Want::Share, 0.0, 1.0);
    found.amount("settings.fees.fixed", &fees.fixed, settings.currency);
    found.amount("settings.fees.transport", &fees.transport, settings.currency);
    found.amount("settings.fees.increment", &fees.increment, settings.currency);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::worksheet::settings::PremiumStep;
    use crate::worksheet::{Finding, JobChoice};

    fn said(worksheet: &Worksheet) -> Vec<String> {
        check(worksheet, &TypeSheet::default()).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_blank_worksheet_has_no_problems() {
        assert_eq!(said(&Worksheet::default()), Vec::<String>::new());
    }

    #[test]
    fn says_where_and_how_to_mend_it() {
        let mut worksheet = Worksheet::default();
        worksheet.car.year = Entry::Unread("sixties".to_owned());
        worksheet.car.asked = Entry::Read(Money(-5));
        worksheet.findings.insert("gone".to_owned(), Finding::default());
        worksheet.jobs.insert("brakes".to_owned(), JobChoice { low: Entry::Read(Money(5)), ..JobChoice::default() });
        worksheet.sales.push(Sale { condition: Entry::Read(101.0), left_out: true, ..Sale::default() });
        // A yen has no minor units.
        let yen = Currency::parse("JPY").unwrap();
        worksheet.sales.push(Sale { price: Entry::Read(Money(i64::MAX)), currency: yen, ..Sale::default() });
        worksheet.settings.exchange.insert(yen, Entry::Read(0.005));
        assert_eq!(
            said(&worksheet),
            [
                "car.year: “sixties” cannot be read; write a year, as in 1967",
                "car.asked: should lie between 0 and 100 million GBP",
                "findings.gone: the type sheet has no check “gone”; it is kept, and not counted",
                "jobs.brakes: the type sheet has no job “brakes”; it is kept, and not counted",
                "jobs.brakes: give all three of low, likely and high, in rising order",
                "sales[0].condition: should lie between 0 and 100",
                "sales[0].reason: say why this sale is left out; the report shows it",
                "sales[1].price: should lie between 0 and 10000 million JPY",
            ]
        );
    }

    #[test]
    fn steps_of_the_premium_rise_and_the_last_may_be_open() {
        let step = |up_to: Option<i64>| PremiumStep {
            up_to: up_to.map_or(Entry::Empty, |top| Entry::Read(Money(top))),
            rate: Entry::Read(0.1),
        };
        let mut worksheet = Worksheet::default();
        for (steps, fine) in [
            (vec![step(Some(10)), step(Some(20)), step(None)], true),
            (vec![step(None)], true),
            (vec![step(Some(10)), step(Some(20))], true),
            (vec![step(Some(20)), step(Some(10)), step(None)], false),
            (vec![step(None), step(None)], false),
            (vec![step(Some(20)), step(Some(20))], false),
        ] {
            worksheet.settings.fees.premium = steps.clone();
            assert_eq!(said(&worksheet).is_empty(), fine, "{steps:?}");
        }
    }
}
