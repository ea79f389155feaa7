//! What leaves the worksheet: documents for other eyes, and files.
//!
//! A document is plain data ([`Document`]), built from what was recorded and what was made of it. The screen, the
//! printed page and the copied text all draw the same document, so that they cannot disagree. Nothing is judged
//! here: every figure comes from [`crate::appraise`], and what this module adds is order and words.

pub mod bargaining;
pub mod blank;
pub mod document;
pub mod file;
mod found;
#[cfg(test)]
mod hostile_tests;
pub mod listing;
pub mod report;
mod shortened;
pub mod table;
pub mod text;
mod words;

pub use document::{Align, Block, Document, FindingLines, Level, Table};
pub use listing::Length;

use crate::appraise::Appraisal;
use crate::sheet::TypeSheet;
use crate::show::Show;
use crate::worksheet::{Purpose, Worksheet};

/// What a document is made from.
#[derive(Debug, Clone, Copy)]
pub struct Case<'a> {
    /// What was recorded.
    pub worksheet: &'a Worksheet,
    /// The whole type sheet that it was recorded by.
    pub sheet: &'a TypeSheet,
    /// What was made of it.
    pub appraisal: &'a Appraisal,
    /// How figures are shown, in the worksheet's currency.
    pub show: &'a Show,
}

/// A document that can be handed over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Everything, for whoever must be able to follow it.
    Report,
    /// What a seller tells.
    Listing,
    /// What a buyer keeps in the pocket.
    Bargaining,
}

impl Kind {
    /// Every document.
    pub const ALL: [Self; 3] = [Self::Report, Self::Listing, Self::Bargaining];

    /// Its name as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Report => "Report",
            Self::Listing => "Listing",
            Self::Bargaining => "Bargaining sheet",
        }
    }

    /// The documents, the one that the purpose asks for first.
    #[must_use]
    pub const fn in_order(purpose: Purpose) -> [Self; 3] {
        match purpose {
            Purpose::Buying => [Self::Bargaining, Self::Report, Self::Listing],
            Purpose::Selling => [Self::Listing, Self::Report, Self::Bargaining],
            Purpose::Appraising => [Self::Report, Self::Listing, Self::Bargaining],
        }
    }

    /// The word for it in the name of a file.
    #[must_use]
    pub const fn file_word(self) -> &'static str {
        match self {
            Self::Report => "report",
            Self::Listing => "listing",
            Self::Bargaining => "bargaining",
        }
    }
}

/// The document. `length` is the listing's; the others have one length.
#[must_use]
pub fn document(case: Case<'_>, kind: Kind, length: Length) -> Document {
    match kind {
        Kind::Report => report::report(case),
        Kind::Listing => listing::listing(case, length),
        Kind::Bargaining => bargaining::bargaining(case),
    }
}

#[cfg(test)]
mod snapshots;
