//! What to look at next, and the plan for the minutes there are.

use serde::Serialize;

use crate::ordered;
use crate::reason::exact::Inference;
use crate::reason::network::Evidence;
use crate::reason::network_of::SheetNetwork;
use crate::reason::next_look::{Need, next_looks};
use crate::reason::plan::{Unmade, plan};
use crate::sheet::TypeSheet;
use crate::units::Money;
use crate::worksheet::Worksheet;

use super::repairs::Reckoned;

/// An unmade check and what it would tell.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct NextLook {
    /// The check's id.
    pub check: String,
    /// Minutes it takes.
    pub minutes: f64,
    /// Variance of the worth that it would remove, in minor units squared.
    pub variance: f64,
    /// The same a minute.
    pub per_minute: f64,
    /// How far the middle of the worth would move between finding something and finding nothing.
    pub swing: Money,
}

/// The plan for the minutes there are.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Planned {
    /// Minutes there were to plan with.
    pub given: f64,
    /// Ids of the checks, in walking order.
    pub checks: Vec<String>,
    /// Minutes they take.
    pub minutes: f64,
    /// Share of the unmade weight that stays unseen.
    pub unseen_weight: f64,
    /// Share of the variance that could still be removed and stays.
    pub unseen_variance: f64,
    /// Ids of safety checks that the plan leaves out.
    pub gate_left: Vec<String>,
}

/// What to look at.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Looking {
    /// Unmade checks, the one that tells most a minute first.
    pub next: Vec<NextLook>,
    /// The plan, if the worksheet says how many minutes there are.
    pub plan: Option<Planned>,
}

/// Ranks the unmade checks and plans the minutes.
#[must_use]
pub fn looking(
    sheet: &TypeSheet,
    worksheet: &Worksheet,
    network: &SheetNetwork,
    evidence: &Evidence,
    inference: &Inference<'_>,
    reckoned: &Reckoned,
) -> Looking {
    let needs: Vec<Need> = reckoned
        .items
        .iter()
        .zip(&reckoned.groups)
        .map(|(item, faults)| Need { faults: faults.clone(), deduction: item.share * item.cost.mean() })
        .collect();
    let (places, mut looks) = network.unmade(evidence);
    let looked = |place: usize| sheet.checks.get(place).is_some_and(|check| is_looked(worksheet, &check.id));
    let keep: Vec<bool> = places.iter().map(|place| !looked(*place)).collect();
    let places: Vec<usize> = places.into_iter().zip(&keep).filter(|(_, keep)| **keep).map(|(place, _)| place).collect();
    let mut kept = keep.iter();
    looks.retain(|_| kept.next().copied().unwrap_or(false));
    let gains = next_looks(inference, &needs, &looks);
    let mut next = Vec::with_capacity(places.len());
    let mut unmade = Vec::with_capacity(places.len());
    for (place, gain) in places.iter().zip(&gains) {
        let Some(check) = sheet.checks.get(*place) else { continue };
        next.push(NextLook {
            check: check.id.clone(),
            minutes: check.minutes,
            variance: gain.variance,
            per_minute: gain.per_minute,
            swing: Money::nearest(gain.swing()),
        });
        unmade.push(Unmade {
            stage: check.stage,
            place: *place,
            minutes: check.minutes,
            variance: gain.variance,
            weight: f64::from(check.weight),
            before_driving: check.before_driving,
        });
    }
    let plan = worksheet.visit.minutes.value().filter(|minutes| *minutes > 0.0).map(|minutes| {
        let planned = plan(&unmade, minutes);
        let ids =
            |list: &[usize]| list.iter().filter_map(|place| next.get(*place)).map(|look| look.check.clone()).collect();
        Planned {
            given: minutes,
            checks: ids(&planned.checks),
            minutes: planned.minutes,
            unseen_weight: planned.unseen_weight,
            unseen_variance: planned.unseen_variance,
            gate_left: ids(&planned.gate_left),
        }
    });
    ordered::sort(&mut next, |a, b| b.per_minute.total_cmp(&a.per_minute).then_with(|| a.check.cmp(&b.check)));
    Looking { next, plan }
}

/// Whether the person has dealt with a check: graded it, or said why it was not made.
fn is_looked(worksheet: &Worksheet, check: &str) -> bool {
    worksheet.findings.get(check).is_some_and(|finding| finding.look.is_some())
}
