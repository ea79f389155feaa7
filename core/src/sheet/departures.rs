//! Departures from how the car was made, and which of them combine badly.

use serde::Serialize;

use crate::restore::record;

/// A way in which the car may differ from how it was made. Not a fault in itself.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Departure {
    /// Unique among departures.
    pub id: String,
    /// As in "Stiffer rear springs".
    pub name: String,
    /// How to tell that it is there.
    pub tell: String,
    /// What it does by itself; empty if nothing worth saying.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub effect: String,
}

record! { Departure { id, name, tell } may { effect } }

/// Departures that combine badly: a rule, as data.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Combination {
    /// Unique among combinations.
    pub id: String,
    /// Ids of the departures that must all be there.
    pub all: Vec<String>,
    /// What the combination does to the handling.
    pub effect: String,
    /// Whether the car is held: not to be driven hard, or at all, until it is undone.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub hold: bool,
    /// Where the rule comes from.
    pub source: String,
}

record! { Combination { id, all, effect, source } may { hold } }
