//! The link: a whole worksheet in the part of an address that no server sees.
//!
//! ```
//! use kerbworth_core::parcel::Parcel;
//! use kerbworth_core::sheet::demo;
//! use kerbworth_core::link;
//!
//! let parcel = Parcel::new(&demo::worksheet()?, Some(&demo::curlew()?));
//! let link = link::encode(&parcel)?;
//! assert!(link.len() <= 1200);
//! assert_eq!(link::decode(&link)?.parcel.worksheet.findings, parcel.worksheet.findings);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # Form
//!
//! Letters of base64url without padding ([`letters`]) or, in a QR code, decimal digits ([`digits`]); of these bytes:
//!
//! | bytes | |
//! | --- | --- |
//! | 1 | version, 1; 128 more if a seal follows |
//! | 4 | sum over all other bytes, highest first, so that damage on the way is named |
//! | 96 | if there is a seal: key and signature |
//! | the rest | the parcel's JSON, told bit by bit ([`walk`]) by an arithmetic coder ([`stream`]) over a model of what comes next ([`model`]) |
//!
//! # Why so
//!
//! *One format.* What is told is the JSON of files and store, read back by the same [`crate::restore`]: a link knows
//! nothing of fields, so none can be forgotten, and new ones need no new version.
//!
//! *Short texts.* Nearly all of a worksheet is notes of a few words. Deflate, with the same words known beforehand,
//! leaves them about half again as long as a model that mixes contexts, and `miniz_oxide` costs the page 13.6 KB as
//! brotli (`brotli` 397, `lz4_flex` 2.6 for links 1.7 times as long); the program has nothing else to compress. The
//! model is some 150 lines and leaves no room for hostile lengths: each bit is counted.
//!
//! *Old links.* The model first learns from a sample and knows some words by number ([`words`]). Both are frozen files
//! of this version, not the sheets of the day. Only ids of checks have numbers: signs, faults and jobs are spelt, at
//! one to three bytes each, which is less than a list of them costs every visitor. Golden links hold all this fast.
//!
//! *The demo's figure.* The sample is the demo's worksheet, the one real piece of prose there is, and the program holds
//! it anyway. A link to the demo is therefore shorter than one to a worksheet of your own with as many words; the test
//! of the full worksheet, with other notes, shows what that takes.

pub mod digits;
pub mod letters;
mod model;
mod number;
mod stream;
mod walk;
mod words;

#[cfg(test)]
mod tests;
#[cfg(test)]
pub(crate) use tests::any;

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use core::mem;

use serde_json::Value;

use crate::parcel::{self, Opened, Parcel};
use crate::restore::{self, RestoreError, restore_value};
use crate::seal::{Key, Signature};
use stream::{Full, Stream};
use walk::Walk;

/// The version that this build writes, and the only one so far.
const VERSION: u8 = 1;

/// Added to the version where key and signature follow.
const SEALED: u8 = 128;

/// Most letters that are looked at: many times what [`encode`] makes.
const MOST_LETTERS: usize = 100_000;

/// Why a link could not be made or opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LinkError {
    /// There is nothing in it.
    Blank,
    /// A sign that no link has.
    Letter(char),
    /// The sum is another: cut short or changed on the way.
    Damaged,
    /// Of a version that this build does not know.
    Newer {
        /// The link's version.
        found: u8,
    },
    /// More than a link holds.
    TooLarge,
    /// Values lie deeper in each other than a worksheet's do.
    TooDeep,
    /// What was told is not a worksheet that can be read.
    NotOurs(RestoreError),
}

display!(LinkError);

impl Say for LinkError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Blank => phrase!("the link holds nothing; copy the whole of it, up to its end"),
            Self::Letter(letter) => {
                phrase!("“{0}” is in no such link; copy it again, without what stands before or after it", letter)
            }
            Self::Damaged => phrase!(
                "the link was cut short or changed on the way; copy it again, or ask for the worksheet as a file"
            ),
            Self::Newer { found } => phrase!(
                "made by a newer Kerbworth (link version {0}; this one reads {1}); update, then open it again",
                found,
                VERSION
            ),
            Self::TooLarge => phrase!("there is more in it than a link can hold; hand over the file instead"),
            Self::TooDeep => phrase!("what it holds is nested deeper than any worksheet; ask for it as a file"),
            Self::NotOurs(error) => error.phrase(),
        }
    }
}

