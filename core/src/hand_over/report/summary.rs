//! What the report comes to, and whether the car may be driven.

use super::super::Case;
use super::super::document::Document;
use super::super::found::{chance, combined, sign_names};
use super::super::words::{count, sentence};
use crate::appraise::comparison::NoComparison;
use crate::appraise::driving::{Because, Hold};
use crate::appraise::repairs::Estimate;
use crate::market::range::Range;
use crate::sheet::Stage;
use crate::worksheet::Ruling;
use crate::worth::rounding::rounded;
use crate::{phrase, say};

/// The results on one look.
pub fn in_short(document: &mut Document, case: Case<'_>) {
    let Case { appraisal, show, .. } = case;
    document.part("In short");
    let overall = &appraisal.condition.overall;
    let score = overall.value.map_or_else(
        || case.show.word("no check has been made yet").to_owned(),
        |value| {
            say!(
                case.show,
                "{0} of 100 over the {1} that was looked at; between {2} and {3} whatever the rest is like",
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
    comparison
        .and_then(|comparison| comparison.mostly_assumed())
        .map(|warning| case.show.say(&warning))
        .unwrap_or_default()
}

/// Said where jobs have no price.
const NOT_RECKONED: &str = "not stated: the deductions could not be reckoned";

/// The worth in a line, or why there is none.
pub fn worth_in_words(case: Case<'_>) -> String {
    let Case { appraisal, show, .. } = case;
    match (&appraisal.worth, &appraisal.comparison) {
        (Some(worth), _) => say!(
            case.show,
            "{0} to {1}, middle {2} ({3} range)",
            show.whole_money(worth.rounded.low),
            show.whole_money(worth.rounded.high),
            show.whole_money(worth.rounded.middle),
            show.share(worth.stands.cover)
        ),
        (None, Err(why)) => say!(case.show, "not stated: {0}", no_comparison(case, why)),
        (None, Ok(_)) => case.show.word(NOT_RECKONED).to_owned(),
    }
}

/// Why there is no comparison with sales.
pub fn no_comparison(case: Case<'_>, why: &NoComparison) -> String {
    match why {
        NoComparison::NoSales => case.show.word("there is no comparable sale that can be used").to_owned(),
        NoComparison::NoDate => case.show.word("there is no day of valuation").to_owned(),
        NoComparison::Fit(error) => case.show.say(error),
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
        return case.show.word("nothing found that costs anything").to_owned();
    }
    say!(
        case.show,
        "about {0}, probably between {1} and {2}",
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
        say!(case.show, "not until put right: {0} below", count(holds, "{0} reason", "{0} reasons"))
    } else if to_make > 0 {
        say!(case.show, "not judged: {0} not made", count(to_make, "{0} safety check was", "{0} safety checks were"))
    } else {
        case.show.word("the safety checks were made and nothing was found that forbids it").to_owned()
    }
}

/// The holds and the gate.
pub fn driving(document: &mut Document, case: Case<'_>) {
    let Case { worksheet, sheet, appraisal, .. } = case;
    document.part("Whether it may be driven");
    if !appraisal.holds.is_empty() {
        document.caution("This car is not to be driven until the following is put right.");
        document.list(appraisal.holds.iter().map(|hold| hold_in_words(case, hold)).collect());
    }
    let named = |id: &String| sheet.check(id).map(|check| check.name.clone());
    let to_make: Vec<String> = appraisal.gate.to_make.iter().filter_map(named).collect();
    if !to_make.is_empty() {
        document.paragraph(phrase!(
            "Safety checks that were not made, and that should come before any drive: {0}.",
            to_make.join("; ")
        ));
    } else if appraisal.holds.is_empty() {
        document.paragraph("All checks that should come before a drive were made, and none was found unsafe.");
    }
    let reason = worksheet.gate_passed_over.trim();
    if !reason.is_empty() {
        document.paragraph(phrase!(
            "The road test was opened although these checks did not clear the car. The reason given: “{0}”.",
            reason.to_owned()
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
        Because::Finding { .. } => say!(case.show, "Found unsafe: {0}", hold.what),
        Because::Combination { combination } => {
            let bad = case.sheet.combinations.iter().find(|bad| bad.id == *combination);
            say!(case.show, "Combine badly: {0}", bad.map_or_else(|| hold.what.clone(), |bad| combined(case, bad)))
        }
        Because::Fault { fault } if case.worksheet.rulings.get(fault) == Some(&Ruling::Confirmed) => {
            say!(case.show, "Confirmed: {0}", hold.what)
        }
        Because::Fault { .. } => say!(case.show, "Likely: {0}", hold.what),
    }
}

/// A hold in a line, with what stands behind it.
pub fn hold_in_words(case: Case<'_>, hold: &Hold) -> String {
    match &hold.because {
        Because::Finding { check } => {
            let finding = case.worksheet.findings.get(check);
            let note = finding.map(|finding| sentence(&finding.note)).unwrap_or_default();
            sentence(&say!(case.show, "{0}, found unsafe. {1}", hold.what, note))
        }
        Because::Combination { combination } => {
            let bad = case.sheet.combinations.iter().find(|bad| bad.id == *combination);
            let names = bad.map(|bad| say!(case.show, "{0} together. ", combined(case, bad))).unwrap_or_default();
            format!("{names}{}", sentence(&hold.what))
        }
        Because::Fault { fault } => {
            let cause = case.appraisal.causes.iter().find(|cause| cause.fault == *fault);
            let sure = match case.worksheet.rulings.get(fault) {
                Some(Ruling::Confirmed) => case.show.word("confirmed").to_owned(),
                _ => cause.map_or_else(String::new, |cause| {
                    say!(
                        case.show,
                        "{0} likely, from: {1}",
                        chance(case, cause.probability),
                        sign_names(case, &cause.because)
                    )
                }),
            };
            sentence(&format!("{} ({sure})", hold.what))
        }
    }
}
