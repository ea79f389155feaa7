//! Serde's data model over a JSON value, noting where an error was and what the types do not know.
//!
//! `serde_json`'s own reader with `serde_path_to_error` and `serde_ignored` around it does the same, and was used
//! first: three generic layers compiled for each of some sixty types made over a third of the program. This is
//! one concrete type, and it asks a type only for what the type can be.

use core::cell::RefCell;
use core::fmt::{self, Display};

use serde::de::{
    self, Deserialize, DeserializeSeed, Deserializer, EnumAccess, IntoDeserializer as _, MapAccess, SeqAccess,
    Unexpected, VariantAccess, Visitor,
};
use serde::forward_to_deserialize_any;
use serde_json::{Map, Value};

/// One step of the way from the root to a value.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// A field or key of an object.
    Key(String),
    /// A place in a list, from 0.
    Index(usize),
}

/// What is wrong with a value, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wrong(String);

impl Display for Wrong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl core::error::Error for Wrong {}

impl de::Error for Wrong {
    fn custom<T: Display>(message: T) -> Self {
        Self(message.to_string())
    }
}

/// Where the reading is, where it failed, and what it passed over.
#[derive(Debug, Default)]
pub struct Trail {
    here: RefCell<Vec<Step>>,
    failed: RefCell<Option<Vec<Step>>>,
    ignored: RefCell<Vec<Vec<Step>>>,
}

impl Trail {
    /// Reads a value, leaving notes here.
    ///
    /// # Errors
    /// What is wrong; [`Trail::failed`] says where.
    pub fn read<'a, T: Deserialize<'a>>(&'a self, value: &'a Value) -> Result<T, Wrong> {
        T::deserialize(Reader { value, trail: self })
    }

    /// Where the reading failed.
    pub fn failed(&self) -> Vec<Step> {
        self.failed.borrow().clone().unwrap_or_default()
    }

    /// What the types did not know.
    pub fn into_ignored(self) -> Vec<Vec<Step>> {
        self.ignored.into_inner()
    }

    /// Reads one step further down.
    fn down<T>(&self, step: Step, read: impl FnOnce() -> Result<T, Wrong>) -> Result<T, Wrong> {
        self.here.borrow_mut().push(step);
        let read = read();
        if read.is_err() {
            let mut failed = self.failed.borrow_mut();
            if failed.is_none() {
                *failed = Some(self.here.borrow().clone());
            }
        }
        self.here.borrow_mut().pop();
        read
    }
}

/// A value to be read.
#[derive(Clone, Copy)]
struct Reader<'a> {
    value: &'a Value,
    trail: &'a Trail,
}

impl<'a> Reader<'a> {
    fn wrong<T>(self, visitor: &dyn de::Expected) -> Result<T, Wrong> {
        let found = match self.value {
            Value::Null => Unexpected::Unit,
            Value::Bool(is) => Unexpected::Bool(*is),
            Value::Number(_) => Unexpected::Other("a number"),
            Value::String(text) => Unexpected::Str(text),
            Value::Array(_) => Unexpected::Seq,
            Value::Object(_) => Unexpected::Map,
        };
        Err(de::Error::invalid_type(found, visitor))
    }

    fn list<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
        match self.value {
            Value::Array(list) => {
                let mut elements = Elements { list, next: 0, trail: self.trail };
                let read = visitor.visit_seq(&mut elements)?;
                if elements.next < list.len() {
                    return Err(de::Error::invalid_length(list.len(), &"fewer elements"));
                }
                Ok(read)
            }
            _ => self.wrong(&visitor),
        }
    }

    fn object<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
        match self.value {
            Value::Object(object) => visitor.visit_map(Fields::new(object, self.trail)),
            _ => self.wrong(&visitor),
        }
    }

    fn whole<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
        let Value::Number(number) = self.value else { return self.wrong(&visitor) };
        match (number.as_i64(), number.as_u64()) {
            (Some(whole), _) => visitor.visit_i64(whole),
            (None, Some(whole)) => visitor.visit_u64(whole),
            (None, None) => self.wrong(&visitor),
        }
    }

    fn text<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
        match self.value {
            Value::String(text) => visitor.visit_str(text),
            _ => self.wrong(&visitor),
        }
    }
}

/// Forwards methods of a deserializer to one of the reader's few ways of reading.
macro_rules! read_as {
    ($way:ident: $($method:ident)*) => {
        $(
            fn $method<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
                self.$way(visitor)
            }
        )*
    };
}

