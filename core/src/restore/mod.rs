//! Reading data from outside: a file, a link, a store.
//!
//! One bad value sinks nothing. Each value that does not fit is taken out, kept as text with its place and
//! what is wrong, and the rest is read. What the types do not know is kept the same way. Nothing is trusted:
//! size and depth are bounded, and every field has a default.

mod reader;

use core::fmt;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use reader::{Step, Trail};

/// Most bytes that are looked at: many times a full worksheet.
pub const MOST_BYTES: usize = 4_000_000;

/// Most values that may be wrong before the whole is given up.
pub const MOST_UNREAD: usize = 200;

/// A value that could not be read, kept as it was.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
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
        }
    }
}

impl core::error::Error for RestoreError {}

/// Reads a value from JSON text, keeping apart what does not fit.
///
/// `known` is the newest format that this build reads; a text without a `format` is taken to be of that one.
///
/// # Errors
/// [`RestoreError`] if the text cannot be read at all.
pub fn restore<T: DeserializeOwned>(text: &str, known: u32) -> Result<(T, Vec<Unread>), RestoreError> {
    if text.len() > MOST_BYTES {
        return Err(RestoreError::TooLarge { bytes: text.len() });
    }
    let json: Value = serde_json::from_str(text).map_err(|error| RestoreError::NotJson {
        line: error.line(),
        column: error.column(),
        why: error.to_string(),
    })?;
    restore_value(json, known)
}

/// The same, from JSON already parsed.
///
/// # Errors
/// [`RestoreError`] if it cannot be read at all.
pub fn restore_value<T: DeserializeOwned>(mut json: Value, known: u32) -> Result<(T, Vec<Unread>), RestoreError> {
    let object = json.as_object().ok_or(RestoreError::NotAnObject)?;
    if let Some(found) = object.get("format").and_then(Value::as_u64)
        && found > u64::from(known)
    {
        return Err(RestoreError::Newer { found, known });
    }
    let mut unread = Vec::new();
    let mut taken = Vec::new();
    loop {
        let trail = Trail::default();
        let wrong = match trail.read::<T>(&json) {
            Ok(value) => {
                unread.extend(trail.into_ignored().iter().filter_map(|steps| {
                    let found = steps.iter().try_fold(&json, |here, step| step.get(here))?;
                    let place = written(&original_steps(steps, &taken));
                    Some(Unread { place, text: found.to_string(), why: "not known to this format".to_owned() })
                }));
                return Ok((value, unread));
            }
            Err(wrong) => wrong,
        };
        if unread.len() >= MOST_UNREAD {
            return Err(RestoreError::NotOurs);
        }
        let Some((place, value)) = take(&mut json, &trail.failed(), &mut taken) else {
            return Err(RestoreError::NotOurs);
        };
        unread.push(Unread { place, text: value.to_string(), why: wrong.to_string() });
    }
}

/// Reads one value that must fit as it is; nothing if it does not.
pub(crate) fn exact<T: DeserializeOwned>(json: &Value) -> Option<T> {
    Trail::default().read(json).ok()
}

impl Step {
    fn get<'a>(&self, json: &'a Value) -> Option<&'a Value> {
        match self {
            Self::Key(key) => json.get(key),
            Self::Index(index) => json.get(index),
        }
    }

    fn into<'a>(&self, json: &'a mut Value) -> Option<&'a mut Value> {
        match self {
            Self::Key(key) => json.get_mut(key),
            Self::Index(index) => json.get_mut(index),
        }
    }
}

/// Takes out the value at the end of the steps, or the deepest one on the way that exists. Gives its place in
/// the text as it came: list positions are corrected for what `taken` says was taken out before.
fn take(json: &mut Value, steps: &[Step], taken: &mut Vec<Vec<Step>>) -> Option<(String, Value)> {
    let mut reach = 0;
    let mut here = &mut *json;
    for step in steps {
        match step.into(here) {
            Some(next) => here = next,
            None => break,
        }
        reach += 1;
    }
    let (last, way) = steps.get(..reach)?.split_last()?;
    let mut parent = json;
    for step in way {
        parent = step.into(parent)?;
    }
    let value = match (last, parent) {
        (Step::Key(key), Value::Object(object)) => object.remove(key)?,
        (Step::Index(index), Value::Array(list)) if *index < list.len() => list.remove(*index),
        _ => return None,
    };
    let original = original_steps(steps.get(..reach)?, taken);
    let place = written(&original);
    if matches!(last, Step::Index(_)) {
        taken.push(original);
    }
    Some((place, value))
}

/// The steps as they were before anything was taken out of the lists on the way.
fn original_steps(steps: &[Step], taken: &[Vec<Step>]) -> Vec<Step> {
    let mut original: Vec<Step> = Vec::with_capacity(steps.len());
    for step in steps {
        let step = match step {
            Step::Key(key) => Step::Key(key.clone()),
            Step::Index(index) => {
                let mut gone: Vec<usize> = taken
                    .iter()
                    .filter_map(|path| match path.split_last() {
                        Some((Step::Index(index), way)) if way == original.as_slice() => Some(*index),
                        _ => None,
                    })
                    .collect();
                gone.sort_unstable();
                Step::Index(gone.into_iter().fold(*index, |place, gone| if gone <= place { place + 1 } else { place }))
            }
        };
        original.push(step);
    }
    original
}

