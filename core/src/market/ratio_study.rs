//! The ratio study: the method tried on the sales themselves, each one predicted from the others.
//!
//! Measures as the assessors' profession defines them: International Association of Assessing Officers, *Standard on
//! Ratio Studies* (2013).

use serde::Serialize;

use super::fit::{Assumptions, Comparable, FitError, fit};
use super::rates::RatePrior;
use crate::statistics::{median, sums};

/// Below this many sales no study is made.
pub const LEAST_SALES: usize = 5;
/// Below this many sales the drift of the ratio with the value is not stated.
pub const LEAST_SALES_FOR_PRB: usize = 8;
/// Below this many sales every figure is only indicative.
pub const INDICATIVE_BELOW: usize = 20;

/// What each comparable would have been valued at, without it, by the same method: log prices in order.
///
/// The others' differences are taken to the comparable left out, its own kind of sale included.
///
/// # Errors
/// [`FitError`] of the first fit that fails; [`FitError::NoComparables`] for a single sale.
pub fn predicted_without_each(
    comparables: &[Comparable],
    rates: &[RatePrior],
    assumptions: &Assumptions,
) -> Result<Vec<f64>, FitError> {
    (0..comparables.len()).map(|left_out| predicted_without(left_out, comparables, rates, assumptions)).collect()
}

fn predicted_without(
    left_out: usize,
    comparables: &[Comparable],
    rates: &[RatePrior],
    assumptions: &Assumptions,
) -> Result<f64, FitError> {
    let subject = comparables.get(left_out).ok_or(FitError::NoComparables)?;
    let others: Vec<Comparable> = comparables
        .iter()
        .enumerate()
        .filter(|(place, _)| *place != left_out)
        .map(|(_, other)| Comparable {
            differences: other.differences.iter().zip(&subject.differences).map(|(d, own)| d - own).collect(),
            ..other.clone()
        })
        .collect();
    Ok(fit(&others, rates, assumptions)?.theta)
}

/// A value stated and the price that was paid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Valued {
    /// A: the value stated, above 0.
    pub appraised: f64,
    /// S: the price paid, above 0.
    pub price: f64,
}

/// The measures of a ratio study; R = A / S.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct RatioStudy {
    /// R of each sale, in order.
    pub ratios: Vec<f64>,
    /// The level: 1 when values are neither high nor low.
    pub median: f64,
    /// Mean ratio.
    pub mean: f64,
    /// Σ A / Σ S.
    pub weighted_mean: f64,
    /// Coefficient of dispersion, per cent: how far single ratios lie from the median.
    pub cod: f64,
    /// Price-related differential: above 1 when dear cars are valued too low.
    pub prd: f64,
    /// Price-related bias: change of the ratio, as a share of its median, when the value doubles. `None` when
    /// all values are alike.
    pub prb: Option<f64>,
}

impl RatioStudy {
    /// Studies values against prices; `None` of none, or when one is not a number above 0.
    ///
    /// *Formulas*: COD = 100 × mean |R − med| / med; PRD = mean R / (ΣA / ΣS); PRB = slope of (R − med) / med on
    /// log₂(S/2 + A/(2 med)).
    #[must_use]
    pub fn of(sales: &[Valued]) -> Option<Self> {
        if !sales.iter().flat_map(|sale| [sale.appraised, sale.price]).all(|value| value > 0.0 && value.is_finite()) {
            return None;
        }
        let ratios: Vec<f64> = sales.iter().map(|sale| sale.appraised / sale.price).collect();
        let median = median::median(&ratios)?;
        let mean = sums::mean(&ratios)?;
        let weighted_mean =
            sums::sum(sales.iter().map(|sale| sale.appraised)) / sums::sum(sales.iter().map(|sale| sale.price));
        let apart: Vec<f64> = ratios.iter().map(|ratio| (ratio - median) / median).collect();
        let doublings: Vec<f64> =
            sales.iter().map(|sale| libm::log2(0.5 * sale.price + 0.5 * sale.appraised / median)).collect();
        Some(Self {
            median,
            mean,
            weighted_mean,
            cod: 100.0 * sums::sum(apart.iter().map(|part| libm::fabs(*part))) / ratios.len() as f64,
            prd: mean / weighted_mean,
            prb: slope(&doublings, &apart),
            ratios,
        })
    }

    /// Whether the figures rest on too few sales to be more than a hint.
    #[must_use]
    pub fn is_indicative(&self) -> bool {
        self.ratios.len() < INDICATIVE_BELOW
    }
}

/// Slope of the least-squares line of y on x; `None` when all x are equal.
fn slope(x: &[f64], y: &[f64]) -> Option<f64> {
    let (middle_x, middle_y) = (sums::mean(x)?, sums::mean(y)?);
    let squares = sums::sum(x.iter().map(|value| (value - middle_x) * (value - middle_x)));
    let products = sums::sum(x.iter().zip(y).map(|(x, y)| (x - middle_x) * (y - middle_y)));
    // Equal values differ by rounding at most, far below a thousandth of a doubling.
    (squares > 1e-12).then(|| products / squares)
}

