//! A link as a QR code (ISO/IEC 18004), drawn as one path.
//!
//! `qrcodegen` makes it: no dependencies, finished, 5 KB as brotli (`fast_qr` and `qrcode` 11). What goes in is the
//! address in the mode for bytes and the link's own part in that for digits ([`crate::link::digits`]), which takes a
//! quarter less room than letters would.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use qrcodegen::{QrCode, QrCodeEcc, QrSegment};

use crate::link::digits;

/// Modules of white that must surround a code; ISO/IEC 18004, 2015, section 6.3.8.
const QUIET: i32 = 4;

/// Modules a side, quiet zone and all, up to which a phone reads a code from a screen or from A5 paper with ease:
/// version 25. Common practice, no source.
pub const EASY: i32 = 117 + 2 * QUIET;

/// A code that can be drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Code {
    /// Modules a side, with the white around it: the size of the view box.
    pub size: i32,
    /// The dark modules as the data of an SVG path, one unit a module. The ground must be white in every look.
    pub path: String,
}

impl Code {
    /// Whether a phone reads it with ease.
    #[must_use]
    pub const fn is_easy(&self) -> bool {
        self.size <= EASY
    }
}

/// Why there is no code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum QrError {
    /// More than the largest code holds.
    DoesNotFit {
        /// Letters of the link.
        letters: usize,
    },
    /// What should be a link is none.
    NotALink,
}

display!(QrError);

impl Say for QrError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::DoesNotFit { letters } => phrase!(
                "a link of {0} letters is more than a QR code holds; send the link itself, or hand over the file",
                letters
            ),
            Self::NotALink => phrase!("this is not a link that can be drawn; make it again"),
        }
    }
}

impl core::error::Error for QrError {}

/// The code of an address: what stands before the link, up to and with `#` and the app's own word, and the link as
/// [`crate::link::encode`] gives it.
///
/// # Errors
/// [`QrError`] if it does not fit, or `link` is none.
pub fn code(before: &str, link: &str) -> Result<Code, QrError> {
    let digits = digits::digits(link).ok_or(QrError::NotALink)?;
    let segments = [QrSegment::make_bytes(before.as_bytes()), QrSegment::make_numeric(&digits)];
    let code =
        QrCode::encode_segments(&segments, QrCodeEcc::Low).map_err(|_| QrError::DoesNotFit { letters: link.len() })?;
    Ok(Code { size: code.size() + 2 * QUIET, path: path(&code) })
}

/// Each run of dark modules in a row, as a rectangle.
fn path(code: &QrCode) -> String {
    let mut out = String::new();
    for y in 0..code.size() {
        let mut x = 0;
        while x < code.size() {
            let from = x;
            while code.get_module(x, y) {
                x += 1;
            }
            if x > from {
                out += &format!("M{} {}h{}v1h-{}z", from + QUIET, y + QUIET, x - from, x - from);
            }
            x += 1;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::link::letters::letters;

    #[test]
    fn is_drawn_within_its_box() {
        let code = code("https://host.example/#link/", &letters(b"a worksheet")).unwrap();
        assert_eq!((code.size - 2 * QUIET) % 4, 1);
        assert!(code.is_easy());
        // The finder pattern: seven dark modules, then one white.
        assert!(code.path.starts_with("M4 4h7v1h-7z"), "{}", code.path);
        assert_eq!(code.path.matches('z').count(), code.path.matches('M').count());
    }

    #[test]
    fn what_does_not_fit_is_told() {
        let most = letters(&[7; 2860]);
        assert!(!code("https://host.example/#", &most).unwrap().is_easy());
        let error = code("https://host.example/#", &letters(&[7; 2930])).unwrap_err();
        assert!(error.to_string().contains("a link of 3907 letters"), "{error}");
        assert_eq!(code("x", "no link!"), Err(QrError::NotALink));
    }
}