impl core::error::Error for LinkError {}

impl From<RestoreError> for LinkError {
    fn from(error: RestoreError) -> Self {
        Self::NotOurs(error)
    }
}

impl From<Full> for LinkError {
    fn from(Full: Full) -> Self {
        Self::TooLarge
    }
}

/// A parcel as a link: what stands in an address after `#` and whatever the app puts before it.
///
/// # Errors
/// [`LinkError::TooLarge`] if it does not fit: some 22 KB of text that is not known beforehand.
pub fn encode(parcel: &Parcel) -> Result<String, LinkError> {
    let mut bytes = vec![VERSION, 0, 0, 0, 0];
    let mut told = parcel.seal.clone();
    if let Some(seal) = &mut told {
        // Random bytes cannot be told shorter than they are.
        bytes = vec![VERSION | SEALED, 0, 0, 0, 0];
        bytes.extend(mem::take(&mut seal.key).0);
        bytes.extend(mem::take(&mut seal.signature).0);
    }
    let mut walk = learnt()?.over(Stream::writing);
    walk.tell(&parcel.under(told).to_json())?;
    bytes.extend(walk.into_bytes());
    let sum = sum(&bytes).to_be_bytes();
    bytes.iter_mut().skip(1).zip(sum).for_each(|(place, byte)| *place = byte);
    Ok(letters::letters(&bytes))
}

/// Opens a link, as letters or as digits.
///
/// Takes no longer than its bits are bounded to, whatever it holds.
///
/// # Errors
/// [`LinkError`] if it cannot be opened; what does not fit within it is noted in [`Opened::unread`] instead.
pub fn decode(link: &str) -> Result<Opened, LinkError> {
    if link.len() > MOST_LETTERS {
        return Err(LinkError::TooLarge);
    }
    let link = link.trim();
    let bytes = match digits::bytes(link) {
        Some(bytes) => bytes,
        None => letters::bytes(link)?,
    };
    let (first, rest) = bytes.split_first().ok_or(LinkError::Blank)?;
    let version = first & !SEALED;
    if version != VERSION {
        return Err(if version > VERSION { LinkError::Newer { found: version } } else { LinkError::Damaged });
    }
    let (given, mut rest) = rest.split_first_chunk::<4>().ok_or(LinkError::Damaged)?;
    if sum(&bytes) != u32::from_be_bytes(*given) {
        return Err(LinkError::Damaged);
    }
    let mut raw = None;
    if first & SEALED != 0 {
        let (key, after) = rest.split_first_chunk().ok_or(LinkError::Damaged)?;
        let (signature, after) = after.split_first_chunk().ok_or(LinkError::Damaged)?;
        raw = Some((Key(*key), Signature(*signature)));
        rest = after;
    }
    let json = learnt()?.over(|stream| stream.reading(rest)).tell(&Value::Null)?;
    let (mut parcel, unread) = restore_value::<Parcel>(&json, parcel::FORMAT)?;
    match (&mut parcel.seal, raw) {
        (Some(seal), Some((key, signature))) => (seal.key, seal.signature) = (key, signature),
        (None, None) => {}
        _ => return Err(LinkError::Damaged),
    }
    Ok(Opened::new(parcel, unread)?)
}

/// The sum over a link's bytes but those of the sum itself.
fn sum(bytes: &[u8]) -> u32 {
    let but_sum: Vec<u8> =
        bytes.iter().enumerate().filter(|(at, _)| !(1..5).contains(at)).map(|(_, byte)| *byte).collect();
    letters::sum(&but_sum)
}

/// A walk that knows the sample.
fn learnt() -> Result<Walk<'static>, LinkError> {
    let mut walk = Walk::new(Stream::learning());
    let sample = restore::own(words::SAMPLE);
    walk.tell(&Value::Object([("worksheet".to_owned(), sample)].into_iter().collect()))?;
    Ok(walk)
}
