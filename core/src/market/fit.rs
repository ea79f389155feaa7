//! The fit: a regression of log prices with stated rates, an assumed spread and heavy tails.
//!
//! The log price of a sale is the level θ (the log value of the car on the worksheet), plus rates β times its
//! differences d from that car, plus a deviation. Three things keep it sensible with two sales and with a wild one:
//!
//! - each rate has a prior (mean b, standard deviation S); the level has none;
//! - the spread σ² starts from an assumed s₀² that counts for ν₀ sales;
//! - deviations are Student's t with κ degrees of freedom, so a sale far from the rest loses weight (its λ falls)
//!   without being thrown out; a sale that needed much adjusting is trusted less (the gross adjustment G adds
//!   (g G)² to its variance).
//!
//! It is solved by expectation–maximisation: weights from deviations, then level, rates and spread from weights, in
//! turn until nothing moves. Source of the scheme: K. L. Lange, R. J. A. Little and J. M. G. Taylor, *Robust
//! statistical modeling using the t distribution*, JASA 84 (1989); the constants were chosen on open data.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use serde::Serialize;

use super::range::Range;
use super::rates::{RatePrior, Spread};
use super::rounds::Rounds;
use crate::statistics::student;

/// The constants of the fit. The defaults were chosen on open data, except the spread, which is a judgement.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Assumptions {
    /// s₀: assumed standard deviation of a log price around what the rates explain; above 0.
    pub s0: f64,
    /// ν₀: how many sales the assumption counts for; above 0.
    pub nu0: f64,
    /// κ: degrees of freedom of the deviations; fewer forgives a wild sale more. Above 0.
    pub kappa: f64,
    /// g: doubt about an adjustment, as a share of its size; 0 or more.
    pub gross: f64,
    /// c: factor on σ² that gives a single sale's variance its tail; above 0.
    pub cover_factor: f64,
}

impl Assumptions {
    /// The defaults with the spread of a preset.
    #[must_use]
    pub fn with_spread(spread: Spread) -> Self {
        Self { s0: spread.log_sd(), nu0: 2.5, kappa: 4.0, gross: 0.15, cover_factor: 1.646 }
    }
}

impl Default for Assumptions {
    fn default() -> Self {
        Self::with_spread(Spread::Typical)
    }
}

/// A comparable sale as the fit sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparable {
    /// Natural logarithm of the price.
    pub log_price: f64,
    /// Comparable less subject, one a rate.
    pub differences: Vec<f64>,
    /// Variance put on the log price by what is not known of the comparable (mileage, score); 0 or more.
    pub measurement_variance: f64,
}

impl Comparable {
    /// G: the sum of the adjustments at the stated rates, signs ignored, on the log price.
    #[must_use]
    pub fn gross_adjustment(&self, rates: &[RatePrior]) -> f64 {
        self.differences.iter().zip(rates).map(|(difference, rate)| libm::fabs(difference * rate.mean)).sum()
    }
}

/// Why there is no fit. Places count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FitError {
    /// There is nothing to fit.
    NoComparables,
    /// A comparable does not have one difference a rate.
    WrongColumns {
        /// Which comparable.
        sale: usize,
        /// How many rates there are.
        expected: usize,
        /// How many differences it has.
        found: usize,
    },
    /// A comparable has a price, difference or variance that cannot be used.
    UnusableSale {
        /// Which comparable.
        sale: usize,
    },
    /// A rate's mean is not a number or its standard deviation is not above 0.
    UnusableRate {
        /// Which rate.
        column: usize,
    },
    /// One of the constants is out of its bounds.
    UnusableAssumption,
    /// The numbers are too far apart in size for the arithmetic.
    Unsolvable,
}

display!(FitError);

impl Say for FitError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::NoComparables => phrase!("no sales to go by; include at least one sale with its price"),
            Self::WrongColumns { sale, expected, found } => {
                phrase!(
                    "sale {0} has {1} differences where {2} rates are stated; give one a rate",
                    sale + 1,
                    found,
                    expected
                )
            }
            Self::UnusableSale { sale } => {
                phrase!("sale {0} has a price or figure that cannot be used; enter a price above 0", sale + 1)
            }
            Self::UnusableRate { column } => {
                phrase!("rate {0} needs a value and a doubt above 0; enter both or restore the default", column + 1)
            }
            Self::UnusableAssumption => {
                phrase!("the spread and its companions must be above 0; restore the defaults")
            }
            Self::Unsolvable => {
                phrase!("the sales differ too much in size to be weighed together; look for a mistyped figure")
            }
        }
    }
}

