//! How the person wants things shown, for all worksheets.

use kerbworth_core::merge::Shared;
use kerbworth_core::restore::{record, words};
use kerbworth_core::seal::KnownKey;
use kerbworth_core::show::Show;
use kerbworth_core::units::Currency;
use serde::Serialize;

/// The look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Theme {
    /// As the device is set.
    #[default]
    Device,
    /// Light paper.
    Light,
    /// Dark paper.
    Dark,
    /// For full sun: black on white, heavier lines.
    Sun,
}

words! { Theme { Device, Light, Dark, Sun } }

/// Regions that can be chosen in the browser's place: tag and name.
pub const REGIONS: [(&str, &str); 6] = [
    ("en-GB", "Great Britain"),
    ("en-US", "United States"),
    ("de-DE", "Germany"),
    ("de-CH", "Switzerland"),
    ("fr-FR", "France"),
    ("sv-SE", "Sweden"),
];

impl Preferences {
    /// The tag of the region: one of [`REGIONS`], or blank. A comma chosen before regions could be stays one.
    pub fn region(&self) -> &'static str {
        let comma = if self.show.decimal_comma { "de-DE" } else { "" };
        REGIONS.into_iter().map(|(tag, _)| tag).find(|tag| *tag == self.region).unwrap_or(comma)
    }

    /// Chooses a region by its tag, or the browser's own.
    pub fn live_in(&mut self, tag: String) {
        self.region = tag;
        self.show.decimal_comma = false;
    }
}

impl Theme {
    /// The look as it is named on the screen.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Device => "as the device",
            Self::Light => "light",
            Self::Dark => "dark",
            Self::Sun => "full sun",
        }
    }

    /// The word that the stylesheet knows it by.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Device => "device",
            Self::Light => "light",
            Self::Dark => "dark",
            Self::Sun => "sun",
        }
    }
}

/// Preferences of the person on this device.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Preferences {
    /// The look.
    pub theme: Theme,
    /// Numbers and units.
    pub show: Show,
    /// Code of the language; blank is the browser's.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub language: String,
    /// Where numbers, dates and money are written so, as in `de-CH`; blank is as the browser does.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub region: String,
    /// Currency of new worksheets.
    pub currency: Currency,
    /// Single keys do nothing.
    #[serde(skip_serializing_if = "core::ops::Not::not")]
    pub keys_off: bool,
    /// The first steps were walked or skipped.
    #[serde(skip_serializing_if = "core::ops::Not::not")]
    pub walked: bool,
    /// What the person is called beside their seal.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub seal_name: String,
    /// Keys of others that the person knows.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub known_keys: Vec<KnownKey>,
}

record! { Preferences { theme, show, language, region, currency, keys_off, walked, seal_name, known_keys } }

impl Shared for Preferences {}

/// Format of the stored preferences.
pub const FORMAT: u32 = 1;
