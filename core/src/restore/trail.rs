//! The way through a JSON value, and the notes taken on it. Hardly anything here is generic: what a type
//! costs the program is a table of its fields.

use serde_json::{Map, Value};

use super::{MOST_UNREAD, Restore, Unread};

/// Most characters of one key that a place shows, so that notes stay small whatever the keys are.
const MOST_OF_A_KEY: usize = 60;

/// Where the reading is, and what could not be read so far.
#[derive(Debug, Default)]
pub struct Trail {
    place: String,
    unread: Vec<Unread>,
    wrong: usize,
}

/// What can be filled in field by field; made by [`record!`](crate::restore::record).
pub trait Record {
    /// The field at a place in the list of names.
    fn field(&mut self, index: usize) -> Option<&mut dyn Restore>;
}

impl Trail {
    /// What could not be read; nothing if more was wrong than can be listed.
    pub(super) fn into_unread(self) -> Option<Vec<Unread>> {
        (self.wrong <= MOST_UNREAD).then_some(self.unread)
    }

    /// Whether everything fitted and was known.
    pub(super) fn is_clean(&self) -> bool {
        self.unread.is_empty()
    }

    /// Notes that this value is not what is wanted here. Gives `false`, which is what the reading of it then gives.
    pub fn wrong(&mut self, json: &Value, wanted: &str) -> bool {
        self.fault(json, format!("should be {wanted}"))
    }

    fn fault(&mut self, json: &Value, why: String) -> bool {
        self.wrong += 1;
        if self.wrong <= MOST_UNREAD {
            self.note(json, why);
        }
        false
    }

    fn note(&mut self, json: &Value, why: String) {
        self.unread.push(Unread { place: self.place.clone(), text: json.to_string(), why });
    }

    /// Reads the field or key of this name.
    pub(super) fn key(&mut self, name: &str, json: &Value, it: &mut dyn Restore) -> bool {
        let end = self.enter(name);
        let read = it.restore(json, self);
        self.place.truncate(end);
        read
    }

    fn enter(&mut self, name: &str) -> usize {
        let end = self.place.len();
        if end > 0 {
            self.place.push('.');
        }
        let shown = name.char_indices().nth(MOST_OF_A_KEY).and_then(|(cut, _)| name.get(..cut));
        self.place.push_str(shown.unwrap_or(name));
        if shown.is_some() {
            self.place.push('…');
        }
        end
    }

    /// Reads the element at this place of a list.
    pub(super) fn element(&mut self, index: usize, json: &Value, it: &mut dyn Restore) -> bool {
        let end = self.place.len();
        self.place.push_str(&format!("[{index}]"));
        let read = it.restore(json, self);
        self.place.truncate(end);
        read
    }

    /// Reads a key that is not just a name, and what stands under it.
    pub(super) fn pair(&mut self, name: &str, json: &Value, key: &mut dyn Restore, it: &mut dyn Restore) -> bool {
        let before = self.unread.len();
        if self.key(name, &Value::from(name), key) {
            return self.key(name, json, it);
        }
        // What is lost is the value, so that is what is kept.
        for unread in self.unread.iter_mut().skip(before) {
            unread.text = json.to_string();
        }
        false
    }

    /// Puts in what was read, or notes what is wanted.
    pub(crate) fn put<T>(&mut self, it: &mut T, read: Option<T>, json: &Value, wanted: &str) -> bool {
        match read {
            Some(read) => {
                *it = read;
                true
            }
            None => self.wrong(json, wanted),
        }
    }