impl core::error::Error for FitError {}

/// The result of the fit. Per-sale vectors are in the order of the comparables, rates in the order of the priors.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Fit {
    /// θ: log value of the subject.
    pub theta: f64,
    /// β: the rates after the sales have had their say.
    pub beta: Vec<f64>,
    /// C: covariance of (θ, β), row after row; its first cell is the variance of the level.
    pub covariance: Vec<f64>,
    /// σ²: spread of the log prices, prior and sales together.
    pub sigma2: f64,
    /// V: variance of each sale, spread and doubts together.
    pub variances: Vec<f64>,
    /// λ: trust in each sale by its nearness to the rest; about 1, well below for a wild one.
    pub lambda: Vec<f64>,
    /// w = λ / V.
    pub weights: Vec<f64>,
    /// Each weight as a share of all; they sum to 1.
    pub shares: Vec<f64>,
    /// Effective number of parameters that the sales themselves determined.
    pub edf: f64,
    /// Degrees of freedom of the range; fractional.
    pub df: f64,
    /// Rounds that it took.
    pub iterations: u32,
    /// Whether the last round moved nothing; else the cap of [`MOST_ROUNDS`] was met.
    pub converged: bool,
    /// c of the assumptions it was made under.
    pub cover_factor: f64,
}

impl Fit {
    /// The range of what a sale of the subject would fetch, car-to-car spread included.
    ///
    /// `cover` is the share of cases that it is to hold (0 to 1, ends excluded); `subject_variance` what is not known of the
    /// subject itself, on the log price.
    /// *Formula*: exp(θ ± t_{df, (1+q)/2} √(c σ² + C₀₀ + e²)).
    #[must_use]
    pub fn range(&self, cover: f64, subject_variance: f64) -> Range {
        self.around(cover, self.log_reach(cover, subject_variance))
    }

    /// The range of the level alone: where the middle of the market lies, without car-to-car spread. Narrower;
    /// how often it holds was not tested, because a level is never observed.
    #[must_use]
    pub fn level_range(&self, cover: f64, subject_variance: f64) -> Range {
        let sd = libm::sqrt(self.level_variance() + subject_variance);
        self.around(cover, self.reach_in_sd(cover) * sd)
    }

    /// How far the range of [`Fit::range`] reaches to each side on the log of the price.
    #[must_use]
    pub fn log_reach(&self, cover: f64, subject_variance: f64) -> f64 {
        self.reach_in_sd(cover) * self.predictive_sd(subject_variance)
    }

    /// s_p: standard deviation of the log price of a sale of the subject.
    #[must_use]
    pub fn predictive_sd(&self, subject_variance: f64) -> f64 {
        libm::sqrt(self.cover_factor * self.sigma2 + self.level_variance() + subject_variance)
    }

    /// C₀₀: variance of the level.
    #[must_use]
    pub fn level_variance(&self) -> f64 {
        self.covariance.first().copied().unwrap_or(f64::NAN)
    }

    fn reach_in_sd(&self, cover: f64) -> f64 {
        student::quantile(f64::midpoint(1.0, cover), self.df)
    }

    fn around(&self, cover: f64, reach: f64) -> Range {
        Range {
            low: libm::exp(self.theta - reach),
            middle: libm::exp(self.theta),
            high: libm::exp(self.theta + reach),
            cover,
        }
    }
}

/// Rounds at most. Half of all fits on the open data take about 50; the most seen was 174, at two sales.
pub const MOST_ROUNDS: u32 = 500;

/// Nothing has moved when no coefficient nor σ² moved by more than this.
const STANDS_STILL: f64 = 1e-13;

/// Nor by more than this share of itself, which rounding alone can keep moving; it counts only for numbers far larger
/// than logs of prices are.
const ROUNDING_ALONE: f64 = 16.0 * f64::EPSILON;

