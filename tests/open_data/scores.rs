//! How well a method does over all cases: error of the centre, cover and score of the ranges.

use kerbworth_core::statistics::{median, sums};

use crate::draws::{Scenario, cases};
use crate::methods::{Method, Valuation};
use crate::sets::Set;

/// The figures of one row of the table.
#[derive(Debug)]
pub struct Scores {
    /// Median of |exp(θ − y) − 1|, per cent.
    pub error: f64,
    /// Share of prices within the 80 % range, per cent.
    pub cover80: f64,
    /// Mean interval score of the 80 % range on the logs; lower is better.
    pub score80: f64,
    /// Median width of the 80 % range, per cent of the centre.
    pub width80: f64,
    /// Share of prices within the 50 % range, per cent.
    pub cover50: f64,
    /// Mean interval score of the 50 % range on the logs.
    pub score50: f64,
}

/// How near a figure must come.
#[derive(Debug, Clone, Copy)]
pub struct Bar {
    /// Points of per cent of the error.
    pub error: f64,
    /// Points of per cent of the cover.
    pub cover: f64,
    /// Share of the score, and of the width.
    pub score: f64,
}

impl Scores {
    pub fn reproduces(&self, reference: &Self, bar: Bar) -> bool {
        let within = |found: f64, expected: f64, most: f64| (found - expected).abs() <= most;
        let share = |found: f64, expected: f64| within(found, expected, bar.score * expected);
        within(self.error, reference.error, bar.error)
            && within(self.cover80, reference.cover80, bar.cover)
            && within(self.cover50, reference.cover50, bar.cover)
            && share(self.score80, reference.score80)
            && share(self.score50, reference.score50)
            && share(self.width80, reference.width80)
    }
}

/// Runs every case.
pub fn of(set: &Set, count: usize, scenario: Scenario, method: Method) -> Scores {
    let tried: Vec<(Valuation, f64)> =
        cases(set, count, scenario).iter().map(|case| (method.value(case, set), case.log_price)).collect();
    let mean = |figure: &dyn Fn(&Valuation, f64) -> f64| {
        sums::sum(tried.iter().map(|(valuation, price)| figure(valuation, *price))) / tried.len() as f64
    };
    let middle = |figure: &dyn Fn(&Valuation, f64) -> f64| {
        median::median(&tried.iter().map(|(valuation, price)| figure(valuation, *price)).collect::<Vec<f64>>()).unwrap()
    };
    let within = |(low, high): (f64, f64), price: f64| f64::from(u8::from(low <= price && price <= high));
    // The interval score of T. Gneiting and A. E. Raftery (JASA 102, 2007): width plus 2/α for each unit of miss.
    let score = |(low, high): (f64, f64), price: f64, miss: f64| {
        (high - low) + miss * (low - price).max(0.0) + miss * (price - high).max(0.0)
    };
    Scores {
        error: 100.0 * middle(&|valuation, price| ((valuation.centre - price).exp() - 1.0).abs()),
        cover80: 100.0 * mean(&|valuation, price| within(valuation.range80, price)),
        score80: mean(&|valuation, price| score(valuation.range80, price, 10.0)),
        width80: 100.0
            * middle(&|valuation, _| {
                let (low, high) = valuation.range80;
                (high - valuation.centre).exp() - (low - valuation.centre).exp()
            }),
        cover50: 100.0 * mean(&|valuation, price| within(valuation.range50, price)),
        score50: mean(&|valuation, price| score(valuation.range50, price, 4.0)),
    }
}
