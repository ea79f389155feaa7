//! The app's own texts: an English pattern with numbered places, and what stands in them.
//!
//! A [`Phrase`] is made where something is said and becomes text where it is shown, by [`Show::say`]: in the person's
//! language if the table of [`Words`] has the pattern, else in English. The English pattern is the key, so that a
//! language is one table of pairs. What a person or a type sheet wrote stands in the places as it is.

use core::fmt;
use std::sync::Arc;

use serde::{Serialize, Serializer};
use serde_json::{Map, Value};

use crate::figure::Amount;
use crate::show::Show;
use crate::units::Date;

/// A language: for each English pattern its own, with the same numbered places. Blank is English.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Words(Arc<Map<String, Value>>);

impl Words {
    /// Reads a table: a JSON object of texts. `None` if it is none.
    #[must_use]
    pub fn read(json: &str) -> Option<Self> {
        match serde_json::from_str(json) {
            Ok(Value::Object(table)) => Some(Self(Arc::new(table))),
            _ => None,
        }
    }

    /// The pattern in the language, if the table has it.
    #[must_use]
    pub fn get(&self, english: &str) -> Option<&str> {
        self.0.get(english).and_then(Value::as_str)
    }
}

/// What stands in a numbered place.
#[derive(Debug, Clone, PartialEq)]
pub enum Part {
    /// A text that is not the app's own, as it is.
    Text(String),
    /// A phrase inside the phrase.
    Phrase(Phrase),
    /// A figure, shown as the person wants figures shown.
    Amount(Amount),
    /// A day.
    Date(Date),
}

/// A text of the app's own, not yet in a language. Displayed, it is in English.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Phrase {
    pattern: &'static str,
    parts: Vec<Part>,
}

impl Phrase {
    /// A pattern with what stands in its places `{0}`, `{1}`, …
    #[must_use]
    pub const fn new(pattern: &'static str, parts: Vec<Part>) -> Self {
        Self { pattern, parts }
    }

    /// Whether it says nothing.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.pattern.is_empty()
    }
}

/// Makes a [`Phrase`]: `phrase!("{0} of {1} checks", made, of)`. What stands in the places is borrowed, as by `format!`.
#[macro_export]
macro_rules! phrase {
    ($pattern:literal $(, $part:expr)* $(,)?) => {
        $crate::phrase::Phrase::new($pattern, vec![$($crate::phrase::Part::from(&$part)),*])
    };
}

/// Says a phrase at once: `say!(show, "{0} of {1} checks", made, of)`.
#[macro_export]
macro_rules! say {
    ($show:expr, $pattern:literal $(, $part:expr)* $(,)?) => {
        $show.say(&$crate::phrase!($pattern $(, $part)*))
    };
}

/// A single word of the app's own, where nothing else shows that it is one.
#[must_use]
pub const fn key(english: &'static str) -> &'static str {
    english
}

/// What has a text of the app's own, such as an error.
pub trait Say {
    /// The text, not yet in a language.
    fn phrase(&self) -> Phrase;
}

impl Say for Phrase {
    fn phrase(&self) -> Phrase {
        self.clone()
    }
}

/// A word of the app's own.
impl Say for &'static str {
    fn phrase(&self) -> Phrase {
        (*self).into()
    }
}

impl<T: Say> Say for &T {
    fn phrase(&self) -> Phrase {
        (*self).phrase()
    }
}

/// Displays in English what has a [`Say`].
macro_rules! display {
    ($kind:ty) => {
        impl core::fmt::Display for $kind {
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                core::fmt::Display::fmt(&$crate::phrase::Say::phrase(self), f)
            }
        }
    };
}

pub(crate) use display;

impl Show {
    /// What has a text, in the person's language.
    #[must_use]
    pub fn say(&self, it: &impl Say) -> String {
        self.fill(&it.phrase())
    }