    /// The list that a value is.
    pub(super) fn list<'a>(&mut self, json: &'a Value) -> Option<&'a [Value]> {
        let list = json.as_array();
        if list.is_none() {
            self.wrong(json, "a list");
        }
        list.map(Vec::as_slice)
    }

    /// The object that a value is.
    pub(super) fn object<'a>(&mut self, json: &'a Value) -> Option<&'a Map<String, Value>> {
        let object = json.as_object();
        if object.is_none() {
            self.wrong(json, "an object, in braces");
        }
        object
    }

    /// Reads a list of three, all of which must fit.
    pub(crate) fn three(&mut self, json: &Value, its: [&mut dyn Restore; 3]) -> bool {
        let Some([low, likely, high]) = json.as_array().map(Vec::as_slice) else {
            return self.wrong(json, "a list of three figures: low, likely, high");
        };
        [low, likely, high]
            .into_iter()
            .zip(its)
            .enumerate()
            .fold(true, |fit, (index, (json, it))| self.element(index, json, it) && fit)
    }

    /// Reads an object with one field, which must be one of these; gives which it was.
    pub(crate) fn either(&mut self, json: &Value, its: &mut [(&str, &mut dyn Restore)]) -> Option<usize> {
        let mut fields = json.as_object().into_iter().flatten();
        if let (Some((name, content)), None) = (fields.next(), fields.next())
            && let Some((place, (_, it))) = its.iter_mut().enumerate().find(|(_, (known, _))| known == name)
        {
            return self.key(name, content, *it).then_some(place);
        }
        let names: Vec<&str> = its.iter().map(|(name, _)| *name).collect();
        self.wrong(json, &format!("an object with one field: {}", names.join(" or ")));
        None
    }

    /// Which of the names a value is the kebab-case form of.
    pub fn word(&mut self, json: &Value, names: &[&str]) -> Option<usize> {
        let place = json.as_str().and_then(|word| place_of(word, names));
        if place.is_none() {
            let words: Vec<String> = names.iter().map(|name| kebab(name).collect()).collect();
            self.wrong(json, &format!("one of {}", words.join(", ")));
        }
        place
    }

    /// Fills in a record from an object. The first `needed` of the names must be there and fit.
    pub fn record(&mut self, json: &Value, it: &mut dyn Record, names: &[&str], needed: usize) -> bool {
        let Some(object) = self.object(json) else { return false };
        let mut read: u64 = 0;
        for (name, value) in object {
            let place = place_of(name, names);
            match place.and_then(|place| it.field(place)) {
                Some(field) => {
                    if self.key(name, value, field) {
                        read |= bit(place.unwrap_or_default());
                    }
                }
                None => {
                    let end = self.enter(name);
                    self.note(value, "not known to this format".to_owned());
                    self.place.truncate(end);
                }
            }
        }
        match names.iter().take(needed).enumerate().find(|(place, _)| read & bit(*place) == 0) {
            None => true,
            Some((_, name)) => {
                let name: String = kebab(name).collect();
                self.fault(json, format!("left out, since it has no “{name}” that can be read"))
            }
        }
    }
}

/// The bit of a field; no record has more than 64.
fn bit(place: usize) -> u64 {
    1_u64.checked_shl(u32::try_from(place).unwrap_or(u32::MAX)).unwrap_or(0)
}

/// Where in the list the name is whose kebab-case form this is.
fn place_of(word: &str, names: &[&str]) -> Option<usize> {
    names.iter().position(|name| kebab(name).eq(word.chars()))
}

/// The kebab-case form of a Rust name, as serde derives it: `OnBehalfOf` and `on_behalf_of` are both `on-behalf-of`.
fn kebab(name: &str) -> impl Iterator<Item = char> {
    name.char_indices().flat_map(|(at, sign)| {
        let hyphen = (sign == '_' || at > 0 && sign.is_ascii_uppercase()).then_some('-');
        let letter = (sign != '_').then(|| sign.to_ascii_lowercase());
        hyphen.into_iter().chain(letter)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn named(name: &str, want: &str) {
        assert_eq!(kebab(name).collect::<String>(), want);
        assert_eq!(place_of(want, &["other", name]), Some(1));
    }

    #[test]
    fn names_are_those_of_the_format() {
        named("on_behalf_of", "on-behalf-of");
        named("BodyAndPaint", "body-and-paint");
        named("unsafe", "unsafe");
        named("id", "id");
    }

    #[test]
    fn a_name_in_another_form_is_not_known() {
        for word in ["on_behalf_of", "OnBehalfOf", "on-behalf", "on-behalf-of-", "", "-"] {
            assert_eq!(place_of(word, &["on_behalf_of"]), None, "{word}");
        }
    }

    #[test]
    fn a_place_shows_no_more_than_the_beginning_of_a_long_key() {
        let mut trail = Trail::default();
        trail.key(&"ü".repeat(5000), &Value::Null, &mut String::new());
        assert_eq!(trail.unread[0].place, "ü".repeat(MOST_OF_A_KEY) + "…");
    }
}
