//! What to be wary of in a grid: the thresholds, each with what it rests on, and the search for figures past them.

use super::fit::{Assumptions, Comparable, Fit};
use super::grid::Line;
use super::rates::Column;
use super::ratio_study::RatioStudy;
pub use super::warning::{Side, Warning};

/// With so many sales or fewer the width is the assumed one.
pub const PRIOR_DRIVEN_TO: usize = 2;
/// With so many sales or fewer the width is mostly the assumed one.
pub const MOSTLY_ASSUMED_TO: usize = 4;
/// The sales disagree when their spread passes the assumed one by this factor. Judgement, not tested on data.
pub const DISAGREE_FROM: f64 = 1.3;
/// Gross adjustment guide: a share of the sale price, signs ignored. A former guideline of US mortgage lenders,
/// seen only at second hand (georgiaappraiser.com); not a hard limit.
pub const GROSS_ADJUSTMENT_TO: f64 = 0.25;
/// Net adjustment guide; see [`GROSS_ADJUSTMENT_TO`].
pub const NET_ADJUSTMENT_TO: f64 = 0.15;
/// One sale of three or more carries too much when its share passes this. Judgement: it outweighs all others.
pub const DOMINATES_FROM: f64 = 0.5;
/// A sale is far from the rest when its trust λ falls below this. Judgement: it counts for less than half of
/// what its own doubts would give it.
pub const FAR_BELOW_TRUST: f64 = 0.5;
/// Median ratio: .90 to 1.10 (IAAO, Standard on Ratio Studies, 2013; as quoted in the documentation of the
/// assesspy package).
pub const LEVEL: (f64, f64) = (0.90, 1.10);
/// Coefficient of dispersion: to 15 for houses in general (IAAO, as quoted in that of the assessr package). There is no
/// published bound for cars.
pub const COD_TO: f64 = 15.0;
/// Price-related differential: .98 to 1.03 (IAAO, as quoted in county guides).
pub const PRD: (f64, f64) = (0.98, 1.03);
/// Price-related bias: −.05 to .05 (IAAO, as quoted in the documentation of the assesspy package).
pub const PRB: (f64, f64) = (-0.05, 0.05);

/// What the warnings are drawn from.
#[derive(Debug, Clone, Copy)]
pub struct Examined<'a> {
    /// The comparables, columns in the order of [`Column::ALL`].
    pub comparables: &'a [Comparable],
    /// The fit made from them.
    pub fit: &'a Fit,
    /// The grid of that fit.
    pub lines: &'a [Line],
    /// What the fit assumed.
    pub assumptions: &'a Assumptions,
}

/// Every warning that applies, the ones on the whole set first, then sale by sale.
#[must_use]
pub fn warnings(examined: &Examined<'_>) -> Vec<Warning> {
    let mut found = of_the_set(examined);
    for (sale, line) in examined.lines.iter().enumerate() {
        of_one_sale(&mut found, sale, line, examined.lines.len());
    }
    found
}

/// The warnings that a ratio study alone gives.
#[must_use]
pub fn study_warnings(study: &RatioStudy) -> Vec<Warning> {
    let mut found = Vec::new();
    of_the_study(&mut found, study);
    found
}

fn of_the_set(examined: &Examined<'_>) -> Vec<Warning> {
    let mut found = Vec::new();
    let count = examined.comparables.len();
    if count <= PRIOR_DRIVEN_TO {
        found.push(Warning::PriorDriven);
    } else if count <= MOSTLY_ASSUMED_TO {
        found.push(Warning::MostlyAssumed);
    }
    let (spread, assumed) = (libm::sqrt(examined.fit.sigma2), examined.assumptions.s0);
    if spread > DISAGREE_FROM * assumed {
        found.push(Warning::SalesDisagree { spread, assumed });
    }
    for (place, column) in Column::ALL.into_iter().enumerate().filter(|(_, column)| column.wants_bracketing()) {
        let all = |test: fn(f64) -> bool| {
            count > 1 && examined.comparables.iter().all(|sale| sale.differences.get(place).is_some_and(|d| test(*d)))
        };
        if all(|difference| difference < 0.0) {
            found.push(Warning::NotBracketed { column, side: Side::Below });
        } else if all(|difference| difference > 0.0) {
            found.push(Warning::NotBracketed { column, side: Side::Above });
        }
    }
    if !examined.fit.converged {
        found.push(Warning::NotSettled);
    }
    found
}

fn of_one_sale(found: &mut Vec<Warning>, sale: usize, line: &Line, count: usize) {
    let (gross, net) = (line.gross(), line.net());
    if gross > GROSS_ADJUSTMENT_TO {
        found.push(Warning::GrossAdjustment { sale, share: gross });
    }
    if libm::fabs(net) > NET_ADJUSTMENT_TO {
        found.push(Warning::NetAdjustment { sale, share: net });
    }
    if count > PRIOR_DRIVEN_TO && line.share > DOMINATES_FROM {
        found.push(Warning::OneSaleDominates { sale, share: line.share });
    }
    if line.trust < FAR_BELOW_TRUST {
        found.push(Warning::FarFromTheRest { sale, trust: line.trust });
    }
}

