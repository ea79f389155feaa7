//! The end of the report: log, receipts, assumptions, limits, cautions, statement.

use crate::{phrase, say};
use std::collections::BTreeSet;

use super::super::Case;
use super::super::document::{Align, Block, Document, Table};
use super::super::words::{count, sentence};
use crate::appraise::comparison::Comparison;
use crate::appraise::rate_lines::rate_lines;
use crate::condition::applicable;
use crate::market::rates::Column;
use crate::sheet::Caution;
use crate::worksheet::SaleKind;

/// The quick log of the drive, and the receipts.
pub fn log_and_receipts(document: &mut Document, case: Case<'_>) {
    let Case { worksheet, show, .. } = case;
    if !worksheet.log.is_empty() {
        document.part("Log of the drive");
        let mut table = Table::of("Log of the drive", &[("Time", Align::Start), ("Note", Align::Start)]);
        for entry in &worksheet.log {
            table.rows.push(vec![entry.at.replace('T', " "), entry.note.clone()]);
        }
        document.table(table);
    }
    document.part("Receipts");
    if worksheet.receipts.is_empty() {
        document.paragraph("No receipt was recorded.");
    }
    let mut table = Table::of("Receipts", &[("Date", Align::Start), ("Work", Align::Start), ("Cost", Align::End)]);
    for receipt in &worksheet.receipts {
        table.rows.push(vec![
            receipt.date.value().map_or_else(|| case.show.word("no date").to_owned(), |date| show.date(date)),
            receipt.what.clone(),
            receipt.cost.value().map(|cost| show.money(cost)).unwrap_or_default(),
        ]);
    }
    document.table(table);
}

/// What the results take for granted.
pub fn assumptions(document: &mut Document, case: Case<'_>) {
    let Case { worksheet, sheet, appraisal, show } = case;
    document.part("Assumptions");
    document.paragraph("If one of these does not hold, the results may change.");
    let mut points = vec![
        case.show
            .word("The seller may sell the car, its title is clear, and its identity is as stated above.")
            .to_owned(),
        case.show.word("What was not looked at carries the ordinary risk of the type, no more and no less.").to_owned(),
        case.show.word("Sales are as entered; their conditions are on the same score as this car's.").to_owned(),
        say!(case.show, "Like cars sell apart as assumed. {0}", worksheet.settings.spread.basis()),
        case.show
            .word(
                "Of a job's cost buyers take off all where safety or structure is at stake, three quarters where it is \
         mechanical, half where it is trim or finish. These shares are judgement.",
            )
            .to_owned(),
    ];
    if let Ok(comparison) = &appraisal.comparison {
        if worksheet.car.mileage.value().is_none() {
            points.push(
                case.show.word("The car's mileage is not known; that of the sales was put in its place.").to_owned(),
            );
        }
        if comparison.base_score_filled_in {
            points.push(
                case.show
                    .word("No check was made, so the car was taken to be in the condition of the sales.")
                    .to_owned(),
            );
        }
    }
    if worksheet.sales.iter().any(|sale| sale.kind == SaleKind::AuctionHammer && !sale.left_out) {
        points.push(
            case.show
                .word("Hammer prices were raised by the buyer's premium that the worksheet's settings state.")
                .to_owned(),
        );
    }
    for (currency, rate) in &worksheet.settings.exchange {
        if let Some(rate) = rate.value() {
            let own = worksheet.settings.currency;
            points.push(say!(
                case.show,
                "One {0} was counted as {1} {2}.",
                currency.code().to_owned(),
                show.number(rate, 4),
                own.code().to_owned()
            ));
        }
    }
    let foreign = worksheet.findings.keys().filter(|id| !applicable(sheet, &appraisal.tags).any(|it| it.id == **id));
    let foreign = foreign.count();
    if foreign > 0 {
        points.push(say!(
            case.show,
            "{0} recorded at checks that do not fit the car as described; not counted.",
            count(foreign, "{0} finding is", "{0} findings are")
        ));
    }
    if !appraisal.not_reasoned.is_empty() {
        points.push(say!(
            case.show,
            "Not reasoned with, for hanging together too closely: {0}.",
            appraisal.not_reasoned.join("; ")
        ));
    }
    document.list(points);
    if let Ok(comparison) = &appraisal.comparison {
        rates(document, case, comparison);
    }
    if !appraisal.problems.is_empty() {
        document.section("Entries that could not be used, and were left out");
        document.list(appraisal.problems.iter().map(|problem| case.show.say(problem)).collect());
    }
}

