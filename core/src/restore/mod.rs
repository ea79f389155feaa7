//! Reading data from outside: a file, a link, a store.
//!
//! One bad value sinks nothing. Each value that does not fit is left out, kept as text with its place and what is
//! wrong, and the rest is read. What the types do not know is kept the same way. Nothing is trusted: size and depth
//! are bounded.
//!
//! Types are written by serde and read by [`Restore`], from the same JSON. Deserialising by serde's derive was used
//! first; made to go on after a bad value, its code for some sixty types was over a third of the program. Here a type
//! gives a table of its fields ([`record!`]) or words ([`words!`]), and [`Trail`] does the reading for all of them.

mod kinds;
mod tables;
mod trail;

use core::fmt;

use serde::Serialize;
#[doc(hidden)]
pub use serde_json::Value;

pub(crate) use tables::around;
pub use tables::{record, words};
pub use trail::{Record, Trail};

/// Most bytes that are looked at: many times a full worksheet.
pub const MOST_BYTES: usize = 4_000_000;

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

impl fmt::Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {} (found {})", self.place, self.why, self.text)
    }
}

/// Why a text could not be read at all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RestoreError {
    /// More than [`MOST_BYTES`].
    TooLarge {
        /// Its size in bytes.
        bytes: usize,
    },
    /// It is not JSON.
    NotJson {
        /// Line of the first error, from 1.
        line: usize,
        /// Column of the first error, from 1.
        column: usize,
        /// What the parser says.
        why: String,
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

impl fmt::Display for RestoreError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { bytes } => {
                write!(f, "{bytes} bytes are more than the {MOST_BYTES} that a file of this kind can have")
            }
            Self::NotJson { line, column, why } => write!(f, "line {line}, column {column}: not JSON: {why}"),
            Self::NotAnObject => write!(f, "not a file of this kind: it should begin with “{{”"),
            Self::Newer { found, known } => write!(
                f,
                "made by a newer Kerbworth (format {found}; this one reads up to {known}); update, then open it again"
            ),
            Self::NotOurs => write!(f, "more than {MOST_UNREAD} values do not fit: this is not a file of this kind"),
            Self::Damaged => write!(f, "it was changed or cut off since it was stored"),
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
    let json = parsed(text)?;
    restore_value(&json, known)
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

fn parsed(text: &str) -> Result<Value, RestoreError> {
    if text.len() > MOST_BYTES {
        return Err(RestoreError::TooLarge { bytes: text.len() });
    }
    serde_json::from_str(text).map_err(|error| RestoreError::NotJson {
        line: error.line(),
        column: error.column(),
        // Its own words end with the place.
        why: error.to_string().split(" at line ").next().unwrap_or_default().to_owned(),
    })
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
