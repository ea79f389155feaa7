//! Typed quantities and money: what they are, how they are read from typed text and how they are shown.
//!
//! A stored value is in SI units; only this module converts. Functions elsewhere take and give the typed
//! quantities ([`Length`], [`Pressure`], …), never a bare number whose unit is in the reader's head.

pub mod date;
pub mod money;
pub mod number;
pub mod quantity;

pub use date::Date;
pub use money::{Currency, Money};
pub use number::{NumberError, NumberStyle};
pub use quantity::{
    Acceleration, Angle, Duration, Length, Mass, Pressure, Quantity, Rotation, Speed, Temperature, Unit, Voltage,
    Volume,
};
