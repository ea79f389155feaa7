//! What a person gave for a reading: kept in SI units, or as typed where it could not be read.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use crate::restore::{Restore, Trail, record};
use crate::units::{NumberError, NumberStyle, Unit};

use super::input::{InputSpec, Takes};

/// What was given for one field. In JSON: a number, an array of numbers, a string, or `{"unread": "…"}`.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum Given {
    /// A value in SI units.
    Number(f64),
    /// Values in SI units, in the order in which they were typed.
    Numbers(Vec<f64>),
    /// A text as it stands on the car.
    Text(String),
    /// What was typed where a number was wanted and none could be read: kept, so that nothing typed is lost.
    Unread(
        #[serde(serialize_with = "unread_text::serialize")]
        #[cfg_attr(feature = "schema", schemars(with = "unread_text::Unread"))]
        String,
    ),
}

impl Restore for Given {
    fn blank() -> Self {
        Self::Text(String::new())
    }

    fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool {
        let read = match json {
            Value::Number(number) => number.as_f64().map(Self::Number),
            Value::Array(list) => list.iter().map(Value::as_f64).collect::<Option<_>>().map(Self::Numbers),
            Value::String(text) => Some(Self::Text(text.clone())),
            Value::Object(object) if object.len() == 1 => {
                object.get("unread").and_then(Value::as_str).map(|text| Self::Unread(text.to_owned()))
            }
            Value::Null | Value::Bool(_) | Value::Object(_) => None,
        };
        trail.put(self, read, json, "a number, a list of numbers, a text, or {\"unread\": a text}")
    }
}

impl Given {
    /// Whether nothing was given after all.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        match self {
            Self::Number(_) => false,
            Self::Numbers(values) => values.is_empty(),
            Self::Text(text) | Self::Unread(text) => text.trim().is_empty(),
        }
    }
}

mod unread_text {
    use std::borrow::Cow;

    use serde::{Serialize, Serializer};

    #[derive(Serialize)]
    #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
    #[serde(deny_unknown_fields)]
    pub struct Unread<'a> {
        unread: Cow<'a, str>,
    }

    pub fn serialize<S: Serializer>(text: &str, serializer: S) -> Result<S::Ok, S::Error> {
        Unread { unread: Cow::Borrowed(text) }.serialize(serializer)
    }
}

/// A reading as a worksheet keeps it: what was given, by the input's name, and a note.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Reading {
    /// What was given, by [`InputSpec::name`].
    pub given: BTreeMap<String, Given>,
    /// What the person wrote beside it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
}

record! { Reading { given, note } }

impl Reading {
    /// The reading with one more field given.
    #[must_use]
    pub fn with(mut self, input: &str, given: Given) -> Self {
        self.given.insert(input.to_owned(), given);
        self
    }

    /// Whether nothing was given.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        self.given.values().all(Given::is_blank)
    }
}

/// Reads what was typed into a field. What cannot be read is kept as [`Given::Unread`], never lost.
///
/// Several numbers stand apart by spaces, semicolons, slashes or new lines. A `unit` of another quantity than
/// the field's is a slip of the caller; the quantity's SI unit is taken.
///
/// ```
/// use kerbworth_core::readings::{Given, Rule, read_typed};
/// use kerbworth_core::units::{NumberStyle, Unit};
/// let [dry, ..] = Rule::Compression.inputs() else { unreachable!() };
/// assert_eq!(read_typed(dry, "10; 9.5/9", Unit::Bar, NumberStyle::POINT), Given::Numbers(vec![1e6, 9.5e5, 9e5]));
/// assert_eq!(read_typed(dry, "ten", Unit::Bar, NumberStyle::POINT), Given::Unread("ten".to_owned()));
/// ```
#[must_use]
pub fn read_typed(input: &InputSpec, text: &str, unit: Unit, style: NumberStyle) -> Given {
    let read = match input.takes {
        Takes::Text => return Given::Text(text.to_owned()),
        Takes::Number(_) => unit_for(input, unit).read(text, style).map(Given::Number),
        Takes::Numbers(_) => read_several(text, unit_for(input, unit), style).map(Given::Numbers),
    };
    read.unwrap_or_else(|_| Given::Unread(text.to_owned()))
}

fn read_several(text: &str, unit: Unit, style: NumberStyle) -> Result<Vec<f64>, NumberError> {
    let values: Vec<f64> = text
        .split(|sign: char| sign.is_whitespace() || matches!(sign, ';' | '/'))
        .filter(|part| !part.is_empty())
        .map(|part| unit.read(part, style))
        .collect::<Result<_, _>>()?;
    if values.is_empty() { Err(NumberError::NoDigits) } else { Ok(values) }
}

