//! A link as decimal digits, for a QR code: it has a mode for digits that takes 10 bits for three, so that a byte costs
//! 8.08 bits; as letters it would cost 10.67.

use super::letters;

/// Bits that ten digits tell: 2^33 is a little less than 10^10.
const BITS: u32 = 33;
const DIGITS: usize = 10;

/// A link as digits; nothing if it is none.
///
/// ```
/// use kerbworth_core::link::{digits, letters};
/// let link = letters::letters(b"worksheet");
/// let digits = digits::digits(&link).ok_or("a link")?;
/// assert!(digits.bytes().all(|digit| digit.is_ascii_digit()));
/// assert_eq!(digits::bytes(&digits).ok_or("digits")?, b"worksheet");
/// # Ok::<(), &str>(())
/// ```
#[must_use]
pub fn digits(link: &str) -> Option<String> {
    let bytes = letters::bytes(link).ok()?;
    let mut out = String::new();
    let (mut group, mut bits) = (0_u64, 0);
    for byte in bytes.iter().chain(&[0; 4]) {
        group = group << 8 | u64::from(*byte);
        bits += 8;
        if bits >= BITS {
            bits -= BITS;
            out += &format!("{:010}", group >> bits);
            group &= (1 << bits) - 1;
        }
    }
    Some(out)
}

/// Digits as bytes; nothing if there are other signs or these are not tens of digits. The zeros that fill the last group
/// are left out: no link ends with one.
#[must_use]
pub fn bytes(text: &str) -> Option<Vec<u8>> {
    let digits = text.as_bytes();
    if digits.is_empty() || !digits.iter().all(u8::is_ascii_digit) || digits.len() % DIGITS != 0 {
        return None;
    }
    let mut out = Vec::new();
    let (mut rest, mut bits) = (0_u64, 0);
    for ten in digits.chunks(DIGITS) {
        let group = ten.iter().fold(0, |group, digit| group * 10 + u64::from(digit - b'0'));
        rest = rest << BITS | group & ((1 << BITS) - 1);
        bits += BITS;
        while bits >= 8 {
            bits -= 8;
            out.push((rest >> bits) as u8);
        }
        rest &= (1 << bits) - 1;
    }
    while out.last() == Some(&0) {
        out.pop();
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn other_texts_are_not_digits() {
        for text in ["", "123", "12345678901", "123456789a", "١٢٣٤٥٦٧٨٩٠"] {
            assert_eq!(bytes(text), None, "{text}");
        }
        assert_eq!(digits("no link!"), None);
    }

    proptest! {
        #[test]
        fn bytes_come_back(mut plain in proptest::collection::vec(any::<u8>(), 0..80)) {
            plain.push(1);
            let digits = digits(&letters::letters(&plain)).unwrap();
            prop_assert!(digits.len() <= plain.len() * 80 / 33 + 20);
            prop_assert_eq!(bytes(&digits).unwrap(), plain);
        }
    }
}
