//! Whether the car may be driven: holds, and the gate before the road test.

use serde::Serialize;

use crate::condition::applicable;
use crate::reason::exact::Inference;
use crate::reason::network_of::SheetNetwork;
use crate::sheet::{Combination, Driving, Tag, TypeSheet};
use crate::worksheet::{Finding, Look, Seen, WhyNot, Worksheet};

/// A fault at least this likely, with which a car may not be driven, holds it. Judgement: likelier than not.
const LIKELY: f64 = 0.5;

/// What stands behind a hold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Because {
    /// A check's finding is marked unsafe.
    Finding {
        /// The check's id.
        check: String,
    },
    /// Departures combine badly.
    Combination {
        /// The combination's id.
        combination: String,
    },
    /// A fault that forbids driving is confirmed or likelier than not.
    Fault {
        /// The fault's id.
        fault: String,
    },
}

/// A reason not to drive the car until it is put right.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Hold {
    /// What stands behind it.
    pub because: Because,
    /// What it is, in a few words.
    pub what: String,
}

/// The gate before the road test.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Gate {
    /// Ids of safety checks that are still to be made.
    pub to_make: Vec<String>,
    /// Whether nothing holds the car.
    pub no_hold: bool,
    /// The reason for which the person passed over it; blank if not.
    pub passed_over: String,
}

impl Gate {
    /// Whether the checks alone open it.
    #[must_use]
    pub fn is_clear(&self) -> bool {
        self.to_make.is_empty() && self.no_hold
    }

    /// Whether the road test may begin: clear, or passed over with a reason.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.is_clear() || !self.passed_over.trim().is_empty()
    }
}

/// Whether a finding is unsafe: the person's word, else whether a sign was seen that forbids driving.
#[must_use]
pub fn is_unsafe(sheet: &TypeSheet, check: &str, finding: &Finding) -> bool {
    finding.is_unsafe.unwrap_or_else(|| {
        let signs = sheet.check(check).map_or(&[][..], |check| check.signs.as_slice());
        signs.iter().any(|sign| sign.is_unsafe && finding.signs.get(&sign.id) == Some(&Seen::Yes))
    })
}

/// Departures that are there and combine badly.
#[must_use]
pub fn bad_combinations<'a>(sheet: &'a TypeSheet, worksheet: &Worksheet) -> Vec<&'a Combination> {
    let there = |id: &String| worksheet.departures.get(id) == Some(&true);
    sheet.combinations.iter().filter(|combination| combination.all.iter().all(there)).collect()
}

/// Every reason not to drive.
#[must_use]
pub fn holds(
    sheet: &TypeSheet,
    worksheet: &Worksheet,
    tags: &[Tag],
    network: &SheetNetwork,
    inference: &Inference<'_>,
) -> Vec<Hold> {
    let findings = applicable(sheet, tags).filter_map(|check| {
        let finding = worksheet.findings.get(&check.id)?;
        is_unsafe(sheet, &check.id, finding)
            .then(|| Hold { because: Because::Finding { check: check.id.clone() }, what: check.name.clone() })
    });
    let combinations = bad_combinations(sheet, worksheet)
        .into_iter()
        .filter(|combination| combination.hold)
        .map(|it| Hold { because: Because::Combination { combination: it.id.clone() }, what: it.effect.clone() });
    let faults = network.faults.iter().enumerate().filter_map(|(number, place)| {
        let fault = sheet.faults.get(*place)?;
        let forbids = fault.drive == Driving::No && inference.posterior().probability(number) >= LIKELY;
        forbids.then(|| Hold { because: Because::Fault { fault: fault.id.clone() }, what: fault.name.clone() })
    });
    findings.chain(combinations).chain(faults).collect()
}

/// The gate, given the holds.
#[must_use]
pub fn gate(sheet: &TypeSheet, worksheet: &Worksheet, tags: &[Tag], holds: &[Hold]) -> Gate {
    let made = |check: &str| {
        let look = worksheet.findings.get(check).and_then(|finding| finding.look);
        matches!(look, Some(Look::Grade(_) | Look::NotLooked(WhyNot::NotFitted)))
    };
    let to_make = applicable(sheet, tags).filter(|check| check.before_driving && !made(&check.id));
    Gate {
        to_make: to_make.map(|check| check.id.clone()).collect(),
        no_hold: holds.is_empty(),
        passed_over: worksheet.gate_passed_over.clone(),
    }
}