/// What a field shows for what was given: the text that [`read_typed`] reads back to the same.
#[must_use]
pub fn show_given(input: &InputSpec, given: &Given, unit: Unit, style: NumberStyle) -> String {
    let show = |si: &f64| unit_for(input, unit).show_plain(*si, style);
    match given {
        Given::Number(si) => show(si),
        Given::Numbers(values) => values.iter().map(show).collect::<Vec<_>>().join(" "),
        Given::Text(text) | Given::Unread(text) => text.clone(),
    }
}

fn unit_for(input: &InputSpec, unit: Unit) -> Unit {
    match input.takes.quantity() {
        // One without a factor where there is one, as a sheet's limits have.
        Some(quantity) if unit.quantity() != quantity => {
            quantity.units().find(|unit| unit.to_si(1.0) == 1.0).or(quantity.units().next()).unwrap_or(unit)
        }
        _ => unit,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::readings::Rule;
    use crate::restore::exact;
    use proptest::prelude::*;
    use serde_json::json;

    #[test]
    fn json_is_number_array_string_or_unread() {
        let reading = Reading::default()
            .with("a", Given::Number(1.5))
            .with("b", Given::Numbers(vec![1.0, 2.0]))
            .with("c", Given::Text("165R15".to_owned()))
            .with("d", Given::Unread("12x".to_owned()));
        let json = serde_json::to_value(&reading).unwrap();
        assert_eq!(json.to_string(), r#"{"given":{"a":1.5,"b":[1.0,2.0],"c":"165R15","d":{"unread":"12x"}}}"#);
        assert_eq!(exact::<Reading>(&json), Some(reading));
        assert_eq!(exact::<Given>(&json!({"unread": "1", "more": 2})), None);
        assert_eq!(exact::<Given>(&json!([1, "2"])), None);
        assert_eq!(exact::<Given>(&Value::Null), None);
        assert_eq!(exact::<Reading>(&json!({})), Some(Reading::default()));
    }

    #[test]
    fn several_numbers_by_any_of_the_signs() {
        let [dry, ..] = Rule::Compression.inputs() else { panic!() };
        let want = Given::Numbers(vec![150e3, 148e3, 145.5e3]);
        for text in ["150 148 145.5", "150;148;145.5", "150/148/145.5", "150\n148\n145.5\n", " 150 ; 148, 145.5"] {
            assert_eq!(read_typed(dry, text, Unit::Kilopascal, NumberStyle::POINT), want, "{text:?}");
        }
        assert_eq!(read_typed(dry, "150;148;145,5", Unit::Kilopascal, NumberStyle::COMMA), want);
        for text in ["", " ; ", "150 x 148"] {
            assert_eq!(
                read_typed(dry, text, Unit::Kilopascal, NumberStyle::POINT),
                Given::Unread(text.to_owned()),
                "{text:?}"
            );
        }
    }

    #[test]
    fn a_unit_of_another_quantity_is_not_believed() {
        let [play, ..] = Rule::FreePlay.inputs() else { panic!() };
        assert_eq!(read_typed(play, "2", Unit::Psi, NumberStyle::POINT), Given::Number(2.0));
    }

    fn every_field() -> Vec<(InputSpec, Unit)> {
        let units = |input: &InputSpec| match input.takes.quantity() {
            Some(quantity) => quantity.units().collect(),
            None => vec![Unit::Each],
        };
        Rule::ALL
            .iter()
            .flat_map(|rule| rule.inputs())
            .flat_map(|input| units(input).into_iter().map(|unit| (*input, unit)))
            .collect()
    }

    proptest! {
        #[test]
        fn a_field_shows_what_it_read(
            hundredths in prop::collection::vec(0_i64..9_999_999, 1..8), comma: bool, place in 0_usize..10_000
        ) {
            let style = if comma { NumberStyle::COMMA } else { NumberStyle::POINT };
            let fields = every_field();
            let (input, unit) = &fields[place % fields.len()];
            let typed: Vec<String> = hundredths
                .iter()
                .map(|part| crate::units::number::show_short(*part as f64 / 100.0, 2, style))
                .collect();
            let count = if matches!(input.takes, Takes::Numbers(_)) { typed.len() } else { 1 };
            let typed = typed[..count].join(" ");
            let given = read_typed(input, &typed, *unit, style);
            prop_assert!(!matches!(given, Given::Unread(_)), "{typed} {unit:?}");
            let shown = show_given(input, &given, *unit, style);
            prop_assert_eq!(&shown, &typed);
            prop_assert_eq!(read_typed(input, &shown, *unit, style), given);
        }

        #[test]
        fn nothing_typed_is_lost(text in "\\PC{0,30}", place in 0_usize..10_000) {
            let fields = every_field();
            let (input, unit) = &fields[place % fields.len()];
            let given = read_typed(input, &text, *unit, NumberStyle::POINT);
            if matches!(given, Given::Unread(_) | Given::Text(_)) {
                prop_assert_eq!(show_given(input, &given, *unit, NumberStyle::POINT), text);
            }
        }
    }
}
