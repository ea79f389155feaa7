//! Readings against their limits, the lamp table, departures from how the car was made.

use super::super::Case;
use super::super::document::{Align, Block, Document, Table};
use super::super::found::combined;
use super::super::words::{count, sentence, within};
use crate::readings::say::{self, Said, field_unit};
use crate::readings::{InputProblem, Outcome, Verdict, inputs_of, show_given};
use crate::sheet::ReadingSpec;
use crate::units::Unit;
use crate::{phrase, say};

/// Readings, each with what was entered, what it comes to, and how that lies to its limits.
pub fn readings(document: &mut Document, case: Case<'_>) {
    document.part("Readings");
    let mut table = Table::of(
        "Readings",
        &[("Reading", Align::Start), ("Entered", Align::Start), ("Result, against what is right", Align::Start)],
    );
    let mut notes = Vec::new();
    for spec in &case.sheet.readings {
        let Some(outcome) = case.appraisal.readings.get(&spec.id) else { continue };
        let own = case.worksheet.readings.get(&spec.id).map(|reading| reading.note.trim()).unwrap_or_default();
        table.rows.push(vec![spec.name.clone(), entered(case, spec), results(case, spec, outcome)]);
        let said = outcome
            .notes
            .iter()
            .map(|note| case.show.say(note))
            .chain([own.to_owned()])
            .filter(|note| !note.is_empty());
        let said: Vec<String> = said.map(|note| sentence(&note)).collect();
        if !said.is_empty() {
            notes.push(format!("{}: {}", spec.name, said.join(" ")));
        }
    }
    if table.rows.is_empty() {
        document.paragraph("Nothing was measured.");
    }
    document.table(table);
    document.list(notes);
}

/// What was entered for a reading, a line a field.
fn entered(case: Case<'_>, spec: &ReadingSpec) -> String {
    let Some(reading) = case.worksheet.readings.get(&spec.id) else { return String::new() };
    let inputs = inputs_of(spec);
    let only = reading.given.len() == 1;
    let given = inputs.iter().filter_map(|input| {
        let given = reading.given.get(input.name).filter(|given| !given.is_blank())?;
        let unit = field_unit(input, case.show).unwrap_or(Unit::Each);
        let value = show_given(input, given, unit, case.show.style());
        let symbol = case.show.symbol(unit);
        let value = format!("{value} {symbol}");
        Some(if only { value.trim().to_owned() } else { format!("{}: {}", case.show.word(input.label), value.trim()) })
    });
    given.collect::<Vec<_>>().join("\n")
}

/// The results, each with its limits and verdicts, then what is wrong with the input.
fn results(case: Case<'_>, spec: &ReadingSpec, outcome: &Outcome) -> String {
    let lines = say::results(outcome, case.show).into_iter().map(|said| {
        let verdicts: Vec<String> = said.judged.iter().map(|judged| verdict(case, judged)).collect();
        core::iter::once(named(case.show.word(said.label), &said)).chain(verdicts).collect::<Vec<_>>().join(", ")
    });
    let inputs = inputs_of(spec);
    let label = |name: &str| inputs.iter().find(|input| input.name == name).map_or("", |input| input.label);
    let problem =
        |wrong: &InputProblem| format!("{}: {}", case.show.word(label(wrong.input)), case.show.say(&wrong.message));
    let problems = outcome.problems.iter().map(problem);
    lines.chain(problems).collect::<Vec<_>>().join("\n")
}

/// A result with its name; the only one of a plain reading needs none beside that of the reading.
fn named(label: &str, said: &Said) -> String {
    if said.label == "Value" { said.value.clone() } else { format!("{label}: {}", said.value) }
}

/// How a result lies to a limit, in words.
fn verdict(case: Case<'_>, (verdict, right): &(Verdict, String)) -> String {
    format!("{} ({right})", case.show.word(verdict.word()))
}

