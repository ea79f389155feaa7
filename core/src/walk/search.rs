//! Finding a check by a word: in its name, its signs, the faults that can stand behind them, and the notes.

use crate::condition::applicable;
use crate::ordered;
use crate::sheet::outline::has_words;
use crate::sheet::{Stage, Tag, TypeSheet, car_tags};
use crate::worksheet::Worksheet;

/// Fewer letters than this find too much to be of use.
pub const LEAST_LETTERS: usize = 2;

/// Hits shown, at most.
pub const MOST_HITS: usize = 40;

/// A check that was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hit {
    /// The check's id.
    pub check: String,
    /// Its stage.
    pub stage: Stage,
    /// Its name.
    pub name: String,
    /// The sign, fault or note in which the words stand; blank where the name itself holds them.
    pub within: String,
}

/// Checks that apply to the car and hold the words, in any order, each once: first those whose name does, then by signs,
/// faults and notes. Upper and lower case are the same. Nothing for fewer than [`LEAST_LETTERS`] letters.
#[must_use]
pub fn search(sheet: &TypeSheet, worksheet: &Worksheet, tags: &[Tag], words: &str) -> Vec<Hit> {
    let words = words.trim();
    if words.chars().count() < LEAST_LETTERS {
        return Vec::new();
    }
    let holds = |text: &str| has_words(text, words);
    let faults: Vec<_> =
        sheet.faults.iter().filter(|fault| car_tags::applies(&fault.when, tags) && holds(&fault.name)).collect();
    let mut found: Vec<(u8, Hit)> = applicable(sheet, tags)
        .filter_map(|check| {
            let by_fault = || {
                let shown = |sign: &str| check.signs.iter().any(|own| own.id == sign);
                faults.iter().find(|fault| fault.links.iter().any(|link| shown(&link.sign))).map(|fault| &fault.name)
            };
            let note = worksheet.findings.get(&check.id).map(|finding| finding.note.as_str()).unwrap_or_default();
            let (rank, within) = if holds(&check.name) {
                (0, String::new())
            } else if let Some(sign) = check.signs.iter().find(|sign| holds(&sign.name)) {
                (1, sign.name.clone())
            } else if let Some(fault) = by_fault() {
                (2, fault.clone())
            } else if holds(note) {
                (3, note.to_owned())
            } else {
                return None;
            };
            Some((rank, Hit { check: check.id.clone(), stage: check.stage, name: check.name.clone(), within }))
        })
        .collect();
    // Stable: within a rank the order of the sheet stays.
    ordered::sort(&mut found, |(a, _), (b, _)| a.cmp(b));
    found.into_iter().map(|(_, hit)| hit).take(MOST_HITS).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::condition;
    use crate::sheet::{demo, extend::extend, general::general};

    fn hits(words: &str) -> Vec<(String, String)> {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let worksheet = demo::worksheet().unwrap();
        let tags = condition::tags(&sheet, &worksheet);
        search(&sheet, &worksheet, &tags, words).into_iter().map(|hit| (hit.check, hit.within)).collect()
    }

    #[test]
    fn finds_by_name_sign_fault_and_note() {
        let (check, within) = hits("FLEXIBLE brake").into_iter().next().unwrap();
        assert_eq!((check.as_str(), within.as_str()), ("brakes-hoses", ""));
        assert_eq!(hits("brake FLEXIBLE"), hits("FLEXIBLE brake"));
        let by_sign = hits("soft and fat");
        assert_eq!(by_sign.len(), 1);
        assert_eq!(by_sign[0].0, "brakes-hoses");
        let by_note = hits("cracked to the cord and fat");
        assert_eq!(by_note.len(), 1);
        assert!(by_note[0].1.starts_with("Looked again"), "{by_note:?}");
        assert!(hits("perished").iter().any(|(check, within)| check == "brakes-hoses" && !within.is_empty()));
    }

    #[test]
    fn a_letter_or_nonsense_finds_nothing_and_a_common_word_not_too_much() {
        assert!(hits("a").is_empty() && hits("   ").is_empty() && hits("qqxq").is_empty());
        assert_eq!(hits("th").len(), MOST_HITS);
    }
}
