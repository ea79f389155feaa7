//! Decimal numbers as people type and read them.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
/// How numbers are written where the person lives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NumberStyle {
    /// The decimal sign.
    pub decimal: char,
    /// The sign between groups of three digits.
    pub group: char,
}

impl NumberStyle {
    /// `1,234.5`.
    pub const POINT: Self = Self { decimal: '.', group: ',' };
    /// `1.234,5`.
    pub const COMMA: Self = Self { decimal: ',', group: '.' };
}

impl Default for NumberStyle {
    fn default() -> Self {
        Self::POINT
    }
}

/// Why a text is not the number that a field wants. The sentence says how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NumberError {
    /// Something in it is not a digit, a sign or a separator.
    Stray(char),
    /// There are no digits.
    NoDigits,
    /// Two decimal signs, or groups that are not of three digits.
    Separators,
    /// Its only separator can part thousands or decimals, and is not used for either where the person lives.
    TwoWays,
    /// More decimals than the thing has.
    TooManyDecimals(u8),
    /// Minutes of an angle that are not from 0 to less than 60.
    Minutes,
    /// Too large to be kept exactly.
    TooLarge,
}

display!(NumberError);

impl Say for NumberError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Stray(sign) => phrase!("“{0}” is not part of a number; write digits, as in 1250.50", sign),
            Self::NoDigits => phrase!("no digits here; write a number, as in 1250.50"),
            Self::Separators => phrase!("unclear separators; write it without them, as in 1250.50"),
            Self::TwoWays => phrase!("this can be read in two ways; write it without a sign between thousands"),
            Self::TooManyDecimals(0) => phrase!("whole numbers only here"),
            Self::TooManyDecimals(most) => phrase!("at most {0} decimals here", most),
            Self::Minutes => phrase!("minutes are from 0 to 59; write the rest as degrees"),
            Self::TooLarge => phrase!("too large a number"),
        }
    }
}

impl core::error::Error for NumberError {}

/// A typed number taken apart: sign, whole digits, decimals. No meaning yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Digits {
    /// Whether it has a minus sign.
    pub negative: bool,
    /// Digits before the decimal sign, without leading zeros; may be empty.
    pub whole: String,
    /// Digits after the decimal sign; may be empty.
    pub decimals: String,
}

/// Takes a typed number apart.
///
/// Spaces and apostrophes between groups are passed over. Where point and comma could be either, the style decides if three
/// digits follow the only separator; otherwise it is the decimal sign. Where the style uses the separator for neither, it
/// is not guessed.
///
/// # Errors
/// [`NumberError`] names the first thing that is wrong.
pub fn digits(text: &str, style: NumberStyle) -> Result<Digits, NumberError> {
    let trimmed = text.trim();
    let (negative, unsigned) = match trimmed.strip_prefix(['-', '−', '–']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, trimmed.strip_prefix('+').unwrap_or(trimmed)),
    };
    let mut plain = String::with_capacity(unsigned.len());
    for sign in unsigned.chars() {
        match sign {
            '0'..='9' | '.' | ',' => plain.push(sign),
            ' ' | '\u{a0}' | '\u{202f}' | '\u{2009}' | '\'' | '’' => {}
            other => return Err(NumberError::Stray(other)),
        }
    }
    if !plain.contains(|sign: char| sign.is_ascii_digit()) {
        return Err(NumberError::NoDigits);
    }
    let (whole, decimals) = match decimal_place(&plain, style)? {
        Some(place) => {
            let (before, after) = plain.split_at(place);
            (before, after.get(1..).unwrap_or_default())
        }
        None => (plain.as_str(), ""),
    };
    if decimals.contains(['.', ',']) {
        return Err(NumberError::Separators);
    }
    let whole: String = ungroup(whole)?;
    Ok(Digits { negative, whole: whole.trim_start_matches('0').to_owned(), decimals: decimals.to_owned() })
}

