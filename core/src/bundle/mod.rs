//! Several things in one file: a worksheet with its photographs, or all that is kept on a device.
//!
//! The file is an ordinary zip that any system opens, so that what is in it is never locked in: each worksheet and
//! type sheet as the JSON file that it is on its own, the ledger, and the photographs as pictures. It is hostile until
//! read: sizes are bounded, nothing in it is compressed, and what cannot be read is named and does not take the rest
//! with it.

mod arrival;
mod read;
mod write;

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use std::collections::BTreeMap;

pub use arrival::{Arrival, sales_to_add};
pub use read::{Note, read};
pub use write::write;

use crc::{CRC_32_ISO_HDLC, Crc, NoTable};

use crate::ledger::Ledger;
use crate::restore::{RestoreError, Unread};
use crate::sheet::TypeSheet;
use crate::worksheet::Worksheet;

/// Most bytes of a file that is looked at: some five hundred photographs.
pub const MOST_BYTES: usize = 256_000_000;

/// Most parts of a file that are looked at.
const MOST_PARTS: usize = 5_000;

/// The sum that a zip file holds of each part: without a table, as rawzip's own is 16 KB that no compression helps.
const SUM: Crc<u32, NoTable> = Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC);

/// What is in the file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bundle {
    /// Worksheets, in the order of the shelf.
    pub worksheets: Vec<Worksheet>,
    /// The person's own type sheets.
    pub type_sheets: Vec<TypeSheet>,
    /// The ledger of sales, if it is in it.
    pub ledger: Option<Ledger>,
    /// Photographs as the bytes of a picture file, by the ids that findings name them by.
    pub photos: BTreeMap<String, Vec<u8>>,
}

/// Ids of the photographs that a worksheet names, in the order of its checks.
pub fn photos_of(worksheet: &Worksheet) -> impl Iterator<Item = &str> {
    worksheet.findings.values().flat_map(|finding| &finding.photos).map(|photo| photo.id.as_str())
}

/// Why a file, or a part of it, cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BundleError {
    /// More than [`MOST_BYTES`].
    TooLarge {
        /// How many there are.
        bytes: usize,
    },
    /// Not a zip file, or one that is cut off.
    NotZip,
    /// A zip file without anything of this program's in it.
    NotOurs,
    /// More parts than are looked at.
    TooMany,
    /// The part was changed or damaged after it was written.
    Damaged,
    /// The part was compressed, which this program never does.
    Compressed,
    /// The part's text is no UTF-8.
    NotText,
    /// The part's text cannot be read.
    Unreadable(RestoreError),
    /// One of the part's values cannot be read, and is left out.
    Unread(Unread),
    /// A photograph that nothing names.
    Unnamed,
}

display!(BundleError);

impl Say for BundleError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::TooLarge { bytes } => {
                phrase!("too large: {0} MB, and at most {1} MB are read", bytes / 1_000_000, MOST_BYTES / 1_000_000)
            }
            Self::NotZip => phrase!("not a whole zip file; fetch or copy it again"),
            Self::NotOurs => phrase!("a zip file, but without worksheets; choose one that was saved here"),
            Self::TooMany => phrase!("left out: only the first {0} parts of a file are read", MOST_PARTS),
            Self::Damaged => phrase!("damaged since it was saved; fetch or copy the file again"),
            Self::Compressed => phrase!("packed anew by another program; choose the file as it was saved here"),
            Self::NotText => phrase!("not a text; it was changed after it was saved"),
            Self::Unreadable(why) => why.phrase(),
            Self::Unread(value) => value.phrase(),
            Self::Unnamed => phrase!("a picture that no list names; it was added after the file was saved"),
        }
    }
}

#[cfg(test)]
mod tests;
