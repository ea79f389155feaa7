//! What may stand behind what was seen at a check: the causes, ranked, each with what it would cost.

use crate::appraise::repairs::Work;
use crate::appraise::{Appraisal, Cause};
use crate::ordered;
use crate::sheet::{Check, Driving, Fault, TypeSheet};
use crate::units::Money;

/// What it costs to cure a fault, in the worksheet's currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cost {
    /// Lowest.
    pub low: Money,
    /// Likely.
    pub likely: Money,
    /// Highest.
    pub high: Money,
}

/// A possible cause of what was seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Behind {
    /// The fault's id.
    pub fault: String,
    /// Probability that it is there, given all that is known.
    pub probability: f64,
    /// Names of the signs that raised it, most telling first.
    pub because: Vec<String>,
    /// What it costs to cure; nothing for what is normal for the type, and for jobs that are left out.
    pub cost: Option<Cost>,
}

/// Whether a car with the fault may be driven, in words.
#[must_use]
pub const fn driving(drive: Driving) -> &'static str {
    match drive {
        Driving::Yes => "safe to drive",
        Driving::Care => "to be driven gently and not far",
        Driving::No => "not to be driven until put right",
    }
}

/// Ids of a check's signs that count as seen, from wherever they are known.
#[must_use]
pub fn seen(check: &Check, appraisal: &Appraisal) -> Vec<String> {
    let seen = |id: &String| appraisal.signs.get(id).is_some_and(|known| known.seen);
    check.signs.iter().map(|sign| &sign.id).filter(|id| seen(id)).cloned().collect()
}

/// The check at which a fault shows: where the sign that raised it most is noticed, or the first of its signs.
#[must_use]
pub fn shows_at<'a>(sheet: &'a TypeSheet, appraisal: &Appraisal, fault: &str) -> Option<&'a str> {
    let raised = appraisal.causes.iter().find(|cause| cause.fault == fault).and_then(|cause| cause.because.first());
    let sign = raised.or_else(|| sheet.fault(fault)?.links.first().map(|link| &link.sign))?;
    sheet.sign(sign).map(|(check, _)| check.id.as_str())
}

/// What may stand behind any of the signs, likeliest first.
#[must_use]
pub fn behind(sheet: &TypeSheet, appraisal: &Appraisal, signs: &[String]) -> Vec<Behind> {
    let mut causes: Vec<&Cause> = Vec::new();
    for sign in signs {
        for cause in appraisal.causes_of(sheet, sign) {
            if !causes.iter().any(|known| known.fault == cause.fault) {
                causes.push(cause);
            }
        }
    }
    ordered::sort(&mut causes, |a, b| Cause::likeliest_first(a, b));
    let name = |sign: &String| sheet.sign(sign).map(|(_, sign)| sign.name.clone());
    causes
        .into_iter()
        .map(|cause| Behind {
            fault: cause.fault.clone(),
            probability: cause.probability,
            because: cause.because.iter().filter_map(name).collect(),
            cost: sheet.fault(&cause.fault).and_then(|fault| cost(sheet, appraisal, fault)),
        })
        .collect()
}

/// What it costs to cure a fault: all its jobs, and each strip-down that they share once.
#[must_use]
pub fn cost(sheet: &TypeSheet, appraisal: &Appraisal, fault: &Fault) -> Option<Cost> {
    let mut works: Vec<Work> = Vec::new();
    for job in fault.jobs.iter().filter_map(|id| sheet.job(id)) {
        works.push(Work::Job(job.id.clone()));
        let access = job.access.clone().map(Work::Access);
        works.extend(access.filter(|access| !works.contains(access)));
    }
    let costs = works.iter().filter_map(|work| appraisal.repairs.items.iter().find(|item| item.work == *work));
    costs.map(|item| Cost { low: item.low, likely: item.likely, high: item.high }).reduce(|a, b| Cost {
        low: a.low + b.low,
        likely: a.likely + b.likely,
        high: a.high + b.high,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::appraise;
    use crate::sheet::{demo, extend::extend, general::general};
    use crate::worksheet::Worksheet;

    #[test]
    fn ranks_each_cause_of_a_check_once_with_its_cost() {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let worksheet = demo::worksheet().unwrap();
        let appraisal = appraise(&worksheet, &sheet);
        let signs = seen(sheet.check("brakes-hoses").unwrap(), &appraisal);
        assert_eq!(signs, ["brakes-hose-cracked", "brakes-hose-swollen"]);
        let causes = behind(&sheet, &appraisal, &signs);
        let first = causes.first().unwrap();
        assert_eq!(first.fault, "brakes-hose-perished");
        assert!((first.probability - 1.0).abs() < 1e-12);
        let cost = first.cost.unwrap();
        assert!(Money::ZERO < cost.low && cost.low < cost.likely && cost.likely < cost.high);
        assert!(causes.is_sorted_by(|a, b| a.probability >= b.probability));
        let mut ids: Vec<&str> = causes.iter().map(|cause| cause.fault.as_str()).collect();
        ids.sort_unstable();
        assert!(ids.is_sorted_by(|a, b| a < b), "each cause once");
    }

    #[test]
    fn a_fault_leads_to_the_check_that_raised_it() {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let appraisal = appraise(&demo::worksheet().unwrap(), &sheet);
        let swollen = shows_at(&sheet, &appraisal, "brakes-hose-choked");
        let raised = appraisal.causes.iter().find(|cause| cause.fault == "brakes-hose-choked").unwrap();
        assert_eq!(swollen, sheet.sign(raised.because.first().unwrap()).map(|(check, _)| check.id.as_str()));
        assert_eq!(shows_at(&sheet, &appraisal, "no-such-fault"), None);
        for fault in &sheet.faults {
            assert!(shows_at(&sheet, &appraisal, &fault.id).is_some(), "{}", fault.id);
        }
    }

    #[test]
    fn a_shared_strip_down_counts_once_and_what_is_normal_costs_nothing() {
        let sheet = general().unwrap();
        let worksheet = Worksheet::default();
        let appraisal = appraise(&worksheet, &sheet);
        let mut shared = 0;
        for fault in &sheet.faults {
            let Some(whole) = cost(&sheet, &appraisal, fault) else {
                assert!(fault.normal || fault.jobs.is_empty(), "{}", fault.id);
                continue;
            };
            let jobs: Vec<_> = fault.jobs.iter().filter_map(|id| sheet.job(id)).collect();
            let mut access: Vec<_> = jobs.iter().filter_map(|job| job.access.as_deref()).collect();
            access.sort_unstable();
            let all = access.len();
            access.dedup();
            shared += usize::from(access.len() < all);
            let likely = |work: Work| {
                appraisal.repairs.items.iter().find(|item| item.work == work).map_or(Money::ZERO, |item| item.likely)
            };
            let of_jobs: Money =
                jobs.iter().map(|job| likely(Work::Job(job.id.clone()))).fold(Money::ZERO, |a, b| a + b);
            let of_access =
                access.iter().map(|id| likely(Work::Access((*id).to_owned()))).fold(Money::ZERO, |a, b| a + b);
            assert_eq!(whole.likely, of_jobs + of_access, "{}", fault.id);
        }
        assert!(shared > 0, "no fault of the general sheet has two jobs behind one strip-down");
    }
}