/// The study of a set of comparables by leaving each out in turn; `None` below [`LEAST_SALES`]. The drift with
/// the value (PRB) is left out below [`LEAST_SALES_FOR_PRB`].
///
/// # Errors
/// [`FitError`] of the first fit that fails.
pub fn study(
    comparables: &[Comparable],
    rates: &[RatePrior],
    assumptions: &Assumptions,
) -> Result<Option<RatioStudy>, FitError> {
    if comparables.len() < LEAST_SALES {
        return Ok(None);
    }
    let predicted = predicted_without_each(comparables, rates, assumptions)?;
    let valued: Vec<Valued> = comparables
        .iter()
        .zip(predicted)
        .map(|(sale, log)| Valued { appraised: libm::exp(log), price: libm::exp(sale.log_price) })
        .collect();
    Ok(RatioStudy::of(&valued)
        .map(|study| RatioStudy { prb: study.prb.filter(|_| comparables.len() >= LEAST_SALES_FOR_PRB), ..study }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const RATES: [RatePrior; 1] = [RatePrior { mean: 0.01, sd: 0.005 }];

    fn sales(prices: &[f64]) -> Vec<Comparable> {
        prices
            .iter()
            .map(|price| Comparable { log_price: price.ln(), differences: vec![0.0], measurement_variance: 0.0 })
            .collect()
    }

    #[test]
    fn each_is_predicted_from_the_others_alone() {
        let found = predicted_without_each(&sales(&[100.0, 400.0]), &RATES, &Assumptions::default()).unwrap();
        assert!((found[0].exp() - 400.0).abs() < 1e-9 && (found[1].exp() - 100.0).abs() < 1e-9, "{found:?}");
        assert_eq!(
            predicted_without_each(&sales(&[100.0]), &RATES, &Assumptions::default()),
            Err(FitError::NoComparables)
        );
    }

    /// Prices that follow the stated rate exactly are predicted exactly, whichever is left out.
    #[test]
    fn differences_are_taken_to_the_one_left_out() {
        let comparables: Vec<Comparable> = [-20.0, -5.0, 0.0, 10.0, 25.0]
            .iter()
            .map(|points| Comparable {
                log_price: 9.0 + 0.01 * points,
                differences: vec![*points],
                measurement_variance: 0.0,
            })
            .collect();
        let found = predicted_without_each(&comparables, &RATES, &Assumptions::default()).unwrap();
        for (log, comparable) in found.iter().zip(&comparables) {
            assert!((log - comparable.log_price).abs() < 1e-12);
        }
    }

    #[test]
    fn what_is_shown_depends_on_how_many() {
        let prices = [100.0, 120.0, 95.0, 130.0, 110.0, 105.0, 90.0, 115.0];
        let of = |count: usize| study(&sales(&prices[..count]), &RATES, &Assumptions::default()).unwrap();
        assert_eq!(of(4), None);
        assert_eq!(of(7).map(|study| (study.prb.is_some(), study.is_indicative())), Some((false, true)));
        assert_eq!(of(8).map(|study| (study.prb.is_some(), study.is_indicative())), Some((true, true)));
        let many: Vec<f64> = (0..20).map(|place| 100.0 + f64::from(place)).collect();
        assert!(!study(&sales(&many), &RATES, &Assumptions::default()).unwrap().unwrap().is_indicative());
    }

    #[test]
    fn nothing_to_study() {
        let valued = |appraised, price| Valued { appraised, price };
        assert_eq!(RatioStudy::of(&[]), None);
        assert_eq!(RatioStudy::of(&[valued(1.0, 0.0)]), None);
        assert_eq!(RatioStudy::of(&[valued(f64::NAN, 1.0)]), None);
        assert_eq!(RatioStudy::of(&[valued(5.0, 5.0); 3]).and_then(|study| study.prb), None);
    }

    proptest! {
        /// Values all too high by one factor shift the level and nothing else.
        #[test]
        fn a_common_factor_shows_in_the_level_alone(pairs in prop::collection::vec((10.0..1e6_f64, 0.5..2.0_f64), 2..30), factor in 0.2..5.0_f64) {
            let valued: Vec<Valued> = pairs.iter().map(|(price, ratio)| Valued { appraised: price * ratio, price: *price }).collect();
            let raised: Vec<Valued> = valued.iter().map(|sale| Valued { appraised: sale.appraised * factor, ..*sale }).collect();
            let (plain, high) = (RatioStudy::of(&valued).unwrap(), RatioStudy::of(&raised).unwrap());
            prop_assert!((high.median / plain.median / factor - 1.0).abs() < 1e-12);
            prop_assert!((high.cod - plain.cod).abs() < 1e-9 && (high.prd - plain.prd).abs() < 1e-12);
            if let (Some(one), Some(other)) = (plain.prb, high.prb) {
                prop_assert!((one - other).abs() < 1e-6 * one.abs().max(1.0));
            }
        }
    }
}
