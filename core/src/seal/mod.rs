//! The seal: an Ed25519 signature (RFC 8032) over a parcel and the figures it was appraised at.
//!
//! # What is sealed
//!
//! The bytes of [`Seal::message`]: a line that says what they are, then in the form of [`canonical`] the time, the key,
//! the [`Figures`] as shown, the worksheet, its own type sheet, and the sums of the shipped ones. Photographs are not.
//! The figures travel in the seal, so that a reader sees what was sealed even where a later program reckons otherwise.
//!
//! # Who signs
//!
//! The browser: Web Crypto has Ed25519 in Chromium from 137, Firefox from 130 and Safari from 17, and keeps the key
//! where no script can read it out. `ed25519-dalek` in here would cost every visitor 11 KB as brotli, and the passphrase
//! some 10 more (`chacha20poly1305`, `argon2`), where Web Crypto has PBKDF2 and AES-GCM ([`key_file`]). So core says
//! which bytes are signed and what an answer means; the app asks the browser:
//!
//! ```
//! use kerbworth_core::{appraise::appraise, parcel::Parcel, seal::{Figures, Key, Seal, Signature, Verdict, verdict}};
//! use kerbworth_core::sheet::{demo, extend::extend, general::general};
//!
//! let (worksheet, own) = (demo::worksheet()?, demo::curlew()?);
//! let figures = Figures::of(&appraise(&worksheet, &extend(&general()?, &own)), worksheet.settings.currency);
//! let mut parcel = Parcel::new(&worksheet, Some(&own));
//! # let (public_key, sign) = ([7; 32], |_: &[u8]| [0; 64]);
//! let mut seal = Seal::unsigned("2026-10-17T18:20".into(), Key(public_key), figures.clone());
//! seal.signature = Signature(sign(&seal.message(&parcel))); // crypto.subtle.sign("Ed25519", …)
//! parcel.seal = Some(seal);
//!
//! // On the reader's side, `holds` is what crypto.subtle.verify said of key, signature and message.
//! # let holds = true;
//! let verdict = verdict(&parcel, Some(holds), &figures, &[]);
//! assert!(matches!(verdict, Verdict::Unaltered { same_figures: true, known: None, .. }));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # What a seal proves
//!
//! That whoever holds the key sealed exactly this, nothing of it changed since. Not who that is, unless the key's
//! fingerprint was had from them by another way; not when, for the time is the sealer's own clock; not that anything
//! in it is true. [`PROVES`] says so to the reader.

pub mod canonical;
mod figures;
pub mod key_file;
mod raw;

#[cfg(test)]
mod tests;

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use serde::Serialize;

pub use figures::Figures;
pub use raw::{Key, Signature};

use crate::parcel::Parcel;
use crate::restore::record;

/// What a seal proves and what it does not, to be shown beside every verdict.
pub const PROVES: &str = "A seal proves that this is, word for word, what was sealed with the key named here. It does \
    not prove whose key that is: compare the fingerprint with one that you had from them directly. It does not prove \
    the time, which is from the sealer's own clock, nor that what is written is true. Photographs are not sealed.";

/// First line of what is signed, so that it cannot be taken for anything else.
const WHAT: &str = "Kerbworth seal 1\n";

/// A signature with what it speaks of beside the parcel.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Seal {
    /// When it was sealed, by the sealer's clock: `2026-10-17T18:20`, or as the app writes times.
    pub when: String,
    /// The key whose signature it is.
    #[serde(skip_serializing_if = "Key::is_blank")]
    pub key: Key,
    /// The signature.
    #[serde(skip_serializing_if = "Signature::is_blank")]
    pub signature: Signature,
    /// What the car was appraised at.
    pub figures: Figures,
}

record! { Seal { when, key, signature, figures } }

impl Seal {
    /// A seal that waits for its signature.
    #[must_use]
    pub fn unsigned(when: String, key: Key, figures: Figures) -> Self {
        Self { when, key, signature: Signature::default(), figures }
    }

    /// The bytes that are signed.
    #[must_use]
    pub fn message(&self, parcel: &Parcel) -> Vec<u8> {
        let unsigned = Self { signature: Signature::default(), ..self.clone() };
        let mut message = WHAT.to_owned();
        canonical::write(&parcel.under(Some(unsigned)).to_json(), &mut message);
        message.into_bytes()
    }
}

/// A key that the reader knows.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct KnownKey {
    /// The key.
    pub key: Key,
    /// Whose it is, in the reader's words.
    pub name: String,
}

record! { KnownKey { key, name } }

/// What is to be said of a parcel's seal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Verdict {
    /// There is none.
    NotSealed,
    /// This browser cannot tell.
    CannotTell,
    /// The signature does not fit: parcel, seal or key were changed.
    Altered,
    /// It is as it was sealed.
    Unaltered {
        /// The key's fingerprint.
        fingerprint: String,
        /// Whose key the reader knows it as.
        known: Option<String>,
        /// When it was sealed, by the sealer's clock.
        when: String,
        /// Whether this program reckons the same figures from it.
        same_figures: bool,
    },
}

/// Judges a parcel's seal. `holds` is what the browser said of key, signature and [`Seal::message`], nothing if it knows
/// no Ed25519; `now` is what this program reckons; `known` are the keys that the reader keeps.
#[must_use]
pub fn verdict(parcel: &Parcel, holds: Option<bool>, now: &Figures, known: &[KnownKey]) -> Verdict {
    let Some(seal) = &parcel.seal else { return Verdict::NotSealed };
    match holds {
        None => Verdict::CannotTell,
        Some(false) => Verdict::Altered,
        Some(true) => Verdict::Unaltered {
            fingerprint: seal.key.fingerprint(),
            known: known.iter().find(|known| known.key == seal.key).map(|known| known.name.clone()),
            when: seal.when.clone(),
            same_figures: seal.figures == *now,
        },
    }
}

display!(Verdict);

impl Say for Verdict {
    fn phrase(&self) -> Phrase {
        match self {
            Self::NotSealed => phrase!("Not sealed: nothing shows whether it was changed since it was written."),
            Self::CannotTell => {
                phrase!("Sealed, but this browser cannot check seals: open it in an up-to-date one to know.")
            }
            Self::Altered => phrase!(
                "ALTERED: this is not what was sealed. Do not rely on it; ask whoever sealed it for the link or file."
            ),
            Self::Unaltered { fingerprint, known, when, same_figures } => {
                let said = match known {
                    Some(name) => phrase!(
                        "Unaltered since it was sealed, {0} by the sealer's clock, with the key that you keep as {1} ({2}).",
                        when,
                        name,
                        fingerprint
                    ),
                    None => phrase!(
                        "Unaltered since it was sealed, {0} by the sealer's clock, with a key that you do not know ({1}).",
                        when,
                        fingerprint
                    ),
                };
                if *same_figures {
                    return said;
                }
                phrase!("{0} This program reckons other figures from it than those sealed: both are shown.", said)
            }
        }
    }
}
