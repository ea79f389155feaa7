//! Texts that would be something else elsewhere, a formula in a spreadsheet or an element of a page: they go out as texts.

use super::{Case, Kind, Length, document, table, text};
use crate::appraise::appraise;
use crate::ledger::csv::{records, unguarded};
use crate::ledger::export;
use crate::sheet::{TypeSheet, demo, extend::extend, general::general};
use crate::show::Show;
use crate::units::{Currency, NumberStyle};
use crate::worksheet::{Entry, Worksheet};

const MARKUP: &str = "\"><img src=x onerror=\"alert(1)\"><script>alert(1)</script> javascript:alert(1)";

/// The demo with this as every text that stands in a table or a document.
fn worksheet(hostile: &str) -> Worksheet {
    let mut worksheet = demo::worksheet().unwrap();
    let car = &mut worksheet.car;
    for text in [&mut car.maker, &mut car.model, &mut car.registration, &mut car.chassis_number, &mut car.note] {
        hostile.clone_into(text);
    }
    for finding in worksheet.findings.values_mut() {
        hostile.clone_into(&mut finding.note);
    }
    for sale in &mut worksheet.sales {
        for text in [&mut sale.source, &mut sale.departures, &mut sale.reason] {
            hostile.clone_into(text);
        }
    }
    worksheet
}

fn sheet(hostile: &str) -> TypeSheet {
    let mut sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
    for check in &mut sheet.checks {
        hostile.clone_into(&mut check.name);
        check.signs.iter_mut().for_each(|sign| hostile.clone_into(&mut sign.name));
    }
    sheet.faults.iter_mut().for_each(|fault| hostile.clone_into(&mut fault.name));
    sheet.jobs.iter_mut().for_each(|job| hostile.clone_into(&mut job.name));
    sheet
}

fn with(hostile: &str, style: NumberStyle, then: impl FnOnce(Case<'_>)) {
    let (worksheet, sheet) = (worksheet(hostile), sheet(hostile));
    let appraisal = appraise(&worksheet, &sheet);
    let show = Show { locale: style.into(), ..Show::default().in_currency(worksheet.settings.currency) };
    then(Case { worksheet: &worksheet, sheet: &sheet, appraisal: &appraisal, show: &show });
}

/// No cell of the table runs in a spreadsheet, and so many cells hold the text.
#[track_caller]
fn guards(table: &str, separator: char, hostile: &str, least: usize) {
    let cells: Vec<String> = records(table, separator).flat_map(|row| row.cells).collect();
    for cell in &cells {
        let is_number = cell.replace(',', ".").parse::<f64>().is_ok();
        assert!(is_number || !cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{cell:?}");
    }
    let held = cells.iter().filter(|cell| unguarded(cell).contains(hostile)).count();
    assert!(held >= least, "{held} cells hold {hostile:?}, {least} should");
}

#[test]
fn no_cell_of_any_table_is_a_formula() {
    let formulas = ["=cmd|' /C calc'!A0", "+1+1", "-1+1", "@SUM(A1)", "\t=1+1", "\r=1+1", "'=1+1", MARKUP];
    for (hostile, style) in formulas.into_iter().flat_map(|it| [(it, NumberStyle::POINT), (it, NumberStyle::COMMA)]) {
        let separator = if style.decimal == ',' { ';' } else { ',' };
        with(hostile, style, |case| {
            let (checks, sales) = (case.appraisal.tags.len(), case.worksheet.sales.len());
            assert!(checks > 0 && sales > 5);
            guards(&table::findings(case), separator, hostile, 150);
            guards(&table::sales(case), separator, hostile, 3 * sales);
            guards(&table::grid(case), separator, hostile, sales - 1);
            // What could not be read goes out as it was typed; and the id is whatever a file said.
            let mut unread = case.worksheet.sales.clone();
            for sale in &mut unread {
                hostile.clone_into(&mut sale.id);
                sale.date = Entry::Unread(hostile.to_owned());
                sale.price = Entry::Unread(hostile.to_owned());
                sale.mileage = Entry::Unread(hostile.to_owned());
                sale.condition = Entry::Unread(hostile.to_owned());
            }
            guards(&export::table(&unread, case.show), separator, hostile, 8 * sales);
        });
    }
    assert_eq!(Currency::parse("=1A"), None, "a currency goes out unguarded");
}

#[test]
fn what_looks_like_markup_is_told_word_for_word() {
    with(MARKUP, NumberStyle::POINT, |case| {
        for kind in Kind::ALL {
            let said = text::text(&document(case, kind, Length::Full), case.show);
            assert!(said.lines().next().is_some_and(|title| title.contains(MARKUP)), "{kind:?}: {said}");
            assert!(said.matches(MARKUP).count() > 20, "{kind:?}");
            assert!(!said.contains("&lt;") && !said.contains("&quot;"), "{kind:?}");
        }
    });
}
