//! One cell of a table of sales, read as what its column holds.

use super::heading::Heading;
use crate::market::imputed::ScoreSource;
use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::number::{self, NumberError};
use crate::units::{Currency, Date, Length, Money, NumberStyle, Unit};
use crate::worksheet::SaleKind;

/// In which order a date's parts are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DateOrder {
    /// 2025-08-23.
    #[default]
    YearFirst,
    /// 23/8/2025.
    DayFirst,
    /// 8/23/2025.
    MonthFirst,
}

impl DateOrder {
    /// Every order.
    pub const ALL: [Self; 3] = [Self::YearFirst, Self::DayFirst, Self::MonthFirst];

    /// The order as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::YearFirst => "year-month-day",
            Self::DayFirst => "day/month/year",
            Self::MonthFirst => "month/day/year",
        }
    }

    const fn example(self) -> &'static str {
        match self {
            Self::YearFirst => "2025-08-23",
            Self::DayFirst => "23/8/2025",
            Self::MonthFirst => "8/23/2025",
        }
    }
}

/// What is wrong with a cell.
#[derive(Debug, Clone, PartialEq, Eq)]
#[allow(missing_docs)] // `fmt` says each in full
pub enum Why {
    Missing,
    NoDate(DateOrder),
    Number(NumberError),
    NotAbove,
    NoCurrency,
    NoKind,
    NoScore,
    NoSource,
    NoDistance,
    NoYes,
    TooLong,
}

display!(Why);

impl Say for Why {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Missing => phrase!("is missing; a sale needs it"),
            Self::NoDate(order) => phrase!("is not a day; write it as in {0}", order.example()),
            Self::Number(error) => error.phrase(),
            Self::NotAbove => phrase!("should be above nothing"),
            Self::NoCurrency => phrase!("is not a currency; write its three letters, as in GBP"),
            Self::NoKind => {
                let named = SaleKind::ALL.map(|kind| kind.name().phrase()).into_iter();
                let kinds = named.reduce(|before, kind| phrase!("{0} / {1}", before, kind));
                phrase!("is not a kind of sale; write {0}", kinds.unwrap_or_default())
            }
            Self::NoScore => phrase!("should be a score from 0 to 100"),
            Self::NoSource => phrase!("should be inspected, photographs or guess"),
            Self::NoDistance => phrase!("should be a distance of up to three million kilometres"),
            Self::NoYes => phrase!("should be yes or no"),
            Self::TooLong => phrase!("is too long; a quotation mark before it may want another after it"),
        }
    }
}

/// Something wrong in a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CellProblem {
    /// Which part of the sale.
    pub heading: Heading,
    /// What the cell holds.
    pub text: String,
    /// What is wrong.
    pub why: Why,
}

display!(CellProblem);

impl Say for CellProblem {
    fn phrase(&self) -> Phrase {
        if self.text.is_empty() {
            phrase!("{0}: {1}", self.heading.name(), self.why)
        } else {
            phrase!("{0} “{1}”: {2}", self.heading.name(), self.text, self.why)
        }
    }
}

/// Reads a date: by the order given, or year first if the year stands first; with `-`, `/`, `.` or spaces
/// between, and with a month as a word anywhere. A year of two digits is of 1980 to 2079.
///
/// # Errors
/// [`Why::NoDate`] if there is no such day.
pub fn date(text: &str, order: DateOrder) -> Result<Date, Why> {
    try_date(text, order).ok_or(Why::NoDate(order))
}

fn try_date(text: &str, order: DateOrder) -> Option<Date> {
    // A time of day after the date says nothing here; its T stands between digits, as that of no month does.
    let digit = |sign: char| sign.is_ascii_digit();
    let splits = text.match_indices(['T', 't']).filter_map(|(at, _)| Some((text.get(..at)?, text.get(at + 1..)?)));
    let mut times = splits.filter(|(day, time)| day.ends_with(digit) && time.starts_with(digit));
    let text = times.next().map_or(text, |(day, _)| day);
    let parts: Vec<&str> = text
        .split(|sign: char| matches!(sign, '-' | '/' | '.' | ',') || sign.is_whitespace())
        .filter(|part| !part.is_empty() && !part.contains(':'))
        // A fourth is one too many, as are thousands.
        .take(4)
        .collect();
    let [a, b, c] = *parts.as_slice() else { return None };
    let (year, month, day) = match (month_word(a), month_word(b)) {
        (Some(month), _) => (c, month, number(b)?),
        (None, Some(month)) if a.len() == 4 => (a, month, number(c)?),
        (None, Some(month)) => (c, month, number(a)?),
        (None, None) if a.len() == 4 || order == DateOrder::YearFirst => (a, number(b)?, number(c)?),
        (None, None) if order == DateOrder::MonthFirst => (c, number(a)?, number(b)?),
        (None, None) => (c, number(b)?, number(a)?),
    };
    Date::new(full_year(year)?, month, day)
}

