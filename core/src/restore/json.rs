//! JSON from its text (RFC 8259), within bounds.
//!
//! Our own for two reasons. The JSON library reads a number to within a digit or two of its last, and exactly only at a cost of
//! 7 KB, so that a file that is saved and opened over and over would drift; here the standard library reads it, which is exact and
//! in the program anyway. And a text may say in two bytes what takes hundreds in memory: here each value is counted. The library
//! is the oracle of the tests, and still writes.

use serde_json::{Map, Number, Value};

/// Deepest that values may lie in each other; a stored type sheet needs twelve.
pub const DEEPEST: u32 = 60;

/// What an object counts for beside its fields: with one field it takes some 640 bytes, where a number in a list takes 32.
const OBJECT: u32 = 10;

/// Where and why a text is not JSON, or too much of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fault {
    /// The byte at which it shows.
    pub at: usize,
    /// What is wrong.
    pub why: &'static str,
}

impl Fault {
    /// Line and column, from 1.
    pub fn place(self, text: &str) -> (usize, usize) {
        let before = text.as_bytes().get(..self.at).unwrap_or_default();
        let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
        (line, before.iter().rev().take_while(|byte| **byte != b'\n').count() + 1)
    }
}

/// Said where there are more values than are read.
pub const TOO_MANY: &str = "there are more values than a file of this kind can have";

/// The value that a text is, if it has no more than so many values, an object counting for [`OBJECT`] more.
///
/// # Errors
/// [`Fault`].
pub fn parse(text: &str, values: u32) -> Result<Value, Fault> {
    let mut reader = Reader { text, at: 0, left: values };
    let value = reader.value(0)?;
    if reader.next().is_some() { Err(reader.fault("nothing may follow the value")) } else { Ok(value) }
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    left: u32,
}

