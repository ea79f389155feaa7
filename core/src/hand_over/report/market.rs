//! The sales, the grid that brings them to this car, and the worth.

use super::super::Case;
use super::super::document::{Align, Block, Document, Table};
use super::super::shortened::shortened;
use super::super::words::sentence;
use super::summary::{no_comparison, worth_in_words};
use crate::appraise::comparison::{Comparison, GridRow};
use crate::appraise::valuation::Worth;
use crate::figure::Figure;
use crate::market::range::Range;
use crate::market::rates::Column;
use crate::phrase::Phrase;
use crate::plot::sales as plot;
use crate::units::{Money, Quantity};
use crate::worksheet::Sale;
use crate::worth::rounding::at_the_step;
use crate::{phrase, say};

/// Deductions shown one by one, at most.
const MOST_DEDUCTIONS: usize = 15;

/// The sales as entered, and as brought to this car.
pub fn sales(document: &mut Document, case: Case<'_>) {
    let Case { worksheet, appraisal, .. } = case;
    document.part("Sales compared");
    if worksheet.sales.is_empty() {
        document.paragraph("No sale was entered.");
        return;
    }
    let mut table = Table::of(
        "Sales as entered",
        &[
            ("Sale", Align::Start),
            ("Date", Align::Start),
            ("Kind", Align::Start),
            ("Price", Align::End),
            ("Mileage", Align::End),
            ("Condition", Align::Start),
            ("Source and remarks", Align::Start),
        ],
    );
    for (place, sale) in worksheet.sales.iter().enumerate() {
        table.rows.push(row(case, place, sale));
    }
    document.table(table);
    match &appraisal.comparison {
        Ok(comparison) => {
            grid(document, case, comparison);
            pictures(document, case, comparison);
        }
        Err(why) => document.paragraph(phrase!("The car was not compared: {0}.", no_comparison(case, why))),
    }
}

fn row(case: Case<'_>, place: usize, sale: &Sale) -> Vec<String> {
    let Case { appraisal, show, .. } = case;
    let not_given = || "—".to_owned();
    let price = sale.price.value().map(|price| show.in_currency(sale.currency).whole_money(price));
    let condition = sale
        .condition
        .value()
        .map(|score| format!("{} ({})", show.number(score, 0), show.word(sale.condition_known.name())));
    let left_out = appraisal.sales_left_out.iter().find(|(left_out, _)| *left_out == place);
    let departures = sale.departures.trim();
    let remarks = [
        sentence(&sale.source),
        if departures.is_empty() {
            String::new()
        } else {
            sentence(&say!(case.show, "Departs from standard: {0}", departures.to_owned()))
        },
        left_out.map(|(_, why)| sentence(&say!(case.show, "not counted: {0}", why.reason()))).unwrap_or_default(),
        sentence(&sale.reason),
    ];
    vec![
        (place + 1).to_string(),
        sale.date.value().map_or_else(not_given, |date| show.date(date)),
        show.word(sale.kind.name()).to_owned(),
        price.unwrap_or_else(not_given),
        sale.mileage.value().map_or_else(not_given, |mileage| show.quantity(Quantity::Distance, mileage.0)),
        condition.unwrap_or_else(not_given),
        remarks.into_iter().filter(|remark| !remark.is_empty()).collect::<Vec<_>>().join("\n"),
    ]
}

