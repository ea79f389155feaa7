pub mod any;
mod full;

use proptest::prelude::*;
use serde_json::json;

use super::*;
use crate::seal::{Figures, Seal};
use crate::sheet::{Spread, TypeSheet, demo, general::general};
use crate::units::Money;
use crate::worksheet::Worksheet;

fn sealed(worksheet: &Worksheet, own: Option<&TypeSheet>) -> Parcel {
    // As random as a real key and signature are.
    let mut state = 1_u32;
    let mut byte = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (state >> 24) as u8
    };
    let figures = Figures {
        worth: Some(Spread(Money(1_310_000), Money(1_480_000), Money(1_660_000))),
        put_right: Some(Spread(Money(96_214), Money(143_377), Money(204_809))),
        score: Some(81),
        cover: 46,
        holds: 1,
    };
    let mut seal = Seal::unsigned("2026-10-17T18:20".into(), Key(std::array::from_fn(|_| byte())), figures);
    seal.signature = Signature(std::array::from_fn(|_| byte()));
    Parcel { seal: Some(seal), ..Parcel::new(worksheet, own) }
}

fn demo_parcel() -> Parcel {
    Parcel::new(&demo::worksheet().unwrap(), Some(&demo::curlew().unwrap()))
}

#[track_caller]
fn alike(have: &Parcel, want: &Parcel) {
    any::same(&serde_json::to_value(have).unwrap(), &serde_json::to_value(want).unwrap()).unwrap();
}

#[track_caller]
fn comes_back(parcel: &Parcel) -> String {
    let link = encode(parcel).unwrap();
    let opened = decode(&link).unwrap();
    alike(&opened.parcel, parcel);
    assert_eq!(opened.unread, []);
    link
}

#[test]
fn the_demo_with_its_sheet_is_short() {
    let plain = comes_back(&demo_parcel());
    let sealed = comes_back(&sealed(&demo::worksheet().unwrap(), Some(&demo::curlew().unwrap())));
    println!("demo: {} letters, sealed {}", plain.len(), sealed.len());
    assert!(sealed.len() <= 1200, "{}", sealed.len());
    assert!(decode(&plain).unwrap().parcel.own_sheet() == demo::curlew().ok());
}

#[test]
fn a_full_worksheet_with_notes_of_its_own_fits() {
    let worksheet = full::worksheet();
    assert_eq!((worksheet.findings.len(), worksheet.sales.len()), (150, 12));
    let plain = comes_back(&Parcel::new(&worksheet, None));
    let sealed = comes_back(&sealed(&worksheet, None));
    println!("full: {} letters, sealed {}", plain.len(), sealed.len());
    assert!(sealed.len() <= 4000, "{}", sealed.len());
}

/// A copy of a sheet with ten edits of every kind: what was copied and is still the same does not travel.
fn edited(mut sheet: TypeSheet) -> TypeSheet {
    sheet.id = "of-the-circle".into();
    sheet.name = "Curlew, as the Circle knows it".into();
    sheet.checks[0].how = "Ask for the folder first, and read it before you look at the car.".into();
    sheet.checks[1].minutes += 2.5;
    sheet.checks[2].signs.remove(0);
    sheet.checks.remove(3);
    sheet.checks.swap(4, 5);
    sheet.faults[0].prior /= 3.0;
    sheet.jobs[0].hours = Spread(1.0, 2.5, 7.0);
    let more = sheet.faults[1].clone();
    sheet.faults.push(crate::sheet::Fault { id: "of-the-circle".into(), name: "Bent hood frame".into(), ..more });
    sheet
}

#[test]
fn a_copied_sheet_travels_by_its_changes() {
    for (name, copied, most) in [("demo", demo::curlew().unwrap(), 1800), ("general", general().unwrap(), 2500)] {
        let own = edited(copied);
        let parcel = Parcel::new(&demo::worksheet().unwrap(), Some(&own));
        assert_eq!(parcel.sheet, None);
        let link = comes_back(&parcel);
        println!("demo with a copy of the {name} sheet with ten edits: {} letters", link.len());
        assert!(decode(&link).unwrap().parcel.own_sheet() == Some(own));
        assert!(link.len() < most, "{name}: {}", link.len());
    }
}

