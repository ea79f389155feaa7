//! The worksheet as a file, and the names of files.

use serde::Serialize;

use crate::worksheet::Worksheet;

/// Letters of the title in a file's name, at most: with up to three bytes a letter within the 255 that systems take.
const LONGEST_NAME: usize = 80;

/// The worksheet as the text of a JSON file: its own format, indented so that a person can read it. Blank if it cannot
/// be written, which nothing in a worksheet can cause.
#[must_use]
pub fn worksheet_file(worksheet: &Worksheet) -> String {
    json_file(worksheet)
}

/// Anything as the text of a JSON file, indented so that a person can read it. Blank if it cannot be written.
#[must_use]
pub fn json_file<T: Serialize>(it: &T) -> String {
    serde_json::to_string(it).map(|json| indented(&json) + "\n").unwrap_or_default()
}

/// A JSON text without white space, with a line for each value. Written so, and not by the JSON library's own
/// indenting, because that is code of its own for each type that is written.
fn indented(json: &str) -> String {
    let mut out = String::new();
    let line = |out: &mut String, depth: usize| {
        out.push('\n');
        out.push_str(&"  ".repeat(depth));
    };
    let (mut depth, mut in_text, mut escaped) = (0_usize, false, false);
    let mut signs = json.chars().peekable();
    while let Some(sign) = signs.next() {
        if in_text {
            in_text = escaped || sign != '"';
            escaped = !escaped && sign == '\\';
            out.push(sign);
            continue;
        }
        let closes = matches!(signs.peek(), Some('}' | ']'));
        match sign {
            '{' | '[' => {
                out.push(sign);
                depth += 1;
                if !closes {
                    line(&mut out, depth);
                }
            }
            '}' | ']' => {
                depth = depth.saturating_sub(1);
                if !out.ends_with(['{', '[']) {
                    line(&mut out, depth);
                }
                out.push(sign);
            }
            ',' => {
                out.push(sign);
                line(&mut out, depth);
            }
            ':' => out.push_str(": "),
            _ => {
                in_text = sign == '"';
                out.push(sign);
            }
        }
    }
    out
}

/// A name for a file about a worksheet: title, date and what it is, in small letters, digits and hyphens.
///
/// ```
/// use kerbworth_core::hand_over::file::file_name;
/// use kerbworth_core::sheet::demo;
/// let name = file_name(&demo::worksheet()?, "findings", "csv");
/// assert_eq!(name, "1967-wexcombe-curlew-1500-drophead-2026-10-17-findings.csv");
/// # Ok::<(), kerbworth_core::restore::RestoreError>(())
/// ```
#[must_use]
pub fn file_name(worksheet: &Worksheet, what: &str, ending: &str) -> String {
    let date = worksheet.visit.date.value().map(|date| date.to_string()).unwrap_or_default();
    let parts = [plain(&worksheet.title()), date, plain(what)];
    let named: Vec<&str> = parts.iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
    format!("{}.{ending}", named.join("-"))
}

/// Small letters and digits, words joined by hyphens. Letters of any script stay; what a system may refuse does not.
fn plain(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars().flat_map(char::to_lowercase).take(LONGEST_NAME) {
        if letter.is_alphanumeric() {
            out.push(letter);
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    out.trim_end_matches('-').to_owned()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::restore::restore;
    use crate::sheet::demo;
    use crate::worksheet::FORMAT;

    #[test]
    fn a_file_opens_as_what_was_saved() {
        for worksheet in [demo::worksheet().unwrap(), Worksheet::default()] {
            let (opened, unread) = restore::<Worksheet>(&worksheet_file(&worksheet), FORMAT).unwrap();
            assert_eq!((opened, unread.len()), (worksheet, 0));
        }
    }

    #[test]
    fn indents_as_the_json_library_does() {
        let json = json!({
            "a": [], "b": {}, "c": [1, [2.5, {"d": null}], "x,y:{z}[\"\\\\"], "e": {"f\\": "\\\"", "g": ""},
        });
        let demo = serde_json::to_value(demo::worksheet().unwrap()).unwrap();
        for value in [json, demo, json!([]), json!("[{\\\"")] {
            assert_eq!(indented(&value.to_string()), serde_json::to_string_pretty(&value).unwrap());
        }
    }

    #[test]
    fn names_are_plain() {
        let mut worksheet = Worksheet::default();
        assert_eq!(file_name(&worksheet, "", "json"), "unnamed-car.json");
        worksheet.car.maker = "../ Žába & Söhne: \u{0}".into();
        assert_eq!(file_name(&worksheet, "listing", "txt"), "žába-söhne-listing.txt");
        worksheet.car.maker = "x".repeat(500);
        assert_eq!(file_name(&worksheet, "", "json").len(), LONGEST_NAME + ".json".len());
    }
}
