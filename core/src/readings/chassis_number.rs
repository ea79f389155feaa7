//! The chassis number: the check digit of the 17-character scheme, and what can be said of older numbers.
//!
//! Letters, weights and rule: 49 CFR 565, table III to V. The scheme began with model year 1981; before it every
//! maker had a form of its own, without a check digit. Outside North America (ISO 3779) the ninth place need not be
//! one.

use super::desk::Desk;
use crate::phrase;
use crate::phrase::{Phrase, Say, display};

/// How many characters the scheme has.
pub const LENGTH: usize = 17;

/// Weight of each place; the ninth is the check digit itself.
const WEIGHTS: [u32; LENGTH] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

/// Why a text is no chassis number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChassisNumberError {
    /// Nothing but signs that numbers are not made of.
    Empty,
    /// A sign that is neither letter nor digit.
    Stray(char),
    /// More characters than any number has.
    TooLong(usize),
}

display!(ChassisNumberError);

impl Say for ChassisNumberError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Empty => phrase!("no letters or digits here; copy the number as it is stamped"),
            Self::Stray(sign) => phrase!("“{0}” is not part of a chassis number; copy its letters and digits", sign),
            Self::TooLong(count) => phrase!("{0} characters are too many; the longest scheme has 17", count),
        }
    }
}

impl core::error::Error for ChassisNumberError {}

/// What the check digit says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CheckDigit {
    /// The ninth character is the right one. One wrong number in eleven passes too.
    Right,
    /// The ninth character should be this one.
    Wrong {
        /// What the other sixteen call for.
        wanted: char,
    },
    /// I, O or Q stands in it, which the scheme never uses: a slip for 1 or 0, or no true number.
    Letter(char),
    /// The ninth character cannot be a check digit: a number made without one, as outside North America.
    NotUsed,
    /// No check digit exists for numbers of this many characters.
    DoesNotExist(usize),
}

/// The number without spaces, hyphens, dots, slashes and stars, in capitals.
///
/// # Errors
/// [`ChassisNumberError`] if another sign stands in it, or nothing is left, or it is longer than 17.
pub fn tidy(text: &str) -> Result<String, ChassisNumberError> {
    let mut number = String::new();
    for sign in text.chars() {
        match sign {
            'a'..='z' | 'A'..='Z' | '0'..='9' => number.push(sign.to_ascii_uppercase()),
            '-' | '–' | '.' | '/' | '*' | '_' => {}
            other if other.is_whitespace() => {}
            other => return Err(ChassisNumberError::Stray(other)),
        }
    }
    match number.len() {
        0 => Err(ChassisNumberError::Empty),
        count if count > LENGTH => Err(ChassisNumberError::TooLong(count)),
        _ => Ok(number),
    }
}

/// The weighted sum of a number of 17 characters; nothing for another length or with I, O or Q in it. The ninth
/// character does not count and may be anything.
#[must_use]
pub fn weighted_sum(number: &str) -> Option<u32> {
    if number.chars().count() != LENGTH {
        return None;
    }
    number.chars().zip(WEIGHTS).try_fold(0, |sum, (sign, weight)| match weight {
        0 => Some(sum),
        _ => Some(sum + value(sign)? * weight),
    })
}

/// What a sum calls for in the ninth place: the remainder by 11, with X for 10.
#[must_use]
pub fn digit_for(sum: u32) -> char {
    char::from_digit(sum % 11, 10).unwrap_or('X')
}

