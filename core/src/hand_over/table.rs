//! Findings and sales as comma-separated values (RFC 4180), for a spreadsheet.
//!
//! Fields are quoted where they hold a comma, a quotation mark or a line break; quotation marks inside are doubled; lines
//! end with carriage return and line feed. Numbers are written with a decimal point and no groups, dates as
//! year-month-day, whatever the person's choice on screen, so that any program reads them.
//!
//! A spreadsheet takes a field that begins with `=`, `+`, `-` or `@` for a formula and runs it, and some skip a leading tab,
//! carriage return or line feed first. A text that begins with any of these gets an apostrophe in front, which a spreadsheet
//! shows as a text and does not run. Numbers and dates are ours, and are left alone.

use super::Case;
use super::found::{found, sign_names};
use crate::sheet::Check;
use crate::units::{Currency, Money, NumberStyle, Quantity, Unit, number};
use crate::worksheet::{Entry, Sale};

/// Collects rows.
#[derive(Debug, Default)]
struct Rows(String);

impl Rows {
    fn row(&mut self, fields: &[Field]) {
        for (place, field) in fields.iter().enumerate() {
            if place > 0 {
                self.0.push(',');
            }
            self.0.push_str(&field.written());
        }
        self.0.push_str("\r\n");
    }
}

/// A field before it is written.
#[derive(Debug)]
enum Field {
    /// Written by a person, in the worksheet or in a type sheet: may hold anything.
    Text(String),
    /// A number or date that was formed here.
    Figure(String),
}

impl Field {
    fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    fn figure<T>(entry: &Entry<T>, write: impl FnOnce(&T) -> String) -> Self {
        match entry {
            Entry::Empty => Self::Figure(String::new()),
            Entry::Read(value) => Self::Figure(write(value)),
            Entry::Unread(text) => Self::Text(text.clone()),
        }
    }

    fn written(&self) -> String {
        match self {
            Self::Figure(figure) => figure.clone(),
            Self::Text(text) => quoted(&guarded(text)),
        }
    }
}

/// A text that no spreadsheet takes for a formula.
fn guarded(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) { format!("'{text}") } else { text.to_owned() }
}

