//! A range of values with the share of cases that it is meant to hold.

use serde::Serialize;

/// Low, middle and high, in the unit of the prices that it came from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Range {
    /// The lower end.
    pub low: f64,
    /// The centre: as likely to be passed as not.
    pub middle: f64,
    /// The upper end.
    pub high: f64,
    /// Share of cases between the ends, 0 to 1; the rest is split evenly above and below.
    pub cover: f64,
}

impl Range {
    /// High less low.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.high - self.low
    }
}
