//! The rounds of the fit: weights from deviations, then level, rates and spread from weights, in turn.
//!
//! All room is made at the start; a round allocates nothing and takes time in proportion to the sales.

use super::fit::{Assumptions, Comparable, Fit, FitError};
use super::rates::RatePrior;
use crate::statistics::cholesky::{Factor, dot};
use crate::statistics::{median, sums};

/// One sale in the working state of the fit; its row of (1, differences) lies apart, beside the other rows.
struct Sale {
    /// Log price, less the reference that all share.
    response: f64,
    /// e²: variance from what is not known of it and from its adjustments.
    doubt: f64,
    variance: f64,
    lambda: f64,
    weight: f64,
}

/// The working state, with all the room that a round needs.
pub(super) struct Rounds {
    assumptions: Assumptions,
    /// Taken off every log price: the numbers then stay small and the last digits stay good.
    reference: f64,
    /// (1, differences) of each sale, one after another.
    rows: Vec<f64>,
    /// The same, the first entries of all sales, then the second ones, and so on.
    columns: Vec<f64>,
    sales: Vec<Sale>,
    /// h = xᵀ C x of each sale: variance of its fitted value.
    fitted_variances: Vec<f64>,
    /// 1/S² and b/S² of each coefficient; 0 for the level.
    precisions: Vec<f64>,
    pulls: Vec<f64>,
    normal: Vec<f64>,
    factor: Factor,
    /// (θ less the reference, β).
    pub(super) coefficients: Vec<f64>,
    pub(super) sigma2: f64,
    room: Vec<f64>,
}

impl Rounds {
    pub(super) fn start(comparables: &[Comparable], rates: &[RatePrior], assumptions: &Assumptions) -> Self {
        let width = rates.len() + 1;
        let at_stated_rates: Vec<f64> = comparables
            .iter()
            .map(|sale| {
                let explained: f64 = sale.differences.iter().zip(rates).map(|(d, rate)| d * rate.mean).sum();
                sale.log_price - explained
            })
            .collect();
        let middle = median::median(&at_stated_rates).unwrap_or(0.0);
        let sigma2 = assumptions.s0 * assumptions.s0;
        let sales: Vec<Sale> = comparables
            .iter()
            .zip(&at_stated_rates)
            .map(|(sale, adjusted)| {
                let from_adjusting = assumptions.gross * sale.gross_adjustment(rates);
                let doubt = sale.measurement_variance + from_adjusting * from_adjusting;
                let variance = sigma2 + doubt;
                let apart = adjusted - middle;
                Sale {
                    response: sale.log_price - middle,
                    doubt,
                    variance,
                    lambda: (assumptions.kappa + 1.0) / (assumptions.kappa + apart * apart / variance),
                    weight: 0.0,
                }
            })
            .collect();
        let rows: Vec<f64> =
            comparables.iter().flat_map(|sale| core::iter::once(1.0).chain(sale.differences.iter().copied())).collect();
        let columns: Vec<f64> = (0..width).flat_map(|place| rows.iter().skip(place).step_by(width)).copied().collect();
        let precision = |rate: &RatePrior| 1.0 / (rate.sd * rate.sd);
        Self {
            assumptions: *assumptions,
            reference: middle,
            fitted_variances: vec![0.0; sales.len()],
            room: Vec::with_capacity(columns.len() + sales.len()),
            rows,
            columns,
            sales,
            precisions: core::iter::once(0.0).chain(rates.iter().map(precision)).collect(),
            pulls: core::iter::once(0.0).chain(rates.iter().map(|rate| rate.mean * precision(rate))).collect(),
            normal: vec![0.0; width * width],
            factor: Factor::with_order(width),
            coefficients: vec![0.0; width],
            sigma2,
        }
    }

    /// Level and rates from the weights: A = Σ w x xᵀ + diag(0, 1/S²), (θ, β) = A⁻¹ (Σ w x y + (0, b/S²)), and
    /// the variance of each fitted value.
    pub(super) fn solve(&mut self) -> Result<(), FitError> {
        let width = self.coefficients.len();
        self.coefficients.copy_from_slice(&self.pulls);
        for (place, (normal_row, precision)) in self.normal.chunks_exact_mut(width).zip(&self.precisions).enumerate() {
            normal_row.fill(0.0);
            if let Some(diagonal) = normal_row.get_mut(place) {
                *diagonal = *precision;
            }
        }
        for (sale, row) in self.sales.iter_mut().zip(self.rows.chunks_exact(width)) {
            sale.weight = sale.lambda / sale.variance;
            // Only the lower triangle is read: each row of the matrix is filled up to its diagonal.
            let places = self.normal.chunks_exact_mut(width).zip(&mut self.coefficients).zip(row).enumerate();
            for (place, ((normal_row, moment), entry)) in places {
                let weighted = sale.weight * entry;
                *moment += weighted * sale.response;
                for (cell, other) in normal_row.iter_mut().zip(row).take(place + 1) {
                    *cell += weighted * other;
                }
            }
        }
        self.factor.refactor(&self.normal).map_err(|_| FitError::Unsolvable)?;
        self.factor.solve(&mut self.coefficients);
        if self.coefficients.iter().any(|value| !value.is_finite()) {
            return Err(FitError::Unsolvable);
        }
        self.factor.quadratic_forms(&self.columns, &mut self.room, &mut self.fitted_variances);
        Ok(())
    }

    /// Trust in each sale from its deviation, then the spread from all of them.
    pub(super) fn weigh_and_respread(&mut self) {
        let width = self.coefficients.len();
        let Assumptions { s0, nu0, kappa, .. } = self.assumptions;
        let mut squares = sums::Sum::default();
        squares.add(nu0 * s0 * s0);
        for ((sale, row), fitted_variance) in
            self.sales.iter_mut().zip(self.rows.chunks_exact(width)).zip(&self.fitted_variances)
        {
            let deviation = sale.response - dot(row, &self.coefficients);
            let square = deviation * deviation + fitted_variance;
            sale.lambda = (kappa + 1.0) / (kappa + square / sale.variance);
            // The part of the deviation that is spread, not doubt about this sale: f = σ² / V.
            let part = self.sigma2 / sale.variance;
            squares.add(part * part * sale.lambda * square + self.sigma2 * (1.0 - part));
        }
        self.sigma2 = squares.total() / (nu0 + self.sales.len() as f64);
        for sale in &mut self.sales {
            sale.variance = self.sigma2 + sale.doubt;
        }
    }

    pub(super) fn finish(self, iterations: u32, converged: bool) -> Result<Fit, FitError> {
        let (level, beta) = self.coefficients.split_first().ok_or(FitError::Unsolvable)?;
        let of_sales = |figure: fn(&Sale) -> f64| self.sales.iter().map(figure).collect::<Vec<f64>>();
        let weights = of_sales(|sale| sale.weight);
        let all = sums::sum(weights.iter().copied());
        let edf = sums::sum(self.sales.iter().zip(&self.fitted_variances).map(|(sale, h)| sale.weight * h));
        Ok(Fit {
            theta: level + self.reference,
            beta: beta.to_vec(),
            covariance: self.factor.inverse(),
            sigma2: self.sigma2,
            variances: of_sales(|sale| sale.variance),
            lambda: of_sales(|sale| sale.lambda),
            shares: weights.iter().map(|weight| weight / all).collect(),
            weights,
            edf,
            df: self.assumptions.nu0 + (self.sales.len() as f64 - edf).max(0.0),
            iterations,
            converged,
            cover_factor: self.assumptions.cover_factor,
        })
    }
}
