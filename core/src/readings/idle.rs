//! Idle: from a tachometer, or from the beat of the exhaust where there is none.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::{Rotation, Unit};

use super::desk::Desk;

/// Why an idle cannot be taken from what was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum IdleError {
    /// Not a number of cylinders that an engine has.
    Cylinders,
    /// A cycle has two strokes or four.
    Strokes,
    /// Slower or faster than an engine turns.
    Speed,
}

display!(IdleError);

impl Say for IdleError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Cylinders => phrase!("an engine has 1 to 16 cylinders, as a whole number"),
            Self::Strokes => phrase!("a cycle has 2 or 4 strokes"),
            Self::Speed => phrase!("an engine turns at 100 to 12,000 rpm; check the figure and its unit"),
        }
    }
}

impl core::error::Error for IdleError {}

/// How many strokes a cycle has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strokes {
    /// Each cylinder fires every turn.
    Two,
    /// Each cylinder fires every other turn.
    Four,
}

/// How many times the engine fires in a turn: half its cylinders for four strokes, all of them for two.
///
/// # Errors
/// [`IdleError::Cylinders`] if no engine has so many.
pub fn firings_per_turn(cylinders: u8, strokes: Strokes) -> Result<f64, IdleError> {
    if !(1..=16).contains(&cylinders) {
        return Err(IdleError::Cylinders);
    }
    Ok(match strokes {
        Strokes::Two => f64::from(cylinders),
        Strokes::Four => f64::from(cylinders) / 2.0,
    })
}

/// The firing frequency at an engine speed.
///
/// # Errors
/// [`IdleError`] if the engine or its speed is out of reach.
pub fn firing_frequency(speed: Rotation, cylinders: u8, strokes: Strokes) -> Result<Rotation, IdleError> {
    Ok(Rotation(checked(speed)?.0 * firings_per_turn(cylinders, strokes)?))
}

/// The engine speed at a firing frequency.
///
/// # Errors
/// [`IdleError`] if the engine or its speed is out of reach.
pub fn from_frequency(frequency: Rotation, cylinders: u8, strokes: Strokes) -> Result<Rotation, IdleError> {
    checked(Rotation(frequency.0 / firings_per_turn(cylinders, strokes)?))
}

/// A speed at which an engine can turn.
///
/// # Errors
/// [`IdleError::Speed`] otherwise.
pub fn checked(speed: Rotation) -> Result<Rotation, IdleError> {
    if (100.0..=12_000.0).contains(&speed.to(Unit::RevolutionPerMinute)) { Ok(speed) } else { Err(IdleError::Speed) }
}

/// The rule `idle`: the tachometer where there is one, otherwise the beat.
pub(super) fn read(desk: &mut Desk) {
    if desk.has("speed") {
        let Some(speed) = desk.number("speed") else { return };
        if let Some(speed) = desk.take("speed", checked(Rotation(speed))) {
            desk.result("idle", speed.0);
        }
        return;
    }
    if !desk.has("frequency") {
        desk.problem("speed", "enter the engine speed, or the firing frequency and the cylinders");
        return;
    }
    let Some(frequency) = desk.number("frequency") else { return };
    let strokes = match desk.number("strokes") {
        None => Ok(Strokes::Four),
        Some(4.0) => Ok(Strokes::Four),
        Some(2.0) => Ok(Strokes::Two),
        Some(_) => Err(IdleError::Strokes),
    };
    let Some(strokes) = desk.take("strokes", strokes) else { return };
    let cylinders = match desk.number("cylinders") {
        Some(typed) => desk.take("cylinders", whole(typed)),
        None if desk.has("cylinders") => None,
        None => {
            desk.problem("cylinders", "enter the number of cylinders, for the speed from the firing frequency");
            None
        }
    };
    let Some(cylinders) = cylinders else { return };
    match from_frequency(Rotation(frequency), cylinders, strokes) {
        Ok(speed) => desk.result("idle", speed.0),
        Err(error) => {
            desk.problem(if error == IdleError::Cylinders { "cylinders" } else { "frequency" }, error.phrase());
        }
    }
}

/// A whole number of cylinders.
fn whole(typed: f64) -> Result<u8, IdleError> {
    (1..=16_u8).find(|count| f64::from(*count) == typed).ok_or(IdleError::Cylinders)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(firings_per_turn(0, Strokes::Four), Err(IdleError::Cylinders));
        assert_eq!(from_frequency(Rotation(0.1), 4, Strokes::Four), Err(IdleError::Speed));
        assert_eq!(checked(Rotation(f64::NAN)), Err(IdleError::Speed));
        assert_eq!(whole(4.5), Err(IdleError::Cylinders));
    }

    proptest! {
        #[test]
        fn frequency_and_speed_are_each_others_way_back(rpm in 101.0..11_900.0_f64, cylinders in 1_u8..=16, two: bool) {
            let strokes = if two { Strokes::Two } else { Strokes::Four };
            let speed = Rotation::of(rpm, Unit::RevolutionPerMinute);
            let back = from_frequency(firing_frequency(speed, cylinders, strokes).unwrap(), cylinders, strokes).unwrap();
            prop_assert!((back.0 - speed.0).abs() < 1e-12 * speed.0);
        }
    }
}
