//! Civil dates. There is no `today` here: the app says what day it is.

use core::fmt;

use serde::{Serialize, Serializer};
use serde_json::Value;

use crate::restore::{Restore, Trail};

/// A day of the Gregorian calendar, years 1 to 9999; every value is a real day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    year: i32,
    month: u8,
    day: u8,
}

impl Date {
    /// The date, if there is such a day.
    #[must_use]
    pub fn new(year: i32, month: u8, day: u8) -> Option<Self> {
        let real = (1..=9999).contains(&year) && (1..=12).contains(&month) && (1..=days_in(year, month)).contains(&day);
        real.then_some(Self { year, month, day })
    }

    /// Reads `2026-10-04`.
    ///
    /// ```
    /// use kerbworth_core::units::Date;
    /// assert!(Date::parse("2026-10-04").is_some());
    /// assert_eq!(Date::parse("2026-02-29"), None);
    /// ```
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let mut parts = text.trim().splitn(3, '-');
        let mut next = |digits: usize| {
            parts.next().filter(|part| part.len() == digits && part.bytes().all(|sign| sign.is_ascii_digit()))
        };
        let (year, month, day) = (next(4)?, next(2)?, next(2)?);
        Self::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)
    }

    /// The year.
    #[must_use]
    pub const fn year(self) -> i32 {
        self.year
    }

    /// The month, 1 to 12.
    #[must_use]
    pub const fn month(self) -> u8 {
        self.month
    }

    /// The day of the month, from 1.
    #[must_use]
    pub const fn day(self) -> u8 {
        self.day
    }

    /// Calendar months from `earlier` to this date, whatever the days: negative if it lies before.
    #[must_use]
    pub fn months_since(self, earlier: Self) -> i32 {
        (self.year - earlier.year) * 12 + i32::from(self.month) - i32::from(earlier.month)
    }

    /// Days since 1 January of the year 1.
    #[must_use]
    pub fn day_number(self) -> i32 {
        let past = self.year - 1;
        let months: i32 = (1..self.month).map(|month| i32::from(days_in(self.year, month))).sum();
        past * 365 + past / 4 - past / 100 + past / 400 + months + i32::from(self.day) - 1
    }

    /// Day of the week, Monday 0 to Sunday 6.
    #[must_use]
    pub fn weekday(self) -> i32 {
        self.day_number() % 7
    }
}

/// Days in a month.
fn days_in(year: i32, month: u8) -> u8 {
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) => 29,
        2 => 28,
        _ => 31,
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

impl Serialize for Date {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl Restore for Date {
    fn blank() -> Self {
        Self { year: 1, month: 1, day: 1 }
    }

    fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool {
        let read = json.as_str().and_then(Self::parse);
        trail.put(self, read, json, "a date as year-month-day, such as 2026-10-04")
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Date {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Date".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string", "format": "date", "description": "A day, as year-month-day." })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_real_days() {
        assert!(Date::parse("2000-02-29").is_some());
        for text in ["1900-02-29", "2026-13-01", "2026-00-10", "2026-4-1", "10-04-2026", "", "2026-10-04x"] {
            assert_eq!(Date::parse(text), None, "{text}");
        }
    }

    #[test]
    fn counts_months_and_days() {
        let date = |text| Date::parse(text).unwrap();
        assert_eq!(date("2026-10-04").months_since(date("2026-07-31")), 3);
        assert_eq!(date("2026-01-01").months_since(date("2026-11-25")), -10);
        assert_eq!(date("2026-03-01").day_number() - date("2026-02-28").day_number(), 1);
        assert_eq!(date("0001-01-01").day_number(), 0);
        // 1 January 2000 was a Saturday.
        assert_eq!(date("2000-01-01").weekday(), 5);
    }
}
