//! Finds the app's own texts in the sources.
//!
//! A text is what goes through one of the doors ([`DOORS`], functions that name things) or what looks like one: words
//! with a space between them, or a word that begins large. What looks so and is no text of the app's is listed by the
//! test, so that none can be forgotten.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Functions and macros whose texts are the app's own, however short.
const DOORS: [&str; 15] = [
    "t",
    "key",
    "named",
    "phrase",
    "say",
    "word",
    "titled",
    "part",
    "section",
    "paragraph",
    "facts",
    "caution",
    "count",
    "noted",
    "filled_in",
];

/// Functions that give the name of something.
const NAMING: [&str; 8] = ["all", "name", "word", "symbol", "reason", "unit", "sentence", "basis"];

/// Attributes and properties of elements that no person reads.
const UNREAD: [&str; 12] =
    ["class", "type", "role", "id", "href", "inputmode", "autocomplete", "kind", "place", "viewBox", "d", "rows"];

/// A piece of source.
#[derive(Debug, Clone, PartialEq)]
enum Token {
    Word(String),
    Text(String),
    Sign(char),
}

/// Source as tokens: comments left out, characters and lifetimes as words.
fn tokens(source: &str) -> Vec<Token> {
    let signs: Vec<char> = source.chars().collect();
    let at = |place: usize| signs.get(place).copied().unwrap_or('\0');
    let mut tokens = Vec::new();
    let mut place = 0;
    while place < signs.len() {
        let sign = at(place);
        if sign == '/' && at(place + 1) == '/' {
            while place < signs.len() && at(place) != '\n' {
                place += 1;
            }
        } else if sign == '"' {
            let (text, end) = text(&signs, place + 1);
            tokens.push(Token::Text(text));
            place = end;
        } else if sign == '\'' {
            // A character: one sign, or what an escape stands for; else it is a lifetime.
            let length =
                if at(place + 1) == '\\' { (2..14).find(|length| at(place + length) == '\'') } else { Some(2) };
            place += length.filter(|length| at(place + length) == '\'').map_or(1, |length| length + 1);
            tokens.push(Token::Sign('\''));
        } else if sign.is_alphanumeric() || sign == '_' {
            let from = place;
            while at(place).is_alphanumeric() || at(place) == '_' {
                place += 1;
            }
            tokens.push(Token::Word(signs[from..place].iter().collect()));
        } else {
            if !sign.is_whitespace() {
                tokens.push(Token::Sign(sign));
            }
            place += 1;
        }
    }
    tokens
}

/// A text from after its quotation mark, and the place after the closing one.
fn text(signs: &[char], mut place: usize) -> (String, usize) {
    let mut text = String::new();
    while let Some(sign) = signs.get(place).filter(|sign| **sign != '"') {
        place += 1;
        if *sign != '\\' {
            text.push(*sign);
            continue;
        }
        let escaped = signs.get(place).copied().unwrap_or_default();
        place += 1;
        match escaped {
            '\n' => {
                while signs.get(place).is_some_and(|sign| sign.is_whitespace()) {
                    place += 1;
                }
            }
            'n' => text.push('\n'),
            't' => text.push('\t'),
            'u' => {
                let end = (place..).find(|end| signs.get(*end) == Some(&'}')).unwrap_or(place);
                let code: String = signs[place + 1..end].iter().collect();
                text.extend(u32::from_str_radix(&code, 16).ok().and_then(char::from_u32));
                place = end + 1;
            }
            other => text.push(other),
        }
    }
    (text, place + 1)
}

/// Whether a text looks like one that is read.
fn looks_read(text: &str) -> bool {
    let mut letters = text.chars();
    let begins_large = letters.next().is_some_and(char::is_uppercase) && letters.next().is_some_and(char::is_lowercase);
    let spaced =
        text.split(' ').filter(|word| word.chars().filter(|sign| sign.is_alphabetic()).count() > 1).count() > 1;
    has_word(text) && (begins_large || spaced)
}

/// Whether there is a word in it, places apart.
fn has_word(text: &str) -> bool {
    let mut run = 0;
    let mut inside = false;
    text.chars().any(|sign| {
        inside = (inside || sign == '{') && sign != '}';
        run = if sign.is_alphabetic() && !inside { run + 1 } else { 0 };
        run > 1
    })
}

