//! From a type sheet to the network that is reasoned with, keeping which index is which entry.
//!
//! Only what applies to the car takes part: its checks' signs, its faults, and the links between those. The
//! sheet may be anybody's: probabilities are held inside their bounds and links to nowhere are dropped, as
//! [`Network::new`] says; the sheet's own lint is what names them.

use std::collections::BTreeMap;

use crate::sheet::{MOST_ENTRIES, Tag, TypeSheet, car_tags};

use super::exact::Posterior;
use super::network::{Evidence, Network, SignNode};
use super::next_look::Look;

/// A check that applies, with its signs as indices of the network.
#[derive(Debug, Clone, PartialEq)]
pub struct ApplicableCheck {
    /// Its place in the sheet's list of checks.
    pub check: usize,
    /// Minutes it takes.
    pub minutes: f64,
    /// Its signs.
    pub signs: Vec<usize>,
}

/// The network of one sheet for one car.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SheetNetwork {
    /// What is reasoned with.
    pub network: Network,
    /// For each fault of the network, its place in the sheet's list of faults.
    pub faults: Vec<usize>,
    /// For each sign of the network, its check's place in the sheet and its own place in the check.
    pub signs: Vec<(usize, usize)>,
    /// The checks that apply, in the sheet's order.
    pub checks: Vec<ApplicableCheck>,
    fault_of: BTreeMap<String, usize>,
    sign_of: BTreeMap<String, usize>,
}

/// Builds the network of a sheet for a car with these tags, the sheet's own tags among them. Where two entries
/// share an id the first is meant. Faults after the first [`MOST_ENTRIES`] are passed over.
#[must_use]
pub fn network_of(sheet: &TypeSheet, tags: &[Tag]) -> SheetNetwork {
    let mut signs = Vec::new();
    let mut nodes: Vec<SignNode> = Vec::new();
    let mut sign_of = BTreeMap::new();
    let mut checks = Vec::new();
    for (place, check) in sheet.checks.iter().enumerate().filter(|(_, check)| car_tags::applies(&check.when, tags)) {
        let first = signs.len();
        for (at, sign) in check.signs.iter().enumerate() {
            sign_of.entry(sign.id.clone()).or_insert(signs.len());
            signs.push((place, at));
            nodes.push(SignNode { leak: sign.leak, parents: Vec::new() });
        }
        checks.push(ApplicableCheck { check: place, minutes: check.minutes, signs: (first..signs.len()).collect() });
    }
    let mut faults = Vec::new();
    let mut priors = Vec::new();
    let mut fault_of = BTreeMap::new();
    let applicable = sheet.faults.iter().enumerate().filter(|(_, fault)| car_tags::applies(&fault.when, tags));
    for (place, fault) in applicable.take(MOST_ENTRIES) {
        let number = faults.len();
        fault_of.entry(fault.id.clone()).or_insert(number);
        faults.push(place);
        priors.push(fault.prior);
        for link in &fault.links {
            if let Some(node) = sign_of.get(&link.sign).and_then(|&sign: &usize| nodes.get_mut(sign)) {
                node.parents.push((number, link.strength));
            }
        }
    }
    SheetNetwork { network: Network::new(priors, nodes), faults, signs, checks, fault_of, sign_of }
}

impl SheetNetwork {
    /// Evidence by ids: signs seen (`true`) or looked for and absent, faults confirmed (`true`) or ruled out.
    /// What does not apply to this car, or is not of this sheet, is passed over.
    #[must_use]
    pub fn evidence(&self, signs: &BTreeMap<&str, bool>, faults: &BTreeMap<&str, bool>) -> Evidence {
        let mut evidence = Evidence::none(&self.network);
        let places = [(signs, &self.sign_of, &mut evidence.signs), (faults, &self.fault_of, &mut evidence.faults)];
        for (known, index, list) in places {
            for (id, &value) in known {
                if let Some(slot) = index.get(*id).and_then(|&place| list.get_mut(place)) {
                    *slot = Some(value);
                }
            }
        }
        evidence
    }

    /// For each job, of the first [`MOST_ENTRIES`], the faults of this car that call for it: what `needs` takes.
    #[must_use]
    pub fn faults_of_jobs(&self, sheet: &TypeSheet) -> Vec<Vec<usize>> {
        let mut of_job: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for (number, fault) in self.faults.iter().enumerate() {
            for job in sheet.faults.get(*fault).map_or(&[][..], |fault| fault.jobs.as_slice()) {
                of_job.entry(job).or_default().push(number);
            }
        }
        sheet
            .jobs
            .iter()
            .take(MOST_ENTRIES)
            .map(|job| of_job.get(job.id.as_str()).cloned().unwrap_or_default())
            .collect()
    }

    /// The checks that have signs not yet looked for: their places in the sheet, and what `next_looks` takes.
    #[must_use]
    pub fn unmade(&self, evidence: &Evidence) -> (Vec<usize>, Vec<Look>) {
        self.checks
            .iter()
            .filter_map(|check| {
                let signs: Vec<usize> =
                    check.signs.iter().copied().filter(|&sign| evidence.sign(sign).is_none()).collect();
                (!signs.is_empty()).then_some((check.check, Look { signs, minutes: check.minutes }))
            })
            .unzip()
    }