fn number(part: &str) -> Option<u8> {
    let digits = part.trim_end_matches(|sign: char| sign.is_ascii_alphabetic());
    (digits.len() <= 2).then(|| digits.parse().ok()).flatten()
}

fn full_year(part: &str) -> Option<i32> {
    let year: i32 = part.parse().ok()?;
    match part.len() {
        4 => Some(year),
        2 => Some(if year < 80 { 2000 + year } else { 1900 + year }),
        _ => None,
    }
}

fn month_word(part: &str) -> Option<u8> {
    const MONTHS: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let part = part.to_ascii_lowercase();
    let place = MONTHS.iter().position(|month| part.len() >= 3 && month.starts_with(&part))?;
    u8::try_from(place + 1).ok()
}

/// Reads a price with or without its currency: `12800`, `£12,800`, `EUR 12.800,50`. The currency is given if
/// it is written.
///
/// # Errors
/// [`Why::Number`] or [`Why::NotAbove`].
pub fn price(text: &str, usual: Currency, style: NumberStyle) -> Result<(Money, Option<Currency>), Why> {
    let (bare, written) = apart(text);
    let currency = written.unwrap_or(usual);
    let price = currency.read(bare, style).map_err(Why::Number)?;
    if price > Money::ZERO { Ok((price, written)) } else { Err(Why::NotAbove) }
}

/// A price without its sign or code, and the currency that it names.
fn apart(text: &str) -> (&str, Option<Currency>) {
    let text = text.trim();
    for (sign, code) in [('£', "GBP"), ('€', "EUR"), ('$', "USD")] {
        let bare = text.strip_prefix(sign).or_else(|| text.strip_suffix(sign));
        if let Some(bare) = bare {
            return (bare, Currency::parse(code));
        }
    }
    let ends = [Some(3), text.len().checked_sub(3)];
    for (code_first, end) in [true, false].into_iter().zip(ends) {
        let Some((first, last)) = end.and_then(|end| text.split_at_checked(end)) else { continue };
        let (code, bare) = if code_first { (first, last) } else { (last, first) };
        // Words such as "not sold" begin with three letters too.
        let is_price = !bare.contains(char::is_alphabetic) && bare.contains(|sign: char| sign.is_ascii_digit());
        if let Some(currency) = Currency::parse(code).filter(|_| is_price) {
            return (bare, Some(currency));
        }
    }
    (text, None)
}

/// Reads a currency.
///
/// # Errors
/// [`Why::NoCurrency`].
pub fn currency(text: &str) -> Result<Currency, Why> {
    Currency::parse(text).or_else(|| apart(text).1).ok_or(Why::NoCurrency)
}

/// Reads a kind of sale: as it is shown, or by the words that people use. `auction` is what an auction price is
/// taken for when nothing says whether the premium is in it.
///
/// # Errors
/// [`Why::NoKind`].
pub fn kind(text: &str, auction: SaleKind) -> Result<SaleKind, Why> {
    let text = text.trim().to_lowercase();
    let has = |words: &[&str]| words.iter().any(|word| text.contains(word));
    if let Some(kind) = SaleKind::ALL.into_iter().find(|kind| kind.name() == text) {
        return Ok(kind);
    }
    Ok(match () {
        () if has(&["hammer"]) => SaleKind::AuctionHammer,
        () if has(&["premium", "all-in", "all in"]) => SaleKind::AuctionWithPremium,
        () if has(&["ask", "advert", "offer", "listed", "unsold"]) => SaleKind::Asking,
        () if has(&["auction", "saleroom", "sale room"]) => auction,
        () if has(&["dealer", "trade", "garage", "showroom"]) => SaleKind::Dealer,
        () if has(&["private", "owner", "friend", "club"]) => SaleKind::Private,
        () => return Err(Why::NoKind),
    })
}

