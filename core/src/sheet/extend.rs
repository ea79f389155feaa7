//! A sheet that extends another says only what differs.

use std::collections::{BTreeMap, BTreeSet};

use super::lamps::LampTable;
use super::{FORMAT, TypeSheet};
use crate::ordered;

/// The whole of a sheet that extends `base`: what the base has, less what `own` does without, with entries of
/// the same id replaced and new ones added after. Tags, labour rate and name are the sheet's own; its lamp
/// table replaces the base's if it has one.
///
/// An entry left out takes with it what points at it: links, limits and lamp patterns for signs that are gone, readings
/// and lamps of checks that are gone, jobs and strip-downs that are gone. What `own` itself points at wrongly is [`super::lint`]'s to say.
#[must_use]
pub fn extend(base: &TypeSheet, own: &TypeSheet) -> TypeSheet {
    let gone: BTreeSet<&str> = own.without.iter().map(String::as_str).collect();
    let without = |id: &str| gone.contains(id);
    let mut whole = TypeSheet {
        format: FORMAT,
        id: own.id.clone(),
        name: own.name.clone(),
        author: own.author.clone(),
        extends: own.extends.clone(),
        without: own.without.clone(),
        currency: own.currency,
        labour_rate: own.labour_rate,
        tags: own.tags.clone(),
        checks: merged(&base.checks, &own.checks, |check| &check.id, without),
        faults: merged(&base.faults, &own.faults, |fault| &fault.id, without),
        jobs: merged(&base.jobs, &own.jobs, |job| &job.id, without),
        access: merged(&base.access, &own.access, |access| &access.id, without),
        readings: merged(&base.readings, &own.readings, |reading| &reading.id, without),
        lamps: if own.lamps.lamps.is_empty() { base.lamps.clone() } else { own.lamps.clone() },
        departures: merged(&base.departures, &own.departures, |departure| &departure.id, without),
        combinations: merged(&base.combinations, &own.combinations, |combination| &combination.id, without),
    };
    if !own.without.is_empty() {
        drop_danglers(&mut whole, &gone);
    }
    whole
}

fn merged<T: Clone>(base: &[T], own: &[T], id: impl Fn(&T) -> &str, without: impl Fn(&str) -> bool) -> Vec<T> {
    // The last to enter stays: backwards, so that of two with one id the first is meant.
    let mine: BTreeMap<&str, &T> = ordered::map(own.iter().rev().map(|mine| (id(mine), mine)));
    let known: BTreeSet<&str> = base.iter().map(&id).collect();
    let kept = base.iter().filter(|entry| !without(id(entry)));
    let kept = kept.map(|entry| mine.get(id(entry)).copied().unwrap_or(entry));
    kept.chain(own.iter().filter(|mine| !known.contains(id(mine)))).cloned().collect()
}

/// Takes out what pointed at entries that are gone.
fn drop_danglers(sheet: &mut TypeSheet, gone: &BTreeSet<&str>) {
    let is_gone = |id: &String| gone.contains(id.as_str());
    for check in &mut sheet.checks {
        check.signs.retain(|sign| !is_gone(&sign.id));
    }
    let signs: BTreeSet<&str> =
        sheet.checks.iter().flat_map(|check| check.signs.iter().map(|sign| sign.id.as_str())).collect();
    let checks: BTreeSet<&str> = sheet.checks.iter().map(|check| check.id.as_str()).collect();
    for fault in &mut sheet.faults {
        fault.links.retain(|link| signs.contains(link.sign.as_str()));
        fault.jobs.retain(|job| !is_gone(job));
    }
    for job in &mut sheet.jobs {
        job.access.take_if(|access| is_gone(access));
    }
    sheet.readings.retain(|reading| checks.contains(reading.check.as_str()));
    for limit in sheet.readings.iter_mut().flat_map(|reading| &mut reading.limits) {
        for sign in [&mut limit.below, &mut limit.above] {
            sign.take_if(|sign| !signs.contains(sign.as_str()));
        }
    }
    if is_gone(&sheet.lamps.check) {
        sheet.lamps = LampTable::default();
    }
    sheet.lamps.patterns.retain(|pattern| signs.contains(pattern.sign.as_str()));
    sheet.combinations.retain(|combination| !combination.all.iter().any(is_gone));
}

