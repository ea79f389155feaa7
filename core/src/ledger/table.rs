//! A pasted table: which sign parts its cells, and its rows.

use super::csv::{Record, records};

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
            let agreeing = agreeing(&records(sample, separator.sign()));
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
}

impl Table {
    /// The table in a text, by the separator that it is written with.
    #[must_use]
    pub fn read(text: &str) -> Self {
        Self::parted_by(text, Separator::of(text))
    }

    /// The table in a text, by a given separator.
    #[must_use]
    pub fn parted_by(text: &str, separator: Separator) -> Self {
        Self { separator, rows: records(text, separator.sign()) }
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
            let mut cells = records(text, self.separator.sign());
            if cells.len() > 1 {
                cells = records(&text.replace(['\r', '\n'], " "), self.separator.sign());
            }
            record.cells = cells.into_iter().next().map(|read| read.cells).unwrap_or_default();
            text.clone_into(&mut record.text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

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