fn quoted(text: &str) -> String {
    if text.contains([',', '"', '\r', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text.to_owned() }
}

/// Every check that applies to the car, a row each, with what was found there.
#[must_use]
pub fn findings(case: Case<'_>) -> String {
    let mut rows = Rows::default();
    let heads = ["Stage", "System", "Check", "Grade", "Not looked at because", "Unsafe", "Signs", "Confirmed cause"];
    let more = ["Likeliest cause", "Probability", "Note", "Check id"];
    rows.row(&heads.into_iter().chain(more).map(Field::text).collect::<Vec<_>>());
    for found in found(case) {
        let check: &Check = found.check;
        let likeliest = found.likely.first();
        let signs: Vec<String> = found.seen.iter().map(|(sign, _)| sign.id.clone()).collect();
        rows.row(&[
            Field::text(check.stage.name()),
            Field::text(check.system.name()),
            Field::text(&*check.name),
            Field::text(found.grade().map_or("", crate::grade::Grade::word)),
            Field::text(found.why_not().map_or("", crate::worksheet::WhyNot::name)),
            Field::text(if found.is_unsafe { "unsafe" } else { "" }),
            Field::text(sign_names(case, &signs)),
            Field::text(super::found::names(&found.confirmed)),
            Field::text(likeliest.map(|(fault, _)| fault.name.clone()).unwrap_or_default()),
            Field::Figure(likeliest.map(|(_, cause)| plain(cause.probability, 3)).unwrap_or_default()),
            Field::text(found.finding.map(|finding| finding.note.clone()).unwrap_or_default()),
            Field::text(&*check.id),
        ]);
    }
    rows.0
}

fn plain(value: f64, places: u8) -> String {
    number::show_short(value, places, NumberStyle::POINT)
}

fn money(currency: Currency, amount: Money) -> String {
    currency.show_plain(amount, NumberStyle::POINT)
}

/// Every sale of the worksheet, a row each, with what the grid made of it.
#[must_use]
pub fn sales(case: Case<'_>) -> String {
    let Case { worksheet, appraisal, show, .. } = case;
    let own = worksheet.settings.currency;
    let unit = show.unit(Quantity::Distance);
    let mut rows = Rows::default();
    let mileage = format!("Mileage ({})", unit.symbol());
    let adjusted = format!("Adjusted price ({})", own.code());
    let heads = ["Sale", "Date", "Kind", "Price", "Currency", &mileage, "Condition", "Condition known", "Departures"];
    let more = ["Source", "Left out because", "Reason", &adjusted, "Weight"];
    rows.row(&heads.into_iter().chain(more).map(Field::text).collect::<Vec<_>>());
    let grid = appraisal.comparison.as_ref().map_or(&[][..], |comparison| comparison.rows.as_slice());
    for (place, sale) in worksheet.sales.iter().enumerate() {
        let row = grid.iter().find(|row| row.sale == place);
        let left_out = appraisal.sales_left_out.iter().find(|(left_out, _)| *left_out == place);
        let mut fields = entered(place, sale, unit);
        fields.extend([
            Field::text(left_out.map_or("", |(_, why)| why.reason())),
            Field::text(&*sale.reason),
            Field::Figure(row.map(|row| money(own, Money::nearest(row.line.adjusted))).unwrap_or_default()),
            Field::Figure(row.map(|row| plain(row.line.share, 4)).unwrap_or_default()),
        ]);
        rows.row(&fields);
    }
    rows.0
}

/// A sale's own fields.
fn entered(place: usize, sale: &Sale, unit: Unit) -> Vec<Field> {
    vec![
        Field::Figure((place + 1).to_string()),
        Field::figure(&sale.date, ToString::to_string),
        Field::text(sale.kind.name()),
        Field::figure(&sale.price, |price| money(sale.currency, *price)),
        Field::text(sale.currency.code()),
        Field::figure(&sale.mileage, |mileage| plain(unit.from_si(mileage.0), 0)),
        Field::figure(&sale.condition, |score| plain(*score, 1)),
        Field::text(sale.condition_known.name()),
        Field::text(&*sale.departures),
        Field::text(&*sale.source),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn writes(text: &str, expected: &str) {
        assert_eq!(Field::text(text).written(), expected, "{text:?}");
    }

    #[test]
    fn quotes_what_would_break_a_row() {
        writes("plain", "plain");
        writes("", "");
        writes("a, b", "\"a, b\"");
        writes("a \"b\"", "\"a \"\"b\"\"\"");
        writes("a\nb", "\"a\nb\"");
        writes("a\r\nb", "\"a\r\nb\"");
        writes(" a ", " a ");
    }

    #[test]
    fn no_text_becomes_a_formula() {
        writes("=1+1", "'=1+1");
        writes("+44 20", "'+44 20");
        writes("-3", "'-3");
        writes("@SUM(A1)", "'@SUM(A1)");
        writes("\t=1", "'\t=1");
        writes("\r=1", "\"'\r=1\"");
        writes("\n=1", "\"'\n=1\"");
        writes("=HYPERLINK(\"x\",\"y\")", "\"'=HYPERLINK(\"\"x\"\",\"\"y\"\")\"");
        writes("a=1", "a=1");
        assert_eq!(Field::Figure("-3".to_owned()).written(), "-3");
    }

    /// A reader of RFC 4180 of its own, so that the writer is not held against itself.
    fn read(text: &str) -> Vec<Vec<String>> {
        let (mut rows, mut row, mut field, mut inside) = (Vec::new(), Vec::new(), String::new(), false);
        let mut signs = text.chars().peekable();
        while let Some(sign) = signs.next() {
            match (sign, inside) {
                ('"', true) if signs.peek() == Some(&'"') => {
                    signs.next();
                    field.push('"');
                }
                ('"', _) => inside = !inside,
                (',', false) => row.push(core::mem::take(&mut field)),
                ('\r', false) => {}
                ('\n', false) => {
                    row.push(core::mem::take(&mut field));
                    rows.push(core::mem::take(&mut row));
                }
                (other, _) => field.push(other),
            }
        }
        rows
    }

    #[test]
    fn rows_come_back_as_they_went() {
        let texts = ["", "a,b", "say \"no\"", "two\nlines", "=1", "plain"];
        let mut rows = Rows::default();
        rows.row(&texts.map(Field::text));
        rows.row(&[Field::Figure("1.5".into())]);
        assert_eq!(read(&rows.0), [vec!["", "a,b", "say \"no\"", "two\nlines", "'=1", "plain"], vec!["1.5"]]);
    }

    #[test]
    fn the_demo_has_a_row_for_each_check_and_each_sale() {
        super::super::snapshots::with_demo(|case| {
            let findings = read(&findings(case));
            assert_eq!(findings.len(), 1 + crate::condition::applicable(case.sheet, &case.appraisal.tags).count());
            assert!(findings.iter().all(|row| row.len() == 12));
            let hose = findings.iter().find(|row| row[11] == "brakes-hoses").unwrap();
            assert_eq!(hose[3..6], ["failed", "", "unsafe"]);
            assert_eq!(hose[7], "Hoses perished with age");
            let sales = read(&sales(case));
            assert_eq!(sales.len(), 1 + case.worksheet.sales.len());
            assert!(sales.iter().all(|row| row.len() == 14));
            assert_eq!(
                sales[1][..8],
                ["1", "2025-08-23", "auction, hammer price", "12800", "GBP", "118000", "82", "from photographs"]
            );
            assert_eq!(sales[9][10], "left out by choice");
        });
    }
}