    fn fill(&self, phrase: &Phrase) -> String {
        let mut said = String::new();
        let mut pieces = self.word(phrase.pattern).split('{');
        said.push_str(pieces.next().unwrap_or_default());
        for piece in pieces {
            let (place, rest) = piece.split_once('}').unwrap_or((piece, ""));
            match place.parse().ok().and_then(|place: usize| phrase.parts.get(place)) {
                Some(Part::Text(text)) => said.push_str(text),
                Some(Part::Phrase(inner)) => said.push_str(&self.fill(inner)),
                Some(Part::Amount(amount)) => said.push_str(&self.amount(*amount)),
                Some(Part::Date(date)) => said.push_str(&self.date(*date)),
                None => {}
            }
            said.push_str(rest);
        }
        said
    }

    /// A word or sentence without places in the person's language.
    #[must_use]
    pub fn word<'a>(&'a self, english: &'a str) -> &'a str {
        self.words.get(english).unwrap_or(english)
    }
}

impl fmt::Display for Phrase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&Show::default().fill(self))
    }
}

impl Serialize for Phrase {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl From<&'static str> for Phrase {
    fn from(english: &'static str) -> Self {
        Self::new(english, Vec::new())
    }
}

/// A text that is not the app's own.
impl From<String> for Phrase {
    fn from(text: String) -> Self {
        if text.is_empty() { Self::default() } else { Self::new("{0}", vec![Part::Text(text)]) }
    }
}

impl From<&String> for Part {
    fn from(text: &String) -> Self {
        Self::Text(text.clone())
    }
}

impl From<&&String> for Part {
    fn from(text: &&String) -> Self {
        Self::Text((*text).clone())
    }
}

impl<T: Say> From<&T> for Part {
    fn from(it: &T) -> Self {
        Self::Phrase(it.phrase())
    }
}

impl From<&Amount> for Part {
    fn from(amount: &Amount) -> Self {
        Self::Amount(*amount)
    }
}

impl From<&Date> for Part {
    fn from(date: &Date) -> Self {
        Self::Date(*date)
    }
}

/// Things that stand there as they are displayed: plain digits, a letter.
macro_rules! as_displayed {
    ($($kind:ty),+) => {$(
        impl From<&$kind> for Part {
            fn from(it: &$kind) -> Self {
                Self::Text(it.to_string())
            }
        }

        impl From<&&$kind> for Part {
            fn from(it: &&$kind) -> Self {
                Self::Text(it.to_string())
            }
        }
    )+};
}

as_displayed!(usize, i32, u32, u64, u8, u16, char);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Money, NumberStyle};

    #[test]
    fn says_in_the_language_what_the_table_has() {
        let table = r#"{ "{0} of {1} checks": "von {1} Prüfungen {0}", "Cover": "Abdeckung", "odd": 1 }"#;
        let mut show = Show { words: Words::read(table).unwrap(), ..Show::default() };
        show.locale.style = NumberStyle::COMMA;
        let phrase = phrase!("{0} of {1} checks", 3_usize, Amount::Number(1234.5, 1));
        assert_eq!(phrase.to_string(), "3 of 1,234.5 checks");
        assert_eq!(show.say(&phrase), "von 1.234,5 Prüfungen 3");
        assert_eq!((show.word("Cover"), show.word("odd"), show.word("Worth")), ("Abdeckung", "odd", "Worth"));
        let inside = phrase!("{0}: {1}", "Cover", "Cover".to_owned());
        assert_eq!(show.say(&inside), "Abdeckung: Cover");
        assert_eq!(Words::read("[1]"), None);
    }

    #[test]
    fn what_a_person_wrote_is_no_pattern() {
        let phrase = phrase!("“{0}”", "{1} {0".to_owned());
        assert_eq!(phrase.to_string(), "“{1} {0”");
        assert_eq!(Phrase::from("{0}".to_owned()).to_string(), "{0}");
        // A table of another hand may hold anything.
        let show = Show { words: Words::read(r#"{ "{0}": "{9}{x} {" }"#).unwrap(), ..Show::default() };
        assert_eq!(show.say(&phrase!("{0}", Amount::Money(Money(1)))), " ");
    }
}
