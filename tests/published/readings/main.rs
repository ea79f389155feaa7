//! Readings against published values: one file a source or family of sources, each value with its title and section.
//!
//! `from memory` marks a value whose text was not seen; `common practice, no source` one that the trade simply knows.

// Clippy counts only `#[test]` functions as tests; every other function here serves one.
#![allow(clippy::expect_used, clippy::panic)]

mod alignment;
mod battery_charging;
mod brakes_in_use;
mod braking_arithmetic;
mod cfr_49_570_steering_brakes;
mod chassis_number;
mod compression_leak_down;
mod date_codes;
mod gearing;
mod idle;
mod load_and_speed;
mod odometer;
mod paint_film;
mod rims;
mod speedometer;
mod trade_practice;
mod type_approval;
mod tyre_designations;
mod tyre_sizes;

use kerbworth_core::readings::{Given, Reading, Rule};
use kerbworth_core::sheet::{Limit, ReadingSpec};
use kerbworth_core::units::{Date, Quantity};

/// Two numbers agree to within a stated tolerance.
#[track_caller]
fn close(got: f64, want: f64, tolerance: f64, case: &str) {
    assert!((got - want).abs() <= tolerance, "{case}: got {got}, want {want} ± {tolerance}");
}

#[track_caller]
fn date(text: &str) -> Date {
    Date::parse(text).expect(text)
}

fn spec(rule: Rule, quantity: Option<Quantity>, limits: Vec<Limit>) -> ReadingSpec {
    ReadingSpec {
        id: "reading".to_owned(),
        check: "check".to_owned(),
        name: "Reading".to_owned(),
        rule,
        quantity,
        limits,
        when: Vec::new(),
        source: "as the test says".to_owned(),
    }
}

fn limit(of: &str, low: Option<f64>, high: Option<f64>) -> Limit {
    Limit { of: of.to_owned(), low, high, below: Some("below".to_owned()), above: Some("above".to_owned()) }
}

fn reading(given: &[(&str, Given)]) -> Reading {
    given.iter().fold(Reading::default(), |reading, (name, given)| reading.with(name, given.clone()))
}
