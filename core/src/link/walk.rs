//! JSON as bits: what is known by its number, the rest spelt. The same walk writes and reads: it is given what to tell
//! and gives back what was told, and when reading only the latter counts.

use serde_json::{Map, Number, Value};

use super::LinkError;
use super::model::{CONTEXTS, LETTERS, with};
use super::number::Typed;
use super::stream::Stream;
use super::words::{WORD_BITS, Words};
use crate::ordered;

/// Deepest that values may lie in each other; a worksheet needs nine.
const DEEPEST: u8 = 24;

/// What stands at a place.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Null,
    False,
    True,
    Whole,
    Float,
    Known,
    Spelt,
    Fresh,
    Array,
    Object,
}

const KINDS: [Kind; 10] = [
    Kind::Null,
    Kind::False,
    Kind::True,
    Kind::Whole,
    Kind::Float,
    Kind::Known,
    Kind::Spelt,
    Kind::Fresh,
    Kind::Array,
    Kind::Object,
];

/// What a bit is about; each is a context of its own.
#[derive(Clone, Copy)]
enum About {
    Kind = 100,
    Word,
    More,
    MoreKeys,
    IsKnown,
    Step,
    Negative,
    Zeros,
    Unit,
    Decimals,
    Digits,
    Letter,
    /// And the next two after it.
    Bits,
}

/// Sets of the model's weights; letters have those from [`LETTERS`] on.
#[derive(Clone, Copy)]
enum Set {
    Kind,
    Word,
    More,
    MoreKeys,
    IsKnown,
    Step,
    Number,
    Digits,
}

/// What fresh ids of the program are made of: sixteen of these, each as likely as another.
const FRESH: &[u8; 32] = b"abcdefghijkmnpqrstuvwxyz23456789";
const FRESH_LENGTH: usize = 16;

/// Stands in a path for an id.
const ANY: u32 = 9999;

/// Paths of which is known what stood there last; a worksheet has some two hundred.
const PATHS: usize = 1 << 12;

/// Where a value stands.
#[derive(Clone, Copy)]
struct Place {
    /// The fields that lead there; ids and places in lists left out.
    path: u32,
    /// The key that it stands under.
    key: u32,
    /// The key that what it stands in stands under.
    above: u32,
    depth: u8,
}

/// A walk over one value, or several that should know of each other.
pub struct Walk<'a> {
    stream: Stream<'a>,
    words: Words,
    /// What stood last at each path, newest first.
    last: Vec<[u32; 3]>,
    /// What stood anywhere before.
    before: u32,
}

impl<'a> Walk<'a> {
    /// Begins with nothing known.
    pub fn new(stream: Stream<'a>) -> Self {
        Self { stream, words: Words::new(), last: vec![[0; 3]; PATHS], before: 0 }
    }