fn grid(document: &mut Document, case: Case<'_>, comparison: &Comparison) {
    let show = case.show;
    document.section("Brought to this car");
    document.paragraph(phrase!(
        "Each price, with the buyer's premium, adjusted for how that car and its sale differ from this car at its base \
         score of {0}. The weight is the share that the sale has in the result.",
        show.number(comparison.base_score, 0)
    ));
    let used = |place: usize| {
        comparison.rows.iter().any(|row| row.line.adjustments.get(place).is_some_and(|it| it.amount != 0.0))
    };
    let columns: Vec<(usize, String)> = Column::ALL
        .iter()
        .enumerate()
        .filter(|(place, _)| used(*place))
        .map(|(place, column)| (place, sentence(show.word(column.name())).trim_end_matches('.').to_owned()))
        .collect();
    let mut heads = vec![("Sale", Align::Start), ("Price", Align::End)];
    heads.extend(columns.iter().map(|(_, name)| (name.as_str(), Align::End)));
    heads.extend([("Adjusted", Align::End), ("Weight", Align::End)]);
    let mut table = Table::of("Adjustments", &heads);
    for row in &comparison.rows {
        let adjusted = |place: &usize| row.line.adjustments.get(*place).map_or(0.0, |adjustment| adjustment.amount);
        let mut cells = vec![(row.sale + 1).to_string(), show.whole_money(row.price)];
        // Nothing to adjust is a blank cell: a row of noughts hides what matters.
        cells.extend(columns.iter().map(|(place, _)| match Money::nearest(adjusted(place)) {
            Money::ZERO => String::new(),
            amount => show.whole_money(amount),
        }));
        cells.push(show.whole_money(Money::nearest(row.line.adjusted)));
        cells.push(show.share(row.line.share));
        table.rows.push(cells);
    }
    document.table(table);
    let filled_in = |one: &'static str, several: &'static str, is: fn(&GridRow) -> bool| {
        let sales: Vec<String> =
            comparison.rows.iter().filter(|row| is(row)).map(|row| (row.sale + 1).to_string()).collect();
        let pattern = if sales.len() == 1 { one } else { several };
        (!sales.is_empty()).then(|| show.say(&Phrase::new(pattern, vec![(&sales.join(", ")).into()])))
    };
    let filled_in = [
        filled_in(
            "The mileage of sale {0} was filled in, with its doubt counted.",
            "The mileage of sales {0} was filled in, with its doubt counted.",
            |row| row.mileage_filled_in,
        ),
        filled_in(
            "The condition of sale {0} was filled in, with its doubt counted.",
            "The condition of sales {0} was filled in, with its doubt counted.",
            |row| row.condition_filled_in,
        ),
    ];
    let warnings = comparison.warnings_by_place().into_iter().map(|warning| sentence(&show.say(&warning)));
    document.list(filled_in.into_iter().flatten().chain(warnings).collect());
}

/// What each sale says of this car; price against mileage and against date.
fn pictures(document: &mut Document, case: Case<'_>, comparison: &Comparison) {
    let Case { worksheet, appraisal, show, .. } = case;
    let pictures = [
        plot::adjusted(comparison, appraisal.worth.as_deref(), show),
        plot::against_mileage(worksheet, comparison, show),
        plot::against_date(worksheet, comparison, show),
    ];
    for picture in pictures.into_iter().flatten() {
        document.block(Block::Picture(Box::new(picture)));
    }
}

/// The worth with its definition, its ranges and its working.
pub fn worth(document: &mut Document, case: Case<'_>) {
    let Case { appraisal, show, .. } = case;
    document.part("Worth");
    document.paragraph(
        "Worth means here: the price that this car as it stands may be expected to fetch on the day of valuation, sold \
         between private people who both know what this report says, neither of them pressed to buy or sell. The \
         definition is the worksheet's own.",
    );
    let (Some(worth), Ok(comparison)) = (&appraisal.worth, &appraisal.comparison) else {
        document.paragraph(phrase!("The worth is {0}.", worth_in_words(case)));
        return;
    };
    document.facts(vec![
        ("Eight of ten such sales", range(case, worth, &worth.stands)),
        ("Five of ten such sales", range(case, worth, &worth.inner)),
        ("Middle", show.whole_money(worth.rounded.middle)),
        ("If only the confirmed faults are taken off, eight of ten", range(case, worth, &worth.confirmed_only)),
        ("Without any fault taken off, eight of ten", range(case, worth, &comparison.range)),
    ]);
    document.paragraph(phrase!("Figures are rounded to {0}, which is as fine as the evidence supports. The range is wide mainly because cars that look \
         alike on paper sell apart; no further check of this car removes that.", show.whole_money(worth.rounded.step)));
    document.paragraph(
        "What is taken off for a fault is the share of the cost that buyers take, times the mean cost, times its probability \
         beyond the hidden risk that every car of the type carries; what anyone looking would see carries none. A line that adds \
         is a risk that the checks made less likely.",
    );
    document.block(Block::Figure(working(worth)));
    document.paragraph(phrase!(
        "For comparison only: the plain mean of the prices is {0}. Cross-check: {1}",
        show.whole_money(comparison.plain_mean),
        sentence(&show.say(&worth.cross_check))
    ));
}

/// A range with both ends rounded as the worth is.
fn range(case: Case<'_>, worth: &Worth, range: &Range) -> String {
    let stated = at_the_step(range, worth.rounded.step);
    say!(case.show, "{0} to {1}", case.show.whole_money(stated.low), case.show.whole_money(stated.high))
}

/// The working, with the sales left to their table and the small deductions together.
fn working(worth: &Worth) -> Figure {
    let parts = worth.working.parts.iter().map(|part| shortened(part, MOST_DEDUCTIONS));
    let parts = parts.map(|part| {
        let bare = |line: &Figure| Figure::new(line.label.clone(), line.amount);
        let lines = part.parts.iter().map(bare).collect();
        Figure { parts: lines, ..part }
    });
    Figure { parts: parts.collect(), ..worth.working.clone() }
}