#[test]
fn a_sheet_with_nothing_in_common_travels_whole() {
    let own = crate::restore::full::type_sheet();
    let parcel = Parcel::new(&demo::worksheet().unwrap(), Some(&own));
    assert_eq!((parcel.format, parcel.sheet.as_ref()), (1, Some(&own)));
    comes_back(&parcel);
    assert!(parcel.own_sheet() == Some(own));
}

#[test]
fn a_sheet_that_extends_a_copied_one_travels() {
    let own = TypeSheet { extends: Some("of-the-circle".into()), ..edited(demo::curlew().unwrap()) };
    let parcel = Parcel::new(&demo::worksheet().unwrap(), Some(&own));
    comes_back(&parcel);
    assert!(parcel.own_sheet() == Some(own));
}

#[test]
fn everything_but_photographs_travels() {
    let mut worksheet = crate::restore::full::worksheet();
    let parcel = Parcel::new(&worksheet, Some(&crate::restore::full::type_sheet()));
    comes_back(&parcel);
    for finding in worksheet.findings.values_mut() {
        finding.photos.clear();
    }
    assert!(parcel.worksheet == worksheet);
}

/// Links that were made once and must open for ever, each beside the parcel it was made from.
const GOLDEN: [(&str, &str); 4] = [
    (include_str!("golden/copied-sheet.txt"), include_str!("golden/copied-sheet.json")),
    (include_str!("golden/demo.txt"), include_str!("golden/demo.json")),
    (include_str!("golden/full.txt"), include_str!("golden/full.json")),
    (include_str!("golden/own-sheet.txt"), include_str!("golden/own-sheet.json")),
];

#[test]
fn links_of_the_first_version_open() {
    for (link, json) in GOLDEN {
        let want = Parcel::of_file(json).unwrap();
        let opened = decode(link).unwrap();
        alike(&opened.parcel, &want.parcel);
        let in_digits = digits::digits(link).unwrap();
        assert!(decode(&in_digits).unwrap() == opened);
    }
}

/// Writes the golden links of the newest form. Only ever for a new one, beside those of the old.
#[test]
#[ignore = "writes files; run by hand when there is a new version"]
fn write_golden_links() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/link/tests/golden");
    let parcel = sealed(&crate::restore::full::worksheet(), Some(&edited(demo::curlew().unwrap())));
    std::fs::write(folder.join("copied-sheet.txt"), encode(&parcel).unwrap() + "\n").unwrap();
    std::fs::write(folder.join("copied-sheet.json"), parcel.to_file()).unwrap();
}

#[track_caller]
fn refused(link: &str, want: &LinkError) {
    assert_eq!(decode(link).err().as_ref(), Some(want), "{link}");
}

#[test]
fn what_is_wrong_is_named() {
    let link = encode(&demo_parcel()).unwrap();
    refused("", &LinkError::Blank);
    refused(" \n", &LinkError::Blank);
    refused("#", &LinkError::Letter('#'));
    refused(&format!("({link}"), &LinkError::Letter('('));
    refused(&link[..link.len() - 1], &LinkError::Damaged);
    refused(&link[1..], &LinkError::Damaged);
    refused(&link[..6], &LinkError::Damaged);
    refused("AQ", &LinkError::Damaged);
    refused(&letters::letters(&[0, 1, 2, 3, 4]), &LinkError::Damaged);
    refused(&letters::letters(&[2, 1, 2, 3, 4]), &LinkError::Newer { found: 2 });
    refused(&letters::letters(&[127 | SEALED]), &LinkError::Newer { found: 127 });
    refused(&"A".repeat(MOST_LETTERS + 1), &LinkError::TooLarge);
    refused(&told(&json!(7)), &LinkError::NotOurs(RestoreError::NotAnObject));
    refused(&told(&json!({"format": 3})), &LinkError::NotOurs(RestoreError::Newer { found: 3, known: 2 }));
    refused(
        &told(&json!({"format": 2, "changes": {"format": 9}})),
        &LinkError::NotOurs(RestoreError::Newer { found: 9, known: 1 }),
    );
    refused(
        &told(&json!({"worksheet": {"format": 9}})),
        &LinkError::NotOurs(RestoreError::Newer { found: 9, known: 1 }),
    );
    refused(&told(&json!({"sheet": {"format": 9}})), &LinkError::NotOurs(RestoreError::Newer { found: 9, known: 1 }));
    // A seal without its bytes.
    refused(&told(&json!({"seal": {"when": "now"}})), &LinkError::Damaged);
    alike(&decode(&format!("  {link}\n")).unwrap().parcel, &demo_parcel());
}