impl Reader<'_> {
    const fn fault(&self, why: &'static str) -> Fault {
        Fault { at: self.at, why }
    }

    fn byte(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    /// The next byte that is not space.
    fn next(&mut self) -> Option<u8> {
        while matches!(self.byte(), Some(b' ' | b'\t' | b'\n' | b'\r')) {
            self.at += 1;
        }
        self.byte()
    }

    /// Whether this sign comes next, which is then passed.
    fn has(&mut self, sign: u8) -> bool {
        let has = self.next() == Some(sign);
        self.at += usize::from(has);
        has
    }

    fn count(&mut self, values: u32) -> Result<(), Fault> {
        self.left = self.left.checked_sub(values).ok_or(self.fault(TOO_MANY))?;
        Ok(())
    }

    fn value(&mut self, depth: u32) -> Result<Value, Fault> {
        self.count(1)?;
        if depth > DEEPEST {
            return Err(self.fault("values lie deeper in each other than those of any file of this kind"));
        }
        match self.next() {
            Some(b'{') => self.object(depth),
            Some(b'[') => self.list(depth),
            Some(b'"') => Ok(Value::String(self.string()?)),
            Some(b'-' | b'0'..=b'9') => self.number(),
            _ => self.word(),
        }
    }

    fn object(&mut self, depth: u32) -> Result<Value, Fault> {
        self.count(OBJECT)?;
        let mut fields = Map::new();
        self.at += 1;
        if self.has(b'}') {
            return Ok(Value::Object(fields));
        }
        loop {
            if self.next() != Some(b'"') {
                return Err(self.fault("a name in quotes should stand here"));
            }
            let name = self.string()?;
            if !self.has(b':') {
                return Err(self.fault("a colon should stand here"));
            }
            fields.insert(name, self.value(depth + 1)?);
            if self.has(b'}') {
                return Ok(Value::Object(fields));
            }
            if !self.has(b',') {
                return Err(self.fault("a comma or a closing brace should stand here"));
            }
        }
    }

    fn list(&mut self, depth: u32) -> Result<Value, Fault> {
        let mut list = Vec::new();
        self.at += 1;
        if self.has(b']') {
            return Ok(Value::Array(list));
        }
        loop {
            list.push(self.value(depth + 1)?);
            if self.has(b']') {
                return Ok(Value::Array(list));
            }
            if !self.has(b',') {
                return Err(self.fault("a comma or a closing bracket should stand here"));
            }
        }
    }

    fn word(&mut self) -> Result<Value, Fault> {
        let rest = self.text.get(self.at..).unwrap_or_default();
        for (word, value) in [("null", Value::Null), ("true", Value::Bool(true)), ("false", Value::Bool(false))] {
            if rest.starts_with(word) {
                self.at += word.len();
                return Ok(value);
            }
        }
        Err(self.fault("a value should stand here"))
    }

    fn digits(&mut self) -> Result<(), Fault> {
        let from = self.at;
        while matches!(self.byte(), Some(b'0'..=b'9')) {
            self.at += 1;
        }
        if self.at == from { Err(self.fault("a digit should stand here")) } else { Ok(()) }
    }

    /// A number; one that is beyond all that can be reckoned with stays the text that it is.
    fn number(&mut self) -> Result<Value, Fault> {
        let from = self.at;
        self.at += usize::from(self.byte() == Some(b'-'));
        if self.byte() == Some(b'0') {
            self.at += 1;
        } else {
            self.digits()?;
        }
        if self.byte() == Some(b'.') {
            self.at += 1;
            self.digits()?;
        }
        if matches!(self.byte(), Some(b'e' | b'E')) {
            self.at += 1;
            self.at += usize::from(matches!(self.byte(), Some(b'+' | b'-')));
            self.digits()?;
        }
        let text = self.text.get(from..self.at).unwrap_or_default();
        let whole = text.parse::<u64>().map(Number::from).or_else(|_| text.parse::<i64>().map(Number::from));
        // Minus nothing is no whole number, and whole ones of more than 64 bits are taken as they can be.
        let number = whole.ok().filter(|_| text != "-0").or_else(|| Number::from_f64(text.parse().ok()?));
        Ok(number.map_or_else(|| Value::from(text), Value::Number))
    }

    fn string(&mut self) -> Result<String, Fault> {
        let mut out = String::new();
        self.at += 1;
        loop {
            let from = self.at;
            while self.byte().is_some_and(|byte| byte >= b' ' && byte != b'"' && byte != b'\\') {
                self.at += 1;
            }
            out.push_str(self.text.get(from..self.at).unwrap_or_default());
            match self.byte() {
                Some(b'"') => {
                    self.at += 1;
                    return Ok(out);
                }
                Some(b'\\') => {
                    self.at += 1;
                    out.push(self.escaped()?);
                }
                Some(_) => return Err(self.fault("this sign may not stand in a text as it is")),
                None => return Err(self.fault("the text in quotes has no end")),
            }
        }
    }

    fn escaped(&mut self) -> Result<char, Fault> {
        let sign = self.byte().and_then(|byte| {
            Some(match byte {
                b'"' | b'\\' | b'/' => char::from(byte),
                b'b' => '\u{8}',
                b'f' => '\u{c}',
                b'n' => '\n',
                b'r' => '\r',
                b't' => '\t',
                _ => return None,
            })
        });
        if let Some(sign) = sign {
            self.at += 1;
            return Ok(sign);
        }
        let first = self.unit()?;
        // The two halves of a sign beyond 16 bits.
        let number = if first & 0xFC00 == 0xD800 && self.byte() == Some(b'\\') {
            self.at += 1;
            let second = self.unit()?;
            if second & 0xFC00 != 0xDC00 {
                return Err(self.fault("half a sign stands here"));
            }
            0x1_0000 + ((first & 0x3FF) << 10) + (second & 0x3FF)
        } else {
            first
        };
        char::from_u32(number).ok_or(self.fault("half a sign stands here"))
    }

    /// `u` and four hexadecimal digits.
    fn unit(&mut self) -> Result<u32, Fault> {
        let digits = self.text.get(self.at + 1..self.at + 5).filter(|_| self.byte() == Some(b'u'));
        // The standard library would take a sign for one.
        let digits = digits.filter(|digits| digits.bytes().all(|byte| byte.is_ascii_hexdigit()));
        let unit = digits.and_then(|digits| u32::from_str_radix(digits, 16).ok());
        let unit = unit.ok_or(self.fault("no such sign can follow a backslash"))?;
        self.at += 5;
        Ok(unit)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const MANY: u32 = 100_000;

    /// Read as the JSON library reads it, but for the last digits of a number.
    #[track_caller]
    fn as_the_library(text: &str) {
        match (parse(text, MANY), serde_json::from_str::<Value>(text)) {
            (Ok(ours), Ok(theirs)) => alike(&ours, &theirs),
            (Ok(ours), Err(theirs)) => {
                assert!(theirs.to_string().starts_with("number out of range"), "{ours}: {theirs}");
            }
            (Err(ours), Ok(theirs)) => panic!("{ours:?}: {theirs}"),
            (Err(_), Err(_)) => {}
        }
    }

    #[track_caller]
    fn alike(ours: &Value, theirs: &Value) {
        match (ours, theirs) {
            (Value::Array(ours), Value::Array(theirs)) => {
                assert_eq!(ours.len(), theirs.len());
                ours.iter().zip(theirs).for_each(|(ours, theirs)| alike(ours, theirs));
            }
            (Value::Object(ours), Value::Object(theirs)) => {
                assert!(ours.keys().eq(theirs.keys()), "{ours:?}: {theirs:?}");
                ours.values().zip(theirs.values()).for_each(|(ours, theirs)| alike(ours, theirs));
            }
            (Value::Number(ours), Value::Number(theirs)) if ours.is_f64() && theirs.is_f64() => {
                let [ours, theirs] = [ours, theirs].map(|number| number.as_f64().unwrap().to_bits());
                assert!(ours.abs_diff(theirs) <= 4, "{ours:x}: {theirs:x}");
            }
            _ => assert_eq!(ours, theirs),
        }
    }

    #[test]
    fn whole_texts_are_read() {
        for text in [
            "null",
            " true ",
            "[]",
            "{ }",
            "[1, -2, 0, -0, 18446744073709551615, 18446744073709551616, -9223372036854775809]",
            "[0.1, 1e3, 1E+3, 1.5e-3, -0.0, 123456789012345678901234567890]",
            r#"{"a": {"b": [1, {"c": "d"}]}, "a": 2}"#,
            r#""\"\\\/\b\f\n\r\t\u00e9\ud835\udd4f½""#,
            "\u{feff}1",
        ] {
            as_the_library(text);
        }
    }

    #[test]
    fn what_is_no_json_is_refused_and_its_place_is_told() {
        for text in [
            "",
            " ",
            "nul",
            "truee",
            "[1,]",
            "[1 2]",
            "[",
            "{",
            "{\"a\"}",
            "{\"a\":1,}",
            "{a:1}",
            "01",
            "-",
            "1.",
            ".5",
            "1e",
            "+1",
            "\"",
            "\"\n\"",
            "\"\\x\"",
            "\"\\u12g4\"",
            "\"\\u+123\"",
            "\"\\ud835\"",
            "\"\\ud835\\n\"",
            "\"\\udd4f\"",
            "\"\\ud835\\u0041\"",
            "1 1",
            "\"\\u00é\"",
            "NaN",
            "'a'",
        ] {
            assert!(parse(text, MANY).is_err(), "{text}");
            as_the_library(text);
        }
        let place = |text: &str| parse(text, MANY).unwrap_err().place(text);
        assert_eq!(place("{\"a\":1,}"), (1, 8));
        assert_eq!(place("{\n \"a\": nil}"), (2, 7));
    }

    #[test]
    fn no_more_is_read_than_may_be() {
        let deep = |depth: usize| parse(&("[".repeat(depth) + &"]".repeat(depth)), MANY);
        assert!(deep(DEEPEST as usize + 1).is_ok() && deep(DEEPEST as usize + 2).is_err() && deep(1_000_000).is_err());
        let list = |count: usize| parse(&format!("[{}0]", "0,".repeat(count - 1)), 1000);
        assert!(list(999).is_ok());
        assert_eq!(list(1000).unwrap_err().why, TOO_MANY);
        assert_eq!(parse(&format!("[{}0]", "{},".repeat(100)), 1000).unwrap_err().why, TOO_MANY);
    }

    #[test]
    fn a_number_beyond_all_stays_as_it_was_typed() {
        assert_eq!(parse("[1e999, -1e999]", MANY).unwrap(), serde_json::json!(["1e999", "-1e999"]));
    }

    fn json() -> impl Strategy<Value = Value> {
        let leaf = prop_oneof![
            Just(Value::Null),
            any::<bool>().prop_map(Value::from),
            any::<i64>().prop_map(Value::from),
            any::<u64>().prop_map(Value::from),
            any::<f64>().prop_map(Value::from),
            any::<String>().prop_map(Value::from),
        ];
        leaf.prop_recursive(5, 60, 6, |inner| {
            prop_oneof![
                prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
                prop::collection::btree_map(any::<String>(), inner, 0..6)
                    .prop_map(|map| Value::Object(map.into_iter().collect())),
            ]
        })
    }

    proptest! {
        #[test]
        fn what_the_library_writes_is_read(value in json()) {
            prop_assert_eq!(&parse(&value.to_string(), MANY).unwrap(), &value);
            prop_assert_eq!(&parse(&serde_json::to_string_pretty(&value).unwrap(), MANY).unwrap(), &value);
        }

        #[test]
        fn a_changed_text_is_read_as_the_library_reads_it(value in json(), at in any::<prop::sample::Index>(), sign in "[\\]\\[{}\",:\\\\0-9eE.u+\\- \n-]") {
            let text = value.to_string();
            let mut signs: Vec<char> = text.chars().collect();
            let place = at.index(signs.len());
            signs[place] = sign.chars().next().unwrap();
            as_the_library(&signs.into_iter().collect::<String>());
        }

        #[test]
        fn any_text_is_read_as_the_library_reads_it(text in "[\\]\\[{}\",:\\\\0-9eE.truefalsn+\\- -]{0,30}") {
            as_the_library(&text);
        }
    }
}