impl<'a> Deserializer<'a> for Reader<'a> {
    type Error = Wrong;

    read_as!(whole: deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64);
    read_as!(whole: deserialize_u8 deserialize_u16 deserialize_u32 deserialize_u64);
    read_as!(text: deserialize_str deserialize_string deserialize_identifier deserialize_char);
    read_as!(list: deserialize_seq);
    read_as!(object: deserialize_map);

    forward_to_deserialize_any! { <V: Visitor<'a>> i128 u128 bytes byte_buf unit unit_struct }

    fn deserialize_any<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
        match self.value {
            Value::Null => visitor.visit_unit(),
            Value::Bool(is) => visitor.visit_bool(*is),
            Value::Number(number) if number.is_f64() => self.deserialize_f64(visitor),
            Value::Number(_) => self.whole(visitor),
            Value::String(text) => visitor.visit_str(text),
            Value::Array(_) => self.list(visitor),
            Value::Object(_) => self.object(visitor),
        }
    }

    fn deserialize_bool<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
        match self.value {
            Value::Bool(is) => visitor.visit_bool(*is),
            _ => self.wrong(&visitor),
        }
    }

    fn deserialize_f32<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
        self.deserialize_f64(visitor)
    }

    fn deserialize_f64<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
        match self.value.as_f64() {
            Some(number) => visitor.visit_f64(number),
            None => self.wrong(&visitor),
        }
    }

    fn deserialize_option<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
        if self.value.is_null() { visitor.visit_none() } else { visitor.visit_some(self) }
    }

    fn deserialize_newtype_struct<V: Visitor<'a>>(self, _: &'static str, visitor: V) -> Result<V::Value, Wrong> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_tuple<V: Visitor<'a>>(self, _: usize, visitor: V) -> Result<V::Value, Wrong> {
        self.list(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'a>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        self.list(visitor)
    }

    fn deserialize_struct<V: Visitor<'a>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        self.object(visitor)
    }

    fn deserialize_enum<V: Visitor<'a>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Wrong> {
        match self.value {
            Value::String(name) => visitor.visit_enum(Variant { name, content: None, trail: self.trail }),
            Value::Object(object) => {
                let mut fields = object.iter();
                match (fields.next(), fields.next()) {
                    (Some((name, content)), None) => {
                        visitor.visit_enum(Variant { name, content: Some(content), trail: self.trail })
                    }
                    _ => Err(de::Error::invalid_value(Unexpected::Map, &"an object with one field")),
                }
            }
            _ => self.wrong(&visitor),
        }
    }

    fn deserialize_ignored_any<V: Visitor<'a>>(self, visitor: V) -> Result<V::Value, Wrong> {
        self.trail.ignored.borrow_mut().push(self.trail.here.borrow().clone());
        visitor.visit_unit()
    }
}

/// The elements of a list, one after the other.
struct Elements<'a> {
    list: &'a [Value],
    next: usize,
    trail: &'a Trail,
}

impl<'a> SeqAccess<'a> for &mut Elements<'a> {
    type Error = Wrong;

    fn next_element_seed<T: DeserializeSeed<'a>>(&mut self, seed: T) -> Result<Option<T::Value>, Wrong> {
        let Some(value) = self.list.get(self.next) else { return Ok(None) };
        let (trail, index) = (self.trail, self.next);
        self.next += 1;
        trail.down(Step::Index(index), || seed.deserialize(Reader { value, trail })).map(Some)
    }
}

/// The fields of an object, one after the other.
struct Fields<'a> {
    fields: serde_json::map::Iter<'a>,
    now: Option<(&'a str, &'a Value)>,
    trail: &'a Trail,
}

impl<'a> Fields<'a> {
    fn new(object: &'a Map<String, Value>, trail: &'a Trail) -> Self {
        Self { fields: object.iter(), now: None, trail }
    }
}

impl<'a> MapAccess<'a> for Fields<'a> {
    type Error = Wrong;

    fn next_key_seed<K: DeserializeSeed<'a>>(&mut self, seed: K) -> Result<Option<K::Value>, Wrong> {
        let Some((name, value)) = self.fields.next() else { return Ok(None) };
        self.now = Some((name, value));
        self.trail.down(Step::Key(name.clone()), || seed.deserialize(name.as_str().into_deserializer())).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'a>>(&mut self, seed: V) -> Result<V::Value, Wrong> {
        let Some((name, value)) = self.now.take() else { return Err(de::Error::custom("a value before its key")) };
        let trail = self.trail;
        trail.down(Step::Key(name.to_owned()), || seed.deserialize(Reader { value, trail }))
    }
}

/// A variant of an enum, with its content if it has one.
struct Variant<'a> {
    name: &'a str,
    content: Option<&'a Value>,
    trail: &'a Trail,
}

impl<'a> EnumAccess<'a> for Variant<'a> {
    type Error = Wrong;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'a>>(self, seed: V) -> Result<(V::Value, Self), Wrong> {
        seed.deserialize(self.name.into_deserializer()).map(|variant| (variant, self))
    }
}

