//! A document as plain data: what it says, in order, and nothing of how it looks.

use crate::figure::Figure;
use crate::grade::Grade;
use crate::phrase::Phrase;
use crate::plot::Plot;
use crate::show::Show;
use crate::worksheet::Photo;

/// Depth of a heading below the document's title.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    /// A part of the document.
    Part,
    /// A section of a part.
    Section,
}

/// The side on which a column's figures stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Where lines begin: words.
    Start,
    /// Where lines end: figures, so that their digits stand under each other.
    End,
}

/// A table. The first cell of a row names the row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What it is a table of.
    pub caption: String,
    /// Head of each column.
    pub head: Vec<String>,
    /// One a column.
    pub align: Vec<Align>,
    /// Rows of as many cells as there are heads. A line feed in a cell begins a new line in it.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// A table without rows yet.
    #[must_use]
    pub fn of(caption: &str, columns: &[(&str, Align)]) -> Self {
        Self {
            caption: caption.to_owned(),
            head: columns.iter().map(|(head, _)| (*head).to_owned()).collect(),
            align: columns.iter().map(|(_, align)| *align).collect(),
            rows: Vec::new(),
        }
    }

    /// How a column stands.
    #[must_use]
    pub fn align_of(&self, column: usize) -> Align {
        self.align.get(column).copied().unwrap_or(Align::Start)
    }
}

/// What was found at one check.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FindingLines {
    /// The check.
    pub name: String,
    /// Its grade; none if it was not graded.
    pub grade: Option<Grade>,
    /// Whether it is marked unsafe.
    pub is_unsafe: bool,
    /// What is said of it: a word for the line, and the line.
    pub lines: Vec<(String, String)>,
    /// Photographs of it.
    pub photos: Vec<Photo>,
}

/// A piece of a document.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading.
    Heading(Level, String),
    /// A paragraph.
    Paragraph(String),
    /// Points, none before another.
    List(Vec<String>),
    /// Names and what they are.
    Facts(Vec<(String, String)>),
    /// A table.
    Table(Table),
    /// What was found at a check.
    Finding(FindingLines),
    /// A figure with its working.
    Figure(Figure),
    /// A picture of figures; the tables that it draws stand elsewhere in the document.
    Picture(Box<Plot>),
    /// A danger.
    Caution(String),
    /// Lines to be filled in by hand, by what goes on them.
    SignatureLines(Vec<String>),
}

/// A document.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Document {
    /// Its title.
    pub title: String,
    /// What it says.
    pub blocks: Vec<Block>,
    show: Show,
}

impl Document {
    /// A document with nothing in it yet, whose own words are said in a person's language.
    #[must_use]
    pub fn titled(title: impl Into<Phrase>, show: &Show) -> Self {
        Self { title: show.say(&title.into()), blocks: Vec::new(), show: show.clone() }
    }

    fn word(&self, english: &str) -> String {
        self.show.word(english).to_owned()
    }

    /// Begins a part.
    pub fn part(&mut self, heading: &str) {
        self.blocks.push(Block::Heading(Level::Part, self.word(heading)));
    }

    /// Begins a section.
    pub fn section(&mut self, heading: &str) {
        self.blocks.push(Block::Heading(Level::Section, self.word(heading)));
    }

    /// Adds a paragraph; a blank one is left out.
    pub fn paragraph(&mut self, text: impl Into<Phrase>) {
        let text = self.show.say(&text.into());
        if !text.trim().is_empty() {
            self.blocks.push(Block::Paragraph(text));
        }
    }

    /// Adds points; an empty list is left out.
    pub fn list(&mut self, points: Vec<String>) {
        if !points.is_empty() {
            self.blocks.push(Block::List(points));
        }
    }

    /// Adds facts, those with nothing to say left out.
    pub fn facts(&mut self, facts: Vec<(&str, String)>) {
        let said = facts.into_iter().filter(|(_, what)| !what.trim().is_empty());
        let said: Vec<(String, String)> = said.map(|(name, what)| (self.word(name), what)).collect();
        if !said.is_empty() {
            self.blocks.push(Block::Facts(said));
        }
    }

    /// Adds a table; one without rows is left out.
    pub fn table(&mut self, mut table: Table) {
        if !table.rows.is_empty() {
            table.caption = self.word(&table.caption);
            table.head = table.head.iter().map(|head| self.word(head)).collect();
            self.blocks.push(Block::Table(table));
        }
    }

    /// Adds a danger.
    pub fn caution(&mut self, text: impl Into<Phrase>) {
        self.blocks.push(Block::Caution(self.show.say(&text.into())));
    }

    /// Adds any block.
    pub fn block(&mut self, block: Block) {
        self.blocks.push(block);
    }
}