/// Byte position of the decimal sign, if there is one.
fn decimal_place(plain: &str, style: NumberStyle) -> Result<Option<usize>, NumberError> {
    let last = plain.rfind(['.', ',']);
    let Some(place) = last else { return Ok(None) };
    let sign = if plain.as_bytes().get(place) == Some(&b'.') { '.' } else { ',' };
    let times = plain.matches(sign).count();
    let other = plain.contains(if sign == '.' { ',' } else { '.' });
    if times > 1 {
        // The same separator twice can only group; both kinds, the last repeated, is unclear.
        return if other { Err(NumberError::Separators) } else { Ok(None) };
    }
    if other || sign == style.decimal {
        return Ok(Some(place));
    }
    match may_part_thousands(plain) {
        true if sign == style.group => Ok(None),
        true => Err(NumberError::TwoWays),
        false => Ok(Some(place)),
    }
}

/// Whether a text is digits with one separator that can part thousands as well as decimals, as in `1.250`.
#[must_use]
pub fn may_part_thousands(text: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|sign| sign.is_ascii_digit());
    text.trim()
        .split_once(['.', ','])
        .is_some_and(|(before, after)| digits(before) && digits(after) && before.len() <= 3 && after.len() == 3)
}

/// Whole digits without their group signs, which must stand before groups of three.
fn ungroup(whole: &str) -> Result<String, NumberError> {
    let mut groups = whole.split(['.', ',']);
    let first = groups.next().unwrap_or_default();
    let mut plain = first.to_owned();
    for group in groups {
        if group.len() != 3 || first.is_empty() || first.len() > 3 {
            return Err(NumberError::Separators);
        }
        plain.push_str(group);
    }
    Ok(plain)
}

/// Reads a decimal number.
///
/// # Errors
/// [`NumberError`] if it is not one, or has more than 15 significant digits.
///
/// ```
/// use kerbworth_core::units::{NumberStyle, number};
/// assert_eq!(number::parse("1 250,5", NumberStyle::POINT), Ok(1250.5));
/// assert!(number::parse("12 or so", NumberStyle::POINT).is_err());
/// ```
pub fn parse(text: &str, style: NumberStyle) -> Result<f64, NumberError> {
    let Digits { negative, whole, decimals } = digits(text, style)?;
    if whole.len() + decimals.len() > 15 {
        return Err(NumberError::TooLarge);
    }
    let plain = format!("{}{whole}.{decimals}0", if negative { "-0" } else { "0" });
    plain.parse().map_err(|_| NumberError::TooLarge)
}

/// Reads a decimal as an integer of its smallest part: with two decimals, `12.5` is 1250.
///
/// # Errors
/// [`NumberError`] if it is not a number, has more than `places` decimals, or does not fit.
pub fn parse_scaled(text: &str, places: u8, style: NumberStyle) -> Result<i64, NumberError> {
    let Digits { negative, whole, decimals } = digits(text, style)?;
    let kept = decimals.trim_end_matches('0');
    if kept.len() > usize::from(places) {
        return Err(NumberError::TooManyDecimals(places));
    }
    let joined = format!("0{whole}{kept:0<width$}", width = usize::from(places));
    let value: i64 = joined.parse().map_err(|_| NumberError::TooLarge)?;
    Ok(if negative { -value } else { value })
}

/// Shows a number with so many decimals, in groups of three, with a true minus sign.
#[must_use]
pub fn show(value: f64, places: u8, style: NumberStyle) -> String {
    if !value.is_finite() {
        return "—".to_owned();
    }
    let plain = format!("{:.*}", usize::from(places), value.abs());
    let (whole, decimals) = plain.split_once('.').unwrap_or((&plain, ""));
    let zero = !plain.contains(|digit: char| ('1'..='9').contains(&digit));
    let mut shown = if value < 0.0 && !zero { String::from("−") } else { String::new() };
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) {
            shown.push(style.group);
        }
        shown.push(digit);
    }
    if !decimals.is_empty() {
        shown.push(style.decimal);
        shown.push_str(decimals);
    }
    shown
}

