//! A figure with its working: what a screen and a report both draw, so that they cannot disagree.

use serde::Serialize;

use crate::phrase::Phrase;
use crate::units::{Money, Unit};

/// How much, and of what.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Amount {
    /// Money, in the worksheet's currency, shown without minor units.
    Money(Money),
    /// The same to the minor unit, where lines must be seen to add up.
    Exact(Money),
    /// A score from 0 to 100.
    Score(f64),
    /// A share, shown in per cent.
    Share(f64),
    /// A plain number, with the decimals it is shown with.
    Number(f64, u8),
    /// A quantity in its SI unit, and the unit it is shown in.
    Quantity(f64, Unit),
    /// A number of things.
    Count(usize),
    /// Nothing to show: the line is a heading or a remark.
    None,
}

/// A figure: a label, an amount, and the lines it came from.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Figure {
    /// What it is.
    pub label: Phrase,
    /// How much.
    pub amount: Amount,
    /// How it came about, in a sentence; may be empty.
    #[serde(skip_serializing_if = "Phrase::is_empty")]
    pub note: Phrase,
    /// The lines it was made from, each a figure itself.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<Figure>,
}

impl Figure {
    /// A figure without working.
    #[must_use]
    pub fn new(label: impl Into<Phrase>, amount: Amount) -> Self {
        Self { label: label.into(), amount, note: Phrase::default(), parts: Vec::new() }
    }

    /// The same with a sentence on how it came about.
    #[must_use]
    pub fn noted(mut self, note: impl Into<Phrase>) -> Self {
        self.note = note.into();
        self
    }

    /// The same with the lines it was made from.
    #[must_use]
    pub fn from_parts(mut self, parts: Vec<Self>) -> Self {
        self.parts = parts;
        self
    }
}
