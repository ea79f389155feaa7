//! Small joins of words that every document needs.

use crate::phrase::Phrase;
use crate::say;
use crate::show::Show;

/// A count with its noun, by the patterns for one and for several: "1 check", "3 checks".
pub fn count(number: usize, one: &'static str, several: &'static str) -> Phrase {
    Phrase::new(if number == 1 { one } else { several }, vec![(&number).into()])
}

/// Words joined as in speech: "a", "a and b", "a, b and c".
pub fn and(show: &Show, words: &[String]) -> String {
    match words {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => say!(show, "{0} and {1}", first.join(", "), last),
    }
}

/// A text as a sentence: trimmed, beginning large, ending with a stop. Blank stays blank.
pub fn sentence(text: &str) -> String {
    let text = text.trim();
    let mut letters = text.chars();
    let Some(first) = letters.next() else { return String::new() };
    let stop = if text.ends_with(['.', '!', '?', '…', ':']) { "" } else { "." };
    format!("{}{}{stop}", first.to_uppercase(), letters.as_str())
}

/// A name of the program's own inside a sentence: "Body and paint" becomes "body and paint" in English; a table of words
/// gives the name as the language has it. Not for the names of a type sheet, which may begin with a name.
pub fn within(show: &Show, text: &str) -> String {
    if let Some(own) = show.words.get(text) {
        return own.to_owned();
    }
    let mut letters = text.chars();
    let Some(first) = letters.next() else { return String::new() };
    if letters.clone().next().is_some_and(|second| second.is_uppercase() || second.is_ascii_digit()) {
        return text.to_owned();
    }
    format!("{}{}", first.to_lowercase(), letters.as_str())
}

/// Sentences joined, blanks left out.
pub fn sentences(texts: &[String]) -> String {
    texts.iter().map(|text| sentence(text)).filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn joins_as_in_speech() {
        let joined =
            |words: &[&str]| and(&Show::default(), &words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>());
        assert_eq!(joined(&[]), "");
        assert_eq!(joined(&["a"]), "a");
        assert_eq!(joined(&["a", "b"]), "a and b");
        assert_eq!(joined(&["a", "b", "c"]), "a, b and c");
        assert_eq!(count(1, "{0} check", "{0} checks").to_string(), "1 check");
        assert_eq!(count(0, "{0} check", "{0} checks").to_string(), "0 checks");
    }

    #[test]
    fn makes_sentences() {
        for (text, expected) in [
            ("", ""),
            ("  ", ""),
            ("snaps shut", "Snaps shut."),
            ("Snaps shut.", "Snaps shut."),
            ("Is it?", "Is it?"),
            ("éclat", "Éclat."),
        ] {
            assert_eq!(sentence(text), expected, "{text:?}");
        }
        assert_eq!(sentences(&["one".into(), String::new(), "two.".into()]), "One. Two.");
    }

    #[test]
    fn names_within_a_sentence() {
        for (text, expected) in
            [("Sills, outside", "sills, outside"), ("CV joints", "CV joints"), ("12 V supply", "12 V supply"), ("", "")]
        {
            assert_eq!(within(&Show::default(), text), expected, "{text:?}");
        }
    }
}
