//! The date code on a tyre, and the tyre's age on the day of the visit.
//!
//! 49 CFR 574.5: since 2000 four digits, week and year (64 FR 36807); before, three, week and last digit of the year,
//! whose decade is not told. Week 01 is the first full week of the year (owner data of 2006).

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::readings::desk::Desk;
use crate::units::{Date, Duration, Unit};

/// Why a text is no date code.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DateCodeError {
    /// Not three or four digits; what stands there.
    Form(String),
    /// There is no week 00, and none above 53.
    Week(u8),
    /// The week lies after the day of the visit.
    AfterVisit(String),
}

display!(DateCodeError);

impl Say for DateCodeError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Form(text) => {
                phrase!(
                    "“{0}” is no date code; write its four digits, week and year, as 3509, or the older three",
                    text
                )
            }
            Self::Week(week) => {
                phrase!("week {0} does not exist; the code begins with 01 to 53: read it again", format!("{week:02}"))
            }
            Self::AfterVisit(code) => phrase!("{0} lies after the visit; read it again: the week comes first", code),
        }
    }
}

impl core::error::Error for DateCodeError {}

/// When a tyre was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateCode {
    /// Four digits: the year is certain.
    Year {
        /// 1 to 53; 53 deserves a second look.
        week: u8,
        /// 2000 to 2099.
        year: i32,
    },
    /// Three digits: made before 2000, the decade is not told.
    Decade {
        /// 1 to 53.
        week: u8,
        /// Last digit of the year.
        digit: u8,
    },
}

impl DateCode {
    /// Reads three or four digits, or the end of a whole DOT number.
    ///
    /// # Errors
    /// [`DateCodeError`] if it is no code or its week does not exist.
    ///
    /// ```
    /// use kerbworth_core::readings::tyre::age::DateCode;
    /// assert_eq!(DateCode::parse("3509"), Ok(DateCode::Year { week: 35, year: 2009 }));
    /// assert!(DateCode::parse("0012").is_err());
    /// ```
    pub fn parse(text: &str) -> Result<Self, DateCodeError> {
        let refused = || DateCodeError::Form(text.trim().chars().take(24).collect());
        let code = text.trim();
        // A whole number, with or without DOT before it, ends in the code.
        let letters = code.contains(|sign: char| sign.is_ascii_alphabetic());
        let code = match code.split_whitespace().next_back() {
            Some(last) if letters && code.contains(char::is_whitespace) => last,
            _ if letters && code.is_ascii() => code.get(code.len().saturating_sub(4)..).unwrap_or_default(),
            _ => code,
        };
        if !matches!(code.len(), 3 | 4) || !code.bytes().all(|sign| sign.is_ascii_digit()) {
            return Err(refused());
        }
        let digits = |from: usize, to: usize| code.get(from..to).and_then(|part| part.parse::<u8>().ok());
        let week = digits(0, 2).ok_or_else(refused)?;
        if !(1..=53).contains(&week) {
            return Err(DateCodeError::Week(week));
        }
        let rest = digits(2, code.len()).ok_or_else(refused)?;
        Ok(match code.len() {
            4 => Self::Year { week, year: 2000 + i32::from(rest) },
            _ => Self::Decade { week, digit: rest },
        })
    }

    /// The week, 1 to 53.
    #[must_use]
    pub const fn week(self) -> u8 {
        match self {
            Self::Year { week, .. } | Self::Decade { week, .. } => week,
        }
    }

    /// The years that it may mean, latest first: one, or one each of the 1990s, 1980s and 1970s.
    #[must_use]
    pub fn years(self) -> Vec<i32> {
        match self {
            Self::Year { year, .. } => vec![year],
            Self::Decade { digit, .. } => [1990, 1980, 1970].map(|decade| decade + i32::from(digit)).to_vec(),
        }
    }

    /// Its least age on a day, from the first day of the week in the latest year that it may mean.
    ///
    /// # Errors
    /// [`DateCodeError::AfterVisit`] if it lies after that day.
    pub fn age(self, on: Date) -> Result<Duration, DateCodeError> {
        let latest = self.years().into_iter().next().unwrap_or(2000);
        let days = on.day_number() - first_day(latest, self.week());
        if days < 0 {
            return Err(DateCodeError::AfterVisit(self.to_string()));
        }
        Ok(Duration(f64::from(days) * 86_400.0))
    }
}

display!(DateCode);

impl Say for DateCode {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Year { week, year } => phrase!("week {0} of {1}", week, year),
            Self::Decade { week, digit } => {
                phrase!("week {0} of 199{1}, 198{1} or 197{1}", week, digit)
            }
        }
    }
}