    /// Goes on over another stream, with what is known.
    pub fn over<'b>(self, stream: impl FnOnce(Stream<'a>) -> Stream<'b>) -> Walk<'b> {
        Walk { stream: stream(self.stream), words: self.words, last: self.last, before: 0 }
    }

    /// The bytes written.
    pub fn into_bytes(self) -> Vec<u8> {
        self.stream.into_bytes()
    }

    /// Tells a value; gives the one that was told.
    ///
    /// # Errors
    /// [`LinkError::TooLarge`] where there is more of it than a link can hold; when reading, [`LinkError::Damaged`]
    /// where nothing is told that could stand there.
    pub fn tell(&mut self, it: &Value) -> Result<Value, LinkError> {
        self.value(it, Place { path: 1, key: 0, above: 0, depth: 0 })
    }

    fn contexts(&self, place: Place, about: u32) -> [u32; CONTEXTS] {
        let [newest, second, third] = self.last(place.path);
        let path = with(place.path, about);
        [
            path,
            with(with(path, 1), place.key),
            with(with(path, 2), newest),
            with(with(with(path, 3), newest), with(second, third)),
            with(with(path, 4), place.above),
            with(with(with(path, 5), self.before), place.key),
            with(with(with(path, 6), place.key), newest),
        ]
    }

    fn last(&self, path: u32) -> [u32; 3] {
        self.last.get(path as usize % PATHS).copied().unwrap_or_default()
    }

    fn remember(&mut self, place: Place, what: u32) {
        let [newest, second, _] = self.last(place.path);
        if let Some(last) = self.last.get_mut(place.path as usize % PATHS) {
            *last = [what, newest, second];
        }
        self.before = what;
    }

    fn flag(&mut self, it: bool, place: Place, about: About, set: Set) -> Result<bool, LinkError> {
        let contexts = self.contexts(place, about as u32);
        Ok(self.stream.bit(it, &contexts, set as usize)?)
    }

    /// A number of so many bits, the highest first.
    fn symbol(&mut self, it: u32, bits: u32, place: Place, about: u32, set: Set) -> Result<u32, LinkError> {
        let contexts = self.contexts(place, about);
        let mut told = 1;
        for at in (0..bits).rev() {
            let contexts = contexts.map(|context| with(context, told));
            let bit = self.stream.bit(it >> at & 1 == 1, &contexts, set as usize)?;
            told = told << 1 | u32::from(bit);
        }
        Ok(told - (1 << bits))
    }

    fn value(&mut self, it: &Value, place: Place) -> Result<Value, LinkError> {
        if place.depth > DEEPEST {
            return Err(LinkError::TooDeep);
        }
        let known = it.as_str().and_then(|text| self.words.place(text));
        let given = match it {
            Value::Null => Kind::Null,
            Value::Bool(false) => Kind::False,
            Value::Bool(true) => Kind::True,
            Value::Number(number) if number.is_f64() => Kind::Float,
            Value::Number(_) => Kind::Whole,
            Value::String(_) if known.is_some() => Kind::Known,
            Value::String(text) if is_fresh(text) => Kind::Fresh,
            Value::String(_) => Kind::Spelt,
            Value::Array(_) => Kind::Array,
            Value::Object(_) => Kind::Object,
        };
        let kind = self.symbol(given as u32, 4, place, About::Kind as u32, Set::Kind)?;
        let kind = *KINDS.get(kind as usize).ok_or(LinkError::Damaged)?;
        let mut mark = kind as u32;
        let text = it.as_str().unwrap_or_default();
        let told = match kind {
            Kind::Null => Value::Null,
            Kind::False => Value::Bool(false),
            Kind::True => Value::Bool(true),
            Kind::Whole => self.whole(it, place)?,
            Kind::Float => self.float(it.as_f64().unwrap_or_default(), place)?,
            Kind::Known => {
                let known = known.unwrap_or_default();
                let known = self.symbol(known, WORD_BITS, place, About::Word as u32, Set::Word)?;
                mark = known + 16;
                Value::from(self.words.word(known).ok_or(LinkError::Damaged)?)
            }
            Kind::Fresh => Value::from(self.fresh(text)?),
            Kind::Spelt => Value::from(self.spelt(text, place.path)?),
            Kind::Array => self.array(it, place)?,
            Kind::Object => self.object(it, place)?,
        };
        self.remember(place, mark);
        Ok(told)
    }

    fn array(&mut self, it: &Value, place: Place) -> Result<Value, LinkError> {
        let inside = Place { path: with(place.path, 7), key: 0, above: place.key, depth: place.depth + 1 };
        let mut given = it.as_array().into_iter().flatten();
        let mut told = Vec::new();
        loop {
            let element = given.next();
            let here = Place { key: told.len() as u32, ..inside };
            if !self.flag(element.is_some(), here, About::More, Set::More)? {
                return Ok(Value::Array(told));
            }
            told.push(self.value(element.unwrap_or(&Value::Null), inside)?);
        }
    }

    /// Keys that are known are told by the step from the one before, as ids mostly follow closely; fields begin anew
    /// in each object, ids where the last object of the kind ended.
    fn object(&mut self, it: &Value, place: Place) -> Result<Value, LinkError> {
        let keys = with(place.path, 8);
        let mut given: Vec<(Option<u32>, &String, &Value)> =
            it.as_object().into_iter().flatten().map(|(key, value)| (self.words.place(key), key, value)).collect();
        // Known ones first, by their numbers. The JSON library's own order depends on what else is built.
        ordered::sort(&mut given, |a, b| (a.0.unwrap_or(u32::MAX), a.1).cmp(&(b.0.unwrap_or(u32::MAX), b.1)));
        let mut given = given.into_iter();
        let mut told = Map::new();
        let [last, ..] = self.last(keys);
        let mut number = if self.words.is_id(last) { last } else { 0 };
        let mut previous = 0;
        loop {
            let here = Place { path: keys, key: previous, above: place.key, depth: place.depth };
            let next = given.next();
            if !self.flag(next.is_some(), here, About::MoreKeys, Set::MoreKeys)? {
                return Ok(Value::Object(told));
            }
            let known = next.and_then(|(known, _, _)| known);
            let (mut field, key) = (ANY, next.map_or("", |(_, key, _)| key.as_str()));
            let key = if self.flag(known.is_some(), here, About::IsKnown, Set::IsKnown)? {
                let all = (1 << WORD_BITS) - 1;
                let step = known.unwrap_or_default().wrapping_sub(number) & all;
                number = (number + self.symbol(step, WORD_BITS, here, About::Step as u32, Set::Step)?) & all;
                previous = number + 16;
                if !self.words.is_id(number) {
                    field = number;
                }
                self.words.word(number).ok_or(LinkError::Damaged)?.to_owned()
            } else {
                let key = self.spelt(key, keys)?;
                previous = key.bytes().fold(7, |so_far, byte| with(so_far, u32::from(byte)));
                key
            };
            if field == ANY {
                self.remember(here, number);
            }
            let inside =
                Place { path: with(place.path, field), key: previous, above: place.key, depth: place.depth + 1 };
            let value = self.value(next.map_or(&Value::Null, |(_, _, value)| value), inside)?;
            told.insert(key, value);
        }
    }

    fn spelt(&mut self, it: &str, path: u32) -> Result<String, LinkError> {
        // No byte of UTF-8 is 255: it ends the text.
        let mut given = it.bytes().chain([255]);
        let mut told = Vec::new();
        let (mut word, mut history) = (0, 0_u64);
        loop {
            let byte = given.next().unwrap_or(255);
            let latest = |bytes: u32| {
                let seen = history & ((1 << (8 * bytes)) - 1);
                with(with(bytes + 20, seen as u32), (seen >> 32) as u32)
            };
            let contexts = [
                with(with(30, path), history as u32 & 0xFF),
                latest(1),
                latest(2),
                latest(3),
                latest(4),
                latest(6),
                with(31, word),
            ];
            let mut so_far = 1;
            for at in (0..8).rev() {
                let contexts = contexts.map(|context| with(context, so_far));
                let bit = self.stream.bit(byte >> at & 1 == 1, &contexts, LETTERS)?;
                so_far = so_far << 1 | u32::from(bit);
            }
            let byte = so_far as u8;
            if byte == 255 {
                return String::from_utf8(told).map_err(|_| LinkError::Damaged);
            }
            told.push(byte);
            history = history << 8 | u64::from(byte);
            let in_word = byte.is_ascii_alphanumeric() || !byte.is_ascii();
            word = if in_word { with(word, u32::from(byte.to_ascii_lowercase())) } else { 0 };
        }
    }

    fn fresh(&mut self, it: &str) -> Result<String, LinkError> {
        let nowhere = Place { path: 0, key: 0, above: 0, depth: 0 };
        let mut given = it.bytes();
        let mut told = String::new();
        for _ in 0..FRESH_LENGTH {
            let letter = given.next().and_then(|letter| FRESH.iter().position(|known| *known == letter));
            let letter =
                self.symbol(letter.unwrap_or_default() as u32, 5, nowhere, About::Letter as u32, Set::Digits)?;
            told.push(char::from(*FRESH.get(letter as usize).ok_or(LinkError::Damaged)?));
        }
        Ok(told)
    }

    fn whole(&mut self, it: &Value, place: Place) -> Result<Value, LinkError> {
        let negative = it.as_i64().is_some_and(i64::is_negative);
        let mut size = it.as_i64().map_or_else(|| it.as_u64().unwrap_or_default(), i64::unsigned_abs);
        let mut zeros = 0;
        while size != 0 && size.is_multiple_of(10) {
            (size, zeros) = (size / 10, zeros + 1);
        }
        let negative = self.flag(negative, place, About::Negative, Set::Number)?;
        let zeros = self.symbol(zeros, 5, place, About::Zeros as u32, Set::Number)?;
        let digits = self.digits(size, place, zeros)?;
        let size = 10_u64.checked_pow(zeros).and_then(|power| power.checked_mul(digits)).ok_or(LinkError::Damaged)?;
        Ok(if negative { Value::from((size as i64).wrapping_neg()) } else { Value::from(size) })
    }

    fn float(&mut self, it: f64, place: Place) -> Result<Value, LinkError> {
        const AS_IT_IS: u32 = 15;
        let typed = Typed::of(it, u64::from(self.stream.is_learning()));
        let unit = typed.map_or(AS_IT_IS, |typed| typed.unit);
        let unit = self.symbol(unit, 4, place, About::Unit as u32, Set::Number)?;
        let told = if unit == AS_IT_IS {
            let mut told = 0;
            for (shift, about) in [40_u32, 16, 0].into_iter().zip(About::Bits as u32..) {
                let bits = if shift == 0 { 16 } else { 24 };
                let part = (it.to_bits() >> shift) as u32 & ((1 << bits) - 1);
                told = told << bits | u64::from(self.symbol(part, bits, place, about, Set::Digits)?);
            }
            Some(f64::from_bits(told))
        } else {
            let Typed { negative, decimals, digits, .. } = typed.unwrap_or_default();
            let negative = self.flag(negative, place, About::Negative, Set::Number)?;
            let decimals = self.symbol(decimals, 4, place, with(About::Decimals as u32, unit), Set::Number)?;
            let digits = self.digits(digits, place, with(decimals, unit))?;
            Typed { unit, negative, decimals, digits }.number()
        };
        told.and_then(Number::from_f64).map(Value::Number).ok_or(LinkError::Damaged)
    }

    /// A whole number of any size: how many bits it has, then these.
    fn digits(&mut self, it: u64, place: Place, form: u32) -> Result<u64, LinkError> {
        let about = with(About::Digits as u32, form);
        let bits = self.symbol(u64::BITS - it.leading_zeros(), 7, place, about, Set::Number)?;
        if bits > u64::BITS {
            return Err(LinkError::Damaged);
        }
        let mut told = u64::from(bits > 0);
        for at in (0..bits.saturating_sub(1)).rev() {
            let contexts = self.contexts(place, with(with(about, bits), told as u32));
            let bit = self.stream.bit(it >> at & 1 == 1, &contexts, Set::Digits as usize)?;
            told = told << 1 | u64::from(bit);
        }
        Ok(told)
    }
}

fn is_fresh(text: &str) -> bool {
    text.len() == FRESH_LENGTH && text.bytes().all(|letter| FRESH.contains(&letter))
}
