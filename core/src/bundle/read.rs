//! Reading the file.

use rawzip::{CompressionMethod, ZipArchive, ZipSliceArchive, ZipVerification};

use crate::phrase;
use crate::phrase::{Phrase, Say, display};

use super::{Bundle, BundleError, MOST_BYTES, MOST_PARTS, SUM};
use crate::restore::{self, Restore, Room, Unread};
use crate::{ledger, sheet, worksheet};

/// Where the parts lie.
pub(super) const WORKSHEETS: &str = "worksheets/";
pub(super) const TYPE_SHEETS: &str = "type-sheets/";
pub(super) const LEDGER: &str = "ledger.json";
pub(super) const PHOTO_IDS: &str = "photos.json";
pub(super) const PHOTOS: &str = "photos/";

/// What is to be said of a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// The part's name in the file.
    pub part: String,
    /// What is wrong with it.
    pub why: BundleError,
}

display!(Note);

impl Say for Note {
    fn phrase(&self) -> Phrase {
        phrase!("{0}: {1}", self.part, self.why)
    }
}

/// Reads the file; what cannot be read of it is noted.
///
/// # Errors
/// [`BundleError::TooLarge`], [`BundleError::NotZip`], [`BundleError::NotOurs`].
pub fn read(bytes: &[u8]) -> Result<(Bundle, Vec<Note>), BundleError> {
    if bytes.len() > MOST_BYTES {
        return Err(BundleError::TooLarge { bytes: bytes.len() });
    }
    let zip = ZipArchive::from_slice(bytes).map_err(|_| BundleError::NotZip)?;
    let (parts, mut notes) = parts(&zip, bytes.len());
    let mut bundle = Bundle::default();
    let mut photo_ids: Vec<String> = Vec::new();
    let mut pictures: Vec<(String, Vec<u8>)> = Vec::new();
    let mut ours = false;
    for (name, content) in parts {
        let taken = if name.starts_with(WORKSHEETS) {
            json(&content, worksheet::FORMAT, restore::OUTSIDE).map(|(worksheet, unread): (worksheet::Worksheet, _)| {
                bundle.worksheets.push(worksheet::Worksheet { unread: joined(worksheet.unread, unread), ..worksheet });
            })
        } else if name.starts_with(TYPE_SHEETS) {
            json(&content, sheet::FORMAT, restore::OUTSIDE).map(|(sheet, unread)| {
                // A type sheet has no place of its own for what of it could not be read.
                let note = |unread| Note { part: name.clone(), why: BundleError::Unread(unread) };
                notes.extend(unread.into_iter().map(note));
                bundle.type_sheets.push(sheet);
            })
        } else if name == LEDGER {
            json(&content, ledger::FORMAT, restore::STORED).map(|(ledger, unread): (ledger::Ledger, _)| {
                bundle.ledger = Some(ledger::Ledger { unread: joined(ledger.unread, unread), ..ledger });
            })
        } else if name == PHOTO_IDS {
            ids(&content).map(|ids| photo_ids = ids).ok_or(BundleError::Damaged)
        } else {
            pictures.push((name, content));
            continue;
        };
        ours = true;
        if let Err(why) = taken {
            notes.push(Note { part: name, why });
        }
    }
    if !ours {
        return Err(BundleError::NotOurs);
    }
    for (name, picture) in pictures {
        match number(&name).and_then(|number| photo_ids.get(number - 1)) {
            Some(id) => drop(bundle.photos.insert(id.clone(), picture)),
            None => notes.push(Note { part: name, why: BundleError::Unnamed }),
        }
    }
    Ok((bundle, notes))
}

/// The parts that can be read, in the order of the file, and what is wrong with the others. No more than the file's own
/// size is read in all, however often its list names the same bytes.
fn parts(zip: &ZipSliceArchive<&[u8]>, most: usize) -> (Vec<(String, Vec<u8>)>, Vec<Note>) {
    let (mut parts, mut notes, mut left) = (Vec::new(), Vec::new(), most);
    let mut entries = zip.entries();
    for count in 0.. {
        let entry = match entries.next_entry() {
            Ok(Some(entry)) => entry,
            Ok(None) => break,
            Err(_) => {
                notes.push(Note { part: (count + 1).to_string(), why: BundleError::Damaged });
                break;
            }
        };
        let name = entry.file_path().try_normalize().map(|path| path.as_ref().to_owned()).unwrap_or_default();
        if name.is_empty() || name.ends_with('/') {
            continue; // a folder
        }
        if count >= MOST_PARTS {
            notes.push(Note { part: name, why: BundleError::TooMany });
            break;
        }
        let content = if entry.compression_method() == CompressionMethod::STORE {
            content(zip, entry.wayfinder(), left).ok_or(BundleError::Damaged)
        } else {
            Err(BundleError::Compressed)
        };
        match content {
            Ok(content) => {
                left = left.saturating_sub(content.len());
                parts.push((name, content));
            }
            Err(why) => notes.push(Note { part: name, why }),
        }
    }
    (parts, notes)
}

/// A part's bytes, if they are what was written and no more than so many.
fn content(zip: &ZipSliceArchive<&[u8]>, at: rawzip::ZipArchiveEntryWayfinder, most: usize) -> Option<Vec<u8>> {
    let entry = zip.get_entry(at).ok()?;
    let data = entry.data();
    if data.len() > most {
        return None;
    }
    let found = ZipVerification { crc: SUM.checksum(data), uncompressed_size: data.len() as u64 };
    entry.claim_verifier().valid(found).ok()?;
    Some(data.to_vec())
}

fn ids(content: &[u8]) -> Option<Vec<String>> {
    restore::exact(&restore::parsed(core::str::from_utf8(content).ok()?, restore::OUTSIDE).ok()?)
}

fn json<T: Restore>(content: &[u8], known: u32, room: Room) -> Result<(T, Vec<Unread>), BundleError> {
    let text = core::str::from_utf8(content).map_err(|_| BundleError::NotText)?;
    restore::restore_within(text, known, room).map_err(BundleError::Unreadable)
}

fn joined(mut unread: Vec<Unread>, more: Vec<Unread>) -> Vec<Unread> {
    unread.extend(more);
    unread
}

/// The number in a photograph's name, from 1.
fn number(name: &str) -> Option<usize> {
    let (number, _) = name.strip_prefix(PHOTOS)?.split_once('.')?;
    number.parse().ok().filter(|number| *number > 0)
}
