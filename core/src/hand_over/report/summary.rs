//! What the report comes to, and whether the car may be driven.

use super::super::Case;
use super::super::document::{Block, Document};
use super::super::found::{chance, combined, sign_names};
use super::super::words::{count, sentence};
use crate::appraise::comparison::NoComparison;
use crate::appraise::driving::{Because, Hold};
use crate::appraise::repairs::Estimate;
use crate::market::range::Range;
use crate::sheet::Stage;
use crate::worksheet::Ruling;
use crate::worth::rounding::rounded;

/// The results on one look.
pub fn in_short(document: &mut Document, case: Case<'_>) {
    let Case { appraisal, show, .. } = case;
    document.part("In short");
    let overall = &appraisal.condition.overall;
    let score = overall.value.map_or_else(
        || "no check has been made yet".to_owned(),
        |value| {
            format!(
                "{} of 100 over the {} that was looked at; between {} and {} whatever the rest is like",
                show.number(value, 0),
                show.share(overall.cover),
                show.number(overall.low, 0),
                show.number(overall.high, 0)
            )
        },
    );
    document.facts(vec![
        ("Worth as it stands", worth_in_words(case)),
        ("Care with the worth", assumed(case)),
        ("Condition", score),
        ("To put right what was found", estimate(case, &appraisal.repairs.found)),
        ("Driving", driving_in_words(case)),
    ]);
}

/// That the range is assumed more than found, if it is.
fn assumed(case: Case<'_>) -> String {
    let comparison = case.appraisal.comparison.as_ref().ok();
    comparison.and_then(|comparison| comparison.mostly_assumed()).map(|warning| warning.to_string()).unwrap_or_default()
}

/// Said where jobs have no price.
const NOT_RECKONED: &str = "not stated: the deductions could not be reckoned";

/// The worth in a line, or why there is none.
pub fn worth_in_words(case: Case<'_>) -> String {
    let Case { appraisal, show, .. } = case;
    match (&appraisal.worth, &appraisal.comparison) {
        (Some(worth), _) => format!(
            "{} to {}, middle {} ({} range)",
            show.whole_money(worth.rounded.low),
            show.whole_money(worth.rounded.high),
            show.whole_money(worth.rounded.middle),
            show.share(worth.stands.cover)
        ),
        (None, Err(why)) => format!("not stated: {}", no_comparison(why)),
        (None, Ok(_)) => NOT_RECKONED.to_owned(),
    }
}

/// Why there is no comparison with sales.
pub fn no_comparison(why: &NoComparison) -> String {
    match why {
        NoComparison::NoSales => "there is no comparable sale that can be used".to_owned(),
        NoComparison::NoDate => "there is no day of valuation".to_owned(),
        NoComparison::Fit(error) => error.to_string(),
    }
}

/// An estimate in a line, rounded as the worth is.
pub fn estimate(case: Case<'_>, estimate: &Estimate) -> String {
    if case.appraisal.repairs.unpriced {
        return NOT_RECKONED.to_owned();
    }
    let range =
        Range { low: estimate.low.minor(), middle: estimate.middle.minor(), high: estimate.high.minor(), cover: 0.8 };
    let range = rounded(&range);
    if range.high == crate::units::Money::ZERO {
        return "nothing found that costs anything".to_owned();
    }
    format!(
        "about {}, probably between {} and {}",
        case.show.whole_money(range.middle),
        case.show.whole_money(range.low),
        case.show.whole_money(range.high)
    )
}

/// Whether the car may be driven, in a line.
pub fn driving_in_words(case: Case<'_>) -> String {
    let holds = case.appraisal.holds.len();
    let to_make = case.appraisal.gate.to_make.len();
    if holds > 0 {
        format!("not until put right: {} below", count(holds, "reason", "reasons"))
    } else if to_make > 0 {
        format!("not judged: {} not made", count(to_make, "safety check was", "safety checks were"))
    } else {
        "the safety checks were made and nothing was found that forbids it".to_owned()
    }
}

/// The holds and the gate.
pub fn driving(document: &mut Document, case: Case<'_>) {
    let Case { worksheet, sheet, appraisal, .. } = case;
    document.part("Whether it may be driven");
    if !appraisal.holds.is_empty() {
        document.block(Block::Caution("This car is not to be driven until the following is put right.".to_owned()));
        document.list(appraisal.holds.iter().map(|hold| hold_in_words(case, hold)).collect());
    }
    let named = |id: &String| sheet.check(id).map(|check| check.name.clone());
    let to_make: Vec<String> = appraisal.gate.to_make.iter().filter_map(named).collect();
    if !to_make.is_empty() {
        document.paragraph(format!(
            "Safety checks that were not made, and that should come before any drive: {}.",
            to_make.join("; ")
        ));
    } else if appraisal.holds.is_empty() {
        document.paragraph("All checks that should come before a drive were made, and none was found unsafe.");
    }
    let reason = worksheet.gate_passed_over.trim();
    if !reason.is_empty() {
        document.paragraph(format!(
            "The road test was opened although these checks did not clear the car. The reason given: “{reason}”."
        ));
    }
    let driven = worksheet.findings.iter().any(|(id, finding)| {
        finding.grade().is_some() && sheet.check(id).is_some_and(|check| check.stage == Stage::RoadTest)
    });
    if driven && reason.is_empty() && !appraisal.gate.is_clear() {
        document.paragraph(
            "The car was driven for this report. Whether what is said above was known before the drive is not recorded, \
             and no reason for passing over the safety checks was given.",
        );
    }
}

/// A hold in a few words.
pub fn hold_in_short(case: Case<'_>, hold: &Hold) -> String {
    match &hold.because {
        Because::Finding { .. } => format!("Found unsafe: {}", hold.what),
        Because::Combination { combination } => {
            let bad = case.sheet.combinations.iter().find(|bad| bad.id == *combination);
            format!("Combine badly: {}", bad.map_or_else(|| hold.what.clone(), |bad| combined(case, bad)))
        }
        Because::Fault { fault } if case.worksheet.rulings.get(fault) == Some(&Ruling::Confirmed) => {
            format!("Confirmed: {}", hold.what)
        }
        Because::Fault { .. } => format!("Likely: {}", hold.what),
    }
}

/// A hold in a line, with what stands behind it.
pub fn hold_in_words(case: Case<'_>, hold: &Hold) -> String {
    match &hold.because {
        Because::Finding { check } => {
            let finding = case.worksheet.findings.get(check);
            let note = finding.map(|finding| sentence(&finding.note)).unwrap_or_default();
            sentence(&format!("{}, found unsafe. {note}", hold.what))
        }
        Because::Combination { combination } => {
            let bad = case.sheet.combinations.iter().find(|bad| bad.id == *combination);
            let names = bad.map(|bad| format!("{} together. ", combined(case, bad))).unwrap_or_default();
            format!("{names}{}", sentence(&hold.what))
        }
        Because::Fault { fault } => {
            let cause = case.appraisal.causes.iter().find(|cause| cause.fault == *fault);
            let sure = match case.worksheet.rulings.get(fault) {
                Some(Ruling::Confirmed) => "confirmed".to_owned(),
                _ => cause.map_or_else(String::new, |cause| {
                    format!("{} likely, from: {}", chance(case, cause.probability), sign_names(case, &cause.because))
                }),
            };
            sentence(&format!("{} ({sure})", hold.what))
        }
    }
}