    /// Names of the seen signs that could not be reasoned with, in the sheet's order.
    #[must_use]
    pub fn left_out(&self, sheet: &TypeSheet, posterior: &Posterior) -> Vec<String> {
        let name = |&sign: &usize| {
            let &(check, at) = self.signs.get(sign)?;
            Some(sheet.checks.get(check)?.signs.get(at)?.name.clone())
        };
        posterior.left_out.iter().filter_map(name).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grade::Grade;
    use crate::reason::exact::Inference;
    use crate::sheet::{Check, Driving, Fault, Job, Link, MarketShare, Sign, Spread, Stage, System};
    use crate::units::Money;

    fn check(id: &str, when: &[Tag], signs: &[(&str, f64)]) -> Check {
        let sign = |&(id, leak): &(&str, f64)| Sign {
            id: id.to_owned(),
            name: id.replace('-', " "),
            leak,
            grade: Grade::Moderate,
            is_unsafe: false,
        };
        Check {
            id: id.to_owned(),
            stage: Stage::RoadTest,
            system: System::Driveline,
            name: String::new(),
            how: String::new(),
            right: String::new(),
            minutes: 3.0,
            needs: Vec::new(),
            weight: 5,
            cautions: Vec::new(),
            when: when.to_vec(),
            before_driving: false,
            signs: signs.iter().map(sign).collect(),
            source: String::new(),
        }
    }

    fn fault(id: &str, prior: f64, when: &[Tag], links: &[(&str, f64)], jobs: &[&str]) -> Fault {
        Fault {
            id: id.to_owned(),
            system: System::Driveline,
            name: String::new(),
            prior,
            tell: String::new(),
            drive: Driving::Care,
            normal: false,
            visible: false,
            links: links.iter().map(|&(sign, strength)| Link { sign: sign.to_owned(), strength }).collect(),
            jobs: jobs.iter().map(|&job| job.to_owned()).collect(),
            when: when.to_vec(),
            source: String::new(),
        }
    }

    fn job(id: &str) -> Job {
        Job {
            id: id.to_owned(),
            system: System::Driveline,
            name: String::new(),
            hours: Spread(1.0, 2.0, 3.0),
            parts: Spread(Money(1), Money(2), Money(3)),
            access: None,
            market: MarketShare::Mechanical,
        }
    }

    fn sheet() -> TypeSheet {
        TypeSheet {
            checks: vec![
                check("fan", &[Tag::WaterCooled], &[("fan-idle", 0.02)]),
                check("gears", &[], &[("grinds", 0.01), ("jumps-out", 0.02)]),
            ],
            faults: vec![
                fault("dead-fan", 0.05, &[Tag::WaterCooled], &[("fan-idle", 0.9)], &["fan"]),
                fault("worn-linkage", 0.2, &[], &[("jumps-out", 0.3), ("no-such-sign", 0.5)], &["linkage"]),
                fault("worn-gearbox", 0.05, &[], &[("grinds", 0.7), ("jumps-out", 0.6)], &["gearbox", "linkage"]),
            ],
            jobs: vec![job("gearbox"), job("linkage"), job("fan"), job("hood")],
            ..TypeSheet::default()
        }
    }

    #[test]
    fn only_what_applies_takes_part() {
        let all = network_of(&sheet(), &[Tag::WaterCooled]);
        assert_eq!((all.faults.len(), all.signs.len(), all.checks.len()), (3, 3, 2));
        assert_eq!(all.network.signs()[2], SignNode { leak: 0.02, parents: vec![(1, 0.3), (2, 0.6)] });
        let air = network_of(&sheet(), &[Tag::AirCooled]);
        assert_eq!((air.faults.as_slice(), air.signs.as_slice()), (&[1, 2][..], &[(1, 0), (1, 1)][..]));
        assert_eq!(air.network.signs()[0], SignNode { leak: 0.01, parents: vec![(1, 0.7)] });
        assert_eq!(air.faults_of_jobs(&sheet()), [vec![1], vec![0, 1], vec![], vec![]]);
    }

    #[test]
    fn evidence_is_found_by_id_and_strangers_are_passed_over() {
        let air = network_of(&sheet(), &[Tag::AirCooled]);
        let signs = BTreeMap::from([("grinds", true), ("jumps-out", false), ("fan-idle", true), ("other", true)]);
        let faults = BTreeMap::from([("worn-linkage", false), ("dead-fan", true)]);
        let evidence = air.evidence(&signs, &faults);
        assert_eq!(evidence, Evidence { signs: vec![Some(true), Some(false)], faults: vec![Some(false), None] });
    }

    #[test]
    fn unmade_checks_are_those_with_signs_to_look_for() {
        let all = network_of(&sheet(), &[]);
        let evidence = all.evidence(&BTreeMap::from([("grinds", true), ("fan-idle", false)]), &BTreeMap::new());
        assert_eq!(all.unmade(&evidence), (vec![1], vec![Look { signs: vec![2], minutes: 3.0 }]));
    }

    #[test]
    fn what_is_left_out_is_named() {
        let all = network_of(&sheet(), &[]);
        let nothing = Evidence::none(&all.network);
        let mut posterior = Inference::new(&all.network, &nothing).posterior().clone();
        assert!(all.left_out(&sheet(), &posterior).is_empty());
        posterior.left_out = vec![1, 2];
        assert_eq!(all.left_out(&sheet(), &posterior), ["grinds", "jumps out"]);
    }
}
