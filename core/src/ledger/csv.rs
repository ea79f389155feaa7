//! Tables as text (RFC 4180): taken apart into rows and cells, and put together.
//!
//! Reading never fails: a quote that is not closed runs to the end of the text, and text after a closing quote
//! belongs to its cell, as spreadsheets have it. Each row keeps its own text, so that it can be mended.

/// A row of a table.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Record {
    /// Its number as a spreadsheet counts rows: from 1, blank ones included.
    pub row: usize,
    /// Its text, without the end of line.
    pub text: String,
    /// Its cells.
    pub cells: Vec<String>,
}

/// Where in a cell the reading stands.
#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    /// Before the first sign of a row.
    RowStart,
    /// Before the first sign of a cell.
    CellStart,
    /// In a cell, outside quotes.
    Bare,
    /// Inside quotes.
    Quoted,
    /// After a quote inside quotes: the end of them, or half of a doubled quote.
    Closing,
}

/// The rows of a text; blank lines are counted and left out.
///
/// ```
/// use kerbworth_core::ledger::csv::records;
/// let rows = records("a;\"b;\"\"c\"\n\nd", ';');
/// assert_eq!(rows[0].cells, ["a", "b;\"c"]);
/// assert_eq!((rows[1].row, rows[1].text.as_str()), (3, "d"));
/// ```
#[must_use]
pub fn records(text: &str, separator: char) -> Vec<Record> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut rows = Vec::new();
    let mut cells = Vec::new();
    let mut cell = String::new();
    let mut state = State::RowStart;
    let (mut start, mut number) = (0, 1);
    let mut after_return = false;
    for (place, sign) in text.char_indices() {
        let ends_line = matches!(sign, '\n' | '\r');
        if state == State::RowStart {
            if ends_line {
                // The line feed of a pair ended nothing of its own.
                number += usize::from(!(after_return && sign == '\n'));
                after_return = sign == '\r';
                continue;
            }
            start = place;
            state = State::CellStart;
        }
        match state {
            State::Quoted if sign == '"' => state = State::Closing,
            State::Quoted => cell.push(sign),
            State::CellStart if sign == '"' => state = State::Quoted,
            State::Closing if sign == '"' => {
                cell.push('"');
                state = State::Quoted;
            }
            _ if sign == separator => {
                cells.push(core::mem::take(&mut cell));
                state = State::CellStart;
            }
            _ if ends_line => {
                cells.push(core::mem::take(&mut cell));
                let text = text.get(start..place).unwrap_or_default().to_owned();
                rows.push(Record { row: number, text, cells: core::mem::take(&mut cells) });
                number += 1;
                after_return = sign == '\r';
                state = State::RowStart;
            }
            _ => {
                cell.push(sign);
                state = State::Bare;
            }
        }
    }
    if state != State::RowStart {
        cells.push(cell);
        rows.push(Record { row: number, text: text.get(start..).unwrap_or_default().to_owned(), cells });
    }
    rows
}

/// A row of a table as text, with its end of line.
#[must_use]
pub fn row<S: AsRef<str>>(cells: &[S], separator: char) -> String {
    let mut line = String::new();
    for (place, cell) in cells.iter().map(AsRef::as_ref).enumerate() {
        if place > 0 {
            line.push(separator);
        }
        // A row of one blank cell would otherwise be a blank line.
        let bare = !cell.contains([separator, '"', '\n', '\r'])
            && cell.trim() == cell
            && !cell.starts_with('\u{feff}')
            && (cells.len() > 1 || !cell.is_empty());
        if bare {
            line.push_str(cell);
        } else {
            line.push('"');
            line.push_str(&cell.replace('"', "\"\""));
            line.push('"');
        }
    }
    line.push_str("\r\n");
    line
}

/// A text made safe for a spreadsheet, which would run a cell that begins like a formula: an apostrophe goes
/// before it, and before any that is there already, so that [`unguarded`] gives the text back.
#[must_use]
pub fn guarded(text: &str) -> String {
    if looks_like_formula(text) { format!("'{text}") } else { text.to_owned() }
}

/// A text without the apostrophe of [`guarded`].
#[must_use]
pub fn unguarded(text: &str) -> &str {
    text.strip_prefix('\'').filter(|rest| looks_like_formula(rest)).unwrap_or(text)
}