/// Judges a number as it is stamped.
///
/// # Errors
/// [`ChassisNumberError`] as for [`tidy`].
///
/// ```
/// use kerbworth_core::readings::chassis_number::{CheckDigit, judge};
/// assert_eq!(judge("1M8GDM9AXKP042788"), Ok(CheckDigit::Right));
/// assert_eq!(judge("1M8GDM9A0KP042788"), Ok(CheckDigit::Wrong { wanted: 'X' }));
/// assert_eq!(judge("BN1-1234"), Ok(CheckDigit::DoesNotExist(7)));
/// ```
pub fn judge(text: &str) -> Result<CheckDigit, ChassisNumberError> {
    let number = tidy(text)?;
    if number.len() != LENGTH {
        return Ok(CheckDigit::DoesNotExist(number.len()));
    }
    if let Some(letter) = number.chars().find(|sign| matches!(sign, 'I' | 'O' | 'Q')) {
        return Ok(CheckDigit::Letter(letter));
    }
    let (Some(sum), Some(ninth)) = (weighted_sum(&number), number.chars().nth(8)) else {
        return Ok(CheckDigit::DoesNotExist(number.len()));
    };
    Ok(match digit_for(sum) {
        wanted if wanted == ninth => CheckDigit::Right,
        _ if !ninth.is_ascii_digit() && ninth != 'X' => CheckDigit::NotUsed,
        wanted => CheckDigit::Wrong { wanted },
    })
}

/// What a character counts.
fn value(sign: char) -> Option<u32> {
    Some(match sign {
        '0'..='9' => sign.to_digit(10)?,
        'A' | 'J' => 1,
        'B' | 'K' | 'S' => 2,
        'C' | 'L' | 'T' => 3,
        'D' | 'M' | 'U' => 4,
        'E' | 'N' | 'V' => 5,
        'F' | 'W' => 6,
        'G' | 'P' | 'X' => 7,
        'H' | 'Y' => 8,
        'R' | 'Z' => 9,
        _ => return None,
    })
}

/// The rule `chassis-number`.
pub(super) fn read(desk: &mut Desk) {
    let Some(text) = desk.text("number") else { return };
    let Some(digit) = desk.take("number", judge(text)) else { return };
    match digit {
        CheckDigit::Right => {
            desk.result("check-digit-wrong", 0.0);
            desk.note("The check digit is right; one wrong number in eleven passes as well.");
        }
        CheckDigit::Wrong { wanted } => {
            desk.result("check-digit-wrong", 1.0);
            desk.note(phrase!(
                "The ninth character should be {0}, if the number has a check digit: made for North America \
                 it has, elsewhere it need not. Read the number again first.",
                wanted
            ));
        }
        CheckDigit::Letter(letter) => {
            desk.result("check-digit-wrong", 1.0);
            let likely = if letter == 'I' { '1' } else { '0' };
            desk.note(phrase!(
                "{0} is never used in a number of 17 characters: read it again, {1} is likely.",
                letter,
                likely
            ));
        }
        CheckDigit::NotUsed => {
            desk.note(
                "No check digit exists in this number: its ninth character is not one, as outside North America.",
            );
        }
        CheckDigit::DoesNotExist(count) => {
            desk.note(phrase!(
                "No check digit exists for numbers of this length ({0}); before model year 1981 each maker had a form of \
                 its own. Compare it with papers and plates.",
                count
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(judge(" - "), Err(ChassisNumberError::Empty));
        assert_eq!(judge("AB#123"), Err(ChassisNumberError::Stray('#')));
        assert_eq!(judge("123456789012345678"), Err(ChassisNumberError::TooLong(18)));
    }

    #[test]
    fn a_number_is_read_as_it_is_stamped() {
        assert_eq!(judge("*1m8gd m9ax kp04-2788*"), Ok(CheckDigit::Right));
        assert_eq!(judge("WAAZZZ12ZEN123456"), Ok(CheckDigit::NotUsed));
    }

    proptest! {
        #[test]
        fn the_digit_asked_for_is_right(number in "[0-9A-HJ-NPR-Z]{8}0[0-9A-HJ-NPR-Z]{8}") {
            let wanted = digit_for(weighted_sum(&number).unwrap());
            let put_right = format!("{}{wanted}{}", &number[..8], &number[9..]);
            prop_assert_eq!(judge(&put_right), Ok(CheckDigit::Right));
        }

        #[test]
        fn never_panics(text in "\\PC{0,40}") {
            let _ = judge(&text);
            let _ = weighted_sum(&text);
        }
    }
}
