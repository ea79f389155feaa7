//! The report: everything, for whoever must be able to follow it.
//!
//! Its contents follow what the published rules for reports on personal property ask a report to state (USPAP
//! Standards Rule 8-2; International Valuation Standard 104 on bases of value): the subject, the day, the use and
//! the user, the definition of the value, what was and was not looked at, the method, the reasoning, assumptions
//! and limits, and who signs for it. It claims compliance with neither, and says so.

mod closing;
mod condition;
mod market;
mod measured;
mod repairs;
mod subject;
mod summary;

pub(super) use measured::{departure_points, lamp_points, outside};
pub(super) use repairs::certainty;
pub(super) use summary::{driving_in_words, hold_in_short, hold_in_words, no_comparison, worth_in_words};

use super::Case;
use super::document::Document;
use super::found::found;
use crate::phrase;

/// The report.
#[must_use]
pub fn report(case: Case<'_>) -> Document {
    let all = found(case);
    let mut document = Document::titled(
        phrase!("Report on one car: {0}", case.show.word(&case.worksheet.title()).to_owned()),
        case.show,
    );
    document.paragraph(
        "This is an opinion on the day named below, not a certificate. Where local law asks for a roadworthiness \
         test, a licensed inspector or a licensed appraiser, theirs is the word that counts.",
    );
    summary::in_short(&mut document, case);
    summary::driving(&mut document, case);
    subject::identity(&mut document, case);
    subject::occasion(&mut document, case);
    subject::scope(&mut document, case, &all);
    condition::method(&mut document, case);
    condition::findings(&mut document, case, &all);
    measured::readings(&mut document, case);
    measured::lamps(&mut document, case);
    measured::departures(&mut document, case);
    condition::score(&mut document, case);
    repairs::put_right(&mut document, case);
    market::sales(&mut document, case);
    market::worth(&mut document, case);
    closing::log_and_receipts(&mut document, case);
    closing::assumptions(&mut document, case);
    closing::limits(&mut document, case);
    closing::cautions(&mut document, case);
    closing::statement(&mut document, case);
    subject::unmade(&mut document, case, &all);
    document
}
