//! One field's content: nothing, a value, or a text that could not be read as one.

use serde::de::DeserializeOwned;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::Value;

use crate::restore;

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

/// Never fails on well-formed JSON: what is not a value of the kind is kept as its text.
impl<'de, T: DeserializeOwned> Deserialize<'de> for Entry<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let json = Value::deserialize(deserializer)?;
        if json.is_null() {
            return Ok(Self::Empty);
        }
        if let Some(text) = json.get("unread").and_then(Value::as_str) {
            return Ok(Self::Unread(text.to_owned()));
        }
        let text = json.as_str().map_or_else(|| json.to_string(), ToOwned::to_owned);
        Ok(restore::exact(&json).map_or(Self::Unread(text), Self::Read))
    }
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
        let read = |json: &str| serde_json::from_str::<Entry<Money>>(json).unwrap();
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
            let json = serde_json::to_string(&entry).unwrap();
            assert_eq!(serde_json::from_str::<Entry<Date>>(&json).unwrap(), entry, "{json}");
        }
    }

    #[test]
    fn a_blank_field_is_empty_not_wrong() {
        assert_eq!(Entry::<f64>::typed("  ", str::parse), Entry::Empty);
        assert_eq!(Entry::typed("2.5", str::parse::<f64>), Entry::Read(2.5));
        assert_eq!(Entry::typed("2,5x", str::parse::<f64>), Entry::Unread("2,5x".to_owned()));
    }
}
