//! What a stored text looks like from outside: a sum that notices damage, what is in it, of which format, which
//! revision, and when it was stored.

use kerbworth_core::link::letters::sum;
use kerbworth_core::restore::{self, RestoreError, Unread, record};
use serde_json::Value;

/// The version of the envelope itself. Since 2 it begins with a sum.
const VERSION: u64 = 2;

/// How a text with a sum begins.
const BEGINNING: &str = "{\"sum\":";

/// Reads the value in an envelope; gives what of it could not be read.
pub type Read<'a> = dyn FnMut(&Value) -> Result<Vec<Unread>, RestoreError> + 'a;

/// An envelope as it is found; what is missing is zero or nothing.
#[derive(Debug, Default)]
struct Found {
    sum: u32,
    kerbworth: String,
    envelope: u64,
    revision: u64,
    stored: String,
    body: Value,
}

record! { Found { sum, kerbworth, envelope, revision, stored, body } }

/// A value, as JSON, with its envelope: `{"sum":…,` and then what the sum is over. The revision counts up with each store,
/// so that another tab can tell which is newer; `stored` is the local date and time. Put together as text and not by serde,
/// which would be code of its own for each kind of value.
pub fn seal(what: &str, revision: u64, stored: &str, body: &str) -> String {
    let summed = format!(
        r#""kerbworth":"{what}","envelope":{VERSION},"revision":{revision},"stored":"{stored}","body":{body}}}"#
    );
    format!("{BEGINNING}{},{summed}", sum(summed.as_bytes()))
}

/// Whether a text is what was stored: nothing if it has no sum to tell by, as texts of version 1 have not.
pub fn is_whole(text: &str) -> Option<bool> {
    let (said, summed) = text.strip_prefix(BEGINNING)?.split_once(',')?;
    Some(said.parse() == Ok(sum(summed.as_bytes())))
}

/// The revision of a stored text, as far as it can be found; the oldest if not.
pub fn revision(text: &str) -> u64 {
    let found = text.split_once("\"revision\":").and_then(|(_, rest)| rest.split(',').next()?.parse().ok());
    found.unwrap_or_default()
}