/// The place in words: `sales[2].price`.
fn written(steps: &[Step]) -> String {
    let mut place = String::new();
    for step in steps {
        match step {
            Step::Key(key) if place.is_empty() => place.push_str(key),
            Step::Key(key) => {
                place.push('.');
                place.push_str(key);
            }
            Step::Index(index) => place.push_str(&format!("[{index}]")),
        }
    }
    place
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::worksheet::{FORMAT, Look, Worksheet};
    use proptest::prelude::*;

    fn places(text: &str) -> Vec<String> {
        let (_, unread) = restore::<Worksheet>(text, FORMAT).unwrap();
        unread.into_iter().map(|unread| unread.place).collect()
    }

    #[test]
    fn one_bad_value_sinks_nothing() {
        let text = r#"{"format":1,"id":"a","findings":{
            "sills":{"look":{"grade":"horrible"},"note":"soft"},
            "hood":{"look":{"grade":"slight"}}}}"#;
        let (worksheet, unread) = restore::<Worksheet>(text, FORMAT).unwrap();
        assert_eq!(worksheet.findings["sills"].note, "soft");
        assert_eq!(worksheet.findings["hood"].look, Some(Look::Grade(crate::grade::Grade::Slight)));
        assert_eq!(unread.len(), 1);
        assert!(unread[0].place.starts_with("findings.sills.look"), "{}", unread[0].place);
        assert!(unread[0].text.contains("horrible"));
    }

    #[test]
    fn places_in_lists_are_those_of_the_text() {
        let text = r#"{"sales":[{"id":"a","kind":1},7,{"id":"b"},"x",{"id":"c","kind":"barter"}]}"#;
        assert_eq!(places(text), ["sales[0].kind", "sales[1]", "sales[3]", "sales[4].kind"]);
    }

    #[test]
    fn what_is_not_known_is_kept() {
        let (_, unread) =
            restore::<Worksheet>(r#"{"sales":[1,{"id":"a","colour":"red"}],"mood":{"is":"good"}}"#, FORMAT).unwrap();
        let said: Vec<String> = unread.iter().map(ToString::to_string).collect();
        assert_eq!(
            said[1..],
            [
                "mood: not known to this format (found {\"is\":\"good\"})",
                "sales[1].colour: not known to this format (found \"red\")",
            ]
        );
    }

    #[test]
    fn an_unreadable_entry_is_kept_in_its_field() {
        let (worksheet, unread) = restore::<Worksheet>(r#"{"car":{"year":"sixty-seven"}}"#, FORMAT).unwrap();
        assert_eq!(worksheet.car.year.unread(), Some("sixty-seven"));
        assert_eq!(unread, []);
    }

    #[test]
    fn says_why_the_whole_cannot_be_read() {
        let error = |text: &str| restore::<Worksheet>(text, FORMAT).unwrap_err().to_string();
        assert_eq!(error("{\"a\":1,}"), "line 1, column 8: not JSON: trailing comma at line 1 column 8");
        assert_eq!(error("[]"), "not a file of this kind: it should begin with “{”");
        assert_eq!(
            error("{\"format\":99}"),
            "made by a newer Kerbworth (format 99; this one reads up to 1); update, then open it again"
        );
        let deep = "[".repeat(200) + &"]".repeat(200);
        assert!(error(&format!("{{\"sales\":{deep}}}")).contains("recursion"));
    }

    fn json() -> impl Strategy<Value = Value> {
        let leaf = prop_oneof![
            Just(Value::Null),
            any::<bool>().prop_map(Value::from),
            any::<i64>().prop_map(Value::from),
            "[a-z]{0,6}".prop_map(Value::from),
        ];
        let key = prop_oneof![
            Just("findings".to_owned()),
            Just("sales".to_owned()),
            Just("car".to_owned()),
            Just("look".to_owned()),
            Just("settings".to_owned()),
            Just("exchange".to_owned()),
            Just("lamps".to_owned()),
            "[a-z]{1,5}",
        ];
        leaf.prop_recursive(4, 40, 6, move |inner| {
            prop_oneof![
                prop::collection::vec(inner.clone(), 0..5).prop_map(Value::from),
                prop::collection::btree_map(key.clone(), inner, 0..6)
                    .prop_map(|map| Value::Object(map.into_iter().collect())),
            ]
        })
    }

    proptest! {
        #[test]
        fn any_json_is_read_or_refused(json in json()) {
            if let Ok((worksheet, _)) = restore_value::<Worksheet>(json, FORMAT) {
                // What was read can be written and read again without a loss.
                let text = serde_json::to_string(&worksheet).unwrap();
                let (again, unread) = restore::<Worksheet>(&text, FORMAT).unwrap();
                prop_assert_eq!(again, worksheet);
                prop_assert_eq!(unread, []);
            }
        }
    }
}
