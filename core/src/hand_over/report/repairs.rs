//! What it costs to put right.

use super::super::Case;
use super::super::document::{Align, Document, Table};
use super::super::found::chance;
use super::super::words::count;
use super::summary::estimate;
use crate::appraise::repairs::Repair;
use crate::units::Money;
use crate::{phrase, say};

/// Work less likely than this is named in one line only. Judgement.
const LEAST_LIKELY: f64 = 0.1;

/// Costs of the work that what was seen calls for.
pub fn put_right(document: &mut Document, case: Case<'_>) {
    let Case { appraisal, show, worksheet, .. } = case;
    let repairs = &appraisal.repairs;
    document.part("Putting it right");
    let raised: Vec<&Repair> = repairs.items.iter().filter(|repair| repair.raised).collect();
    if raised.is_empty() {
        document.paragraph("Nothing that was seen makes any work likelier than it is for any car of the type.");
    } else {
        document.paragraph(
            "Work that what was seen makes likelier than it is for any car of the type, the largest first when each mean \
             cost is weighted by how likely the work is. \
             What putting right costs is not what buyers take off for it; that follows under the worth.",
        );
    }
    let mut table = Table::of(
        "Work and its cost",
        &[
            ("Work", Align::Start),
            ("Needed", Align::End),
            ("Low", Align::End),
            ("Likely", Align::End),
            ("High", Align::End),
            ("Weighted", Align::End),
            ("Because of", Align::Start),
        ],
    );
    let (likely, unlikely): (Vec<&Repair>, Vec<&Repair>) =
        raised.into_iter().partition(|repair| repair.probability >= LEAST_LIKELY);
    for repair in &likely {
        let because = repair.because.first().cloned().unwrap_or_default();
        table.rows.push(vec![
            repair.name.clone(),
            certainty(case, repair),
            show.whole_money(repair.low),
            show.whole_money(repair.likely),
            show.whole_money(repair.high),
            show.whole_money(Money::nearest(repair.probability * repair.mean.minor())),
            because,
        ]);
    }
    document.table(table);
    if !unlikely.is_empty() {
        let names: Vec<String> = unlikely.iter().map(|repair| repair.name.clone()).collect();
        document.paragraph(phrase!(
            "Made likelier too, but still under {0}: {1}.",
            show.share(LEAST_LIKELY),
            names.join("; ")
        ));
    }
    document.facts(vec![
        ("All of it, each cost weighted by how likely the work is", estimate(case, &repairs.found)),
        ("Beside it, the ordinary risk of what was not seen", estimate(case, &repairs.unseen)),
    ]);
    let left_out = worksheet.jobs.values().filter(|job| job.leave_out).count();
    if left_out > 0 {
        document.paragraph(phrase!(
            "By choice of whoever filled in the worksheet, {0} left out of the reckoning.",
            count(left_out, "{0} job is", "{0} jobs are")
        ));
    }
    chosen(document, case);
}

/// How sure it is that work is needed.
pub fn certainty(case: Case<'_>, repair: &Repair) -> String {
    // Exactly all: a fault that calls for it is confirmed.
    if repair.probability >= 1.0 { case.show.word("certain").to_owned() } else { chance(case, repair.probability) }
}

/// The work that the person chose to have done.
fn chosen(document: &mut Document, case: Case<'_>) {
    let Case { appraisal, show, .. } = case;
    let chosen: Vec<String> =
        appraisal.repairs.items.iter().filter(|repair| repair.chosen).map(|repair| repair.name.clone()).collect();
    let Some(worth) = appraisal.worth.as_ref().filter(|_| !chosen.is_empty()) else { return };
    let shown = show.whole_money(worth.returns);
    let outcome = if shown == show.whole_money(Money::ZERO) {
        case.show.word("adds as much as it costs").to_owned()
    } else if worth.returns < Money::ZERO {
        say!(case.show, "costs {0} more than it adds", show.whole_money(-worth.returns))
    } else {
        say!(case.show, "adds {0} more than it costs", shown)
    };
    document.paragraph(phrase!(
        "Chosen to be done, and not done yet: {0}. At a mean cost of {1} it {2} to the middle of the worth.",
        chosen.join("; "),
        show.whole_money(worth.chosen_cost),
        outcome
    ));
}