/// Opens a stored text that should hold a `what` of a format up to `known`; gives what could not be read.
///
/// # Errors
/// What core says of a text that cannot be read; [`RestoreError::NotOurs`] if it holds something else;
/// [`RestoreError::Damaged`] if it is not what was stored.
pub fn open(what: &str, known: u32, text: &str, read: &mut Read<'_>) -> Result<Vec<Unread>, RestoreError> {
    let whole = is_whole(text);
    let (found, _) = restore::restore_within::<Found>(text, u32::MAX, restore::STORED)?;
    // What a newer build stores may have its sum elsewhere.
    if found.envelope > VERSION {
        return Err(RestoreError::Newer { found: found.envelope, known });
    }
    if whole == Some(false) || whole.is_none() && found.envelope != 1 {
        return Err(RestoreError::Damaged);
    }
    if found.kerbworth != what {
        return Err(RestoreError::NotOurs);
    }
    read(&found.body)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::shelf;
    use kerbworth_core::ledger::{self, Ledger};
    use kerbworth_core::restore::Restore;
    use kerbworth_core::sheet::{self, TypeSheet};
    use kerbworth_core::worksheet::{FORMAT, Worksheet};

    fn open<T: Restore>(what: &str, known: u32, text: &str) -> Result<(T, Vec<Unread>, u64), RestoreError> {
        let mut body = T::blank();
        let mut read = |json: &Value| {
            let (it, unread) = restore::restore_value(json, known)?;
            body = it;
            Ok(unread)
        };
        let unread = super::open(what, known, text, &mut read)?;
        Ok((body, unread, revision(text)))
    }

    fn worksheet() -> (Worksheet, String) {
        let mut worksheet = Worksheet { id: "a".into(), ..Worksheet::default() };
        worksheet.car.maker = "Halberd".into();
        let text = seal("worksheet", 7, "2026-06-20 10:00:00", &serde_json::to_string(&worksheet).unwrap());
        (worksheet, text)
    }

    #[test]
    fn opens_what_it_sealed() {
        let (worksheet, text) = worksheet();
        assert_eq!(open("worksheet", FORMAT, &text), Ok((worksheet, vec![], 7)));
        assert_eq!(is_whole(&text), Some(true));
    }

    #[test]
    fn another_sign_anywhere_is_noticed() {
        let (_, text) = worksheet();
        for at in 0..text.len() {
            let mut bytes = text.clone().into_bytes();
            bytes[at] = if bytes[at] == b'7' { b'8' } else { b'7' };
            let damaged = String::from_utf8(bytes).unwrap();
            assert!(open::<Worksheet>("worksheet", FORMAT, &damaged).is_err(), "{damaged}");
        }
    }

    #[test]
    fn a_text_that_stops_early_is_noticed() {
        let (_, text) = worksheet();
        for end in 0..text.len() {
            assert!(open::<Worksheet>("worksheet", FORMAT, &text[..end]).is_err(), "{}", &text[..end]);
        }
    }

    #[test]
    fn refuses_something_else_and_newer_ones() {
        let text = r#"{"kerbworth":"shelf","envelope":1,"body":{}}"#;
        assert_eq!(open::<Worksheet>("worksheet", FORMAT, text).unwrap_err(), RestoreError::NotOurs);
        let text = r#"{"kerbworth":"worksheet","envelope":3,"body":{}}"#;
        assert!(matches!(open::<Worksheet>("worksheet", FORMAT, text), Err(RestoreError::Newer { found: 3, .. })));
        let text = r#"{"kerbworth":"worksheet","envelope":2,"body":{}}"#;
        assert_eq!(open::<Worksheet>("worksheet", FORMAT, text).unwrap_err(), RestoreError::Damaged);
        let text = r#"{"kerbworth":"worksheet","envelope":1,"body":{"format":9}}"#;
        assert!(matches!(open::<Worksheet>("worksheet", FORMAT, text), Err(RestoreError::Newer { found: 9, .. })));
    }

    /// Texts as version 1 stored them, before there was a sum: they are never written again, and always open.
    #[test]
    fn texts_of_version_1_open() {
        #[track_caller]
        fn opens<T: Restore>(what: &str, known: u32, text: &str) -> (T, u64) {
            let (body, unread, revision) = open::<T>(what, known, text).unwrap();
            assert_eq!(unread, []);
            (body, revision)
        }
        let (worksheet, revision) =
            opens::<Worksheet>("worksheet", FORMAT, include_str!("golden/worksheet-1.json").trim_end());
        assert_eq!((worksheet.title().as_str(), revision), ("1964 Halberd Plover", 12));
        assert_eq!(worksheet.findings.len(), 2);
        assert_eq!(worksheet.car.asked.unread(), Some("about 9k"));
        let (shelf, _) = opens::<shelf::Stored>("shelf", shelf::FORMAT, include_str!("golden/shelf-1.json").trim_end());
        assert_eq!((shelf.cards.len(), shelf.open.as_str()), (2, "3f9c51d07ab24e68"));
        let (ledger, revision) =
            opens::<Ledger>("ledger", ledger::FORMAT, include_str!("golden/ledger-1.json").trim_end());
        assert_eq!((ledger.sales.len(), revision), (1, 3));
        let (own, _) =
            opens::<TypeSheet>("type-sheet", sheet::FORMAT, include_str!("golden/type-sheet-1.json").trim_end());
        assert_eq!(own.extends.as_deref(), Some("general"));
        let (wanted, _) = opens::<crate::store::preferences::Preferences>(
            "preferences",
            crate::store::preferences::FORMAT,
            include_str!("golden/preferences-1.json").trim_end(),
        );
        assert_eq!(wanted.theme, crate::store::Theme::Sun);
    }
}