impl<'a> Variant<'a> {
    /// What is wrong inside a variant is wrong with the whole of it: without its content it could not stand. So
    /// the trail does not go further down here.
    fn reader(&self, wanted: &'static str) -> Result<Reader<'a>, Wrong> {
        let value = self.content.ok_or_else(|| de::Error::invalid_type(Unexpected::UnitVariant, &wanted))?;
        Ok(Reader { value, trail: self.trail })
    }
}

impl<'a> VariantAccess<'a> for Variant<'a> {
    type Error = Wrong;

    fn unit_variant(self) -> Result<(), Wrong> {
        match self.content {
            None => Ok(()),
            Some(_) => Err(de::Error::invalid_type(Unexpected::NewtypeVariant, &"a word alone")),
        }
    }

    fn newtype_variant_seed<T: DeserializeSeed<'a>>(self, seed: T) -> Result<T::Value, Wrong> {
        seed.deserialize(self.reader("a variant with content")?)
    }

    fn tuple_variant<V: Visitor<'a>>(self, _: usize, visitor: V) -> Result<V::Value, Wrong> {
        self.reader("a variant with a list")?.list(visitor)
    }

    fn struct_variant<V: Visitor<'a>>(self, _: &'static [&'static str], visitor: V) -> Result<V::Value, Wrong> {
        self.reader("a variant with fields")?.object(visitor)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use proptest::prelude::*;
    use serde::Serialize;

    #[derive(Debug, Clone, PartialEq, Serialize, serde::Deserialize)]
    #[serde(rename_all = "kebab-case")]
    enum Kind {
        Plain,
        With(u8),
        Pair(i32, String),
        Named { at: Option<f64> },
    }

    #[derive(Debug, PartialEq, Serialize, serde::Deserialize)]
    struct All {
        text: String,
        whole: i64,
        large: u64,
        real: f64,
        is: bool,
        maybe: Option<u32>,
        kinds: Vec<Kind>,
        map: BTreeMap<String, (u8, bool)>,
        any: Value,
    }

    fn kind() -> impl Strategy<Value = Kind> {
        prop_oneof![
            Just(Kind::Plain),
            any::<u8>().prop_map(Kind::With),
            (any::<i32>(), ".{0,4}").prop_map(|(number, text)| Kind::Pair(number, text)),
            prop::option::of(-1e9..1e9_f64).prop_map(|at| Kind::Named { at }),
        ]
    }

    proptest! {
        /// The twin: what serde_json's own reader makes of the same value.
        #[test]
        fn reads_as_serde_json_does(
            (text, whole, large) in (".{0,6}", any::<i64>(), any::<u64>()),
            (real, is, maybe) in (-1e12..1e12_f64, any::<bool>(), any::<Option<u32>>()),
            kinds in prop::collection::vec(kind(), 0..4),
            map in prop::collection::btree_map("[a-z]{1,3}", (any::<u8>(), any::<bool>()), 0..4),
        ) {
            let all = All { text, whole, large, real, is, maybe, kinds, map, any: serde_json::json!({"a": [1, 2.5, null]}) };
            let json = serde_json::to_value(&all).unwrap();
            prop_assert_eq!(Trail::default().read::<All>(&json), Ok(all));
        }

        #[test]
        fn refuses_what_serde_json_refuses(json in prop_oneof![
            Just(serde_json::json!(null)), Just(serde_json::json!([1])), Just(serde_json::json!("x")),
            Just(serde_json::json!(300)), Just(serde_json::json!(-1)), Just(serde_json::json!(1.5)),
            Just(serde_json::json!({"with": 3})), Just(serde_json::json!({"with": 300})),
            Just(serde_json::json!({"pair": [1]})), Just(serde_json::json!({"pair": [1, "a", 2]})),
            Just(serde_json::json!({"plain": 1})), Just(serde_json::json!({"a": 1, "b": 2})),
        ]) {
            let trail = Trail::default();
            prop_assert_eq!(trail.read::<u8>(&json).ok(), u8::deserialize(&json).ok());
            prop_assert_eq!(trail.read::<Kind>(&json).ok(), Kind::deserialize(&json).ok());
            prop_assert_eq!(trail.read::<Vec<u8>>(&json).ok(), Vec::<u8>::deserialize(&json).ok());
            prop_assert_eq!(trail.read::<Option<String>>(&json).ok(), Option::<String>::deserialize(&json).ok());
        }
    }

    #[test]
    fn notes_where_it_failed_and_what_it_passed_over() {
        let json = serde_json::json!({"a": {"b": [1, 2, "x"]}});
        let trail = Trail::default();
        let read = trail.read::<BTreeMap<String, BTreeMap<String, Vec<u8>>>>(&json);
        assert_eq!(read.unwrap_err().to_string(), "invalid type: string \"x\", expected u8");
        assert_eq!(trail.failed(), [Step::Key("a".into()), Step::Key("b".into()), Step::Index(2)]);
    }
}