#[cfg(test)]
mod tests {
    use super::super::{Driving, Fault, Link, Stage, System};
    use super::*;
    use crate::grade::Grade;
    use crate::sheet::lint::{Kind, lint};
    use crate::sheet::{Check, Sign};

    fn check(id: &str, name: &str) -> Check {
        let sign =
            Sign { id: format!("{id}-sign"), name: "Odd".into(), leak: 0.01, grade: Grade::Slight, is_unsafe: false };
        Check {
            id: id.into(),
            stage: Stage::Cabin,
            system: System::Cabin,
            name: name.into(),
            how: String::new(),
            right: String::new(),
            minutes: 1.0,
            needs: Vec::new(),
            weight: 1,
            cautions: Vec::new(),
            when: Vec::new(),
            before_driving: false,
            signs: vec![sign],
            source: String::new(),
        }
    }

    fn fault(id: &str, signs: &[&str]) -> Fault {
        Fault {
            id: id.into(),
            system: System::Cabin,
            name: id.into(),
            prior: 0.1,
            tell: String::new(),
            drive: Driving::Yes,
            normal: true,
            visible: false,
            links: signs.iter().map(|sign| Link { sign: (*sign).into(), strength: 0.5 }).collect(),
            jobs: Vec::new(),
            when: Vec::new(),
            source: String::new(),
        }
    }

    #[test]
    fn replaces_adds_and_leaves_out() {
        let base = TypeSheet {
            checks: vec![check("a", "A"), check("b", "B")],
            faults: vec![fault("f", &["a-sign", "b-sign"])],
            ..TypeSheet::default()
        };
        let own = TypeSheet {
            id: "mine".into(),
            without: vec!["a".into()],
            checks: vec![check("b", "B of mine"), check("c", "C")],
            ..TypeSheet::default()
        };
        let whole = extend(&base, &own);
        let names: Vec<&str> = whole.checks.iter().map(|check| check.name.as_str()).collect();
        assert_eq!(names, ["B of mine", "C"]);
        let signs: Vec<&str> = whole.faults[0].links.iter().map(|link| link.sign.as_str()).collect();
        assert_eq!(signs, ["b-sign"]);
        assert_eq!(whole.id, "mine");
    }

    #[test]
    fn nothing_points_at_what_is_left_out() {
        let general = crate::sheet::general::general().unwrap();
        let dangling = |without: Vec<String>| {
            let own = TypeSheet { without, ..TypeSheet::default() };
            let slips = lint(&extend(&general, &own));
            slips.into_iter().filter(|slip| matches!(slip.kind, Kind::Dangling(..))).collect::<Vec<_>>()
        };
        let raised = general.readings.iter().flat_map(|reading| &reading.limits);
        let raised = raised.flat_map(|limit| limit.below.iter().chain(&limit.above));
        let by_lamps = general.lamps.patterns.iter().map(|pattern| &pattern.sign);
        assert_eq!(dangling(raised.chain(by_lamps).cloned().collect()), []);
        assert_eq!(dangling(general.access.iter().map(|access| access.id.clone()).collect()), []);
        assert_eq!(dangling(general.checks.iter().map(|check| check.id.clone()).collect()), []);
    }

    #[test]
    fn extending_by_nothing_changes_nothing_but_the_name() {
        let base = TypeSheet { checks: vec![check("a", "A")], ..TypeSheet::default() };
        let whole = extend(&base, &TypeSheet::default());
        assert_eq!(whole.checks, base.checks);
    }
}
