//! A key as a file, closed by a passphrase: to move it to another device, or to have it when the browser's store is
//! cleared.
//!
//! The app closes and opens it by Web Crypto: PBKDF2 with SHA-256 over passphrase, `salt` and `rounds` gives a key for
//! AES-256-GCM, which with `nonce` closes the key's 32 secret bytes (as PKCS #8, in whatever wrapping the browser gives)
//! over [`KeyFile::bound`] as additional data, so that neither name, key nor rounds can be changed.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use serde::Serialize;

use super::Key;
use crate::hand_over::file::json_file;
use crate::link::letters;
use crate::restore::{RestoreError, record, restore};

/// Rounds of PBKDF2 that a new file takes: what OWASP's Password Storage Cheat Sheet asks for SHA-256 (2023).
pub const ROUNDS: u32 = 600_000;

/// Fewest and most rounds of a file that is opened: fewer protect nothing, more would hold up the device.
pub const ROUNDS_TAKEN: core::ops::RangeInclusive<u32> = 100_000..=5_000_000;

/// Bytes of a salt.
pub const SALT: usize = 16;

/// Bytes of a nonce, as AES-GCM wants them.
pub const NONCE: usize = 12;

/// Fewest and most bytes of what is closed: 32 of the key, or its PKCS #8 form, and 16 by which AES-GCM knows it.
pub const CLOSED: core::ops::RangeInclusive<usize> = 48..=200;

/// The file format this build writes.
pub const FORMAT: u32 = 1;

/// What the file is, so that another is not taken for it.
const WHAT: &str = "seal-key";

/// A key closed by a passphrase.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct KeyFile {
    /// `seal-key`.
    pub kerbworth: String,
    /// Format of this data, [`FORMAT`].
    pub format: u32,
    /// Whose key it is, in the owner's words.
    pub name: String,
    /// The public key.
    pub key: Key,
    /// Rounds of PBKDF2.
    pub rounds: u32,
    /// Salt, as letters.
    pub salt: String,
    /// Nonce, as letters.
    pub nonce: String,
    /// The closed secret key, as letters.
    pub closed: String,
}

record! { KeyFile { kerbworth, format, name, key, rounds, salt, nonce, closed } }

/// Why a key file cannot be opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum KeyFileError {
    /// It cannot be read at all.
    Unread(RestoreError),
    /// It is something else.
    NotAKey,
    /// Rounds outside [`ROUNDS_TAKEN`].
    Rounds(u32),
    /// A part is missing or was changed.
    Damaged,
}

display!(KeyFileError);

impl Say for KeyFileError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Unread(error) => error.phrase(),
            Self::NotAKey => phrase!("this is not a key file; choose the one that was saved under “Seal”"),
            Self::Rounds(rounds) => phrase!(
                "its passphrase would be tried {0} times over, which is not between {1} and {2}: save the key anew",
                rounds,
                ROUNDS_TAKEN.start(),
                ROUNDS_TAKEN.end()
            ),
            Self::Damaged => phrase!("a part of the key file is missing or was changed; use another copy of it"),
        }
    }
}

impl core::error::Error for KeyFileError {}

/// The bytes of a key file, as Web Crypto takes them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Parts {
    /// Salt for PBKDF2.
    pub salt: Vec<u8>,
    /// Nonce for AES-GCM.
    pub nonce: Vec<u8>,
    /// What AES-GCM is to open.
    pub closed: Vec<u8>,
}

impl KeyFile {
    /// A file that waits for what is closed.
    #[must_use]
    pub fn new(name: String, key: Key, salt: [u8; SALT], nonce: [u8; NONCE]) -> Self {
        Self {
            kerbworth: WHAT.to_owned(),
            format: FORMAT,
            name,
            key,
            rounds: ROUNDS,
            salt: letters::letters(&salt),
            nonce: letters::letters(&nonce),
            closed: String::new(),
        }
    }

    /// The additional data that closing binds: everything but salt, nonce and what is closed.
    #[must_use]
    pub fn bound(&self) -> Vec<u8> {
        let Self { kerbworth, format, name, key, rounds, .. } = self;
        format!("{kerbworth}\n{format}\n{}\n{rounds}\n{name}", letters::letters(&key.0)).into_bytes()
    }

