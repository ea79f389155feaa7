//! The shipped sheets: sound, complete, and covering what the brief asks for.
//!
//! The general sheet and the demonstration's are data that nobody compiles, so these tests stand in for a
//! compiler: nothing dangles, nothing is said twice, every tag makes a difference, and the demonstration's worksheet
//! fits its sheet.

// Sheets that cannot be read end every test here.
#![allow(clippy::expect_used, reason = "a test stops at the first surprise")]

mod coverage;

use std::collections::BTreeSet;

use coverage::COVERAGE;
use kerbworth_core::readings::{self, Circumstances};
use kerbworth_core::restore::{Unread, restore};
use kerbworth_core::sheet::extend::extend;
use kerbworth_core::sheet::{FORMAT, Stage, System, Tag, TypeSheet, car_tags, demo, general, lint};
use kerbworth_core::worksheet::{self, Look, Seen, Worksheet};

fn shipped() -> TypeSheet {
    general::general().expect("the general sheet is read")
}

/// The demonstration's sheet over the general one.
fn curlew() -> TypeSheet {
    extend(&shipped(), &demo::curlew().expect("the demo's sheet is read"))
}

fn visit() -> Worksheet {
    demo::worksheet().expect("the demo's worksheet is read")
}

/// Every line of a list of things wrong, none of which may be there.
#[track_caller]
fn nothing_wrong<T: ToString>(of: &str, wrong: &[T]) {
    let lines: Vec<String> = wrong.iter().map(ToString::to_string).collect();
    assert!(lines.is_empty(), "{of}:\n{}", lines.join("\n"));
}

#[track_caller]
fn at_least(what: &str, count: usize, least: usize) {
    assert!(count >= least, "{count} {what}, {least} are wanted");
}

#[test]
fn every_value_of_the_shipped_files_is_read() {
    let unread = |text: &str| -> Vec<Unread> { restore::<TypeSheet>(text, FORMAT).expect("it is a sheet").1 };
    nothing_wrong("general", &unread(general::JSON));
    nothing_wrong("demo sheet", &unread(demo::SHEET_JSON));
    let (_, left) = restore::<Worksheet>(demo::WORKSHEET_JSON, worksheet::FORMAT).expect("it is a worksheet");
    nothing_wrong("demo worksheet", &left);
}

#[test]
fn the_sheets_have_no_slips_and_no_gaps() {
    for (name, sheet) in [("general", shipped()), ("demo", curlew())] {
        nothing_wrong(name, &lint::lint(&sheet));
        nothing_wrong(name, &lint::gaps(&sheet));
    }
}

#[test]
fn the_general_sheet_is_as_large_as_the_brief_asks() {
    let sheet = shipped();
    at_least("checks", sheet.checks.len(), 150);
    at_least("signs", sheet.checks.iter().map(|check| check.signs.len()).sum(), 350);
    at_least("faults with jobs", sheet.faults.iter().filter(|fault| !fault.jobs.is_empty()).count(), 200);
    at_least("causes that are normal for the type", sheet.faults.iter().filter(|fault| fault.normal).count(), 60);
}

#[test]
fn a_sign_has_few_enough_faults_to_tell_apart() {
    for sheet in [shipped(), curlew()] {
        for sign in sheet.checks.iter().flat_map(|check| &check.signs) {
            let behind =
                sheet.faults.iter().filter(|fault| fault.links.iter().any(|link| link.sign == sign.id)).count();
            assert!((1..=7).contains(&behind), "{}: {behind} faults", sign.id);
        }
    }
}

#[test]
fn a_fault_names_a_sign_and_a_job_once() {
    for fault in &curlew().faults {
        let signs: BTreeSet<&str> = fault.links.iter().map(|link| link.sign.as_str()).collect();
        let jobs: BTreeSet<&String> = fault.jobs.iter().collect();
        assert_eq!((signs.len(), jobs.len()), (fault.links.len(), fault.jobs.len()), "{}", fault.id);
    }
}

#[test]
fn every_job_cures_something_and_every_strip_down_is_shared() {
    let sheet = shipped();
    for job in &sheet.jobs {
        assert!(sheet.faults.iter().any(|fault| fault.jobs.contains(&job.id)), "{} cures nothing", job.id);
    }
    for access in &sheet.access {
        let jobs = sheet.jobs.iter().filter(|job| job.access.as_ref() == Some(&access.id)).count();
        assert!(jobs >= 2, "{} serves {jobs} jobs: put its hours into the job", access.id);
    }
}

#[test]
fn every_tag_switches_something_off() {
    let sheet = shipped();
    for tag in Tag::ALL {
        let applies = |when: &[Tag]| car_tags::applies(when, &[tag]);
        let off = sheet.checks.iter().any(|check| !applies(&check.when))
            || sheet.faults.iter().any(|fault| !applies(&fault.when))
            || sheet.readings.iter().any(|reading| !applies(&reading.when));
        assert!(off, "a car with {tag:?} is asked all that a car of which nothing is known is asked");
    }
}

#[test]
fn what_must_be_seen_before_driving_comes_before_the_drive() {
    for check in shipped().checks.iter().filter(|check| check.before_driving) {
        assert!(check.stage < Stage::RoadTest, "{} is made at {}", check.id, check.stage.name());
    }
}

#[test]
fn limits_speak_of_results_that_their_rule_gives() {
    for reading in &curlew().readings {
        for limit in &reading.limits {
            let known = reading.rule.results().iter().any(|result| result.name == limit.of);
            assert!(known, "{}: {:?} gives no “{}”", reading.id, reading.rule, limit.of);
        }
    }
}

