//! The worked example of the valuation method, sections 5 to 7 of its description, every number to the six
//! significant digits that it is given with (`tests/data/valuation_worked_example.json`; computed once by a
//! reference implementation in another language).

use std::collections::BTreeMap;

use kerbworth_core::bid::{BasisPoints, Fees, Tier, highest_outlay, top_bid};
use kerbworth_core::market::fit::{Assumptions, Comparable, Fit, fit};
use kerbworth_core::market::grid::{grid, weighted_geometric_mean};
use kerbworth_core::market::imputed::{PriceKind, ScoreSource, SoldCar, SubjectCar, differences};
use kerbworth_core::market::range::Range;
use kerbworth_core::market::rates::CarRates;
use kerbworth_core::market::ratio_study::{RatioStudy, Valued, predicted_without_each};
use kerbworth_core::repair::deduction::{Item, JobGroup, deduction};
use kerbworth_core::repair::three_point::ThreePoint;
use kerbworth_core::statistics::{median, student};
use kerbworth_core::units::Money;
use kerbworth_core::worth::cross_check::CrossCheck;
use kerbworth_core::worth::range::{as_it_stands, confirmed};
use serde_json::Value;

use crate::next_look::{NextLook, Reliability, SURE, next_look};

/// The figures, as they were written.
fn figures() -> Value {
    serde_json::from_str(include_str!("../data/valuation_worked_example.json")).unwrap()
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(|number| number.as_f64().unwrap()).collect()
}

/// Equal to six significant digits: within half a unit of the last one.
#[track_caller]
fn six(found: f64, expected: &Value) {
    let expected = expected.as_f64().unwrap();
    let unit = if expected == 0.0 { 1e-6 } else { 10_f64.powf(expected.abs().log10().floor() - 5.0) };
    assert!((found - expected).abs() <= 0.5001 * unit, "found {found}, expected {expected}");
}

#[track_caller]
fn all_six(found: &[f64], expected: &Value) {
    let expected = expected.as_array().unwrap();
    assert_eq!(found.len(), expected.len());
    for (found, expected) in found.iter().zip(expected) {
        six(*found, expected);
    }
}

/// The six sales of the example's table.
fn sales() -> Vec<SoldCar> {
    use PriceKind::{Asking, Auction, Dealer, Private};
    use ScoreSource::{Guess, Inspected, Photographs};
    [
        (24_500.0, -3.0, Some(58.0), 72.0, Inspected, Private),
        (27_900.0, -8.0, Some(41.0), 80.0, Inspected, Auction),
        (21_800.0, -14.0, Some(83.0), 61.0, Inspected, Private),
        (31_500.0, -2.0, Some(47.0), 78.0, Photographs, Dealer),
        (26_900.0, -1.0, None, 70.0, Guess, Asking),
        (43_500.0, -5.0, Some(55.0), 74.0, Inspected, Auction),
    ]
    .into_iter()
    .map(|(price, month, thousand_miles, score, score_source, kind)| SoldCar {
        price,
        thousand_miles,
        score,
        score_source,
        month,
        kind,
    })
    .collect()
}

const BASE_SCORE: f64 = 70.0;
const SEEN_SCORE: f64 = 62.0;

fn comparables(sales: &[SoldCar], score: f64) -> Vec<Comparable> {
    let subject = SubjectCar { thousand_miles: Some(62.0), score, score_source: ScoreSource::Inspected };
    differences(sales, &subject, &CarRates::default()).comparables
}

fn fitted(comparables: &[Comparable]) -> Fit {
    fit(comparables, &CarRates::default().in_order(), &Assumptions::default()).unwrap()
}

/// The range at the base score, which the repairs are deducted from.
fn market() -> Range {
    fitted(&comparables(&sales(), BASE_SCORE)).range(0.8, 0.0)
}

#[test]
fn inputs() {
    let figures = figures();
    let rates = CarRates::default().in_order();
    all_six(&rates.map(|rate| rate.mean), &figures["prior_mean"]);
    all_six(&rates.map(|rate| rate.sd), &figures["prior_sd"]);
    let subject = SubjectCar { thousand_miles: Some(62.0), score: BASE_SCORE, score_source: ScoreSource::Inspected };
    let made = differences(&sales(), &subject, &CarRates::default());
    six(made.imputed_thousand_miles, &figures["imputed_miles_k"]);
    six(kerbworth_core::market::imputed::imputed_mileage_sd(made.imputed_thousand_miles), &figures["imputed_sd_k"]);
    assert_eq!(made.subject_variance, 0.0);
    let column = |figure: fn(&Comparable) -> f64| made.comparables.iter().map(figure).collect::<Vec<_>>();
    all_six(&column(|sale| sale.log_price), &figures["y"]);
    all_six(&column(|sale| sale.measurement_variance), &figures["e2_measure"]);
    for (sale, expected) in made.comparables.iter().zip(figures["D"].as_array().unwrap()) {
        assert_eq!(sale.differences, numbers(expected));
    }
    let gross: Vec<f64> = made.comparables.iter().map(|sale| sale.gross_adjustment(&rates)).collect();
    all_six(&gross, &figures["gross"]);
}