/// Day number of a week's first day, a Sunday: week 1 is the first that lies wholly in the year.
fn first_day(year: i32, week: u8) -> i32 {
    let Some(new_year) = Date::new(year, 1, 1) else { return 0 };
    // Monday is 0, so Sunday is 6 days later and never more.
    let first_sunday = new_year.day_number() + 6 - new_year.weekday();
    first_sunday + 7 * (i32::from(week) - 1)
}

/// The codes in a field: several stand apart by semicolons, commas, slashes, lines, or spaces where they are digits
/// alone.
fn codes(text: &str) -> Result<Vec<DateCode>, DateCodeError> {
    let mut codes = Vec::new();
    for part in text.split([';', ',', '/', '\n']).map(str::trim).filter(|part| !part.is_empty()) {
        if part.contains(|sign: char| sign.is_alphabetic()) {
            codes.push(DateCode::parse(part)?);
        } else {
            for word in part.split_whitespace() {
                codes.push(DateCode::parse(word)?);
            }
        }
    }
    Ok(codes)
}

/// The rule `tyre-age`.
pub(in crate::readings) fn read(desk: &mut Desk) {
    let Some(on) = desk.on() else {
        desk.note("Enter the day of the visit to see the tyres' age.");
        return;
    };
    let mut greatest: Option<f64> = None;
    for field in ["front", "rear", "spare"] {
        let Some(text) = desk.text(field) else { continue };
        let Some(codes) = desk.take(field, codes(text)) else { continue };
        for code in codes {
            let Some(age) = desk.take(field, code.age(on)) else { continue };
            greatest = Some(greatest.map_or(age.0, |greatest: f64| greatest.max(age.0)));
            note(desk, code);
        }
    }
    if let Some(age) = greatest {
        desk.result("greatest-age", age);
        if age > 10.0 * Unit::Year.to_si(1.0) {
            desk.note("Tyre makers' bodies advise that ten years from manufacture is the end, whatever the tread.");
        }
    }
}

fn note(desk: &mut Desk, code: DateCode) {
    if let DateCode::Decade { .. } = code {
        desk.note(phrase!("Three digits do not tell the decade: {0}; counted as the youngest.", code));
    }
    if code.week() == 53 {
        desk.note("Week 53 is rare: read the code again.");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn errors_say_what_is_wrong() {
        assert_eq!(DateCode::parse("35"), Err(DateCodeError::Form("35".to_owned())));
        assert_eq!(DateCode::parse("35091"), Err(DateCodeError::Form("35091".to_owned())));
        assert_eq!(DateCode::parse("5420"), Err(DateCodeError::Week(54)));
        let on = Date::new(2026, 10, 4).unwrap();
        let late = DateCode::parse("5026").unwrap().age(on);
        assert_eq!(late, Err(DateCodeError::AfterVisit("week 50 of 2026".to_owned())));
    }

    #[test]
    fn the_first_full_week_begins_on_a_sunday() {
        // 1 January 2000 was a Saturday, so week 1 began on the 2nd; 1 January 2006 was a Sunday.
        let day = |year, month, day| Date::new(year, month, day).unwrap().day_number();
        assert_eq!(first_day(2000, 1), day(2000, 1, 2));
        assert_eq!(first_day(2006, 1), day(2006, 1, 1));
        assert_eq!(first_day(2000, 35), day(2000, 8, 27));
    }

    #[test]
    fn several_codes_and_whole_numbers() {
        let years = |text| codes(text).map(|codes| codes.len());
        assert_eq!(years("3509 3609"), Ok(2));
        assert_eq!(years("3509; 3609/439"), Ok(3));
        assert_eq!(years("DOT U2LL LMLR 5107"), Ok(1));
        assert_eq!(codes("DOTU2LLLMLR5107"), Ok(vec![DateCode::Year { week: 51, year: 2007 }]));
    }

    proptest! {
        #[test]
        fn never_panics(text in "\\PC{0,24}") {
            let _ = codes(&text);
            let _ = DateCode::parse(&text);
        }

        #[test]
        fn a_later_visit_finds_an_older_tyre(week in 1_u8..=52, year in 0_i32..=24, day in 1_u8..=28) {
            let code = DateCode::parse(&format!("{week:02}{year:02}")).unwrap();
            let age = |visit| code.age(Date::new(visit, 6, day).unwrap()).unwrap();
            prop_assert!(age(2026) > age(2025));
        }
    }
}