/// A link that holds this, sum and all.
fn told(json: &Value) -> String {
    let mut walk = learnt().unwrap().over(Stream::writing);
    walk.tell(json).unwrap();
    link_of(VERSION, &walk.into_bytes())
}

fn link_of(first: u8, rest: &[u8]) -> String {
    let mut bytes = [&[first, 0, 0, 0, 0], rest].concat();
    let sum = sum(&bytes).to_be_bytes();
    bytes[1..5].copy_from_slice(&sum);
    letters::letters(&bytes)
}

#[test]
fn what_does_not_fit_within_is_noted() {
    let opened = decode(&told(&json!({"worksheet": {"car": {"maker": 7}, "mood": "good"}}))).unwrap();
    let mut said: Vec<String> = opened.unread.iter().map(ToString::to_string).collect();
    said.sort();
    assert_eq!(
        said,
        [
            "worksheet.car.maker: should be a text (found 7)",
            "worksheet.mood: not known to this format (found \"good\")"
        ]
    );
}

#[test]
fn too_much_is_refused_when_made() {
    let mut worksheet = Worksheet::default();
    let mut state = 1_u32;
    worksheet.car.note = (0..120_000)
        .map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            char::from(b' ' + (state >> 24) as u8 % 90)
        })
        .collect();
    assert_eq!(encode(&Parcel::new(&worksheet, None)), Err(LinkError::TooLarge));
}

#[test]
fn bombs_are_refused() {
    // A few bytes that tell the same thing for ever.
    let lists = (0..DEEP).fold(json!(null), |inner, _| json!([inner]));
    let mut walk = learnt().unwrap().over(Stream::writing);
    assert_eq!(walk.tell(&lists), Err(LinkError::TooDeep));
    let many = json!({ "unread": vec![json!(null); 1_000_000] });
    let mut walk = learnt().unwrap().over(Stream::writing);
    assert_eq!(walk.tell(&many), Err(LinkError::TooLarge));
    let bytes = walk.into_bytes();
    assert!(bytes.len() < 2000, "{}", bytes.len());
    assert_eq!(decode(&link_of(VERSION, &bytes)), Err(LinkError::TooLarge));
}

const DEEP: usize = 100;

/// Another letter anywhere.
#[test]
fn any_letter_changed_is_noticed() {
    let link = encode(&demo_parcel()).unwrap();
    for at in 0..link.len() {
        let mut changed = link.clone().into_bytes();
        changed[at] = if changed[at] == b'A' { b'B' } else { b'A' };
        assert!(decode(std::str::from_utf8(&changed).unwrap()).is_err(), "letter {at}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_worksheet_comes_back(worksheet in any::worksheet(), with_seal: bool) {
        let parcel = if with_seal { sealed(&worksheet, None) } else { Parcel::new(&worksheet, None) };
        let opened = decode(&encode(&parcel).unwrap()).unwrap();
        prop_assert_eq!(opened.unread, []);
        any::same(&serde_json::to_value(&opened.parcel).unwrap(), &serde_json::to_value(&parcel).unwrap())?;
    }

    /// With the right sum over the wrong bytes, as only malice makes them.
    #[test]
    fn no_bytes_stop_the_program(at in 0_usize..500, by in 1_u8..=255, cut in 0_usize..600) {
        let bytes = letters::bytes(&encode(&demo_parcel()).unwrap()).unwrap();
        let mut rest = bytes[5..].to_vec();
        if let Some(byte) = rest.get_mut(at) {
            *byte ^= by;
        }
        rest.truncate(cut);
        for first in [VERSION, VERSION | SEALED] {
            if let Err(error) = decode(&link_of(first, &rest)) {
                prop_assert!(!error.to_string().ends_with('.'));
            }
        }
    }

    #[test]
    fn no_text_stops_the_program(text in "\\PC{0,60}") {
        let _ = decode(&text);
    }
}
