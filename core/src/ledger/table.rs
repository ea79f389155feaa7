//! A pasted table: which sign parts its cells, and its rows.

use super::csv::{MOST_COLUMNS, Record, records};
use crate::phrase;
use crate::phrase::Phrase;

/// Most rows that are read at a time: ten thousand sales under a head. Each takes up to 1.4 KB until it is added, on 64 bits and
/// with all columns filled.
pub const MOST_ROWS: usize = 10_001;

/// Most cells that are read at a time: sixteen columns of as many rows, where a sale has twelve. Each takes some 30 bytes
/// however little is in it, and a table may be all separators.
pub const MOST_CELLS: usize = 16 * MOST_ROWS;

/// Most bytes of text that are read at a time: ten thousand sales with all columns filled take 1.5 MB. A quote that is not
/// closed makes one cell of all that follows.
pub const MOST_BYTES: usize = 2_000_000;

/// What parts the cells of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Separator {
    /// A tab: what spreadsheets put on the clipboard.
    #[default]
    Tab,
    /// A semicolon: files from where the comma is the decimal sign.
    Semicolon,
    /// A comma.
    Comma,
}

impl Separator {
    /// Every separator; where two fit alike, the earlier is meant.
    pub const ALL: [Self; 3] = [Self::Tab, Self::Semicolon, Self::Comma];

    /// Its name as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tab => "tab",
            Self::Semicolon => "semicolon",
            Self::Comma => "comma",
        }
    }

    /// The sign itself.
    #[must_use]
    pub const fn sign(self) -> char {
        match self {
            Self::Tab => '\t',
            Self::Semicolon => ';',
            Self::Comma => ',',
        }
    }

    /// The one that a text is written with: it parts the most of the first rows into as many cells as the very
    /// first has.
    #[must_use]
    pub fn of(text: &str) -> Self {
        // A row cut off at the end only weakens its own vote.
        let sample = text.char_indices().nth(SAMPLE).map_or(text, |(end, _)| text.get(..end).unwrap_or(text));
        let mut best = ((0, 0), Self::default());
        for separator in Self::ALL {
            let agreeing = agreeing(&records(sample, separator.sign()).collect::<Vec<_>>());
            if agreeing > best.0 {
                best = (agreeing, separator);
            }
        }
        best.1
    }
}

/// Signs of a text that are looked at to find its separator.
const SAMPLE: usize = 4000;

/// How many rows have as many cells as the first, and how many those are; nothing if it is one.
fn agreeing(rows: &[Record]) -> (usize, usize) {
    let width = rows.first().map_or(0, |row| row.cells.len());
    if width < 2 {
        return (0, 0);
    }
    (rows.iter().filter(|row| row.cells.len() == width).count(), width)
}

/// A table as it was pasted.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Table {
    /// What parts its cells.
    pub separator: Separator,
    /// Its rows.
    pub rows: Vec<Record>,
    /// Lines with something in them that were beyond what is read at a time.
    pub rows_left_out: usize,
    /// Columns that were beyond it.
    pub columns_left_out: usize,
}

impl Table {
    /// The table in a text, by the separator that it is written with.
    #[must_use]
    pub fn read(text: &str) -> Self {
        Self::parted_by(text, Separator::of(text))
    }

    /// The table in a text, by a given separator: as far as it is read at a time.
    #[must_use]
    pub fn parted_by(text: &str, separator: Separator) -> Self {
        let (text, beyond) = text.split_at(room(text));
        let mut records = records(text, separator.sign());
        let (mut rows, mut cells) = (Vec::new(), 0);
        while rows.len() < MOST_ROWS && cells < MOST_CELLS {
            let Some(row) = records.next() else { break };
            cells += row.cells.len();
            rows.push(row);
        }
        let rows_left_out = lines(records.rest) + lines(beyond);
        Self { separator, rows, rows_left_out, columns_left_out: records.columns_left_out }
    }

    /// The same rows, parted by another sign.
    #[must_use]
    pub fn parted_anew_by(&self, separator: Separator) -> Self {
        let text: String = self.rows.iter().map(|row| format!("{}\n", row.text)).collect();
        let table = Self::parted_by(&text, separator);
        Self { rows_left_out: table.rows_left_out + self.rows_left_out, ..table }
    }

    /// What is to be said of a table of which not all was read.
    #[must_use]
    pub fn left_out(&self) -> Option<Phrase> {
        (self.rows_left_out + self.columns_left_out > 0).then(|| {
            phrase!(
                "Rows left out: {0}; columns left out: {1}. At most {2} rows, {3} columns and {4} cells are read at a time: open the rest in parts.",
                self.rows_left_out,
                self.columns_left_out,
                MOST_ROWS,
                MOST_COLUMNS,
                MOST_CELLS
            )
        })
    }

    /// Cells of the widest row.
    #[must_use]
    pub fn width(&self) -> usize {
        self.rows.iter().map(|row| row.cells.len()).max().unwrap_or(0)
    }

