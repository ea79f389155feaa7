//! The grid: each sale's price taken line by line to what it says of the subject, and its share in the centre.
//!
//! The identity is exact, not an explanation after the fact: the first of the normal equations that the fit solves
//! says that the log of the centre is the weighted mean of the logs of the adjusted prices.

use serde::Serialize;

use super::fit::{Comparable, Fit};
use crate::statistics::sums;

/// One adjustment of one sale.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Adjustment {
    /// Comparable less subject, in the column's unit.
    pub difference: f64,
    /// β: log price per unit, after the sales have had their say.
    pub rate: f64,
    /// What it adds to the price, in money; a better comparable is adjusted downward.
    pub amount: f64,
}

/// One sale in the grid: price + adjustments = adjusted.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Line {
    /// The price as paid.
    pub price: f64,
    /// One a column, applied in order, each on what the one before it left.
    pub adjustments: Vec<Adjustment>,
    /// What the sale says the subject would fetch.
    pub adjusted: f64,
    /// Share in the centre, 0 to 1.
    pub share: f64,
    /// λ: about 1; well below for a sale far from the rest.
    pub trust: f64,
}

impl Line {
    /// All adjustments, signs ignored, as a share of the price.
    #[must_use]
    pub fn gross(&self) -> f64 {
        sums::sum(self.adjustments.iter().map(|adjustment| libm::fabs(adjustment.amount))) / self.price
    }

    /// All adjustments, with their signs, as a share of the price.
    #[must_use]
    pub fn net(&self) -> f64 {
        sums::sum(self.adjustments.iter().map(|adjustment| adjustment.amount)) / self.price
    }
}

/// The lines of the grid, in the order of the comparables.
///
/// `comparables` are those that `fit` was made from. *Formula*: a line is price × Π exp(−dⱼ βⱼ).
#[must_use]
pub fn grid(comparables: &[Comparable], fit: &Fit) -> Vec<Line> {
    comparables
        .iter()
        .zip(fit.shares.iter().zip(&fit.lambda))
        .map(|(comparable, (share, trust))| adjust(comparable, &fit.beta, *share, *trust))
        .collect()
}

fn adjust(comparable: &Comparable, rates: &[f64], share: f64, trust: f64) -> Line {
    let price = libm::exp(comparable.log_price);
    let mut adjusted = price;
    let mut adjustments = Vec::with_capacity(rates.len());
    for (difference, rate) in comparable.differences.iter().zip(rates) {
        let amount = adjusted * libm::expm1(-difference * rate);
        adjusted += amount;
        adjustments.push(Adjustment { difference: *difference, rate: *rate, amount });
    }
    Line { price, adjustments, adjusted, share, trust }
}

/// The centre that the lines give: the mean of the adjusted prices, weighted by their shares, on the logs.
#[must_use]
pub fn weighted_geometric_mean(lines: &[Line]) -> f64 {
    libm::exp(sums::sum(lines.iter().map(|line| line.share * libm::log(line.adjusted))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::market::fit::{Assumptions, fit};
    use crate::market::rates::CarRates;
    use proptest::prelude::*;

    fn sale() -> impl Strategy<Value = Comparable> {
        (500.0..200_000.0_f64, -90.0..90.0_f64, -60.0..60.0_f64, -48.0..=0.0_f64, 0_usize..4, 0.0..0.03_f64).prop_map(
            |(price, miles, score, month, kind, measurement_variance)| {
                let mut differences = vec![miles, score, month, 0.0, 0.0, 0.0];
                if kind > 0 {
                    differences[2 + kind] = 1.0;
                }
                Comparable { log_price: price.ln(), differences, measurement_variance }
            },
        )
    }

    proptest! {
        #[test]
        fn the_lines_give_the_centre(comparables in prop::collection::vec(sale(), 1..25)) {
            let fit = fit(&comparables, &CarRates::default().in_order(), &Assumptions::default()).unwrap();
            let lines = grid(&comparables, &fit);
            let centre = fit.range(0.8, 0.0).middle;
            let apart = weighted_geometric_mean(&lines) / centre - 1.0;
            prop_assert!(apart.abs() < 1e-10, "{}", apart);
        }

        #[test]
        fn each_line_adds_up(comparables in prop::collection::vec(sale(), 1..10)) {
            let fit = fit(&comparables, &CarRates::default().in_order(), &Assumptions::default()).unwrap();
            for (line, comparable) in grid(&comparables, &fit).iter().zip(&comparables) {
                let added: f64 = line.price + line.adjustments.iter().map(|adjustment| adjustment.amount).sum::<f64>();
                prop_assert!((added / line.adjusted - 1.0).abs() < 1e-12);
                let whole: f64 = comparable.differences.iter().zip(&fit.beta).map(|(d, rate)| d * rate).sum();
                prop_assert!((line.adjusted / (comparable.log_price - whole).exp() - 1.0).abs() < 1e-12);
                prop_assert!(line.gross() + 1e-12 >= line.net().abs());
            }
        }
    }
}