fn looks_like_formula(text: &str) -> bool {
    text.trim_start_matches('\'').starts_with(['=', '+', '-', '@', '\t', '\r'])
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn cells(text: &str, separator: char, want: &[&[&str]]) {
        let found: Vec<Vec<String>> = records(text, separator).into_iter().map(|record| record.cells).collect();
        assert_eq!(found, want, "{text:?}");
    }

    /// RFC 4180, section 2, rules 1 to 7.
    #[test]
    fn rules_of_the_format() {
        cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", ',', &[&["aaa", "bbb", "ccc"], &["zzz", "yyy", "xxx"]]);
        cells("aaa,bbb,ccc\r\nzzz,yyy,xxx", ',', &[&["aaa", "bbb", "ccc"], &["zzz", "yyy", "xxx"]]);
        cells("\"aaa\",\"b\r\nbb\",\"ccc\"", ',', &[&["aaa", "b\r\nbb", "ccc"]]);
        cells("\"aaa\",\"b\"\"bb\",\"ccc\"", ',', &[&["aaa", "b\"bb", "ccc"]]);
    }

    #[test]
    fn what_is_not_quite_by_the_rules_is_read_too() {
        cells("a,,\n,", ',', &[&["a", "", ""], &["", ""]]);
        cells("5\" rims,b\"c\"", ',', &[&["5\" rims", "b\"c\""]]);
        cells("\"open\nto the end", ',', &[&["open\nto the end"]]);
        cells("\"a\"b,c", ',', &[&["ab", "c"]]);
        cells("\u{feff}date\tprice\r1\t2", '\t', &[&["date", "price"], &["1", "2"]]);
        cells("\r\n \n", ',', &[&[" "]]);
        cells("", ',', &[]);
    }

    #[test]
    fn rows_are_numbered_as_in_a_spreadsheet() {
        let numbers = |text| records(text, ',').iter().map(|record| record.row).collect::<Vec<_>>();
        assert_eq!(numbers("a\r\n\r\nb\r\n"), [1, 3]);
        assert_eq!(numbers("\n\na\n\"b\nb\"\nc"), [3, 4, 5]);
    }

    #[test]
    fn formulas_are_disarmed_and_come_back() {
        assert_eq!(guarded("=1+1"), "'=1+1");
        assert_eq!(guarded("lot 12"), "lot 12");
        assert_eq!(unguarded("'=1+1"), "=1+1");
        assert_eq!(unguarded("'tis"), "'tis");
    }

    proptest! {
        /// The csv crate is the oracle.
        #[test]
        fn reads_what_the_csv_crate_reads(text in "[a,;\t\"\r\n é]{0,40}", separator in prop::sample::select(vec![',', ';', '\t'])) {
            let mut oracle = ::csv::ReaderBuilder::new()
                .delimiter(separator as u8)
                .has_headers(false)
                .flexible(true)
                .from_reader(text.as_bytes());
            let wanted: Vec<Vec<String>> =
                oracle.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect();
            let found: Vec<Vec<String>> = records(&text, separator).into_iter().map(|record| record.cells).collect();
            prop_assert_eq!(found, wanted);
        }

        #[test]
        fn the_csv_crate_reads_what_is_written(rows in prop::collection::vec(prop::collection::vec("[a,;\t\"\r\n é=']{0,6}", 1..5), 0..6)) {
            let text: String = rows.iter().map(|cells| row(cells, ',')).collect();
            let mut oracle = ::csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
            let read: Vec<Vec<String>> =
                oracle.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect();
            prop_assert_eq!(&read, &rows);
            prop_assert_eq!(records(&text, ',').into_iter().map(|record| record.cells).collect::<Vec<_>>(), rows);
        }

        /// A row's own text is the row again.
        #[test]
        fn a_row_keeps_its_text(text in "[a,\"\r\n]{0,30}") {
            for record in records(&text, ',') {
                let again = records(&record.text, ',');
                prop_assert_eq!(again.len(), 1);
                prop_assert_eq!(&again[0].cells, &record.cells);
            }
        }

        #[test]
        fn guarding_is_undone(text in "['=+@\t a-]{0,6}") {
            let cell = guarded(&text);
            prop_assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']));
            prop_assert_eq!(unguarded(&cell), text);
        }
    }
}
