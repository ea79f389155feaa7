//! The plan as it is walked: its checks under their stages, with the minutes of each.

use crate::appraise::looking::Planned;
use crate::sheet::{Stage, TypeSheet};

/// A stage of the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedStage {
    /// Which.
    pub stage: Stage,
    /// Ids of its checks, in walking order.
    pub checks: Vec<String>,
    /// Minutes they take together.
    pub minutes: f64,
}

/// The stages of the plan that have checks, in walking order.
#[must_use]
pub fn by_stage(sheet: &TypeSheet, plan: &Planned) -> Vec<PlannedStage> {
    let mut stages: Vec<PlannedStage> = Vec::new();
    for check in plan.checks.iter().filter_map(|id| sheet.check(id)) {
        match stages.iter_mut().find(|stage| stage.stage == check.stage) {
            Some(stage) => {
                stage.checks.push(check.id.clone());
                stage.minutes += check.minutes;
            }
            None => {
                let checks = vec![check.id.clone()];
                stages.push(PlannedStage { stage: check.stage, checks, minutes: check.minutes });
            }
        }
    }
    stages
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::appraise;
    use crate::sheet::{demo, extend::extend, general::general};

    #[test]
    fn keeps_the_order_and_the_minutes() {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let plan = appraise(&demo::worksheet().unwrap(), &sheet).looking.plan.clone().unwrap();
        let stages = by_stage(&sheet, &plan);
        assert!(stages.is_sorted_by(|a, b| a.stage < b.stage), "each stage once, in walking order");
        let checks: Vec<String> = stages.iter().flat_map(|stage| stage.checks.clone()).collect();
        assert_eq!(checks, plan.checks);
        let minutes: f64 = stages.iter().map(|stage| stage.minutes).sum();
        assert!((minutes - plan.minutes).abs() < 1e-9);
    }
}
