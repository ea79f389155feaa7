//! Readings: one file a quantity, from what is entered to what it means.

use serde::{Deserialize, Serialize};

/// The rule that reads a reading: what is entered, what is derived.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum Rule {
    Plain,
    EachWheel,
    TyreSize,
    TyreLoad,
    TyreAge,
    FreePlay,
    Camber,
    Toe,
    Stop,
    PedalReserve,
    BatteryRest,
    Charging,
    Compression,
    LeakDown,
    PaintFilm,
    ChassisNumber,
    Counter,
    Idle,
    Speedometer,
    Gearing,
    OilPressure,
    Consumption,
}

/// temporary
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Reading {
    /// n
    pub note: String,
}
