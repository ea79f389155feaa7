//! The truth table of lamps: ignition and switch positions against what should light.

use serde::Serialize;

use crate::restore::record;

/// A lamp or lit warning that can be watched.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Lamp {
    /// Unique among lamps.
    pub id: String,
    /// As in "Left headlamp, dipped".
    pub name: String,
}

record! { Lamp { id, name } may {} }

/// One position of key and switches.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Situation {
    /// Unique among situations.
    pub id: String,
    /// As in "Ignition on, dipped beam".
    pub name: String,
    /// What to set.
    pub how: String,
    /// Lamps that should light; every other lamp should stay dark.
    pub lit: Vec<String>,
    /// Lamps that may be either way: how the type is made.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub either: Vec<String>,
}

record! { Situation { id, name, how, lit } may { either } }

/// What a lamp did in a situation.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct LampState {
    /// The situation's id.
    pub situation: String,
    /// The lamp's id.
    pub lamp: String,
    /// Whether it lit.
    pub lit: bool,
}

record! { LampState { situation, lamp, lit } may {} }

/// A pattern of lamps that is a sign. The first pattern that explains a difference takes it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct LampPattern {
    /// The sign that is raised.
    pub sign: String,
    /// What must have been seen, all of it.
    pub seen: Vec<LampState>,
}

record! { LampPattern { sign, seen } may {} }

/// The table with its patterns.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct LampTable {
    /// The check that the table belongs to.
    pub check: String,
    /// Lamps watched.
    pub lamps: Vec<Lamp>,
    /// Positions tried, in order.
    pub situations: Vec<Situation>,
    /// Patterns, most telling first.
    pub patterns: Vec<LampPattern>,
    /// Sign for a lamp that stays dark and that no pattern explains.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub dark: String,
    /// Sign for a lamp that lights when it should not and that no pattern explains.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub stray: String,
}

record! { LampTable { check, lamps, situations, patterns, dark, stray } }
