//! What a stored text looks like from outside: what is in it, of which format, which revision, and when it was
//! stored.

use kerbworth_core::restore::{self, Restore, RestoreError, Unread, record};
use serde::Serialize;
use serde_json::Value;

/// The version of the envelope itself.
const VERSION: u64 = 1;

/// A value about to be stored.
#[derive(Debug, Serialize)]
pub struct Sealed<'a, T> {
    /// What is in it: `worksheet`, `shelf`, `type-sheet`, `preferences`, `ledger`.
    pub kerbworth: &'a str,
    /// Version of the envelope.
    pub envelope: u64,
    /// Counts up with each store, so that another tab can tell which is newer.
    pub revision: u64,
    /// Local date and time of storing.
    pub stored: String,
    /// The value.
    pub body: &'a T,
}

/// A value taken out of storage.
#[derive(Debug)]
pub struct Opened<T> {
    /// The value, as far as it could be read.
    pub body: T,
    /// What could not be read.
    pub unread: Vec<Unread>,
    /// The revision under which it was stored.
    pub revision: u64,
}

/// An envelope as it is found; what is missing is zero or nothing.
#[derive(Debug, Default)]
struct Found {
    kerbworth: String,
    envelope: u64,
    revision: u64,
    body: Value,
}

record! { Found { kerbworth, envelope, revision, body } }

/// A value with its envelope.
pub fn seal<'a, T>(what: &'a str, revision: u64, stored: String, body: &'a T) -> Sealed<'a, T> {
    Sealed { kerbworth: what, envelope: VERSION, revision, stored, body }
}

/// Opens a stored text that should hold a `what` of a format up to `known`.
///
/// # Errors
/// What core says of a text that cannot be read; [`RestoreError::NotOurs`] if it holds something else.
pub fn open<T: Restore>(what: &str, known: u32, text: &str) -> Result<Opened<T>, RestoreError> {
    let found = unseal(what, known, text)?;
    let (body, unread) = restore::restore_value(&found.body, known)?;
    Ok(Opened { body, unread, revision: found.revision })
}

fn unseal(what: &str, known: u32, text: &str) -> Result<Found, RestoreError> {
    let (found, _) = restore::restore::<Found>(text, u32::MAX)?;
    if found.kerbworth != what {
        return Err(RestoreError::NotOurs);
    }
    if found.envelope > VERSION {
        return Err(RestoreError::Newer { found: found.envelope, known });
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kerbworth_core::worksheet::{FORMAT, Worksheet};

    #[test]
    fn opens_what_it_sealed() {
        let worksheet = Worksheet { id: "a".into(), ..Worksheet::default() };
        let text = serde_json::to_string(&seal("worksheet", 7, String::new(), &worksheet)).unwrap();
        let opened: Opened<Worksheet> = open("worksheet", FORMAT, &text).unwrap();
        assert_eq!((opened.body, opened.revision), (worksheet, 7));
    }

    #[test]
    fn refuses_something_else_and_newer_ones() {
        let text = r#"{"kerbworth":"shelf","envelope":1,"body":{}}"#;
        assert_eq!(open::<Worksheet>("worksheet", FORMAT, text).unwrap_err(), RestoreError::NotOurs);
        let text = r#"{"kerbworth":"worksheet","envelope":2,"body":{}}"#;
        assert!(matches!(open::<Worksheet>("worksheet", FORMAT, text), Err(RestoreError::Newer { found: 2, .. })));
        let text = r#"{"kerbworth":"worksheet","envelope":1,"body":{"format":9}}"#;
        assert!(matches!(open::<Worksheet>("worksheet", FORMAT, text), Err(RestoreError::Newer { found: 9, .. })));
    }
}
