//! Type sheets that nobody means well with, appraised: a car on which every sign was seen, by a sheet changed at random,
//! and by one with more in it than any sheet has.

use kerbworth_core::appraise::{Appraisal, appraise};
use kerbworth_core::restore::restore;
use kerbworth_core::sheet::lint::{Kind, lint};
use kerbworth_core::sheet::{self, Fault, Job, Link, MOST_ENTRIES, TypeSheet, demo};
use kerbworth_core::worksheet::{Finding, Seen, Worksheet};

use crate::doors::Door;

pub fn door() -> Door {
    let sheet = demo::curlew().expect("the demonstration's sheet is whole");
    let seeds = vec![serde_json::to_vec(&sheet).expect("it is written as JSON")];
    Door { name: "appraisal", seeds, takes }
}

fn takes(input: &[u8]) -> bool {
    let text = String::from_utf8_lossy(input);
    let Ok((sheet, _)) = restore::<TypeSheet>(&text, sheet::FORMAT) else { return false };
    sound(&appraise(&all_seen(&sheet), &sheet));
    true
}

/// The demonstration's worksheet with every sign of a sheet seen.
fn all_seen(sheet: &TypeSheet) -> Worksheet {
    let mut worksheet = demo::worksheet().expect("the demonstration is whole");
    for check in &sheet.checks {
        let signs = check.signs.iter().map(|sign| (sign.id.clone(), Seen::Yes)).collect();
        worksheet.findings.insert(check.id.clone(), Finding { signs, ..Finding::default() });
    }
    worksheet
}

/// Whatever the sheet says, probabilities are some and a range is one.
fn sound(appraisal: &Appraisal) {
    for cause in &*appraisal.causes {
        assert!((0.0..=1.0).contains(&cause.probability), "{}: {}", cause.fault, cause.probability);
    }
    for repair in &appraisal.repairs.items {
        assert!((0.0..=1.0).contains(&repair.probability), "{}: {}", repair.name, repair.probability);
    }
    if let Some(worth) = &appraisal.worth {
        assert!(worth.stands.low <= worth.stands.middle && worth.stands.middle <= worth.stands.high);
    }
}

/// Every fault shows the same sign and calls for the same jobs, and for one of its own: the pairs of all of them would
/// not find room.
#[test]
fn a_crowded_sheet_is_appraised_as_far_as_it_is_reasoned_with() {
    const ENTRIES: usize = MOST_ENTRIES + 500;
    const SHARED: usize = 12;
    let small = demo::curlew().expect("the demonstration's sheet is whole");
    let (fault, job) = (small.faults.first().expect("it has faults"), small.jobs.first().expect("it has jobs"));
    let check = small.checks.first().expect("it has checks").clone();
    let link = Link { sign: check.signs.first().expect("it has signs").id.clone(), strength: 0.5 };
    let id = |place: usize| format!("n{place}");
    let fault = |place: usize| Fault {
        id: id(place),
        links: vec![link.clone()],
        jobs: (0..SHARED).chain([place]).map(id).collect(),
        when: Vec::new(),
        ..fault.clone()
    };
    let sheet = TypeSheet {
        checks: vec![check.clone()],
        faults: (0..ENTRIES).map(fault).collect(),
        jobs: (0..ENTRIES).map(|place| Job { id: id(place), ..job.clone() }).collect(),
        ..TypeSheet::default()
    };
    let too_many: Vec<Kind> = lint(&sheet).into_iter().map(|slip| slip.kind).collect();
    assert!(too_many.contains(&Kind::TooMany("faults")) && too_many.contains(&Kind::TooMany("jobs")));
    for worksheet in [Worksheet::default(), all_seen(&sheet)] {
        let appraisal = appraise(&worksheet, &sheet);
        sound(&appraisal);
        assert_eq!(appraisal.causes.len(), MOST_ENTRIES);
        assert!(appraisal.repairs.items.len() <= MOST_ENTRIES);
    }
}