#[test]
fn the_fit() {
    let figures = figures();
    let fit = fitted(&comparables(&sales(), BASE_SCORE));
    all_six(&fit.beta, &figures["beta"]);
    six(fit.theta, &figures["theta"]);
    six(fit.sigma2, &figures["s2"]);
    six(fit.sigma2.sqrt(), &figures["s"]);
    all_six(&fit.variances, &figures["V"]);
    all_six(&fit.lambda, &figures["lambda"]);
    all_six(&fit.weights, &figures["w"]);
    all_six(&fit.shares, &figures["weight_share"]);
    six(fit.level_variance(), &figures["C00"]);
    six(fit.edf, &figures["edf"]);
    six(fit.df, &figures["df"]);
    six(fit.cover_factor, &figures["c_kappa"]);
    six(fit.predictive_sd(0.0), &figures["sp"]);
    six(student::quantile(0.9, fit.df), &figures["t90"]);
    six(student::quantile(0.75, fit.df), &figures["t75"]);
    let (wide, narrow) = (fit.range(0.8, 0.0), fit.range(0.5, 0.0));
    six(wide.middle, &figures["centre"]);
    all_six(&[wide.low, wide.high], &figures["range80"]);
    all_six(&[narrow.low, narrow.high], &figures["range50"]);
    assert!(fit.converged);
    assert_eq!(u64::from(fit.iterations), figures["iterations"].as_u64().unwrap());
}

#[test]
fn the_grid() {
    let figures = figures();
    let comparables = comparables(&sales(), BASE_SCORE);
    let lines = grid(&comparables, &fitted(&comparables));
    let expected = figures["grid"].as_array().unwrap();
    assert_eq!(lines.len(), expected.len());
    for (line, expected) in lines.iter().zip(expected) {
        six(line.price, &expected["price"]);
        let amounts: Vec<f64> = line.adjustments.iter().map(|adjustment| adjustment.amount).collect();
        let columns = ["miles_k", "score", "month", "asking", "dealer", "auction"];
        assert_eq!(amounts.len(), columns.len());
        for (amount, column) in amounts.iter().zip(columns) {
            six(*amount, &expected[column]);
        }
        six(line.adjusted, &expected["adjusted"]);
        six(line.share, &expected["weight_share"]);
    }
    six(weighted_geometric_mean(&lines), &figures["check_weighted_geometric_mean"]);
}

#[test]
fn the_first_one_two_and_three_sales_alone() {
    let figures = figures();
    for count in 1..=3 {
        let fit = fitted(&comparables(&sales()[..count], BASE_SCORE));
        let expected = &figures["first_n_comparables"][count.to_string()];
        let range = fit.range(0.8, 0.0);
        six(range.middle, &expected["centre"]);
        all_six(&[range.low, range.high], &expected["range80"]);
        six(fit.df, &expected["df"]);
        six(fit.predictive_sd(0.0), &expected["sp"]);
    }
}

#[test]
fn at_the_score_seen() {
    let figures = figures();
    let range = fitted(&comparables(&sales(), SEEN_SCORE)).range(0.8, 0.0);
    six(range.middle, &figures["score_only_cross_check"]["centre"]);
    all_six(&[range.low, range.high], &figures["score_only_cross_check"]["range80"]);
}

#[test]
fn the_ratio_study() {
    let figures = &figures()["ratio_study"];
    let comparables = comparables(&sales(), BASE_SCORE);
    let rates = CarRates::default().in_order();
    let predicted: Vec<f64> = predicted_without_each(&comparables, &rates, &Assumptions::default())
        .unwrap()
        .iter()
        .map(|log| log.exp())
        .collect();
    all_six(&predicted, &figures["pred"]);
    let valued: Vec<Valued> = predicted
        .iter()
        .zip(sales())
        .map(|(appraised, sale)| Valued { appraised: *appraised, price: sale.price })
        .collect();
    let study = RatioStudy::of(&valued).unwrap();
    all_six(&study.ratios, &figures["ratios"]);
    six(study.median, &figures["median"]);
    six(study.mean, &figures["mean"]);
    six(study.weighted_mean, &figures["weighted_mean"]);
    six(study.cod, &figures["cod"]);
    six(study.prd, &figures["prd"]);
    six(study.prb.unwrap(), &figures["prb"]);
    assert!(study.is_indicative());
    assert_eq!(median::median(&study.ratios), Some(study.median));
}

/// The seven items, read from the figures: a job's name becomes its group.
fn items(figures: &Value) -> Vec<Item> {
    let mut groups = BTreeMap::new();
    figures["items"]
        .as_array()
        .unwrap()
        .iter()
        .map(|item| {
            let next = groups.len();
            let group = *groups.entry(item["job"].as_str().unwrap().to_owned()).or_insert(next);
            let [low, likely, high] = numbers(&item["cost"])[..] else { panic!("three figures") };
            Item {
                probability: item["prob"].as_f64().unwrap(),
                base_rate: item["base"].as_f64().unwrap_or(0.0),
                share: item["share"].as_f64().unwrap(),
                cost: ThreePoint::new(low, likely, high).unwrap(),
                group: Some(JobGroup(group)),
            }
        })
        .collect()
}

