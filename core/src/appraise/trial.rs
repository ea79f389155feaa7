//! A type sheet tried on a worksheet: in short, what the sheet makes of it.

use crate::condition::applicable;
use crate::ordered;
use crate::sheet::TypeSheet;
use crate::units::Money;
use crate::worksheet::Worksheet;
use crate::worksheet::check::Kind;
use crate::worth::rounding::RoundedRange;

use super::appraise;
use super::repairs::Estimate;

/// Causes named, at most.
const MOST_CAUSES: usize = 5;

/// What a sheet makes of a worksheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// Checks that apply to the car.
    pub checks: usize,
    /// Minutes that they take together.
    pub minutes: f64,
    /// What the worksheet records and the sheet does not know.
    pub unknown: usize,
    /// Names of the likeliest causes of what was seen, with their probabilities.
    pub causes: Vec<(String, f64)>,
    /// What it costs to put right what was seen.
    pub put_right: Estimate,
    /// What the market takes off for it, mean; nothing without a comparison.
    pub deduction: Option<Money>,
    /// The worth as it stands, rounded; nothing without a comparison.
    pub worth: Option<RoundedRange>,
    /// Reasons not to drive the car.
    pub holds: usize,
}

/// Tries a whole sheet ([`crate::sheet::extend`]) on a worksheet.
#[must_use]
pub fn trial(worksheet: &Worksheet, sheet: &TypeSheet) -> Trial {
    let appraisal = appraise(worksheet, sheet);
    let raised = |cause: &&super::Cause| cause.probability > cause.prior && !cause.because.is_empty();
    let mut causes: Vec<&super::Cause> = appraisal.causes.iter().filter(raised).collect();
    ordered::sort(&mut causes, |a, b| super::Cause::likeliest_first(a, b));
    let name = |id: &str| sheet.fault(id).map_or(id, |fault| fault.name.as_str()).to_owned();
    let unknown = appraisal.problems.iter().filter(|problem| matches!(problem.kind, Kind::Unknown(..)));
    Trial {
        checks: applicable(sheet, &appraisal.tags).count(),
        minutes: applicable(sheet, &appraisal.tags).map(|check| check.minutes).sum(),
        unknown: unknown.count(),
        causes: causes.iter().take(MOST_CAUSES).map(|cause| (name(&cause.fault), cause.probability)).collect(),
        put_right: appraisal.repairs.found,
        deduction: appraisal.worth.as_ref().map(|worth| worth.deduction),
        worth: appraisal.worth.map(|worth| worth.rounded),
        holds: appraisal.holds.len(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::extend::extend;
    use crate::sheet::{demo, general};

    #[test]
    fn shows_what_a_sheet_changes() {
        let (base, own) = (general::general().unwrap(), demo::curlew().unwrap());
        let worksheet = demo::worksheet().unwrap();
        let whole = trial(&worksheet, &extend(&base, &own));
        assert_eq!(whole.unknown, 0);
        assert_eq!(whole.causes.len(), MOST_CAUSES);
        assert!(whole.worth.is_some() && whole.put_right.middle > Money::ZERO);
        // The general sheet does not know the type's own checks.
        let plain = trial(&worksheet, &base);
        assert!(plain.unknown > 0);
        assert_ne!(plain.checks, whole.checks);

        // A likelier fault costs more.
        let mut dearer = own.clone();
        for job in &mut dearer.jobs {
            job.parts.2 = Money(job.parts.2.0 * 3);
        }
        let dearer = trial(&worksheet, &extend(&base, &dearer));
        assert!(dearer.put_right.middle > whole.put_right.middle);
        assert_eq!(dearer.checks, whole.checks);
    }

    #[test]
    fn a_blank_sheet_on_a_blank_worksheet_says_nothing() {
        let nothing = trial(&Worksheet::default(), &TypeSheet::default());
        assert_eq!((nothing.checks, nothing.causes.len(), nothing.worth), (0, 0, None));
    }
}
