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
    /// Before the first sign of a cell.
    CellStart,
    /// In a cell, outside quotes.
    Bare,
    /// Inside quotes.
    Quoted,
    /// After a quote inside quotes: the end of them, or half of a doubled quote.
    Closing,
}

/// Most cells of a row that are read: a sale has twelve, and each column is shown with a choice of what it holds.
pub const MOST_COLUMNS: usize = 100;

/// Bytes of a cell from which on it is cut: no cell of a sale is so long, but one that a quote opens and none closes is
/// as long as all that follows. A sale is never made of a cell that was cut.
pub const MOST_IN_CELL: usize = 10_000;

/// The rows of a text, one after the other; blank lines are counted and left out.
///
/// ```
/// use kerbworth_core::ledger::csv::records;
/// let rows: Vec<_> = records("a;\"b;\"\"c\"\n\nd", ';').collect();
/// assert_eq!(rows[0].cells, ["a", "b;\"c"]);
/// assert_eq!((rows[1].row, rows[1].text.as_str()), (3, "d"));
/// ```
#[must_use]
pub fn records(text: &str, separator: char) -> Records<'_> {
    Records { rest: text.strip_prefix('\u{feff}').unwrap_or(text), separator, row: 1, columns_left_out: 0 }
}

/// The rows of a text that are still to be read; made by [`records`].
#[derive(Debug, Clone)]
pub struct Records<'a> {
    /// What is not read yet.
    pub rest: &'a str,
    separator: char,
    row: usize,
    /// Most cells beyond [`MOST_COLUMNS`] that a row had so far.
    pub columns_left_out: usize,
}

impl Iterator for Records<'_> {
    type Item = Record;

    fn next(&mut self) -> Option<Record> {
        while let Some(rest) = past_line_end(self.rest) {
            self.rest = rest;
            self.row += 1;
        }
        if self.rest.is_empty() {
            return None;
        }
        let (mut cells, mut cell, mut left_out) = (Vec::new(), String::new(), 0);
        let mut state = State::CellStart;
        let mut end = self.rest.len();
        let mut add = |cell: &mut String| {
            if cells.len() < MOST_COLUMNS {
                cells.push(core::mem::take(cell));
            } else {
                cell.clear();
                left_out += 1;
            }
        };
        let put = |cell: &mut String, sign: char| {
            if cell.len() < MOST_IN_CELL {
                cell.push(sign);
            }
        };
        for (place, sign) in self.rest.char_indices() {
            match state {
                State::Quoted if sign == '"' => state = State::Closing,
                State::Quoted => put(&mut cell, sign),
                State::CellStart if sign == '"' => state = State::Quoted,
                State::Closing if sign == '"' => {
                    put(&mut cell, sign);
                    state = State::Quoted;
                }
                _ if sign == self.separator => {
                    add(&mut cell);
                    state = State::CellStart;
                }
                _ if matches!(sign, '\n' | '\r') => {
                    end = place;
                    break;
                }
                _ => {
                    put(&mut cell, sign);
                    state = State::Bare;
                }
            }
        }
        add(&mut cell);
        let (text, rest) = self.rest.split_at_checked(end)?;
        self.rest = past_line_end(rest).unwrap_or(rest);
        let row = self.row;
        self.row += 1;
        self.columns_left_out = self.columns_left_out.max(left_out);
        Some(Record { row, text: text.to_owned(), cells })
    }
}

/// What comes after the end of line that a text begins with.
fn past_line_end(text: &str) -> Option<&str> {
    text.strip_prefix("\r\n").or_else(|| text.strip_prefix(['\n', '\r']))
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
        let found: Vec<Vec<String>> = records(text, separator).map(|record| record.cells).collect();
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
        let numbers = |text| records(text, ',').map(|record| record.row).collect::<Vec<_>>();
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
            let found: Vec<Vec<String>> = records(&text, separator).map(|record| record.cells).collect();
            prop_assert_eq!(found, wanted);
        }

        #[test]
        fn the_csv_crate_reads_what_is_written(rows in prop::collection::vec(prop::collection::vec("[a,;\t\"\r\n é=']{0,6}", 1..5), 0..6)) {
            let text: String = rows.iter().map(|cells| row(cells, ',')).collect();
            let mut oracle = ::csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
            let read: Vec<Vec<String>> =
                oracle.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect();
            prop_assert_eq!(&read, &rows);
            prop_assert_eq!(records(&text, ',').map(|record| record.cells).collect::<Vec<_>>(), rows);
        }

        /// A row's own text is the row again.
        #[test]
        fn a_row_keeps_its_text(text in "[a,\"\r\n]{0,30}") {
            for record in records(&text, ',') {
                let again: Vec<Record> = records(&record.text, ',').collect();
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
