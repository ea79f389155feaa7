//! The method, the findings and the score.

use super::super::Case;
use super::super::document::{Align, Block, Document, FindingLines, Table};
use super::super::found::{Found, by_system, chance, names, sign_names};
use crate::grade::Grade;
use crate::market::tried;
use crate::worksheet::{Door, Ruling};
use crate::{phrase, say};

/// How the results were reached.
pub fn method(document: &mut Document, case: Case<'_>) {
    let Case { worksheet, sheet, show, .. } = case;
    document.part("Method");
    let points: Vec<String> = Grade::ALL
        .iter()
        .map(|grade| format!("{} {}", case.show.word(grade.word()), show.number(grade.points(), 0)))
        .collect();
    document.paragraph(phrase!(
        "Condition. Each check made was given a grade that earns points ({0}). The score is the mean of the points, \
         weighted by how much each check counts. It speaks only of what was looked at; the cover says how much that \
         was, and the band says where the score would lie if all the rest had failed, or were right.",
        points.join(", ")
    ));
    document.paragraph(
        "Causes. The signs that were seen, and those that were looked for and absent, were weighed together against the \
         faults of the type sheet, each with its ordinary rate and its chance of showing each sign. These rates are \
         estimates from common practice, not counts. A cause is a probability unless it is called confirmed.",
    );
    let rate = match worksheet.settings.labour_rate.value() {
        Some(rate) => show.money(rate),
        None => show.in_currency(sheet.currency).money(sheet.labour_rate),
    };
    document.paragraph(phrase!("Costs. Each job has a low, a likely and a high cost in hours, at {0} an hour, and in parts. The figures are \
         estimates from memory unless the worksheet's owner replaced them. A strip-down that several jobs share counts once.", rate));
    document.paragraph(phrase!("Worth. Each comparable sale was brought to this car's mileage, condition, day and kind of sale at stated rates, \
         which the sales themselves move a little; the results were combined, a sale that needs much adjusting or lies \
         far from the rest counting for less. The spread between like cars was assumed beforehand ({0}) and corrected by \
         the sales as far as a handful of sales can. From that is taken what buyers may be expected to take off for \
         faults beyond the ordinary risk of the type. Every fault enters once: as points of the score or as money.", worksheet.settings.spread.name()));
    document
        .paragraph(phrase!("How good it is. {0}", tried::sentences().map(|sentence| show.say(&sentence)).join(" ")));
}

/// Findings, system by system.
pub fn findings(document: &mut Document, case: Case<'_>, all: &[Found<'_>]) {
    document.part("Findings");
    let made = by_system(all, |found| found.is_wrong() || found.grade().is_some() || !found.unsure.is_empty());
    if made.is_empty() {
        document.paragraph("No check has been made yet.");
    }
    for (system, of) in made {
        document.section(system.name());
        // What is right needs a line only, unless a photograph shows it.
        let in_short = |found: &&&Found<'_>| found.is_right() && found.photos().is_empty();
        for found in of.iter().filter(|found| !in_short(found)) {
            document.block(Block::Finding(finding(case, found)));
        }
        let right: Vec<String> = of
            .iter()
            .filter(in_short)
            .map(|found| say!(case.show, "{0}: right. {1}", found.check.name, found.note()).trim_end().to_owned())
            .collect();
        document.list(right);
    }
    rulings(document, case, all);
}

/// A finding's lines.
fn finding(case: Case<'_>, found: &Found<'_>) -> FindingLines {
    let mut lines = Vec::new();
    let mut add = |name: &str, said: String| {
        if !said.trim().is_empty() {
            lines.push((case.show.word(name).to_owned(), said));
        }
    };
    add("Signs", found.signs(case));
    add("Could not be told", found.unsure.iter().map(|sign| sign.name.as_str()).collect::<Vec<_>>().join("; "));
    add("Confirmed cause", names(&found.confirmed));
    add("Ruled out", names(&found.ruled_out));
    let likely = found.likely.iter().map(|(fault, cause)| {
        let name = if fault.normal { say!(case.show, "{0} (no defect)", fault.name) } else { fault.name.clone() };
        // Signs of this check stand above already; those of other checks are worth naming.
        let elsewhere = |id: &&String| !found.seen.iter().any(|(sign, _)| sign.id == **id);
        let elsewhere: Vec<String> = cause.because.iter().filter(elsewhere).cloned().collect();
        let chance = chance(case, cause.probability);
        if elsewhere.is_empty() {
            format!("{name}, {chance}")
        } else {
            say!(case.show, "{0}, {1}, also from: {2}", name, chance, sign_names(case, &elsewhere))
        }
    });
    let name = if found.confirmed.is_empty() { "Possible causes" } else { "Other possible causes" };
    add(name, likely.collect::<Vec<_>>().join(" / "));
    let reasoned = !found.likely.is_empty() || !found.confirmed.is_empty();
    if found.door == Door::Score && !found.seen.is_empty() && !reasoned {
        add("Counted", case.show.word("as wear, in the score; no cause was sought and no job is deducted").to_owned());
    }
    add("Note", found.note());
    FindingLines {
        name: found.check.name.clone(),
        grade: found.grade(),
        is_unsafe: found.is_unsafe,
        lines,
        photos: found.photos().to_vec(),
    }
}

/// Causes that the person ruled on, where no finding above names them.
fn rulings(document: &mut Document, case: Case<'_>, all: &[Found<'_>]) {
    let shown =
        |id: &str| all.iter().any(|found| found.confirmed.iter().chain(&found.ruled_out).any(|fault| fault.id == id));
    let of = |ruling: Ruling| {
        let ruled = case.worksheet.rulings.iter().filter(|(id, its)| **its == ruling && !shown(id));
        ruled.filter_map(|(id, _)| case.sheet.fault(id)).collect::<Vec<_>>()
    };
    let (confirmed, ruled_out) = (of(Ruling::Confirmed), of(Ruling::RuledOut));
    if confirmed.is_empty() && ruled_out.is_empty() {
        return;
    }
    document.section("Decided without a sign among the findings");
    let mut points = Vec::new();
    if !confirmed.is_empty() {
        points.push(say!(case.show, "Confirmed: {0}", names(&confirmed)));
    }
    if !ruled_out.is_empty() {
        points.push(say!(case.show, "Ruled out: {0}", names(&ruled_out)));
    }
    document.list(points);
}

/// The score with its cover and band.
pub fn score(document: &mut Document, case: Case<'_>) {
    let Case { appraisal, show, .. } = case;
    document.part("Score");
    let mut table = Table::of(
        "Score by system",
        &[
            ("System", Align::Start),
            ("Score", Align::End),
            ("Cover", Align::End),
            ("If the rest failed", Align::End),
            ("If the rest is right", Align::End),
        ],
    );
    let mut row = |name: &str, score: &crate::condition::Score| {
        table.rows.push(vec![
            case.show.word(name).to_owned(),
            score.value.map_or_else(|| "—".to_owned(), |value| show.number(value, 0)),
            show.share(score.cover),
            show.number(score.low, 0),
            show.number(score.high, 0),
        ]);
    };
    for system in &appraisal.condition.systems {
        row(system.system.name(), &system.score);
    }
    row("The whole car", &appraisal.condition.overall);
    document.table(table);
    if let Ok(comparison) = &appraisal.comparison {
        document.paragraph(
            "The car was compared with the sales at its base score: the score as if what is deducted in money had \
             been put right, and for what was not looked at the middle score of the sold cars.",
        );
        document.block(Block::Figure(comparison.score_working.clone()));
    }
}
