//! The fair-value method on open data: four ways to value from a handful of comparables, each tried on thousands of draws.
//!
//! The protocol is exact to the bit (generator, seeds, draws), so the figures must come out as the reference implementation's in
//! `tests/data/reproduction.csv`. Each test prints its table: `cargo test -p kerbworth-tests --test open_data -- --nocapture`.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test, helpers included, stops at the first surprise"
)]

mod draws;
mod methods;
mod scores;
mod sets;

use draws::Scenario;
use methods::Method;
use scores::Scores;
use sets::Set;

/// The figures of the reference implementation for one set, count, scenario and method.
#[derive(Debug)]
struct Reference {
    count: usize,
    scenario: Scenario,
    method: Method,
    figures: Scores,
}

fn references(set: &str) -> Vec<Reference> {
    let rows = sets::rows(include_str!("../data/reproduction.csv"));
    rows.iter()
        .filter(|row| row["set"] == set)
        .map(|row| {
            let number = |column: &str| row[column].parse().unwrap();
            Reference {
                count: row["n"].parse().unwrap(),
                scenario: Scenario::named(&row["scenario"]),
                method: Method::named(&row["method"]),
                figures: Scores {
                    error: number("mdape"),
                    cover80: number("cov80"),
                    score80: number("winkler_log80"),
                    width80: number("width80"),
                    cover50: number("cov50"),
                    score50: number("winkler_log50"),
                },
            }
        })
        .collect()
}

/// Runs every row that the reference has for a set, prints the table and holds each row to its bar.
fn reproduce(set: &Set, expected_rows: usize) {
    let references = references(set.name);
    assert_eq!(references.len(), expected_rows);
    let mut missed = Vec::new();
    let mut table = vec![
        format!("{}: found / reference", set.name),
        "n   scenario method           error %         cover 80 %      score 80        cover 50 %      score 50"
            .to_owned(),
    ];
    for reference in &references {
        let found = scores::of(set, reference.count, reference.scenario, reference.method);
        let pair = |figure: fn(&Scores) -> f64| format!("{:.4}/{:.4}", figure(&found), figure(&reference.figures));
        let row = format!(
            "{:<3} {:<8} {:<16} {:<15} {:<15} {:<15} {:<15} {}",
            reference.count,
            format!("{:?}", reference.scenario),
            format!("{:?}", reference.method),
            pair(|scores| scores.error),
            pair(|scores| scores.cover80),
            pair(|scores| scores.score80),
            pair(|scores| scores.cover50),
            pair(|scores| scores.score50),
        );
        if !found.reproduces(&reference.figures, reference.method.bar(set)) {
            missed.push(row.clone());
        }
        table.push(row);
    }
    // At once, so that the tables of tests that run side by side do not mix.
    println!("{}", table.join("\n"));
    assert!(missed.is_empty(), "not reproduced:\n{}", missed.join("\n"));
}

#[test]
fn accord_2017() {
    reproduce(&sets::accord(), 72);
}

#[test]
fn ames() {
    reproduce(&sets::ames(), 48);
}

#[test]
fn grinnell() {
    reproduce(&sets::grinnell(), 48);
}