#[test]
fn every_item_of_the_brief_is_answered_by_a_check() {
    let sheet = shipped();
    for (bullet, items) in COVERAGE {
        println!("{bullet}");
        for (item, checks) in *items {
            println!("  {item}: {}", checks.join(", "));
            assert!(!checks.is_empty(), "{bullet}, {item}: no check");
            for id in *checks {
                assert!(sheet.check(id).is_some(), "{bullet}, {item}: there is no check “{id}”");
            }
        }
    }
}

#[test]
fn the_demo_worksheet_fits_its_sheet() {
    let (sheet, worksheet) = (curlew(), visit());
    assert_eq!(worksheet.type_sheet, sheet.id);
    nothing_wrong("demo worksheet", &worksheet::check(&worksheet, &sheet));
    let tags = sheet.tags.clone();
    for id in worksheet.findings.keys() {
        let check = sheet.check(id).unwrap_or_else(|| panic!("{id}"));
        assert!(car_tags::applies(&check.when, &tags), "{id} does not apply to a Curlew");
    }
    let jobs = worksheet.receipts.iter().map(|receipt| receipt.job.as_str()).filter(|job| !job.is_empty());
    for job in jobs {
        assert!(sheet.job(job).is_some(), "a receipt is for “{job}”");
    }
    for (situation, seen) in &worksheet.lamps {
        assert!(sheet.lamps.situations.iter().any(|known| known.id == *situation), "{situation}");
        for lamp in seen.keys() {
            assert!(sheet.lamps.lamps.iter().any(|known| known.id == *lamp), "{situation}, {lamp}");
        }
    }
}

#[test]
fn the_demo_readings_are_taken_and_agree_with_the_findings() {
    let (sheet, worksheet) = (curlew(), visit());
    for (id, reading) in &worksheet.readings {
        let spec = sheet.readings.iter().find(|spec| spec.id == *id).unwrap_or_else(|| panic!("{id}"));
        let around =
            Circumstances { tags: sheet.tags.clone(), on: worksheet.visit.date.value(), ..Circumstances::default() };
        let outcome = readings::read(spec, reading, &around);
        assert_eq!(outcome.problems, [], "{id}");
        for sign in outcome.signs() {
            let seen = sheet
                .sign(sign)
                .and_then(|(check, _)| worksheet.findings.get(&check.id))
                .and_then(|finding| finding.seen(sign));
            assert_eq!(seen, Some(true), "{id} raises {sign}, and the finding says otherwise");
        }
    }
}

#[test]
fn the_demo_uses_every_stage_system_and_reason() {
    let (sheet, worksheet) = (curlew(), visit());
    let made = |id: &String| sheet.check(id);
    for stage in Stage::ALL {
        assert!(worksheet.findings.keys().filter_map(made).any(|check| check.stage == stage), "{}", stage.name());
    }
    for system in System::ALL {
        assert!(worksheet.findings.keys().filter_map(made).any(|check| check.system == system), "{}", system.name());
    }
    let reasons: BTreeSet<_> = worksheet
        .findings
        .values()
        .filter_map(|finding| match finding.look {
            Some(Look::NotLooked(why)) => Some(why),
            Some(Look::Grade(_)) | None => None,
        })
        .collect();
    assert_eq!(reasons.len(), worksheet::WhyNot::ALL.len());
    let unsafe_ones = worksheet.findings.values().filter(|finding| finding.is_unsafe == Some(true)).count();
    assert_eq!(unsafe_ones, 1, "one thing that must not be driven");
    assert_eq!(worksheet.sales.len(), 9);
    assert_eq!(worksheet.sales.iter().filter(|sale| sale.left_out).count(), 1);
    assert!(worksheet.findings.values().any(|finding| finding.door.is_some()), "a door chosen by hand");
    assert!(worksheet.findings.values().any(|finding| finding.signs.values().any(|seen| *seen == Seen::Unsure)));
    assert_eq!(worksheet.findings.values().map(|finding| finding.photos.len()).sum::<usize>(), 3);
    let together = sheet
        .combinations
        .iter()
        .filter(|combination| combination.all.iter().all(|id| worksheet.departures.get(id) == Some(&true)));
    assert_eq!(together.count(), 1, "departures that combine badly");
}

#[test]
fn the_demo_could_be_driven_when_it_was() {
    let (sheet, worksheet) = (curlew(), visit());
    for check in sheet.checks.iter().filter(|check| check.before_driving) {
        if !car_tags::applies(&check.when, &sheet.tags) {
            continue;
        }
        let finding = worksheet.findings.get(&check.id).unwrap_or_else(|| panic!("{} was not made", check.id));
        let unsafe_sign = check.signs.iter().any(|sign| sign.is_unsafe && finding.seen(&sign.id) == Some(true));
        assert!(finding.grade().is_some() && !unsafe_sign, "{} kept the gate shut", check.id);
    }
    assert_eq!(worksheet.gate_passed_over, "");
}

#[test]
fn the_demo_is_read_back_as_it_was_stored() {
    let stored = serde_json::to_string(&visit()).expect("it is JSON");
    let (back, left) = restore::<Worksheet>(&stored, worksheet::FORMAT).expect("it is a worksheet");
    nothing_wrong("stored worksheet", &left);
    assert_eq!(back, visit());
}