/// The texts of one source file.
fn texts(source: &str) -> Vec<String> {
    let tokens = tokens(source);
    let mut found = Vec::new();
    // For each open bracket: whether it is inside a door.
    let mut open: Vec<bool> = Vec::new();
    // How deep the function stands that names something, until its body begins.
    let mut naming = None;
    let mut place = 0;
    while let Some(token) = tokens.get(place) {
        let before = |back: usize| place.checked_sub(back).and_then(|place| tokens.get(place));
        match token {
            Token::Sign('#') if matches!(tokens.get(place + 1), Some(Token::Sign('[' | '!'))) => {
                let end = after_bracket(&tokens, place + 1);
                let is_test = tokens[place..end].windows(3).any(|three| {
                    three[0] == Token::Word("cfg".to_owned()) && three[2] == Token::Word("test".to_owned())
                });
                place = if is_test { after_item(&tokens, end) } else { end };
                continue;
            }
            Token::Word(word) if matches!(before(1), Some(Token::Word(keyword)) if keyword == "fn") => {
                naming = NAMING.contains(&word.as_str()).then_some(open.len());
            }
            Token::Sign('(' | '[' | '{') => {
                let door = match (before(1), before(2)) {
                    (Some(Token::Word(word)), _) | (Some(Token::Sign('!')), Some(Token::Word(word))) => {
                        DOORS.contains(&word.as_str())
                    }
                    _ => false,
                };
                let body = *token == Token::Sign('{') && naming == Some(open.len());
                naming = naming.filter(|_| !body);
                open.push(door || body || open.last().copied().unwrap_or(false));
            }
            Token::Sign(')' | ']' | '}') => {
                open.pop();
            }
            Token::Text(text) => {
                let unread = matches!((before(1), before(2)), (Some(Token::Sign('=')), Some(Token::Word(name)))
                    if UNREAD.contains(&name.as_str()));
                let inside = open.last().copied().unwrap_or(false);
                if !unread && (inside && has_word(text) || looks_read(text)) {
                    found.push(text.clone());
                }
            }
            _ => {}
        }
        place += 1;
    }
    found
}

/// The place after the bracket that opens at or after a place.
fn after_bracket(tokens: &[Token], from: usize) -> usize {
    let mut depth = 0;
    for (place, token) in tokens.iter().enumerate().skip(from) {
        match token {
            Token::Sign('(' | '[' | '{') => depth += 1,
            Token::Sign(')' | ']' | '}') => {
                depth -= 1;
                if depth == 0 {
                    return place + 1;
                }
            }
            _ => {}
        }
    }
    tokens.len()
}

/// The place after an item: its block, or its semicolon.
fn after_item(tokens: &[Token], from: usize) -> usize {
    let end = tokens.iter().skip(from).position(|token| matches!(token, Token::Sign('{' | ';')));
    match end.map(|end| from + end) {
        Some(end) if tokens[end] == Token::Sign('{') => after_bracket(tokens, end),
        Some(end) => end + 1,
        None => tokens.len(),
    }
}

/// Source files of a folder, tests apart.
fn sources(folder: &Path, all: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the sources are there").flatten() {
        let path = entry.path();
        let name = entry.file_name().to_string_lossy().into_owned();
        let stem = name.trim_end_matches(".rs");
        let of_tests = ["tests", "snapshots", "brute"].contains(&stem) || stem.ends_with("_tests");
        if path.is_dir() && !of_tests {
            sources(&path, all);
        } else if name.ends_with(".rs") && !of_tests {
            all.push(path);
        }
    }
}

/// Every text in the sources of core and app, with the files that have it.
pub fn all(root: &Path) -> BTreeMap<String, Vec<String>> {
    let mut files = Vec::new();
    for folder in ["core/src", "app/src"] {
        sources(&root.join(folder), &mut files);
    }
    let mut all: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for file in files {
        let name = file.strip_prefix(root).unwrap_or(&file).display().to_string();
        for text in texts(&fs::read_to_string(&file).expect("a source is text")) {
            all.entry(text).or_default().push(name.clone());
        }
    }
    all
}
