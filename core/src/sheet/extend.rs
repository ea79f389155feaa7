//! A sheet that extends another says only what differs.

use super::{FORMAT, TypeSheet};

/// The whole of a sheet that extends `base`: what the base has, less what `own` does without, with entries of
/// the same id replaced and new ones added after. Tags, labour rate and name are the sheet's own; its lamp
/// table replaces the base's if it has one.
///
/// An entry left out takes with it what points at it: links of faults to signs that are gone, readings of
/// checks that are gone. What `own` itself points at wrongly is [`super::lint`]'s to say.
#[must_use]
pub fn extend(base: &TypeSheet, own: &TypeSheet) -> TypeSheet {
    let without = |id: &str| own.without.iter().any(|gone| gone == id);
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
        drop_danglers(&mut whole, &own.without);
    }
    whole
}

fn merged<T: Clone>(base: &[T], own: &[T], id: impl Fn(&T) -> &str, without: impl Fn(&str) -> bool) -> Vec<T> {
    let replaced = |entry: &T| own.iter().find(|mine| id(mine) == id(entry)).unwrap_or(entry).clone();
    let kept = base.iter().filter(|entry| !without(id(entry))).map(replaced);
    let added = own.iter().filter(|mine| !base.iter().any(|entry| id(entry) == id(mine))).cloned();
    kept.chain(added).collect()
}

/// Takes out what pointed at entries that are gone.
fn drop_danglers(sheet: &mut TypeSheet, without: &[String]) {
    for check in &mut sheet.checks {
        check.signs.retain(|sign| !without.contains(&sign.id));
    }
    let signs: Vec<String> =
        sheet.checks.iter().flat_map(|check| check.signs.iter().map(|sign| sign.id.clone())).collect();
    let checks: Vec<String> = sheet.checks.iter().map(|check| check.id.clone()).collect();
    for fault in &mut sheet.faults {
        fault.links.retain(|link| signs.contains(&link.sign));
        fault.jobs.retain(|job| !without.contains(job));
    }
    sheet.readings.retain(|reading| checks.contains(&reading.check));
    sheet.combinations.retain(|combination| !combination.all.iter().any(|id| without.contains(id)));
}

#[cfg(test)]
mod tests {
    use super::super::{Driving, Fault, Link, Stage, System};
    use super::*;
    use crate::grade::Grade;
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
    fn extending_by_nothing_changes_nothing_but_the_name() {
        let base = TypeSheet { checks: vec![check("a", "A")], ..TypeSheet::default() };
        let whole = extend(&base, &TypeSheet::default());
        assert_eq!(whole.checks, base.checks);
    }
}