/// Reads a mileage in a unit; a unit that is written wins.
///
/// # Errors
/// [`Why::Number`] or [`Why::NoDistance`].
pub fn mileage(text: &str, unit: Unit, style: NumberStyle) -> Result<Length, Why> {
    let text = text.trim();
    let bare = text.trim_end_matches(|sign: char| sign.is_alphabetic() || sign == '.').trim_end();
    let written = text.get(bare.len()..).unwrap_or_default().trim().trim_end_matches('.').to_ascii_lowercase();
    let unit = match written.as_str() {
        "" => unit,
        "mi" | "mile" | "miles" => Unit::Mile,
        "km" | "kms" | "kilometre" | "kilometres" | "kilometer" | "kilometers" => Unit::Kilometre,
        _ => {
            return Err(Why::Number(number::parse(text, style).err().unwrap_or(NumberError::NoDigits)));
        }
    };
    let distance = Length(unit.read(bare, style).map_err(Why::Number)?);
    let within = (0.0..=crate::worksheet::check::FURTHEST.0).contains(&distance.0);
    if within { Ok(distance) } else { Err(Why::NoDistance) }
}

/// Reads a condition from 0 to 100.
///
/// # Errors
/// [`Why::Number`] or [`Why::NoScore`].
pub fn condition(text: &str, style: NumberStyle) -> Result<f64, Why> {
    let score = number::parse(text, style).map_err(Why::Number)?;
    if (0.0..=100.0).contains(&score) { Ok(score) } else { Err(Why::NoScore) }
}

/// Reads how a condition is known.
///
/// # Errors
/// [`Why::NoSource`].
pub fn score_source(text: &str) -> Result<ScoreSource, Why> {
    let text = text.trim().to_lowercase();
    let has = |words: &[&str]| words.iter().any(|word| text.contains(word));
    match () {
        () if has(&["inspect", "seen", "looked"]) => Ok(ScoreSource::Inspected),
        () if has(&["photo", "picture", "descri", "advert"]) => Ok(ScoreSource::Photographs),
        () if has(&["guess", "heard", "unknown"]) => Ok(ScoreSource::Guess),
        () => Err(Why::NoSource),
    }
}