/// Results outside their limits, a line each, for documents that name faults only.
pub fn outside(case: Case<'_>) -> Vec<String> {
    let mut points = Vec::new();
    for spec in &case.sheet.readings {
        let Some(outcome) = case.appraisal.readings.get(&spec.id) else { continue };
        for said in say::results(outcome, case.show) {
            let outside = said.judged.iter().filter(|(verdict, _)| matches!(verdict, Verdict::Below | Verdict::Above));
            let verdicts: Vec<String> = outside.map(|judged| verdict(case, judged)).collect();
            if !verdicts.is_empty() {
                points.push(format!(
                    "{}: {}, {}",
                    spec.name,
                    named(&within(case.show, said.label), &said),
                    verdicts.join(", ")
                ));
            }
        }
    }
    points
}

/// Lamps that did not do what they should.
pub fn lamps(document: &mut Document, case: Case<'_>) {
    let table = &case.sheet.lamps;
    if table.situations.is_empty() {
        return;
    }
    document.part("Lamps");
    let tried = table
        .situations
        .iter()
        .filter(|situation| case.worksheet.lamps.get(&situation.id).is_some_and(|lamps| !lamps.is_empty()))
        .count();
    if tried == 0 {
        document.paragraph("The lamps were not tried against the table.");
        return;
    }
    let differences = lamp_points(case);
    let outcome = if differences.is_empty() { " Every lamp watched did what it should." } else { "" };
    document.paragraph(phrase!(
        "Of {0} of key and switches, {1} tried.{2}",
        count(table.situations.len(), "{0} position", "{0} positions"),
        count(tried, "{0} was", "{0} were"),
        outcome
    ));
    document.list(differences);
}

/// Lamps that did not do what they should, a line each.
pub fn lamp_points(case: Case<'_>) -> Vec<String> {
    let table = &case.sheet.lamps;
    let point = |difference: &crate::lamps::Difference| {
        let lamp = table.lamps.iter().find(|lamp| lamp.id == difference.lamp)?;
        let situation = table.situations.iter().find(|situation| situation.id == difference.situation)?;
        let did = if difference.lit { "lit and should not" } else { "stayed dark and should light" };
        Some(format!("{}: “{}” {}", situation.name, lamp.name, case.show.word(did)))
    };
    case.appraisal.lamps.iter().filter_map(point).collect()
}

/// Departures from how the car was made, and bad combinations of them.
pub fn departures(document: &mut Document, case: Case<'_>) {
    let Case { worksheet, sheet, appraisal, .. } = case;
    if sheet.departures.is_empty() {
        return;
    }
    document.part("Departures from how it was made");
    let there = departure_points(case);
    let told = |wanted: bool| {
        let of = sheet.departures.iter().filter(|departure| worksheet.departures.get(&departure.id) == Some(&wanted));
        of.map(|departure| departure.name.clone()).collect::<Vec<_>>()
    };
    if there.is_empty() {
        document.paragraph("None was recorded.");
    }
    document.list(there);
    for id in &appraisal.combinations {
        let Some(combination) = sheet.combinations.iter().find(|combination| combination.id == *id) else { continue };
        let said =
            say!(case.show, "Bad combination: {0}. {1}", combined(case, combination), sentence(&combination.effect));
        if combination.hold {
            document.block(Block::Caution(said));
        } else {
            document.paragraph(said);
        }
    }
    let absent = told(false);
    if !absent.is_empty() {
        document.paragraph(phrase!("Looked for and not there: {0}.", absent.join("; ")));
    }
    let open = sheet.departures.iter().filter(|departure| !worksheet.departures.contains_key(&departure.id)).count();
    if open > 0 {
        document.paragraph(phrase!(
            "Not looked for: {0} that the type sheet names.",
            count(open, "{0} other departure", "{0} other departures")
        ));
    }
}

/// Departures that are there, each with what it does.
pub fn departure_points(case: Case<'_>) -> Vec<String> {
    let there = |id: &str| case.worksheet.departures.get(id) == Some(&true);
    let of = case.sheet.departures.iter().filter(|departure| there(&departure.id));
    of.map(|departure| format!("{} {}", sentence(&departure.name), sentence(&departure.effect)).trim_end().to_owned())
        .collect()
}