/// Fits the level, the rates and the spread to the comparables.
///
/// Time grows in proportion to the number of comparables; the rounds allocate nothing.
///
/// # Errors
/// [`FitError`] when there is nothing to fit or a number is out of its bounds. Not settling within
/// [`MOST_ROUNDS`] is no error: the result says so in [`Fit::converged`].
///
/// ```
/// use kerbworth_core::market::fit::{Assumptions, Comparable, fit};
/// use kerbworth_core::market::rates::RatePrior;
///
/// let rates = [RatePrior { mean: 0.010, sd: 0.005 }];
/// let sale = |price: f64, points| Comparable {
///     log_price: libm::log(price),
///     differences: vec![points],
///     measurement_variance: 0.0,
/// };
/// // One car ten points better than ours, one ten points worse.
/// let fit = fit(&[sale(11_000.0, 10.0), sale(9_000.0, -10.0)], &rates, &Assumptions::default())?;
/// let worth = fit.range(0.8, 0.0);
/// assert!((worth.middle - 9950.0).abs() < 1.0);
/// assert!(worth.low < 8500.0 && worth.high > 11_500.0);
/// # Ok::<(), kerbworth_core::market::fit::FitError>(())
/// ```
pub fn fit(comparables: &[Comparable], rates: &[RatePrior], assumptions: &Assumptions) -> Result<Fit, FitError> {
    check(comparables, rates, assumptions)?;
    let mut rounds = Rounds::start(comparables, rates, assumptions);
    let mut previous = vec![f64::NAN; rounds.coefficients.len()];
    let mut iterations = 0;
    let mut converged = false;
    while iterations < MOST_ROUNDS && !converged {
        iterations += 1;
        rounds.solve()?;
        let spread_before = rounds.sigma2;
        rounds.weigh_and_respread();
        let still =
            |now: f64, before: f64| libm::fabs(now - before) <= STANDS_STILL.max(ROUNDING_ALONE * libm::fabs(now));
        converged = still(rounds.sigma2, spread_before)
            && rounds.coefficients.iter().zip(&previous).all(|(now, before)| still(*now, *before));
        previous.copy_from_slice(&rounds.coefficients);
    }
    rounds.solve()?;
    rounds.finish(iterations, converged)
}

