//! Findings, sales and the grid as comma-separated values (RFC 4180), for a spreadsheet.
//!
//! The rows are written as the ledger writes them ([`crate::ledger::csv`]): quoted where a cell needs it, lines ended by
//! carriage return and line feed, numbers in the person's style, semicolons between cells where the decimal sign is a
//! comma. A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@` (some after a tab or carriage return) for a formula
//! and runs it: a text of a person's or a type sheet's that begins so gets an apostrophe in front. Numbers are formed here
//! and are left alone.

use super::Case;
use super::found::{found, names};
use crate::grade::Grade;
use crate::ledger::csv::{guarded, row};
use crate::ledger::export;
use crate::market::rates::Column;
use crate::say;
use crate::show::Show;
use crate::units::{Money, number};
use crate::worksheet::WhyNot;

/// What parts the cells of a row.
fn separator(show: &Show) -> char {
    if show.style().decimal == ',' { ';' } else { ',' }
}

/// Every check that applies to the car, a row each, with what was found there.
#[must_use]
pub fn findings(case: Case<'_>) -> String {
    let separator = separator(case.show);
    let word = |english: &str| case.show.word(english).to_owned();
    let heads = [
        "Stage",
        "System",
        "Check",
        "Grade",
        "Not looked at because",
        "Unsafe",
        "Signs",
        "Confirmed cause",
        "Likeliest cause",
        "Probability",
        "Note",
        "Check id",
    ];
    let mut text = row(&heads.map(|head| case.show.word(head)), separator);
    for found in found(case) {
        let likeliest = found.likely.first();
        let signs: Vec<&str> = found.seen.iter().map(|(sign, _)| &*sign.name).collect();
        let cells = [
            word(found.check.stage.name()),
            word(found.check.system.name()),
            guarded(&found.check.name),
            word(found.grade().map_or("", Grade::word)),
            word(found.why_not().map_or("", WhyNot::name)),
            word(if found.is_unsafe { "unsafe" } else { "" }),
            guarded(&signs.join("; ")),
            guarded(&names(&found.confirmed)),
            likeliest.map(|(fault, _)| guarded(&fault.name)).unwrap_or_default(),
            likeliest.map(|(_, cause)| plain(case.show, cause.probability, 3)).unwrap_or_default(),
            found.finding.map(|finding| guarded(&finding.note)).unwrap_or_default(),
            guarded(&found.check.id),
        ];
        text.push_str(&row(&cells, separator));
    }
    text
}

/// The sales of the worksheet, as the ledger writes and reads them.
#[must_use]
pub fn sales(case: Case<'_>) -> String {
    export::table(&case.worksheet.sales, case.show)
}

/// Each sale in the grid, a row each: price, adjustments, adjusted price and weight, in the worksheet's currency. Only the
/// head if there is no grid.
#[must_use]
pub fn grid(case: Case<'_>) -> String {
    let Case { worksheet, appraisal, show, .. } = case;
    let separator = separator(show);
    let currency = worksheet.settings.currency;
    let code = currency.code().to_owned();
    let columns = Column::ALL.iter().map(|column| case.show.word(column.name()).to_owned());
    let heads: Vec<String> = [
        case.show.word("Sale").to_owned(),
        case.show.word("Source").to_owned(),
        say!(case.show, "Price, premium included ({0})", code),
    ]
    .into_iter()
    .chain(columns)
    .chain([say!(case.show, "Adjusted price ({0})", code), case.show.word("Weight").to_owned()])
    .collect();
    let mut text = row(&heads, separator);
    let amount = |minor: f64| currency.show_plain(Money::nearest(minor), show.style());
    let rows = appraisal.comparison.as_ref().map_or(&[][..], |comparison| comparison.rows.as_slice());
    for line in rows {
        let source = worksheet.sales.get(line.sale).map(|sale| guarded(&sale.source)).unwrap_or_default();
        let mut cells = vec![(line.sale + 1).to_string(), source, amount(line.price.minor())];
        cells.extend(line.line.adjustments.iter().map(|adjustment| amount(adjustment.amount)));
        cells.extend([amount(line.line.adjusted), plain(show, line.line.share, 4)]);
        text.push_str(&row(&cells, separator));
    }
    text
}

fn plain(show: &Show, value: f64, places: u8) -> String {
    number::show_short(value, places, show.style())
}

#[cfg(test)]
mod tests {
    use super::super::snapshots::with;
    use super::*;
    use crate::ledger::csv::records;

    fn cells(text: &str, separator: char) -> Vec<Vec<String>> {
        records(text, separator).map(|record| record.cells).collect()
    }

    #[test]
    fn the_demo_has_a_row_for_each_check_and_each_sale() {
        with(
            |_| {},
            |case| {
                let findings = cells(&findings(case), ',');
                assert_eq!(findings.len(), 1 + crate::condition::applicable(case.sheet, &case.appraisal.tags).count());
                assert!(findings.iter().all(|row| row.len() == 12));
                let hose = findings.iter().find(|row| row[11] == "brakes-hoses").unwrap();
                assert_eq!(hose[3..6], ["failed", "", "unsafe"]);
                assert_eq!(hose[7], "Hoses perished with age");
                assert_eq!(cells(&sales(case), ',').len(), 1 + case.worksheet.sales.len());
                let grid = cells(&grid(case), ',');
                assert_eq!(grid.len(), case.worksheet.sales.len(), "a head, and all but the one left out");
                assert!(grid.iter().all(|row| row.len() == 11));
            },
        );
    }

    /// A line of the grid adds up, to a penny a column.
    #[test]
    fn the_grid_adds_up() {
        with(
            |_| {},
            |case| {
                for row in cells(&grid(case), ',').iter().skip(1) {
                    let amounts: Vec<f64> = row[2..10].iter().map(|cell| cell.parse().unwrap()).collect();
                    let sum: f64 = amounts[..7].iter().sum();
                    assert!((sum - amounts[7]).abs() < 0.05, "{row:?}");
                }
            },
        );
    }

    #[test]
    fn no_text_becomes_a_formula() {
        let hostile = |worksheet: &mut crate::worksheet::Worksheet| {
            worksheet.findings.get_mut("brakes-hoses").unwrap().note = "=HYPERLINK(\"x\",\"y\")".to_owned();
            worksheet.sales[0].source = "+44, @home".to_owned();
        };
        with(hostile, |case| {
            assert!(findings(case).contains("\"'=HYPERLINK(\"\"x\"\",\"\"y\"\")\""));
            assert!(grid(case).contains("\"'+44, @home\""));
            assert!(sales(case).contains("\"'+44, @home\""));
        });
    }

    #[test]
    fn semicolons_where_the_decimal_sign_is_a_comma() {
        with(
            |_| {},
            |case| {
                let show = Show { locale: crate::units::NumberStyle::COMMA.into(), ..case.show.clone() };
                let case = Case { show: &show, ..case };
                let findings = cells(&findings(case), ';');
                let hoses = findings.iter().find(|row| row[11] == "brakes-stop-straight").unwrap();
                assert!(hoses[9].starts_with("0,"), "{hoses:?}");
            },
        );
    }
}
