//! Whether the car may be driven: holds, and the gate before the road test.

use std::collections::BTreeMap;

use serde::Serialize;

use super::evidence::{Known, Origin};
use crate::condition::applicable;
use crate::reason::exact::Posterior;
use crate::reason::network_of::SheetNetwork;
use crate::sheet::{Check, Combination, Driving, Tag, TypeSheet};
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

/// Whether a check holds the car: the person's word; else whether a sign that forbids driving was seen there, or
/// raised by a reading or the lamps.
#[must_use]
pub fn is_held(check: &Check, finding: Option<&Finding>, signs: &BTreeMap<String, Known>) -> bool {
    finding.and_then(|finding| finding.is_unsafe).unwrap_or_else(|| held_by_signs(check, finding, signs))
}

fn held_by_signs(check: &Check, finding: Option<&Finding>, signs: &BTreeMap<String, Known>) -> bool {
    check.signs.iter().filter(|sign| sign.is_unsafe).any(|sign| {
        let marked = finding.is_some_and(|finding| finding.signs.get(&sign.id) == Some(&Seen::Yes));
        let known = signs.get(&sign.id).filter(|known| known.seen);
        marked || known.is_some_and(|known| matches!(known.origin, Origin::Reading | Origin::Lamps))
    })
}

/// Takes the unsafe mark off or puts it on. What the signs say by themselves needs no word of the person's.
pub fn press_unsafe(check: &Check, finding: &mut Finding, signs: &BTreeMap<String, Known>) {
    let wanted = !is_held(check, Some(finding), signs);
    finding.is_unsafe = (wanted != held_by_signs(check, Some(finding), signs)).then_some(wanted);
}

/// Departures that are there and combine badly.
#[must_use]
pub fn bad_combinations<'a>(sheet: &'a TypeSheet, worksheet: &Worksheet) -> Vec<&'a Combination> {
    let there = |id: &String| worksheet.departures.get(id) == Some(&true);
    let bad = |combination: &&Combination| !combination.all.is_empty() && combination.all.iter().all(there);
    sheet.combinations.iter().filter(bad).collect()
}

/// Every reason not to drive, given what is known of the signs and the faults.
#[must_use]
pub fn holds(
    sheet: &TypeSheet,
    worksheet: &Worksheet,
    tags: &[Tag],
    signs: &BTreeMap<String, Known>,
    network: &SheetNetwork,
    posterior: &Posterior,
) -> Vec<Hold> {
    let findings = applicable(sheet, tags)
        .filter(|check| is_held(check, worksheet.findings.get(&check.id), signs))
        .map(|check| Hold { because: Because::Finding { check: check.id.clone() }, what: check.name.clone() });
    let combinations = bad_combinations(sheet, worksheet)
        .into_iter()
        .filter(|combination| combination.hold)
        .map(|it| Hold { because: Because::Combination { combination: it.id.clone() }, what: it.effect.clone() });
    let faults = network.faults.iter().enumerate().filter_map(|(number, place)| {
        let fault = sheet.faults.get(*place)?;
        let forbids = fault.drive == Driving::No && posterior.probability(number) >= LIKELY;
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grade::Grade;
    use crate::sheet::{Sign, Stage, System};

    fn check() -> Check {
        Check {
            id: "pedal".to_owned(),
            stage: Stage::Cabin,
            system: System::Brakes,
            name: "Pedal".to_owned(),
            how: String::new(),
            right: String::new(),
            minutes: 1.0,
            needs: Vec::new(),
            weight: 5,
            cautions: Vec::new(),
            when: Vec::new(),
            before_driving: true,
            signs: vec![Sign {
                id: "sinks".to_owned(),
                name: "Sinks".to_owned(),
                leak: 0.01,
                grade: Grade::Failed,
                is_unsafe: true,
            }],
            source: String::new(),
        }
    }

    fn known(origin: Origin) -> BTreeMap<String, Known> {
        BTreeMap::from([("sinks".to_owned(), Known { seen: true, origin })])
    }

    #[test]
    fn a_reading_holds_a_car_that_nobody_marked_and_the_persons_word_wins() {
        let (check, signs) = (check(), known(Origin::Reading));
        assert!(is_held(&check, None, &signs));
        assert!(!is_held(&check, None, &BTreeMap::new()));
        let said = Finding { is_unsafe: Some(false), ..Finding::default() };
        assert!(!is_held(&check, Some(&said), &signs));
    }

    #[test]
    fn a_combination_of_nothing_is_never_there() {
        let blank = String::new;
        let combination = Combination { id: blank(), all: Vec::new(), effect: blank(), hold: true, source: blank() };
        let sheet = TypeSheet { combinations: vec![combination], ..TypeSheet::default() };
        assert!(bad_combinations(&sheet, &Worksheet::default()).is_empty());
    }

    #[test]
    fn the_mark_is_pressed_off_and_on() {
        let (check, none) = (check(), BTreeMap::new());
        let mut finding = Finding::default();
        press_unsafe(&check, &mut finding, &none);
        assert_eq!(finding.is_unsafe, Some(true));
        press_unsafe(&check, &mut finding, &none);
        assert_eq!(finding.is_unsafe, None);
        finding.signs.insert("sinks".to_owned(), Seen::Yes);
        press_unsafe(&check, &mut finding, &none);
        assert_eq!(finding.is_unsafe, Some(false));
        press_unsafe(&check, &mut finding, &none);
        assert_eq!(finding.is_unsafe, None);
    }
}