fn of_the_study(found: &mut Vec<Warning>, study: &RatioStudy) {
    let outside = |value: f64, (low, high): (f64, f64)| value < low || value > high;
    if outside(study.median, LEVEL) {
        found.push(Warning::Level { median: study.median });
    }
    if study.cod > COD_TO {
        found.push(Warning::Dispersion { cod: study.cod });
    }
    if outside(study.prd, PRD) {
        found.push(Warning::Differential { prd: study.prd });
    }
    if let Some(prb) = study.prb.filter(|prb| outside(*prb, PRB)) {
        found.push(Warning::Bias { prb });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::market::fit::fit;
    use crate::market::grid::grid;
    use crate::market::rates::CarRates;

    /// Log price above 9.2, miles, score, doubt.
    type Sold = (f64, f64, f64, f64);

    /// Five sales about a subject, none of them remarkable.
    const CALM: [Sold; 5] = [
        (0.05, -10.0, 5.0, 0.0),
        (-0.06, 12.0, -4.0, 0.0),
        (0.02, 3.0, 2.0, 0.0),
        (-0.03, -5.0, -2.0, 0.0),
        (0.0, 1.0, 0.0, 0.0),
    ];

    fn of(sold: &[Sold]) -> Vec<Warning> {
        let comparables: Vec<Comparable> = sold
            .iter()
            .map(|(log, miles, score, doubt)| Comparable {
                log_price: 9.2 + log,
                differences: vec![*miles, *score, 0.0, 0.0, 0.0, 0.0],
                measurement_variance: *doubt,
            })
            .collect();
        let assumptions = Assumptions::default();
        let fit = fit(&comparables, &CarRates::default().in_order(), &assumptions).unwrap();
        let lines = grid(&comparables, &fit);
        warnings(&Examined { comparables: &comparables, fit: &fit, lines: &lines, assumptions: &assumptions })
    }

    fn studied(median: f64, cod: f64, prd: f64, prb: Option<f64>) -> Vec<Warning> {
        let mut found = Vec::new();
        let study = RatioStudy { ratios: vec![1.0; 8], median, mean: 1.0, weighted_mean: 1.0, cod, prd, prb };
        of_the_study(&mut found, &study);
        found
    }

    /// One warning is given, and its sentence is this.
    #[track_caller]
    fn gives(found: &[Warning], expected: &str) {
        let sentences: Vec<String> = found.iter().map(Warning::to_string).collect();
        assert_eq!(sentences, [expected]);
    }

    #[test]
    fn five_calm_sales_give_none() {
        assert_eq!(of(&CALM), []);
    }

    #[test]
    fn few_sales() {
        gives(&of(&CALM[..2]), "prior-driven: the width comes from the assumed spread, not from your sales; add sales");
        for count in [3, 4] {
            gives(&of(&CALM[..count]), "mostly assumed spread: three or four sales say little of it; add sales");
        }
    }

    #[test]
    fn sales_that_disagree() {
        let apart: Vec<Sold> =
            CALM.iter().zip([0.35, -0.3, 0.3, -0.35, 0.0]).map(|(s, log)| (log, s.1, s.2, s.3)).collect();
        let found = of(&apart);
        assert!(matches!(found[..], [Warning::SalesDisagree { spread, assumed: 0.12 }] if spread > 0.156), "{found:?}");
        gives(
            &[Warning::SalesDisagree { spread: 0.21, assumed: 0.12 }],
            "these sales disagree more than assumed (21 % against 12 %); consider the wide preset",
        );
        // With the widest chosen there is no wider one to advise.
        gives(
            &[Warning::SalesDisagree { spread: 0.40, assumed: 0.24 }],
            "these sales disagree more than assumed (40 % against 24 %)",
        );
    }

    #[test]
    fn sales_all_on_one_side() {
        let with = |miles: Option<f64>, score: Option<f64>| -> Vec<Sold> {
            CALM.iter()
                .map(|s| (s.0, miles.map_or(s.1, |m| m * s.1.abs()), score.map_or(s.2, |p| p * (s.2.abs() + 1.0)), s.3))
                .collect()
        };
        gives(&of(&with(Some(-1.0), None)), "every sale has fewer miles than this car; look for one with more");
        gives(&of(&with(Some(1.0), None)), "every sale has more miles than this car; look for one with fewer");
        gives(
            &of(&with(None, Some(-1.0))),
            "every sale has a lower score than this car; look for one in better condition",
        );
        gives(
            &of(&with(None, Some(1.0))),
            "every sale has a higher score than this car; look for one in worse condition",
        );
        // One sale that is equal brackets: it needs no adjusting at all.
        let mut touching = with(Some(1.0), None);
        touching[0].1 = 0.0;
        assert_eq!(of(&touching), []);
    }

    #[test]
    fn much_adjusted_sales() {
        let mut sold = CALM;
        // 30 points better, twice the usual miles: large both ways, small on balance.
        sold[2] = (0.06, 65.0, 17.0, 0.0);
        let found = of(&sold);
        assert!(matches!(found[..], [Warning::GrossAdjustment { sale: 2, share }] if share > 0.25), "{found:?}");
        sold[2] = (0.19, 0.0, 19.0, 0.0);
        let found = of(&sold);
        assert!(matches!(found[..], [Warning::NetAdjustment { sale: 2, share }] if share < -0.15), "{found:?}");
        gives(
            &[Warning::GrossAdjustment { sale: 2, share: 0.284 }],
            "sale 3 needs adjustments of 28 % of its price in all; a nearer car would say more",
        );
        gives(
            &[Warning::NetAdjustment { sale: 0, share: -0.17 }],
            "sale 1 is adjusted down by 17 % of its price; a nearer car would say more",
        );
        gives(
            &[Warning::NetAdjustment { sale: 0, share: 0.17 }],
            "sale 1 is adjusted up by 17 % of its price; a nearer car would say more",
        );
    }

    #[test]
    fn one_sale_that_carries_the_worth() {
        let mut sold = CALM;
        for sale in &mut sold[1..] {
            sale.3 = 0.2;
        }
        let found = of(&sold);
        assert!(matches!(found[..], [Warning::OneSaleDominates { sale: 0, share }] if share > 0.5), "{found:?}");
        gives(
            &[Warning::OneSaleDominates { sale: 0, share: 0.61 }],
            "sale 1 carries 61 % of the worth; check it twice or add sales",
        );
    }

    #[test]
    fn a_sale_far_from_the_rest() {
        let mut sold = CALM;
        sold[3].0 = 0.5;
        let found = of(&sold);
        assert!(matches!(found[..], [Warning::FarFromTheRest { sale: 3, trust }] if trust < 0.5), "{found:?}");
        gives(&found, "sale 4 lies far from the rest and counts for less; check its price, kind and condition");
    }

    #[test]
    fn ratios_outside_the_published_bands() {
        assert_eq!(studied(1.10, 15.0, 1.03, Some(-0.05)), []);
        assert_eq!(studied(0.90, 5.0, 0.98, None), []);
        gives(
            &studied(1.12, 9.0, 1.0, None),
            "tried on your own sales the method comes out at 112 % of their prices (90 to 110 is usual); check the rates",
        );
        gives(
            &studied(0.88, 9.0, 1.0, None),
            "tried on your own sales the method comes out at 88 % of their prices (90 to 110 is usual); check the rates",
        );
        gives(
            &studied(1.0, 18.4, 1.0, None),
            "tried on your own sales the method misses by 18 % on average (assessors of houses accept 15); the sales or \
             their scores are uneven",
        );
        gives(
            &studied(1.0, 9.0, 1.041, None),
            "tried on your own sales the method values dear cars too low (differential 1.04, bound 1.03); go by sales near \
             this car's price",
        );
        gives(
            &studied(1.0, 9.0, 0.961, None),
            "tried on your own sales the method values dear cars too high (differential 0.96, bound 0.98); go by sales \
             near this car's price",
        );
        gives(
            &studied(1.0, 9.0, 1.0, Some(-0.12)),
            "tried on your own sales the valuation falls by 12 % each time the price doubles; go by sales near this \
             car's price",
        );
        gives(
            &studied(1.0, 9.0, 1.0, Some(0.06)),
            "tried on your own sales the valuation rises by 6 % each time the price doubles; go by sales near this \
             car's price",
        );
    }

    #[test]
    fn a_fit_that_met_its_cap() {
        let comparables = [Comparable { log_price: 9.0, differences: vec![0.0; 6], measurement_variance: 0.0 }; 1];
        let assumptions = Assumptions::default();
        let mut fit = fit(&comparables, &CarRates::default().in_order(), &assumptions).unwrap();
        let of = |fit: &Fit| {
            let lines = grid(&comparables, fit);
            warnings(&Examined { comparables: &comparables, fit, lines: &lines, assumptions: &assumptions })
        };
        assert_eq!(of(&fit), [Warning::PriorDriven]);
        fit.converged = false;
        assert_eq!(of(&fit), [Warning::PriorDriven, Warning::NotSettled]);
        assert_eq!(
            Warning::NotSettled.to_string(),
            "the weighing did not settle; look for two sales that cannot both be right"
        );
    }
}