/// Reads yes or no; a blank is no.
///
/// # Errors
/// [`Why::NoYes`].
pub fn yes(text: &str) -> Result<bool, Why> {
    match text.trim().to_lowercase().as_str() {
        "" | "no" | "n" | "false" | "0" => Ok(false),
        "yes" | "y" | "true" | "1" | "x" => Ok(true),
        _ => Err(Why::NoYes),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn day(text: &str, order: DateOrder, want: Option<&str>) {
        assert_eq!(date(text, order).ok().map(|date| date.to_string()).as_deref(), want, "{text:?}");
    }

    #[test]
    fn dates_by_the_order_chosen() {
        day("2025-08-23", DateOrder::YearFirst, Some("2025-08-23"));
        day("2025-08-23", DateOrder::MonthFirst, Some("2025-08-23"));
        day("2025-08-23T14:30:00", DateOrder::DayFirst, Some("2025-08-23"));
        day("2025-08-23 14:30", DateOrder::DayFirst, Some("2025-08-23"));
        day("4/5/2025", DateOrder::DayFirst, Some("2025-05-04"));
        day("4/5/2025", DateOrder::MonthFirst, Some("2025-04-05"));
        day("04.05.25", DateOrder::DayFirst, Some("2025-05-04"));
        day("4-5-99", DateOrder::DayFirst, Some("1999-05-04"));
        day("23-August-2025", DateOrder::DayFirst, Some("2025-08-23"));
        day("23-Oct-2025", DateOrder::DayFirst, Some("2025-10-23"));
        day("1st-October-2025", DateOrder::DayFirst, Some("2025-10-01"));
        day("23-Sept-2025T14:30", DateOrder::DayFirst, Some("2025-09-23"));
        day("23 Aug 2025", DateOrder::YearFirst, Some("2025-08-23"));
        day("August 23rd, 2025", DateOrder::YearFirst, Some("2025-08-23"));
        day("2025 Sept 1", DateOrder::YearFirst, Some("2025-09-01"));
        for wrong in ["", "spring 2025", "2025-13-01", "31/2/2025", "8/2025", "23/8/2025/1", "23 Ma 2025", "1/2/325"] {
            day(wrong, DateOrder::DayFirst, None);
        }
        day("23/8/2025", DateOrder::MonthFirst, None);
    }

    #[test]
    fn prices_with_and_without_currency() {
        let read = |text| price(text, Currency::default(), NumberStyle::POINT);
        let code = |code| Currency::parse(code);
        assert_eq!(read("12,800"), Ok((Money(1_280_000), None)));
        assert_eq!(read(" £12,800.50 "), Ok((Money(1_280_050), code("GBP"))));
        assert_eq!(read("12800 €"), Ok((Money(1_280_000), code("EUR"))));
        assert_eq!(read("JPY 900000"), Ok((Money(900_000), code("JPY"))));
        assert_eq!(read("900 chf"), Ok((Money(90_000), code("CHF"))));
        assert_eq!(read("0"), Err(Why::NotAbove));
        assert_eq!(read("12k"), Err(Why::Number(NumberError::Stray('k'))));
        assert_eq!(read("not sold"), Err(Why::Number(NumberError::Stray('n'))));
        assert_eq!(price("12.800,50", Currency::default(), NumberStyle::COMMA), Ok((Money(1_280_050), None)));
    }

    #[test]
    fn kinds_by_name_and_by_habit() {
        for want in SaleKind::ALL {
            assert_eq!(kind(want.name(), SaleKind::AuctionHammer), Ok(want));
        }
        assert_eq!(kind("Auction", SaleKind::AuctionWithPremium), Ok(SaleKind::AuctionWithPremium));
        assert_eq!(kind("hammer", SaleKind::AuctionWithPremium), Ok(SaleKind::AuctionHammer));
        assert_eq!(kind("Trade", SaleKind::AuctionHammer), Ok(SaleKind::Dealer));
        assert_eq!(kind("barter", SaleKind::AuctionHammer), Err(Why::NoKind));
    }

    #[test]
    fn mileages_in_the_unit_written() {
        let read = |text| mileage(text, Unit::Mile, NumberStyle::POINT).map(|length| libm::round(length.0));
        assert_eq!(read("62,000"), Ok(99_779_328.0));
        assert_eq!(read("100000 km"), Ok(100_000_000.0));
        assert_eq!(read("62000 miles"), Ok(99_779_328.0));
        assert_eq!(read("62k"), Err(Why::Number(NumberError::Stray('k'))));
        assert_eq!(read("unknown"), Err(Why::Number(NumberError::Stray('u'))));
        assert_eq!(read("9000000"), Err(Why::NoDistance));
        assert_eq!(read("-5"), Err(Why::NoDistance));
    }

    #[test]
    fn the_rest() {
        assert_eq!(condition("82.5", NumberStyle::POINT), Ok(82.5));
        assert_eq!(condition("101", NumberStyle::POINT), Err(Why::NoScore));
        for source in ScoreSource::ALL {
            assert_eq!(score_source(source.name()), Ok(source));
        }
        assert_eq!((yes("Yes"), yes(""), yes("maybe")), (Ok(true), Ok(false), Err(Why::NoYes)));
        assert_eq!(currency("gbp"), Ok(Currency::default()));
        assert_eq!(currency("£"), Ok(Currency::default()));
        assert_eq!(currency("pounds"), Err(Why::NoCurrency));
    }

    #[test]
    fn says_what_is_wrong_and_how_to_mend_it() {
        let said = |heading, text: &str, why| CellProblem { heading, text: text.to_owned(), why }.to_string();
        assert_eq!(said(Heading::Date, "", Why::Missing), "date: is missing; a sale needs it");
        assert_eq!(
            said(Heading::Date, "soon", Why::NoDate(DateOrder::DayFirst)),
            "date “soon”: is not a day; write it as in 23/8/2025"
        );
        assert_eq!(
            said(Heading::Kind, "barter", Why::NoKind),
            "kind “barter”: is not a kind of sale; write private / dealer / auction, hammer price / auction, with \
             premium / asking only"
        );
    }

    proptest! {
        #[test]
        fn never_panics(text in "\\PC{0,16}") {
            for order in DateOrder::ALL {
                let _ = date(&text, order);
            }
            let _ = (price(&text, Currency::default(), NumberStyle::POINT), currency(&text), yes(&text));
            let _ = (kind(&text, SaleKind::AuctionHammer), score_source(&text));
            let _ = (mileage(&text, Unit::Mile, NumberStyle::COMMA), condition(&text, NumberStyle::COMMA));
        }

        #[test]
        fn every_day_reads_in_every_order(days in 1980..2080_i32, month in 1..=12_u8, day in 1..=28_u8) {
            let want = Date::new(days, month, day).unwrap();
            prop_assert_eq!(date(&format!("{day}/{month}/{days}"), DateOrder::DayFirst), Ok(want));
            prop_assert_eq!(date(&format!("{month}/{day}/{:02}", days % 100), DateOrder::MonthFirst), Ok(want));
            prop_assert_eq!(date(&want.to_string(), DateOrder::DayFirst), Ok(want));
        }
    }
}
