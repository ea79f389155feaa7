//! Certified values of the NIST Statistical Reference Datasets (StRD, itl.nist.gov/div898/strd): univariate summary statistics NumAcc1
//! to 4, linear regression Norris and Longley.
//!
//! The data of NumAcc1 and NumAcc2 and Longley's coefficients are from memory, recomputed in exact fractions.

use kerbworth_core::market::fit::{Assumptions, Comparable, fit};
use kerbworth_core::market::rates::RatePrior;
use kerbworth_core::statistics::cholesky::{Factor, dot};
use kerbworth_core::statistics::sums;

/// Right digits: −log₁₀ of the relative error, as NIST counts them.
#[track_caller]
fn digits(found: f64, certified: f64, least: f64) {
    let right = -((found - certified).abs() / certified.abs()).log10();
    assert!(right >= least, "found {found}, certified {certified}: {right:.1} digits");
}

/// A value, then a low and a high one in turn, five hundred times.
fn alternating(first: f64, low: f64, high: f64) -> Vec<f64> {
    core::iter::once(first).chain((0..1000).map(|place| if place % 2 == 0 { low } else { high })).collect()
}

#[test]
fn numerical_accuracy() {
    let one = [10_000_001.0, 10_000_003.0, 10_000_002.0];
    assert_eq!(sums::mean(&one), Some(10_000_002.0));
    assert_eq!(sums::standard_deviation(&one), Some(1.0));
    let two = alternating(1.2, 1.1, 1.3);
    digits(sums::mean(&two).unwrap(), 1.2, 15.0);
    digits(sums::standard_deviation(&two).unwrap(), 0.1, 14.0);
    let three = alternating(1_000_000.2, 1_000_000.1, 1_000_000.3);
    digits(sums::mean(&three).unwrap(), 1_000_000.2, 15.0);
    // Seven of the sixteen digits stand before the decimals that vary.
    digits(sums::standard_deviation(&three).unwrap(), 0.1, 9.0);
    let four = alternating(10_000_000.2, 10_000_000.1, 10_000_000.3);
    digits(sums::mean(&four).unwrap(), 10_000_000.2, 15.0);
    digits(sums::standard_deviation(&four).unwrap(), 0.1, 8.0);
}

#[rustfmt::skip]
const NORRIS: [(f64, f64); 36] = [
    (0.1, 0.2), (338.8, 337.4), (118.1, 118.2), (888.0, 884.6), (9.2, 10.1), (228.1, 226.5), (668.5, 666.3),
    (998.5, 996.3), (449.1, 448.6), (778.9, 777.0), (559.2, 558.2), (0.3, 0.4), (0.1, 0.6), (778.1, 775.5),
    (668.8, 666.9), (339.3, 338.0), (448.9, 447.5), (10.8, 11.6), (557.7, 556.0), (228.3, 228.1), (998.0, 995.8),
    (888.8, 887.6), (119.6, 120.2), (0.3, 0.3), (0.6, 0.3), (557.6, 556.8), (339.3, 339.1), (888.0, 887.2),
    (998.5, 999.0), (778.9, 779.0), (10.2, 11.1), (117.6, 118.3), (228.9, 229.2), (668.4, 669.1), (449.2, 448.9),
    (0.2, 0.5),
];

/// The fit without what makes it robust (rates all but unknown, spread not assumed, deviations all but normal) is least squares: its
/// spread settles on the residual mean square, with n − 2 degrees of freedom.
#[test]
fn norris_through_the_fit() {
    let comparables: Vec<Comparable> = NORRIS
        .iter()
        .map(|(y, x)| Comparable { log_price: *y, differences: vec![*x], measurement_variance: 0.0 })
        .collect();
    let unknown = [RatePrior { mean: 0.0, sd: 1e9 }];
    let plain = Assumptions { s0: 1.0, nu0: 1e-12, kappa: 1e18, gross: 0.0, cover_factor: 1.0 };
    let fit = fit(&comparables, &unknown, &plain).unwrap();
    assert!(fit.converged);
    digits(fit.theta, -0.262_323_073_774_029, 10.0);
    digits(fit.beta[0], 1.002_116_818_020_45, 12.0);
    digits(fit.sigma2, 0.782_864_662_630_069, 11.0);
    digits(fit.level_variance().sqrt(), 0.232_818_234_301_152, 11.0);
    digits(fit.covariance[3].sqrt(), 0.429_796_848_199_937e-3, 11.0);
    digits(fit.df, 34.0, 11.0);
}

