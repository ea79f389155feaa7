//! The published JSON schemas: as core's types make them, and fitting what the program ships.
//!
//! `KERBWORTH_UPDATE=1 cargo test -p kerbworth-tests --test schema` writes them anew; the change is then read like
//! any other.

#![allow(clippy::expect_used, clippy::indexing_slicing, reason = "a test stops at the first surprise")]

use std::path::{Path, PathBuf};
use std::{env, fs};

use boon::{Compiler, Schemas};
use kerbworth_core::schema;
use kerbworth_core::sheet::{TypeSheet, demo, general};
use kerbworth_core::worksheet::Worksheet;
use serde_json::{Value, json};

fn file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../public/schema").join(name)
}

/// The published file is the schema that the types make.
#[track_caller]
fn published(name: &str, made: &Value) {
    let path = file(name);
    let text = serde_json::to_string_pretty(made).expect("a schema is JSON") + "\n";
    if env::var_os("KERBWORTH_UPDATE").is_some() {
        fs::write(&path, &text).expect("the schema can be written");
    }
    let known = fs::read_to_string(&path).unwrap_or_default();
    assert!(known == text, "public/schema/{name} is not what the types make; run again with KERBWORTH_UPDATE=1");
}

/// What an independent validator says against a value; nothing if it fits.
fn refused(schema: &Value, value: &Value) -> Option<String> {
    const NAME: &str = "https://kerbworth.invalid/schema.json";
    let mut compiler = Compiler::new();
    compiler.add_resource(NAME, schema.clone()).expect("the schema has a name of its own");
    let mut schemas = Schemas::new();
    let compiled = compiler.compile(NAME, &mut schemas).expect("the schema is one");
    schemas.validate(value, compiled).err().map(|error| format!("{error:#}"))
}

fn value(text: &str) -> Value {
    serde_json::from_str(text).expect("what is shipped is JSON")
}

#[test]
fn the_published_schemas_are_those_of_the_types() {
    published("worksheet.json", &schema::worksheet());
    published("type-sheet.json", &schema::type_sheet());
}

#[test]
fn what_is_shipped_fits_its_schema() {
    assert_eq!(refused(&schema::type_sheet(), &value(general::JSON)), None);
    assert_eq!(refused(&schema::type_sheet(), &value(demo::SHEET_JSON)), None);
    assert_eq!(refused(&schema::worksheet(), &value(demo::WORKSHEET_JSON)), None);
}

#[test]
fn what_the_program_writes_fits_its_schema() {
    let written = |sheet: &TypeSheet| serde_json::to_value(sheet).expect("a sheet is JSON");
    assert_eq!(refused(&schema::type_sheet(), &written(&general::general().expect("it is read"))), None);
    assert_eq!(refused(&schema::type_sheet(), &written(&TypeSheet::default())), None);
    let written = |worksheet: &Worksheet| serde_json::to_value(worksheet).expect("a worksheet is JSON");
    assert_eq!(refused(&schema::worksheet(), &written(&demo::worksheet().expect("it is read"))), None);
    assert_eq!(refused(&schema::worksheet(), &written(&Worksheet::default())), None);
}

#[track_caller]
fn is_refused(schema: &Value, shipped: &str, spoil: impl FnOnce(&mut Value), names: &str) {
    let mut spoilt = value(shipped);
    spoil(&mut spoilt);
    let said = refused(schema, &spoilt).expect("the spoilt value is refused");
    assert!(said.contains(names), "{said}");
}

#[test]
fn what_does_not_fit_is_refused() {
    let sheet = schema::type_sheet();
    is_refused(&sheet, general::JSON, |sheet| sheet["checks"][0]["stage"] = json!("attic"), "/checks/0/stage");
    is_refused(&sheet, general::JSON, |sheet| sheet["faults"][0]["prior"] = json!("often"), "/faults/0/prior");
    is_refused(&sheet, general::JSON, |sheet| sheet["jobs"][0]["hours"] = json!([1, 2]), "/jobs/0/hours");
    is_refused(&sheet, general::JSON, |sheet| sheet["currency"] = json!("pounds"), "/currency");
    let nameless = |sheet: &mut Value| drop(sheet["checks"][0].as_object_mut().expect("a check").remove("name"));
    is_refused(&sheet, general::JSON, nameless, "/checks/0");
    let worksheet = schema::worksheet();
    is_refused(&worksheet, demo::WORKSHEET_JSON, |worksheet| worksheet["findings"] = json!([]), "/findings");
    is_refused(
        &worksheet,
        demo::WORKSHEET_JSON,
        |worksheet| worksheet["sales"][0]["kind"] = json!("barter"),
        "/sales/0",
    );
}
