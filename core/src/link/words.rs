//! What the first version of the link knows beforehand. Frozen: what is here may never change, however the sheets and
//! the demo do, or links that were sent would read as nonsense.

/// Fields and words of the format, a blank line, ids of the general sheet's checks; each in alphabetical order.
const WORDS: &str = include_str!("v1/words.txt");

/// A worksheet to learn from: how one is built, and how people write in it. It is the demo's as it was, to the byte, so
/// that as long as the demo stays the same the program holds it once.
pub const SAMPLE: &str = include_str!("v1/sample.json");

/// Numbers that words may have, as a power of two.
pub const WORD_BITS: u32 = 9;

/// The words that are told by their number.
pub struct Words {
    list: Vec<&'static str>,
    first_id: usize,
}

impl Words {
    pub fn new() -> Self {
        let list: Vec<&str> = WORDS.lines().collect();
        let first_id = list.iter().position(|word| word.is_empty()).unwrap_or_default() + 1;
        Self { list, first_id }
    }

    /// The number of a word, if it has one.
    pub fn place(&self, word: &str) -> Option<u32> {
        let (fields, ids) = self.list.split_at_checked(self.first_id)?;
        let field = fields.split_last()?.1.binary_search(&word);
        let place = field.or_else(|_| ids.binary_search(&word).map(|place| place + self.first_id));
        place.ok().map(|place| place as u32)
    }

    /// The word with a number.
    pub fn word(&self, place: u32) -> Option<&'static str> {
        self.list.get(place as usize).copied()
    }

    /// Whether it is the number of an id, not of a field or word.
    pub const fn is_id(&self, place: u32) -> bool {
        place as usize >= self.first_id
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::link::letters::sum;

    #[test]
    fn what_old_links_know_has_not_changed() {
        assert_eq!((sum(WORDS.as_bytes()), sum(SAMPLE.as_bytes())), (1_326_312_520, 1_591_235_417));
    }

    #[test]
    fn each_word_has_a_number_of_its_own() {
        let words = Words::new();
        assert!(
            words.list.len() <= 1 << WORD_BITS
                && words
                    .list
                    .iter()
                    .all(|word| word.is_empty() || words.place(word).and_then(|place| words.word(place)) == Some(word))
        );
        assert_eq!(words.place("findings").and_then(|place| words.word(place)), Some("findings"));
        assert!(
            words.is_id(words.place("structure-sills").unwrap()) && !words.is_id(words.place("worksheet").unwrap())
        );
    }
}