fn check(comparables: &[Comparable], rates: &[RatePrior], assumptions: &Assumptions) -> Result<(), FitError> {
    let Assumptions { s0, nu0, kappa, gross, cover_factor } = *assumptions;
    let positive = |value: f64| value > 0.0 && value.is_finite();
    if !([s0, nu0, kappa, cover_factor].into_iter().all(positive) && gross >= 0.0 && gross.is_finite()) {
        return Err(FitError::UnusableAssumption);
    }
    if let Some(column) = rates.iter().position(|rate| !rate.mean.is_finite() || !positive(rate.sd)) {
        return Err(FitError::UnusableRate { column });
    }
    if comparables.is_empty() {
        return Err(FitError::NoComparables);
    }
    for (sale, comparable) in comparables.iter().enumerate() {
        let (expected, found) = (rates.len(), comparable.differences.len());
        if expected != found {
            return Err(FitError::WrongColumns { sale, expected, found });
        }
        let doubt = comparable.measurement_variance;
        let usable = comparable.log_price.is_finite() && comparable.differences.iter().all(|d| d.is_finite());
        if !(usable && doubt >= 0.0 && doubt.is_finite()) {
            return Err(FitError::UnusableSale { sale });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const RATES: [RatePrior; 2] = [RatePrior { mean: -0.002, sd: 0.0015 }, RatePrior { mean: 0.010, sd: 0.005 }];

    fn sale(price: f64, differences: [f64; 2]) -> Comparable {
        Comparable { log_price: price.ln(), differences: differences.to_vec(), measurement_variance: 0.0 }
    }

    #[track_caller]
    fn refused(
        comparables: &[Comparable],
        rates: &[RatePrior],
        assumptions: Assumptions,
        expected: FitError,
        words: &str,
    ) {
        assert_eq!(fit(comparables, rates, &assumptions), Err(expected));
        assert_eq!(expected.to_string(), words);
    }

    #[test]
    fn says_what_is_wrong() {
        let good = sale(9000.0, [3.0, 1.0]);
        let defaults = Assumptions::default();
        refused(
            &[],
            &RATES,
            defaults,
            FitError::NoComparables,
            "no sales to go by; include at least one sale with its price",
        );
        refused(
            std::slice::from_ref(&good),
            &RATES[..1],
            defaults,
            FitError::WrongColumns { sale: 0, expected: 1, found: 2 },
            "sale 1 has 2 differences where 1 rates are stated; give one a rate",
        );
        refused(
            &[good.clone(), sale(0.0, [0.0, 0.0])],
            &RATES,
            defaults,
            FitError::UnusableSale { sale: 1 },
            "sale 2 has a price or figure that cannot be used; enter a price above 0",
        );
        let doubtful = Comparable { measurement_variance: -1.0, ..good.clone() };
        refused(
            &[doubtful],
            &RATES,
            defaults,
            FitError::UnusableSale { sale: 0 },
            "sale 1 has a price or figure that cannot be used; enter a price above 0",
        );
        refused(
            std::slice::from_ref(&good),
            &[RATES[0], RatePrior { mean: 0.01, sd: 0.0 }],
            defaults,
            FitError::UnusableRate { column: 1 },
            "rate 2 needs a value and a doubt above 0; enter both or restore the default",
        );
        for assumptions in [
            Assumptions { s0: 0.0, ..defaults },
            Assumptions { nu0: -1.0, ..defaults },
            Assumptions { kappa: f64::NAN, ..defaults },
            Assumptions { gross: -0.1, ..defaults },
            Assumptions { cover_factor: f64::INFINITY, ..defaults },
        ] {
            refused(
                std::slice::from_ref(&good),
                &RATES,
                assumptions,
                FitError::UnusableAssumption,
                "the spread and its companions must be above 0; restore the defaults",
            );
        }
        refused(
            &[sale(9000.0, [1e200, 1.0]), good],
            &RATES,
            defaults,
            FitError::Unsolvable,
            "the sales differ too much in size to be weighed together; look for a mistyped figure",
        );
    }

    /// With one sale nothing can be learnt of rates or spread: the sale is adjusted at the stated rates.
    #[test]
    fn one_sale_is_adjusted_at_the_stated_rates() {
        let fit = fit(&[sale(10_000.0, [20.0, -5.0])], &RATES, &Assumptions::default()).unwrap();
        assert!((fit.theta - (10_000_f64.ln() + 0.04 + 0.05)).abs() < 1e-12);
        assert!((fit.beta[0] - RATES[0].mean).abs() < 1e-15 && (fit.beta[1] - RATES[1].mean).abs() < 1e-15);
        assert!((fit.edf - 1.0).abs() < 1e-9 && (fit.df - 2.5).abs() < 1e-9 && fit.converged);
    }

    #[test]
    fn range_of_the_level_lies_within_the_range_of_a_sale() {
        let fit = fit(&[sale(9000.0, [3.0, 1.0]), sale(9900.0, [-8.0, 4.0])], &RATES, &Assumptions::default()).unwrap();
        let (sale, level, unsure) = (fit.range(0.8, 0.0), fit.level_range(0.8, 0.0), fit.range(0.8, 0.01));
        assert!(sale.low < level.low && level.low < level.middle && level.high < sale.high);
        assert!(unsure.low < sale.low && unsure.high > sale.high && unsure.middle == sale.middle);
        assert!(fit.range(0.5, 0.0).width() < sale.width());
    }

    /// Two sales that each deny the other: the fit settles between them and says that it did.
    #[test]
    fn sales_that_cannot_both_be_right_still_settle() {
        let fit = fit(&[sale(1_000.0, [0.0; 2]), sale(90_000.0, [0.0; 2])], &RATES, &Assumptions::default()).unwrap();
        assert!(fit.converged, "{} rounds", fit.iterations);
        assert!((fit.theta - 90_000_000_f64.ln() / 2.0).abs() < 1e-9);
        assert!(fit.sigma2.sqrt() > 5.0 * 0.12);
    }

    fn sales(most: usize) -> impl Strategy<Value = Vec<Comparable>> {
        let one = (7.0..12.0_f64, -60.0..60.0_f64, -40.0..40.0_f64, 0.0..0.02_f64);
        prop::collection::vec(one, 1..most).prop_map(|rows| {
            rows.into_iter()
                .map(|(log_price, miles, score, measurement_variance)| Comparable {
                    log_price,
                    differences: vec![miles, score],
                    measurement_variance,
                })
                .collect()
        })
    }

    proptest! {
        #[test]
        fn bounds_hold(comparables in sales(30)) {
            let fit = fit(&comparables, &RATES, &Assumptions::default()).unwrap();
            let n = comparables.len() as f64;
            prop_assert!(fit.weights.iter().all(|weight| *weight > 0.0));
            prop_assert!((fit.shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            prop_assert!(fit.lambda.iter().all(|lambda| *lambda > 0.0 && *lambda <= 1.25));
            prop_assert!(fit.edf > 0.99 && fit.edf < 3.01 && fit.df >= 2.5 && fit.df <= 2.5 + n - 0.99);
            let worth = fit.range(0.8, 0.0);
            prop_assert!(0.0 < worth.low && worth.low < worth.middle && worth.middle < worth.high);
        }

        /// Where it settled, a further round would leave the equations of the method as they are.
        #[test]
        fn settles_on_a_fixed_point(comparables in sales(12)) {
            let assumptions = Assumptions::default();
            let fit = fit(&comparables, &RATES, &assumptions).unwrap();
            prop_assume!(fit.converged);
            let mut squares = assumptions.nu0 * assumptions.s0 * assumptions.s0;
            let mut pull = [0.0; 3];
            for (i, comparable) in comparables.iter().enumerate() {
                let x = [1.0, comparable.differences[0], comparable.differences[1]];
                let deviation = comparable.log_price - fit.theta - x[1] * fit.beta[0] - x[2] * fit.beta[1];
                let h: f64 = (0..9).map(|place| x[place / 3] * fit.covariance[place] * x[place % 3]).sum();
                let square = deviation * deviation + h;
                let gross = 0.15 * comparable.gross_adjustment(&RATES);
                let variance = fit.sigma2 + comparable.measurement_variance + gross * gross;
                prop_assert!((fit.variances[i] - variance).abs() < 1e-11);
                prop_assert!((fit.lambda[i] - 5.0 / (4.0 + square / variance)).abs() < 1e-8);
                let part = fit.sigma2 / variance;
                squares += part * part * fit.lambda[i] * square + fit.sigma2 * (1.0 - part);
                for (total, entry) in pull.iter_mut().zip(x) {
                    *total += fit.weights[i] * entry * deviation;
                }
            }
            prop_assert!((fit.sigma2 - squares / (2.5 + comparables.len() as f64)).abs() < 1e-11);
            // Normal equations: what the sales pull, the priors hold.
            prop_assert!(pull[0].abs() < 1e-7);
            for (j, rate) in RATES.iter().enumerate() {
                let held = (fit.beta[j] - rate.mean) / (rate.sd * rate.sd);
                prop_assert!((pull[j + 1] - held).abs() < 1e-6 * held.abs().max(1.0), "{} {}", pull[j + 1], held);
            }
        }

        #[test]
        fn the_order_of_sales_and_the_unit_of_money_do_not_matter(comparables in sales(12), factor in 0.01..1000.0_f64) {
            let plain = fit(&comparables, &RATES, &Assumptions::default()).unwrap();
            prop_assume!(plain.converged);
            let mut other = comparables.clone();
            other.reverse();
            for sale in &mut other {
                sale.log_price += factor.ln();
            }
            let turned = fit(&other, &RATES, &Assumptions::default()).unwrap();
            prop_assert!((turned.theta - plain.theta - factor.ln()).abs() < 1e-9);
            prop_assert!((turned.sigma2 - plain.sigma2).abs() < 1e-9);
            prop_assert!((turned.df - plain.df).abs() < 1e-7);
        }

        /// A sale gone wild moves the centre less the wilder it is, once it is out of reach.
        #[test]
        fn a_wild_sale_loses_its_pull(height in 1.5..4.0_f64) {
            let centre = |extra: f64| {
                let mut comparables: Vec<Comparable> =
                    [-0.08, -0.03, 0.02, 0.05, 0.09].iter().map(|apart| Comparable { log_price: 10.0 + apart, differences: vec![0.0; 2], measurement_variance: 0.0 }).collect();
                comparables.push(Comparable { log_price: 10.0 + extra, differences: vec![0.0; 2], measurement_variance: 0.0 });
                fit(&comparables, &RATES, &Assumptions::default()).unwrap().theta
            };
            prop_assert!(centre(height + 0.5) <= centre(height));
            prop_assert!(centre(height) < 10.06);
        }
    }
}
