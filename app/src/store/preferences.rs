//! How the person wants things shown, for all worksheets.

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
    /// Currency of new worksheets.
    pub currency: Currency,
    /// What the person is called beside their seal.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub seal_name: String,
    /// Keys of others that the person knows.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub known_keys: Vec<KnownKey>,
}

record! { Preferences { theme, show, currency, seal_name, known_keys } }

/// Format of the stored preferences.
pub const FORMAT: u32 = 1;
