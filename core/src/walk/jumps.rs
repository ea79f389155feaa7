//! Where to go at once, whatever the stage: the checks whose causes cost most.

use super::behind;
use crate::appraise::Appraisal;
use crate::condition::applicable;
use crate::ordered;
use crate::sheet::{Stage, TypeSheet};
use crate::units::Money;

/// Dear checks listed, at most.
pub const MOST_DEAR: usize = 20;

/// A check at which something was seen that may cost money.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Dear {
    /// The check's id.
    pub check: String,
    /// Its stage.
    pub stage: Stage,
    /// What the dearest of its causes costs to put right, by its likely cost and how probable it is; in the
    /// worksheet's currency.
    pub cost: Money,
}

/// The checks at which something was seen that may cost money, the dearest first.
#[must_use]
pub fn dear(sheet: &TypeSheet, appraisal: &Appraisal) -> Vec<Dear> {
    let mut all: Vec<Dear> = applicable(sheet, &appraisal.tags)
        .filter_map(|check| {
            let causes = behind::behind(sheet, appraisal, &behind::seen(check, appraisal));
            let weighed = |cause: &behind::Behind| Some(Money::nearest(cause.cost?.likely.minor() * cause.probability));
            let cost = causes.iter().filter_map(weighed).max().filter(|cost| *cost > Money::ZERO)?;
            Some(Dear { check: check.id.clone(), stage: check.stage, cost })
        })
        .collect();
    ordered::sort(&mut all, |a, b| b.cost.cmp(&a.cost));
    all.truncate(MOST_DEAR);
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::appraise;
    use crate::sheet::{demo, extend::extend, general::general};
    use crate::worksheet::Worksheet;

    #[test]
    fn the_demonstration_costs_most_where_something_was_seen() {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let appraisal = appraise(&demo::worksheet().unwrap(), &sheet);
        let dear = dear(&sheet, &appraisal);
        assert!(dear.len() > 1 && dear.is_sorted_by(|a, b| a.cost >= b.cost), "{dear:?}");
        for it in &dear {
            let seen = behind::seen(sheet.check(&it.check).unwrap(), &appraisal);
            let causes = behind::behind(&sheet, &appraisal, &seen);
            let most = causes.iter().filter_map(|cause| cause.cost).map(|cost| cost.likely).max().unwrap();
            assert!(!seen.is_empty() && it.cost <= most, "{}: {:?} of {most:?}", it.check, it.cost);
        }
    }

    #[test]
    fn a_blank_worksheet_has_nothing_dear() {
        let sheet = general().unwrap();
        assert_eq!(dear(&sheet, &appraise(&Worksheet::default(), &sheet)), []);
    }
}
