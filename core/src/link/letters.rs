//! Bytes as letters that an address may hold (RFC 4648, section 5, without padding), and the sum that notices damage.

use super::LinkError;

const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// Bytes as letters.
#[must_use]
pub fn letters(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(bytes.len() * 4 / 3 + 1);
    for chunk in bytes.chunks(3) {
        let group = chunk.iter().zip([16, 8, 0]).fold(0_u32, |group, (byte, shift)| group | u32::from(*byte) << shift);
        for shift in [18, 12, 6, 0].into_iter().take(chunk.len() + 1) {
            out.push(char::from(LETTERS.get((group >> shift & 63) as usize).copied().unwrap_or(b'A')));
        }
    }
    out
}

/// Letters as bytes. Spaces and line ends, as a letter-writing program may put in, are passed over.
///
/// # Errors
/// [`LinkError::Letter`] at a sign that no link has; [`LinkError::Damaged`] where the letters stop within a byte.
pub fn bytes(text: &str) -> Result<Vec<u8>, LinkError> {
    let mut out = Vec::with_capacity(text.len() * 3 / 4);
    let (mut group, mut bits) = (0_u32, 0);
    for letter in text.chars().filter(|letter| !letter.is_whitespace()) {
        let place = LETTERS.iter().position(|known| char::from(*known) == letter).ok_or(LinkError::Letter(letter))?;
        group = group << 6 | place as u32;
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            out.push((group >> bits) as u8);
            group &= (1 << bits) - 1;
        }
    }
    if bits >= 6 || group != 0 { Err(LinkError::Damaged) } else { Ok(out) }
}

/// The sum over bytes: FNV-1a of 32 bits (Fowler, Noll and Vo). Another value of one byte always gives another sum.
#[must_use]
pub fn sum(bytes: &[u8]) -> u32 {
    bytes.iter().fold(0x811C_9DC5, |sum: u32, byte| (sum ^ u32::from(*byte)).wrapping_mul(0x0100_0193))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// RFC 4648, section 10, without the padding; the last is of section 5's own alphabet.
    #[test]
    fn letters_are_the_standards() {
        for (plain, want) in [
            ("", ""),
            ("f", "Zg"),
            ("fo", "Zm8"),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg"),
            ("fooba", "Zm9vYmE"),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(letters(plain.as_bytes()), want);
            assert_eq!(bytes(want).unwrap(), plain.as_bytes());
        }
        assert_eq!(letters(&[0xFB, 0xFF]), "-_8");
    }

    /// From the authors' list of test vectors (from memory).
    #[test]
    fn the_sum_is_fnv_1a() {
        assert_eq!(sum(b""), 0x811C_9DC5);
        assert_eq!(sum(b"a"), 0xE40C_292C);
        assert_eq!(sum(b"foobar"), 0xBF9C_F968);
    }

    #[test]
    fn what_is_not_a_link_is_refused() {
        assert_eq!(bytes("Zm9v+w"), Err(LinkError::Letter('+')));
        assert_eq!(bytes("Zm9vY"), Err(LinkError::Damaged));
        assert_eq!(bytes("Zh"), Err(LinkError::Damaged));
        assert_eq!(bytes(" Zm9v\r\nYmFy\n").unwrap(), b"foobar");
    }

    proptest! {
        #[test]
        fn bytes_come_back(plain in proptest::collection::vec(any::<u8>(), 0..50)) {
            prop_assert_eq!(bytes(&letters(&plain)).unwrap(), plain);
        }
    }
}