/// Shows a number with as many decimals as it needs, up to `most`, and no group signs: what a field shows for
/// a stored value, so that reading it back gives the same.
#[must_use]
pub fn show_short(value: f64, most: u8, style: NumberStyle) -> String {
    let ungrouped = NumberStyle { group: '\0', ..style };
    let shown = show(value, most, ungrouped).replace('\0', "").replace('−', "-");
    if most == 0 {
        return shown;
    }
    shown.trim_end_matches('0').trim_end_matches(style.decimal).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn reads(text: &str, style: NumberStyle, want: f64) {
        assert_eq!(parse(text, style), Ok(want), "{text:?}");
    }

    #[test]
    fn reads_what_people_type() {
        reads("12", NumberStyle::POINT, 12.0);
        reads(" 12.50 ", NumberStyle::POINT, 12.5);
        reads("12,5", NumberStyle::POINT, 12.5);
        reads("1,250", NumberStyle::POINT, 1250.0);
        reads("1,250", NumberStyle::COMMA, 1.25);
        reads("1.250", NumberStyle::COMMA, 1250.0);
        reads("1.5", NumberStyle::COMMA, 1.5);
        reads("1,234,567.25", NumberStyle::POINT, 1_234_567.25);
        reads("1 234 567,25", NumberStyle::POINT, 1_234_567.25);
        reads("−0.5", NumberStyle::POINT, -0.5);
        reads(".5", NumberStyle::POINT, 0.5);
        reads("5.", NumberStyle::POINT, 5.0);
        reads("0.125", NumberStyle::COMMA, 125.0 / 1000.0 * 1000.0);
    }

    #[test]
    fn what_can_be_read_in_two_ways_is_not_guessed() {
        let french = NumberStyle { decimal: ',', group: '\u{202f}' };
        let swiss = NumberStyle { decimal: '.', group: '’' };
        reads("1,250", french, 1.25);
        reads("1\u{202f}250", french, 1250.0);
        reads("1.25", french, 1.25);
        reads("1.250.000", french, 1_250_000.0);
        reads("12.5", swiss, 12.5);
        reads("1’250.5", swiss, 1250.5);
        assert_eq!(parse("1.250", french), Err(NumberError::TwoWays));
        assert_eq!(parse("1,250", swiss), Err(NumberError::TwoWays));
    }

    #[test]
    fn says_what_is_wrong() {
        let style = NumberStyle::POINT;
        assert_eq!(parse("", style), Err(NumberError::NoDigits));
        assert_eq!(parse("-", style), Err(NumberError::NoDigits));
        assert_eq!(parse("12k", style), Err(NumberError::Stray('k')));
        assert_eq!(parse("1e5", style), Err(NumberError::Stray('e')));
        assert_eq!(parse("1.2.3,4,5", style), Err(NumberError::Separators));
        assert_eq!(parse("12,34,567.0", style), Err(NumberError::Separators));
        assert_eq!(parse("9999999999999999", style), Err(NumberError::TooLarge));
        assert_eq!(parse_scaled("1.234", 2, NumberStyle::COMMA), Ok(123_400));
        assert_eq!(parse_scaled("1.239", 2, style), Err(NumberError::TooManyDecimals(2)));
        assert_eq!(parse_scaled("1.200", 2, style), Ok(120));
    }

    #[test]
    fn shows_groups_and_a_true_minus() {
        assert_eq!(show(-1_234_567.891, 2, NumberStyle::POINT), "−1,234,567.89");
        assert_eq!(show(-0.001, 1, NumberStyle::POINT), "0.0");
        assert_eq!(show(f64::NAN, 1, NumberStyle::POINT), "—");
        assert_eq!(show_short(12.50, 3, NumberStyle::COMMA), "12,5");
        assert_eq!(show_short(1200.0, 0, NumberStyle::POINT), "1200");
    }

    proptest! {
        #[test]
        fn what_is_shown_reads_back(minor in -1_000_000_000_i64..1_000_000_000, comma: bool) {
            let style = if comma { NumberStyle::COMMA } else { NumberStyle::POINT };
            let value = minor as f64 / 100.0;
            prop_assert_eq!(parse(&show(value, 2, style), style), Ok(value));
            prop_assert_eq!(parse(&show_short(value, 2, style), style), Ok(value));
            prop_assert_eq!(parse_scaled(&show(value, 2, style), 2, style), Ok(minor));
        }

        #[test]
        fn never_panics(text in "\\PC{0,24}") {
            let _ = parse(&text, NumberStyle::POINT);
            let _ = parse_scaled(&text, 2, NumberStyle::COMMA);
        }
    }
}
