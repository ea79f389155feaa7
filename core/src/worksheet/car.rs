//! The car's identity and the occasion on which it is looked at.

use serde::Serialize;

use super::Entry;
use crate::restore::{record, words};
use crate::sheet::Tag;
use crate::units::{Date, Length, Money};

/// Identity of one car, as far as it is known.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Car {
    /// Who made it.
    pub maker: String,
    /// Model and body, as in "Curlew 1500 drophead".
    pub model: String,
    /// Year of manufacture.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub year: Entry<i32>,
    /// Registration mark.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub registration: String,
    /// Chassis number as stamped.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub chassis_number: String,
    /// Engine number as stamped.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub engine_number: String,
    /// Colour, inside and out.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub colour: String,
    /// Distance that it has covered, as believed after looking at counter and papers.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub mileage: Entry<Length>,
    /// Price asked, in the worksheet's currency.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub asked: Entry<Money>,
    /// How it is built, beside what the type sheet says.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tags: Vec<Tag>,
    /// Anything else.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
}

record! { Car {
    maker, model, year, registration, chassis_number, engine_number, colour, mileage, asked, tags, note,
} }

/// Why the car is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Purpose {
    /// To decide whether and at what price to buy.
    #[default]
    Buying,
    /// To prepare an honest listing.
    Selling,
    /// To give an opinion to somebody else.
    Appraising,
}

words! { Purpose { Buying, Selling, Appraising } }

impl Purpose {
    /// The purpose as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Buying => "Buying",
            Self::Selling => "Selling",
            Self::Appraising => "Appraising for somebody",
        }
    }
}

/// The occasion.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Visit {
    /// Why.
    pub purpose: Purpose,
    /// The day; the valuation date too.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub date: Entry<Date>,
    /// Where.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// Who looked.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub by: String,
    /// For whom.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub on_behalf_of: String,
    /// Minutes there are for it.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub minutes: Entry<f64>,
}

record! { Visit { purpose, date, place, by, on_behalf_of, minutes } }
