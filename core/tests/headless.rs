//! The example program, as the README has it: a worksheet in, an appraisal out.

#![allow(missing_docs, dead_code, reason = "a program taken in as a module")]

#[path = "../examples/appraise.rs"]
mod program;

use serde_json::Value;

const DEMO: &str = include_str!("../../tests/data/demo-worksheet.json");

#[test]
fn a_worksheet_gives_an_appraisal() {
    let mut out = Vec::new();
    assert!(program::run(DEMO.as_bytes(), &mut out, None).unwrap());
    let appraisal: Value = serde_json::from_slice(&out).unwrap();
    let (low, high) = (&appraisal["worth"]["stands"]["low"], &appraisal["worth"]["stands"]["high"]);
    assert!(low.as_f64().unwrap() < high.as_f64().unwrap());
    assert!(!appraisal["worth"]["working"]["parts"].as_array().unwrap().is_empty());
}

#[test]
fn what_is_wrong_is_said_and_nothing_is_appraised() {
    let mut out = Vec::new();
    let wrong = r#"{"format": 1, "type-sheet": "general", "car": {"year": "sixties"}}"#;
    assert!(!program::run(wrong.as_bytes(), &mut out, None).unwrap());
    assert!(out.is_empty());
    let unknown = program::run(r#"{"type-sheet": "nobodys"}"#.as_bytes(), &mut out, None).unwrap_err().to_string();
    assert_eq!(unknown, "no type sheet “nobodys” ships with the program; name its file");
}
