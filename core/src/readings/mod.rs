//! Readings: one file a quantity, from what is entered to what it means.
//!
//! Each file holds the arithmetic of one measurement, typed by unit, with an error that says how to mend bad
//! input. Above them lies one uniform layer, through which a sheet's [`ReadingSpec`](crate::sheet::ReadingSpec)
//! is filled in and judged without anyone knowing which rule it is: [`Rule::inputs`] says what is asked,
//! [`read_typed`] turns a typed text into a [`Given`], a [`Reading`] keeps what was given, and [`read`] derives the
//! results, holds them against the limits and says what is wrong with the input. Nothing entered can make it panic.

pub mod battery;
pub mod brake;
pub mod camber;
pub mod charging;
pub mod chassis_number;
pub mod compression;
pub mod consumption;
pub mod counter;
pub mod derived;
pub mod each_wheel;
pub mod gearing;
pub mod given;
pub mod idle;
pub mod input;
pub mod leak_down;
pub mod oil_pressure;
pub mod outcome;
pub mod paint_film;
pub mod pedal;
pub mod plain;
pub mod say;
pub mod speedometer;
pub mod steering;
pub mod toe;
pub mod tyre;
pub mod vehicle_age;

mod desk;

use serde::Serialize;

use crate::restore::words;

pub use derived::ResultSpec;
pub use given::{Given, Reading, read_typed, show_given};
pub use input::{InputSpec, Takes, inputs_of};
pub use outcome::{Circumstances, InputProblem, Judged, Outcome, ResultLine, Verdict, read};

/// The rule that reads a reading: what is entered, what is derived.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)] // the modules say each in full
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

words! { Rule {
    Plain, EachWheel, TyreSize, TyreLoad, TyreAge, FreePlay, Camber, Toe, Stop, PedalReserve, BatteryRest, Charging,
    Compression, LeakDown, PaintFilm, ChassisNumber, Counter, Idle, Speedometer, Gearing, OilPressure, Consumption,
} }

impl Rule {}