    /// The text of the file. Blank if it cannot be written, which nothing in it can cause.
    #[must_use]
    pub fn to_file(&self) -> String {
        json_file(self)
    }

    /// Reads the text of a file; the passphrase is yet to come.
    ///
    /// # Errors
    /// [`KeyFileError`] if it is no key file, or none that a passphrase could open.
    pub fn of_file(text: &str) -> Result<(Self, Parts), KeyFileError> {
        let (file, unread) = restore::<Self>(text, FORMAT).map_err(KeyFileError::Unread)?;
        if file.kerbworth != WHAT {
            return Err(KeyFileError::NotAKey);
        }
        if !ROUNDS_TAKEN.contains(&file.rounds) {
            return Err(KeyFileError::Rounds(file.rounds));
        }
        let bytes = |text: &str| letters::bytes(text).map_err(|_| KeyFileError::Damaged);
        let parts = Parts { salt: bytes(&file.salt)?, nonce: bytes(&file.nonce)?, closed: bytes(&file.closed)? };
        let whole = parts.salt.len() == SALT && parts.nonce.len() == NONCE && CLOSED.contains(&parts.closed.len());
        if whole && unread.is_empty() { Ok((file, parts)) } else { Err(KeyFileError::Damaged) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn closed() -> KeyFile {
        let file = KeyFile::new("Curlew Circle".into(), Key([9; 32]), [1; SALT], [2; NONCE]);
        KeyFile { closed: letters::letters(&[3; 64]), ..file }
    }

    #[test]
    fn opens_as_it_was_saved() {
        let (file, parts) = KeyFile::of_file(&closed().to_file()).unwrap();
        assert_eq!(file, closed());
        assert_eq!(parts, Parts { salt: vec![1; SALT], nonce: vec![2; NONCE], closed: vec![3; 64] });
    }

    proptest::proptest! {
        #[test]
        fn any_key_opens_as_it_was_saved(name: String, key: [u8; 32], salt: [u8; SALT], nonce: [u8; NONCE], secret: [u8; 48]) {
            let file = KeyFile { closed: letters::letters(&secret), ..KeyFile::new(name, Key(key), salt, nonce) };
            let parts = Parts { salt: salt.to_vec(), nonce: nonce.to_vec(), closed: secret.to_vec() };
            proptest::prop_assert_eq!(KeyFile::of_file(&file.to_file()), Ok((file, parts)));
        }
    }

    #[track_caller]
    fn refused(change: impl FnOnce(&mut KeyFile), want: &KeyFileError) {
        let mut file = closed();
        change(&mut file);
        assert_eq!(KeyFile::of_file(&file.to_file()).as_ref(), Err(want));
    }

    #[test]
    fn what_no_passphrase_could_open_is_refused() {
        refused(|file| file.kerbworth = "worksheet".into(), &KeyFileError::NotAKey);
        refused(|file| file.rounds = 1, &KeyFileError::Rounds(1));
        refused(|file| file.rounds = u32::MAX, &KeyFileError::Rounds(u32::MAX));
        refused(|file| file.salt.clear(), &KeyFileError::Damaged);
        refused(|file| file.nonce.push('A'), &KeyFileError::Damaged);
        refused(|file| file.closed = letters::letters(&[3; 47]), &KeyFileError::Damaged);
        refused(|file| file.closed = "+".into(), &KeyFileError::Damaged);
        let key = closed().to_file().replace("CQkJ", "CQk");
        assert_eq!(KeyFile::of_file(&key), Err(KeyFileError::Damaged));
        assert!(matches!(KeyFile::of_file("{"), Err(KeyFileError::Unread(_))));
    }

    #[test]
    fn all_that_is_read_is_bound() {
        let bound = closed().bound();
        for change in [
            KeyFile { name: "Curlew Circl".into(), ..closed() },
            KeyFile { key: Key([8; 32]), ..closed() },
            KeyFile { rounds: ROUNDS + 1, ..closed() },
            KeyFile { format: 2, ..closed() },
        ] {
            assert_ne!(change.bound(), bound);
        }
    }
}