/// Employment on six economic series, nearly collinear: y, x1 … x6.
#[rustfmt::skip]
const LONGLEY: [[f64; 7]; 16] = [
    [60323., 83.0, 234289., 2356., 1590., 107608., 1947.], [61122., 88.5, 259426., 2325., 1456., 108632., 1948.],
    [60171., 88.2, 258054., 3682., 1616., 109773., 1949.], [61187., 89.5, 284599., 3351., 1650., 110929., 1950.],
    [63221., 96.2, 328975., 2099., 3099., 112075., 1951.], [63639., 98.1, 346999., 1932., 3594., 113270., 1952.],
    [64989., 99.0, 365385., 1870., 3547., 115094., 1953.], [63761., 100.0, 363112., 3578., 3350., 116219., 1954.],
    [66019., 101.2, 397469., 2904., 3048., 117388., 1955.], [67857., 104.6, 419180., 2822., 2857., 118734., 1956.],
    [68169., 108.4, 442769., 2936., 2798., 120445., 1957.], [66513., 110.8, 444546., 4681., 2637., 121950., 1958.],
    [68655., 112.6, 482704., 3813., 2552., 123366., 1959.], [69564., 114.2, 502601., 3931., 2514., 125368., 1960.],
    [69331., 115.7, 518173., 4806., 2572., 127852., 1961.], [70551., 116.9, 554894., 4007., 2827., 130081., 1962.],
];

const LONGLEY_COEFFICIENTS: [f64; 6] = [
    15.061_872_271_373_3,
    -0.358_191_792_925_910e-1,
    -2.020_229_803_816_83,
    -1.033_226_867_173_59,
    -0.511_041_056_535_807e-1,
    1_829.151_464_613_55,
];

/// Longley's normal equations about the means, through the Cholesky factor. (The fit itself keeps the columns as they come, because
/// its priors keep them apart; without priors they would be beyond it.)
#[test]
fn longley_through_the_cholesky_factor() {
    let column = |place: usize| -> Vec<f64> {
        let values: Vec<f64> = LONGLEY.iter().map(|row| row[place]).collect();
        let middle = sums::mean(&values).unwrap();
        values.iter().map(|value| value - middle).collect()
    };
    let columns: Vec<Vec<f64>> = (0..7).map(column).collect();
    let normal: Vec<f64> = columns[1..].iter().flat_map(|a| columns[1..].iter().map(|b| dot(a, b))).collect();
    let mut coefficients: Vec<f64> = columns[1..].iter().map(|a| dot(a, &columns[0])).collect();
    let mut factor = Factor::with_order(6);
    factor.refactor(&normal).unwrap();
    factor.solve(&mut coefficients);
    for (found, certified) in coefficients.iter().zip(LONGLEY_COEFFICIENTS) {
        digits(*found, certified, 8.0);
    }
    let mean = |place: usize| sums::mean(&LONGLEY.map(|row| row[place])).unwrap();
    let level = mean(0) - sums::sum((1..7).map(|place| mean(place) * coefficients[place - 1]));
    digits(level, -3_482_258.634_595_82, 8.0);
    let residual = |case: usize| columns[0][case] - (1..7).map(|j| coefficients[j - 1] * columns[j][case]).sum::<f64>();
    let squares = sums::sum((0..16).map(|case| residual(case) * residual(case)));
    digits((squares / 9.0).sqrt(), 304.854_073_561_965, 10.0);
    digits(1.0 - squares / dot(&columns[0], &columns[0]), 0.995_479_004_577_296, 12.0);
}
