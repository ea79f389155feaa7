//! Keys and signatures: bytes that are written as letters.

use serde::{Serialize, Serializer};
use serde_json::Value;

use crate::link::letters;
use crate::restore::{Restore, Trail};

macro_rules! raw {
    ($(#[$doc:meta])* $kind:ident, $size:literal, $wanted:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub struct $kind(pub [u8; $size]);

        impl $kind {
            /// Whether it is not there yet: no key or signature is all zeros.
            #[must_use]
            pub fn is_blank(&self) -> bool {
                self.0.iter().all(|byte| *byte == 0)
            }
        }

        impl Default for $kind {
            fn default() -> Self {
                Self([0; $size])
            }
        }

        impl Serialize for $kind {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(&letters::letters(&self.0))
            }
        }

        impl Restore for $kind {
            fn blank() -> Self {
                Self::default()
            }

            fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool {
                let read = json.as_str().and_then(|text| letters::bytes(text).ok()?.try_into().ok());
                trail.put(self, read.map(Self), json, $wanted)
            }
        }
    };
}

raw!(
    /// A public key as RFC 8032 encodes it, section 5.1.2.
    Key,
    32,
    "a key as 43 letters"
);
raw!(
    /// A signature as RFC 8032 encodes it, section 5.1.6.
    Signature,
    64,
    "a signature as 86 letters"
);

/// Bytes of a key that its fingerprint shows.
const SHOWN: usize = 10;

impl Key {
    /// What people compare: the first 80 bits of the key in five groups. A key is random already, so no digest would
    /// make it more so; to find another key with the same beginning takes 2^80 tries.
    ///
    /// ```
    /// use kerbworth_core::seal::Key;
    /// assert_eq!(Key([0xA5; 32]).fingerprint(), "A5A5 A5A5 A5A5 A5A5 A5A5");
    /// ```
    #[must_use]
    pub fn fingerprint(&self) -> String {
        let mut out = String::new();
        for (at, byte) in self.0.iter().take(SHOWN).enumerate() {
            let space = if at > 0 && at % 2 == 0 { " " } else { "" };
            out += &format!("{space}{byte:02X}");
        }
        out
    }
}