/// The rates of the grid, as assumed and as the sales left them.
fn rates(document: &mut Document, case: Case<'_>, comparison: &Comparison) {
    document.section("Rates by which sales were brought to this car");
    let per_cent = |rate: f64| format!("{} %", case.show.number(100.0 * rate, 2));
    let mut table = Table::of(
        "Rates",
        &[
            ("A sale that differs by", Align::Start),
            ("Fetches more by", Align::End),
            ("Give or take", Align::End),
            ("As the sales left it", Align::End),
            ("From", Align::Start),
        ],
    );
    for line in rate_lines(case.worksheet, Some(comparison)) {
        let differs = match line.column {
            Column::ThousandMiles => "a thousand miles more",
            Column::Score => "a point of score more",
            Column::Month => "a month later",
            Column::Asking => "asked, not sold",
            Column::Dealer => "sold by a dealer",
            Column::Auction => "sold at auction, premium included",
        };
        let from = if line.is_own { "set for this worksheet" } else { "judgement, the usual" };
        table.rows.push(vec![
            case.show.word(differs).to_owned(),
            per_cent(line.assumed.mean),
            per_cent(line.assumed.sd),
            line.found.map(|found| per_cent(found.mean)).unwrap_or_default(),
            case.show.word(from).to_owned(),
        ]);
    }
    document.table(table);
}

/// What the report does not do.
pub fn limits(document: &mut Document, case: Case<'_>) {
    document.part("Limiting conditions");
    document.list(
        [
            "It is an opinion of condition and worth on one day, from what could be seen, heard, felt and measured then.",
            "It is no certificate, no warranty and no roadworthiness test. Local law decides what may be driven, and a \
             licensed inspector or appraiser decides where one is required.",
            "Faults that show no sign at the checks made are not found by them.",
            "Likely causes, costs and the worth are estimates; a workshop's look and a written quotation come before money is spent.",
            "Statements of the seller and of papers were taken down as given, unless a finding says that they were tested.",
            "It follows in its contents what reports on personal property commonly state, and is written to no appraisal \
             standard: it claims compliance with none.",
            "It is to be read whole: a part taken alone can mislead.",
        ]
        .map(|limit| case.show.word(limit).to_owned())
        .to_vec(),
    );
}

/// Dangers for whoever looks further.
pub fn cautions(document: &mut Document, case: Case<'_>) {
    document.part("Cautions for whoever looks further");
    let mut all: BTreeSet<Caution> = BTreeSet::new();
    for check in applicable(case.sheet, &case.appraisal.tags) {
        all.extend(&check.cautions);
    }
    for caution in all {
        document.caution(caution.sentence());
    }
    document.caution("A car found unsafe is not driven until it is put right.");
}

/// What is signed.
pub fn statement(document: &mut Document, case: Case<'_>) {
    document.part("Statement");
    let by = sentence(&case.worksheet.visit.by);
    let who = by.trim_end_matches('.');
    let who = if who.is_empty() { case.show.word("whoever signs below") } else { who }.to_owned();
    document.paragraph(phrase!("The car was looked at by {0} on the day named. What is recorded as seen or measured was seen or measured then; \
         what was not looked at is named. The results were reached by the method stated and are an opinion on that \
         day, not a certificate. Any interest in the car, any pay, and anyone who gave significant help are named below.", who));
    let lines = [
        "Interest in the car or its sale (or “none”)",
        "Pay for this report, and whether it hangs on the result (or “none”)",
        "Help was given by (or “nobody”)",
        "Name",
        "Signature",
        "Date and place of signing",
    ];
    document.block(Block::SignatureLines(lines.map(|line| case.show.word(line).to_owned()).to_vec()));
}