#[test]
fn the_deduction() {
    let figures = figures();
    let items = items(&figures);
    for (item, expected) in items.iter().zip(figures["items"].as_array().unwrap()) {
        six(item.cost.mean(), &expected["mean"]);
        six(item.cost.variance(), &expected["var"]);
    }
    let all = deduction(&items).unwrap();
    six(all.mean, &figures["deduction_mean"]);
    six(all.variance, &figures["deduction_var"]);
    six(all.sd(), &figures["deduction_sd"]);
    let known = deduction(&confirmed(&items)).unwrap();
    six(known.mean, &figures["confirmed_only"]["mean"]);
    six(known.sd(), &figures["confirmed_only"]["sd"]);
}

#[test]
fn as_the_car_stands() {
    let figures = figures();
    let items = items(&figures);
    let stands = as_it_stands(&market(), &deduction(&items).unwrap());
    all_six(&[stands.middle, stands.low, stands.high], &figures["as_stands"]);
    let known = as_it_stands(&market(), &deduction(&confirmed(&items)).unwrap());
    all_six(&[known.middle, known.low, known.high], &figures["confirmed_only"]["as_stands"]);
}

#[test]
fn the_cross_check_and_the_double_count() {
    let figures = figures();
    let known = deduction(&confirmed(&items(&figures))).unwrap().mean;
    let seen = fitted(&comparables(&sales(), SEEN_SCORE)).range(0.8, 0.0).middle;
    let CrossCheck::Agrees { ratio } = CrossCheck::of(known, market().middle, seen) else { panic!("outside 0.5 to 2") };
    six(ratio, &figures["confirmed_only"]["ratio_to_score_drop"]);
    // What it would come to if the same faults were taken off through both doors.
    six(seen - known, &figures["wrong_double_count"]);
}

#[track_caller]
fn check_look(look: &NextLook, expected: &Value) {
    six(look.width_now, &expected["now"]);
    six(look.expected_width, &expected["after"]);
    six(look.narrowing(), &expected["saving"]);
    six(look.variance_saved, &expected["var_saving"]);
    six(look.probability_if_found, &expected["q_fault"]);
    six(look.probability_if_clear, &expected["q_clear"]);
    six(look.middle_if_found, &expected["centre_fault"]);
    six(look.middle_if_clear, &expected["centre_clear"]);
}

#[test]
fn what_to_check_next() {
    let figures = figures();
    let items = items(&figures);
    let mut looked_at = 0;
    for (place, item) in figures["items"].as_array().unwrap().iter().enumerate() {
        if let Some(expected) = figures["checks"].get(item["name"].as_str().unwrap()) {
            check_look(&next_look(&market(), &items, place, SURE), expected);
            looked_at += 1;
        }
    }
    assert_eq!(looked_at, 3);
    let unsure = Reliability { sensitivity: 0.8, specificity: 0.9 };
    let chassis = next_look(&market(), &items, 6, unsure);
    check_look(&chassis, &figures["check_imperfect_chassis_sens0.8_spec0.9"]);
    let sure = next_look(&market(), &items, 6, SURE);
    six(sure.middle_if_clear - sure.middle_if_found, &Value::from(2866.67));
}

#[test]
fn the_top_bid() {
    let figures = figures();
    let expected = &figures["bid"];
    let stands = as_it_stands(&market(), &deduction(&items(&figures)).unwrap());
    let in_minor = Range {
        low: 100.0 * stands.low,
        middle: 100.0 * stands.middle,
        high: 100.0 * stands.high,
        cover: stands.cover,
    };
    let limit = highest_outlay(&in_minor, 0.5);
    let major = |amount: Money| amount.minor() / 100.0;
    six(major(limit), &expected["ceiling"]);
    let tier = |up_to: Option<i64>, per_cent: u32| Tier {
        up_to: up_to.map(|amount| Money(100 * amount)),
        rate: BasisPoints(100 * per_cent),
    };
    let fees = Fees {
        tiers: vec![tier(Some(10_000), 15), tier(Some(50_000), 12), tier(None, 10)],
        tax_on_premium: BasisPoints(2000),
        fixed: Money(45_000),
        ..Fees::default()
    };
    let to_the_penny = top_bid(&fees, limit, Money(1)).unwrap().unwrap();
    six(major(to_the_penny.hammer), &expected["exact"]);
    let bid = top_bid(&fees, limit, Money(5_000)).unwrap().unwrap();
    six(major(bid.hammer), &expected["rounded"]);
    six(major(bid.premium), &expected["premium"]);
    six(major(bid.tax_on_premium), &expected["tax"]);
    six(major(bid.all_in), &expected["all_in"]);
}
