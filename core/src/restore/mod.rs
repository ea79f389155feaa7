//! Reading data from outside: a file, a link, a store.
//!
//! One bad value sinks nothing. Each value that does not fit is left out, kept as text with its place and what is
//! wrong, and the rest is read. What the types do not know is kept the same way. Nothing is trusted: size, depth and
//! number of values are bounded ([`Room`]).
//!
//! Types are written by serde and read by [`Restore`], from the same JSON. Deserialising by serde's derive was used
//! first; made to go on after a bad value, its code for some sixty types was over a third of the program. Here a type
//! gives a table of its fields ([`record!`]) or words ([`words!`]), and [`Trail`] does the reading for all of them.

mod json;
mod kinds;
mod tables;
mod trail;

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use serde::Serialize;
#[doc(hidden)]
pub use serde_json::Value;

pub(crate) use tables::around;
pub use tables::{record, words};
pub use trail::{Record, Trail};

/// How much of a text is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Room {
    /// Most bytes.
    pub bytes: usize,
    /// Most values, an object counting for ten more: what they take in memory follows from these and not from the bytes.
    pub values: u32,
}

/// What comes from outside: four copies of the general sheet by its bytes, two by its values. Whatever the text, it takes no
/// more than 8 MB while it is read.
pub const OUTSIDE: Room = Room { bytes: 2_000_000, values: 110_000 };

/// What this program stored, and a ledger, wherever it comes from, as one is kept in a backup too: as many sales as have so
/// many bytes, which in memory take more than anything else.
pub const STORED: Room = Room { bytes: 4_000_000, values: 1_000_000 };

/// Most values that may be wrong before the whole is given up.
pub const MOST_UNREAD: usize = 200;

/// A value that could not be read, kept as it was.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Unread {
    /// Where it was, as in `findings.sills.look.grade`.
    pub place: String,
    /// What was there, as JSON.
    pub text: String,
    /// What is wrong with it.
    pub why: String,
}

record! { Unread { place, text, why } }

display!(Unread);

impl Say for Unread {
    fn phrase(&self) -> Phrase {
        phrase!("{0}: {1} (found {2})", self.place, self.why, self.text)
    }
}

/// Why a text could not be read at all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RestoreError {
    /// More bytes than there is [`Room`] for.
    TooLarge {
        /// Its size in bytes.
        bytes: usize,
        /// Most that are read.
        most: usize,
    },
    /// It is not JSON.
    NotJson {
        /// Line of the first error, from 1.
        line: usize,
        /// Column of the first error, from 1.
        column: usize,
        /// What the parser says.
        why: &'static str,
    },
    /// It is JSON, but not an object.
    NotAnObject,
    /// Its format is newer than this build's.
    Newer {
        /// Format of the text.
        found: u64,
        /// Newest format that this build reads.
        known: u32,
    },
    /// More than [`MOST_UNREAD`] values are wrong: it is probably something else.
    NotOurs,
    /// It is not word for word what was stored: its sum does not hold.
    Damaged,
}

display!(RestoreError);

impl Say for RestoreError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::TooLarge { bytes, most } => {
                phrase!("{0} bytes are more than the {1} that a file of this kind can have", bytes, most)
            }
            Self::NotJson { line, column, why } => phrase!("line {0}, column {1}: {2}", line, column, why),
            Self::NotAnObject => phrase!("not a file of this kind: it should begin with “{0}”", '{'),
            Self::Newer { found, known } => phrase!(
                "made by a newer Kerbworth (format {0}; this one reads up to {1}); update, then open it again",
                found,
                known
            ),
            Self::NotOurs => phrase!("more than {0} values do not fit: this is not a file of this kind", MOST_UNREAD),
            Self::Damaged => phrase!("it was changed or cut off since it was stored"),
        }
    }
}

impl core::error::Error for RestoreError {}

/// What can be read from JSON.
pub trait Restore {
    /// What there is before anything is read: the default, or for want of a sensible one any value, which then
    /// [`Restore::restore`] must overwrite or its caller throw away.
    fn blank() -> Self
    where
        Self: Sized;

    /// Reads a blank from JSON. Gives whether the whole of it can be used; if not, the trail says what it should have
    /// been. A part that cannot be used is left out or stays as it is in the blank, and is noted on the trail.
    fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool;
}

/// Reads a value from JSON text, keeping apart what does not fit.
///
/// `known` is the newest format that this build reads; a text without a `format` is taken to be of that one.
///
/// # Errors
/// [`RestoreError`] if the text cannot be read at all.
pub fn restore<T: Restore>(text: &str, known: u32) -> Result<(T, Vec<Unread>), RestoreError> {
    restore_within(text, known, OUTSIDE)
}

/// The same, with as much room as is said.
///
/// # Errors
/// [`RestoreError`] if the text cannot be read at all.
pub fn restore_within<T: Restore>(text: &str, known: u32, room: Room) -> Result<(T, Vec<Unread>), RestoreError> {
    restore_value(&parsed(text, room)?, known)
}

/// The same, from JSON already parsed.
///
/// # Errors
/// [`RestoreError`] if it cannot be read at all.
pub fn restore_value<T: Restore>(json: &Value, known: u32) -> Result<(T, Vec<Unread>), RestoreError> {
    let mut it = T::blank();
    let unread = fill(json, known, &mut it)?;
    Ok((it, unread))
}

/// The JSON that a text is.
pub(crate) fn parsed(text: &str, room: Room) -> Result<Value, RestoreError> {
    if text.len() > room.bytes {
        return Err(RestoreError::TooLarge { bytes: text.len(), most: room.bytes });
    }
    json::parse(text, room.values).map_err(|fault| {
        let (line, column) = fault.place(text);
        RestoreError::NotJson { line, column, why: fault.why }
    })
}

/// The JSON that this program wrote itself; `null` if it is none, which nothing can cause.
pub(crate) fn own(text: &str) -> Value {
    parsed(text, STORED).unwrap_or_default()
}

fn fill(json: &Value, known: u32, it: &mut dyn Restore) -> Result<Vec<Unread>, RestoreError> {
    let object = json.as_object().ok_or(RestoreError::NotAnObject)?;
    if let Some(found) = object.get("format").and_then(Value::as_u64)
        && found > u64::from(known)
    {
        return Err(RestoreError::Newer { found, known });
    }
    let mut trail = Trail::default();
    let read = it.restore(json, &mut trail);
    trail.into_unread().filter(|_| read).ok_or(RestoreError::NotOurs)
}

/// Reads one value that must fit as it is; nothing if it does not.
pub(crate) fn exact<T: Restore>(json: &Value) -> Option<T> {
    let mut it = T::blank();
    fits(json, &mut it).then_some(it)
}

fn fits(json: &Value, it: &mut dyn Restore) -> bool {
    let mut trail = Trail::default();
    it.restore(json, &mut trail) && trail.is_clean()
}

#[cfg(test)]
mod tests;
#[cfg(test)]
pub(crate) use tests::full;
