//! The languages: every text of the app's own is in every table, with the same places, and nothing else is.

// Sources and tables that cannot be read end every test here.
#![allow(clippy::expect_used, clippy::indexing_slicing, reason = "a test stops at the first surprise")]

mod keys;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use kerbworth_core::appraise::appraise;
use kerbworth_core::hand_over::{Case, Kind, Length, document, text};
use kerbworth_core::phrase::Words;
use kerbworth_core::sheet::extend::extend;
use kerbworth_core::sheet::{demo, general};
use kerbworth_core::show::Show;

/// Files whose texts are for whoever reads files or code: what is wrong in a stored value, which is kept beside it as
/// it is said, and what schemas say.
const NOT_SHOWN_IN: [&str; 11] = [
    "app/src/browser/keyboard.rs",
    "core/src/restore/kinds.rs",
    "core/src/restore/tables.rs",
    "core/src/restore/trail.rs",
    "core/src/schema.rs",
    "core/src/seal/raw.rs",
    "core/src/bundle/write.rs",
    "core/src/readings/given.rs",
    "core/src/worksheet/edit.rs",
    "core/src/worksheet/entry.rs",
    "app/src/browser/sealing.rs",
];

/// Texts that look like the app's own and are none: names that do not change, words of files and of pasted tables.
const NOT_OURS: [&str; 30] = [
    // JSON's own words.
    "false",
    "null",
    "true",
    "English",
    "Kerbworth",
    "{title} · Kerbworth",
    "AbortError",
    "QuotaExceededError",
    "a value is read as what it was made",
    "device",
    "sun",
    "all in",
    "sale room",
    "auction date",
    "how sold",
    "sale date",
    "sale type",
    "sold for",
    "sold on",
    "LT",
    "Kerbworth seal 1\n",
    "limits",
    "links",
    "signs",
    "A day, as year-month-day.",
    "a date as year-month-day, such as 2026-10-04",
    "A currency by its three-letter code (ISO 4217).",
    "Currency",
    "a currency as a code of three letters, such as GBP",
    "notice hold",
];

/// Words of the address and of files, in `core/src/sheet/part.rs`.
const OF_FILES: [&str; 5] = ["checks", "combinations", "faults", "jobs", "readings"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Every text of the app's own.
fn ours() -> BTreeMap<String, Vec<String>> {
    let mut all = keys::all(&root());
    all.retain(|text, files| {
        let shown = files.iter().any(|file| !NOT_SHOWN_IN.contains(&file.as_str()));
        let selects = text.starts_with('.') || text.contains(":nth-child");
        shown && !selects && !NOT_OURS.contains(&text.as_str()) && !OF_FILES.contains(&text.as_str())
    });
    all
}

/// Every table, by its name.
fn tables() -> Vec<(String, BTreeMap<String, String>)> {
    let files = fs::read_dir(root().join("public/words")).expect("there are tables").flatten();
    let table = |file: fs::DirEntry| {
        let text = fs::read_to_string(file.path()).expect("a table is text");
        let table = serde_json::from_str(&text).expect("a table is an object of texts");
        (file.file_name().to_string_lossy().into_owned(), table)
    };
    files.map(table).collect()
}

fn german() -> Show {
    let table = fs::read_to_string(root().join("public/words/de.json")).expect("there is German");
    Show { words: Words::read(&table).expect("it is a table"), ..Show::default() }
}

/// The numbered places of a pattern.
fn places(pattern: &str) -> BTreeSet<&str> {
    pattern.split('{').skip(1).filter_map(|piece| Some(piece.split_once('}')?.0)).collect()
}

#[test]
fn every_language_has_every_text_and_no_other() {
    let ours = ours();
    assert!(ours.len() > 1500, "only {} texts were found in the sources", ours.len());
    for (name, table) in tables() {
        let missing: Vec<String> = ours
            .iter()
            .filter(|(key, _)| !table.contains_key(*key))
            .map(|(key, of)| format!("{}: {key}", of[0]))
            .collect();
        assert!(missing.is_empty(), "{name} lacks\n{}", missing.join("\n"));
        let unused: Vec<&String> = table.keys().filter(|key| *key != "English" && !ours.contains_key(*key)).collect();
        assert!(unused.is_empty(), "{name} has what nothing says: {unused:#?}");
        for (key, own) in &table {
            assert_eq!(places(key), places(own), "{name}: the places of “{key}”");
            let ends = |text: &str| (text.starts_with(' '), text.ends_with(' '), text.is_empty());
            assert_eq!(ends(key), ends(own), "{name}: the ends of “{key}”");
        }
    }
}

/// A sentence that is put together by `format!` cannot be said in another language.
#[test]
fn no_text_has_places_without_numbers() {
    for (text, files) in ours() {
        let numbered = places(&text).iter().all(|place| place.parse::<usize>().is_ok());
        assert!(numbered, "{}: “{text}”", files[0]);
    }
}

/// What is handed over of the demonstration, in German: no heading, caption or sentence of core's is left in English. The
/// type sheet's own words stay.
#[test]
fn what_is_handed_over_is_in_the_language() {
    let sheet = extend(&general::general().expect("it is read"), &demo::curlew().expect("it is read"));
    let worksheet = demo::worksheet().expect("it is read");
    let appraisal = appraise(&worksheet, &sheet);
    let show = german();
    // A check may be called as something of the app's own is: then its name stays.
    let of_sheets = [general::JSON, demo::SHEET_JSON, demo::WORKSHEET_JSON].concat();
    let mut ours = ours();
    ours.retain(|text, _| !of_sheets.contains(&format!("\"{text}\"")));
    for kind in Kind::ALL {
        let case = Case { worksheet: &worksheet, sheet: &sheet, appraisal: &appraisal, show: &show };
        let said = text::text(&document(case, kind, Length::Full), &show);
        for line in said.lines() {
            let line = line.trim_start_matches([' ', '-']).trim_end_matches(':');
            let pieces = line.split(": ").flat_map(|piece| piece.split(" | ")).chain([line]);
            for piece in pieces.filter(|piece| ours.contains_key(*piece)) {
                assert_eq!(show.word(piece), piece, "English is left in {kind:?}: {line}");
            }
        }
        assert!(!said.contains('{'), "{kind:?} has a place that nothing stands in:\n{said}");
    }
}
