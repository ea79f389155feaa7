//! One field's content: nothing, a value, or a text that could not be read as one.

use serde::{Serialize, Serializer};
use serde_json::Value;

use crate::restore::{self, Restore, Trail};

/// What a person put in a field. The unread text is data like any other: it is stored, shown again and waits
/// to be mended.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Entry<T> {
    /// Nothing.
    #[default]
    Empty,
    /// A value.
    Read(T),
    /// A text that is not a value of this kind, as it was typed.
    Unread(String),
}

impl<T> Entry<T> {
    /// Whether there is nothing in it.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        matches!(self, Self::Empty)
    }

    /// The value, if there is one.
    #[must_use]
    pub const fn read(&self) -> Option<&T> {
        match self {
            Self::Read(value) => Some(value),
            Self::Empty | Self::Unread(_) => None,
        }
    }

    /// The text that could not be read, if there is one.
    #[must_use]
    pub fn unread(&self) -> Option<&str> {
        match self {
            Self::Unread(text) => Some(text),
            Self::Empty | Self::Read(_) => None,
        }
    }

    /// What a typed text is: nothing if it is blank, a value if `parse` reads it, else kept as it is.
    pub fn typed<E>(text: &str, parse: impl FnOnce(&str) -> Result<T, E>) -> Self {
        if text.trim().is_empty() {
            return Self::Empty;
        }
        parse(text).map_or_else(|_| Self::Unread(text.to_owned()), Self::Read)
    }
}

impl<T: Copy> Entry<T> {
    /// The value, if there is one, copied.
    #[must_use]
    pub fn value(&self) -> Option<T> {
        self.read().copied()
    }
}

impl<T> From<Option<T>> for Entry<T> {
    fn from(value: Option<T>) -> Self {
        value.map_or(Self::Empty, Self::Read)
    }
}

impl<T> From<T> for Entry<T> {
    fn from(value: T) -> Self {
        Self::Read(value)
    }
}

/// `null`, the value itself, or `{"unread": "…"}`.
impl<T: Serialize> Serialize for Entry<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Empty => serializer.serialize_none(),
            Self::Read(value) => value.serialize(serializer),
            Self::Unread(text) => serializer.collect_map([("unread", text)]),
        }
    }
}

/// Never fails: what is not a value of the kind is kept as its text.
impl<T: Restore> Restore for Entry<T> {
    fn blank() -> Self {
        Self::Empty
    }

    fn restore(&mut self, json: &Value, _: &mut Trail) -> bool {
        *self = match kept(json) {
            None => Self::Empty,
            Some(Kept::Typed(text)) => Self::Unread(text),
            Some(Kept::Value) => restore::exact(json).map_or_else(|| Self::Unread(text_of(json)), Self::Read),
        };
        true
    }
}

/// What stands in the JSON of an entry, if not nothing.
enum Kept {
    Typed(String),
    Value,
}

fn kept(json: &Value) -> Option<Kept> {
    if json.is_null() {
        return None;
    }
    Some(json.get("unread").and_then(Value::as_str).map_or(Kept::Value, |text| Kept::Typed(text.to_owned())))
}

fn text_of(json: &Value) -> String {
    json.as_str().map_or_else(|| json.to_string(), ToOwned::to_owned)
}

#[cfg(feature = "schema")]
impl<T: schemars::JsonSchema> schemars::JsonSchema for Entry<T> {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        format!("EntryOf{}", T::schema_name()).into()
    }
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let value = generator.subschema_for::<T>();
        schemars::json_schema!({
            "description": "A value, nothing, or a text that could not be read as one.",
            "anyOf": [
                value,
                { "type": "null" },
                { "type": "object", "properties": { "unread": { "type": "string" } }, "required": ["unread"] }
            ]
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Date, Money};

    #[test]
    fn keeps_what_it_cannot_read() {
        let read = |json: &str| restore::exact::<Entry<Money>>(&serde_json::from_str(json).unwrap()).unwrap();
        assert_eq!(read("1250"), Entry::Read(Money(1250)));
        assert_eq!(read("null"), Entry::Empty);
        assert_eq!(read("\"about 12\""), Entry::Unread("about 12".to_owned()));
        assert_eq!(read("[1,2]"), Entry::Unread("[1,2]".to_owned()));
        assert_eq!(read("{\"unread\":\"12k\"}"), Entry::Unread("12k".to_owned()));
    }

    #[test]
    fn stores_and_reads_back() {
        for entry in [Entry::Empty, Entry::Read(Date::parse("2026-10-04").unwrap()), Entry::Unread("spring".to_owned())]
        {
            let json = serde_json::to_value(&entry).unwrap();
            assert_eq!(restore::exact::<Entry<Date>>(&json), Some(entry), "{json}");
        }
    }

    #[test]
    fn a_blank_field_is_empty_not_wrong() {
        assert_eq!(Entry::<f64>::typed("  ", str::parse), Entry::Empty);
        assert_eq!(Entry::typed("2.5", str::parse::<f64>), Entry::Read(2.5));
        assert_eq!(Entry::typed("2,5x", str::parse::<f64>), Entry::Unread("2,5x".to_owned()));
    }
}