    /// Puts another text in the place of a row's; the row keeps its number. A text that became several rows is
    /// taken as one, the line ends as spaces.
    pub fn mend(&mut self, row: usize, text: &str) {
        if let Some(record) = self.rows.iter_mut().find(|record| record.row == row) {
            let mut read = records(text, self.separator.sign());
            let first = read.next();
            let one = match read.next() {
                None => first,
                Some(_) => records(&text.replace(['\r', '\n'], " "), self.separator.sign()).next(),
            };
            record.cells = one.map(|read| read.cells).unwrap_or_default();
            text.clone_into(&mut record.text);
        }
    }
}

/// Bytes of a text that are read: all, or up to the last end of line for which there is room.
fn room(text: &str) -> usize {
    if text.len() <= MOST_BYTES {
        return text.len();
    }
    let end = text.floor_char_boundary(MOST_BYTES);
    text.get(..end).and_then(|text| text.rfind(['\n', '\r'])).unwrap_or(end)
}

/// Lines with something in them.
fn lines(text: &str) -> usize {
    text.split(['\n', '\r']).filter(|line| !line.is_empty()).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// What was read and left out of a text: rows, cells of the widest, lines, columns.
    #[track_caller]
    fn reads(text: &str, rows: usize, width: usize, left_out: (usize, usize)) {
        let table = Table::parted_by(text, Separator::Comma);
        assert_eq!((table.rows.len(), table.width()), (rows, width));
        assert_eq!((table.rows_left_out, table.columns_left_out), left_out);
        assert_eq!(table.left_out().is_some(), left_out != (0, 0));
    }

    #[test]
    fn what_is_beyond_the_room_is_counted() {
        reads(&"a,b\r\n".repeat(MOST_ROWS), MOST_ROWS, 2, (0, 0));
        reads(&"a,b\r\n\r\n".repeat(MOST_ROWS + 7), MOST_ROWS, 2, (7, 0));
        let wide = ",".repeat(MOST_COLUMNS - 1) + "\n";
        let rows = MOST_CELLS.div_ceil(MOST_COLUMNS);
        reads(&wide.repeat(rows + 3), rows, MOST_COLUMNS, (3, 0));
        reads(&format!("a,b\n,{wide}"), 2, MOST_COLUMNS, (0, 1));
        reads(&",".repeat(MOST_BYTES - 1), 1, MOST_COLUMNS, (0, MOST_BYTES - MOST_COLUMNS));
        let long = format!("{}\n", "é".repeat(MOST_BYTES / 4 - 1));
        reads(&long.repeat(4), 2, 1, (2, 0));
        reads(&format!("\"{}", long.repeat(3)), 1, 1, (1, 0));
        reads(&"é".repeat(MOST_BYTES), 1, 1, (1, 0));
    }

    #[test]
    fn what_was_left_out_stays_so_with_another_separator() {
        let table = Table::parted_by(&"a;b\n".repeat(MOST_ROWS + 1), Separator::Comma);
        let anew = table.parted_anew_by(Separator::Semicolon);
        assert_eq!((anew.rows.len(), anew.width(), anew.rows_left_out), (MOST_ROWS, 2, 1));
        assert_eq!(
            anew.left_out().unwrap_or_default().to_string(),
            "Rows left out: 1; columns left out: 0. At most 10001 rows, 100 columns and 160016 cells are read at a time: open the \
             rest in parts."
        );
    }

    #[track_caller]
    fn parted(text: &str, want: Separator) {
        assert_eq!(Separator::of(text), want, "{text:?}");
    }

    #[test]
    fn finds_the_separator() {
        parted("date\tprice\n2025-08-23\t12,800", Separator::Tab);
        parted("date;price\n2025-08-23;12800,50\n2025-09-01;9000,00", Separator::Semicolon);
        parted("date,price\n2025-08-23,12800", Separator::Comma);
        parted("date,price,note\n2025-08-23,12800,\"red; new hood\"\n2025-09-01,900,\"a; b\"", Separator::Comma);
        parted("12800", Separator::Tab);
        parted("", Separator::Tab);
    }

    #[test]
    fn a_row_is_mended_in_its_place() {
        let mut table = Table::read("a,b\nc,d");
        table.mend(2, "e,\"f\n");
        assert_eq!((table.rows[1].row, table.rows[1].cells.clone()), (2, vec!["e".to_owned(), "f\n".to_owned()]));
        table.mend(2, "g,h\ni");
        assert_eq!(table.rows[1].cells, ["g", "h i"]);
        assert_eq!(table.rows[0].cells, ["a", "b"]);
        assert_eq!(table.width(), 2);
    }

    proptest! {
        #[test]
        fn never_panics(text in "\\PC{0,60}", mended in "\\PC{0,20}") {
            let mut table = Table::read(&text);
            table.mend(1, &mended);
            let _ = table.width();
        }
    }
}
