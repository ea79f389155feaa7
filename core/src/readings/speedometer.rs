//! The speedometer: what it shows against the truth, and what other tyres do to it.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::{Length, Speed, Unit};

use super::desk::Desk;

/// Why a speedometer cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpeedometerError {
    /// The speed shown is beyond a dial.
    Shown,
    /// The true speed is nil or beyond a car.
    Actual,
    /// A tyre's diameter is not that of a car's tyre.
    Diameter,
}

display!(SpeedometerError);

impl Say for SpeedometerError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Shown => phrase!("the speed shown is 0 to 400 km/h (250 mph)"),
            Self::Actual => phrase!("the true speed is above 0 and at most 400 km/h (250 mph)"),
            Self::Diameter => phrase!("a tyre is 300 to 1,200 mm (12 to 47 in) high"),
        }
    }
}

impl core::error::Error for SpeedometerError {}

/// How a speedometer shows a true speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accuracy {
    /// Shown less true; negative where it reads low.
    pub over: Speed,
    /// How much of it goes beyond the allowance of UN R39; negative inside it.
    pub over_allowance: Speed,
}

/// The most that UN R39, 5.3, lets a speedometer show above a true speed: a tenth of it and 4 km/h. It must never
/// show less.
#[must_use]
pub fn allowance(actual: Speed) -> Speed {
    Speed(0.1 * actual.0 + Speed::of(4.0, Unit::KilometrePerHour).0)
}

/// Judges one pair of speeds.
///
/// # Errors
/// [`SpeedometerError`] if a speed is out of reach.
pub fn judge(shown: Speed, actual: Speed) -> Result<Accuracy, SpeedometerError> {
    let most = Speed::of(400.0, Unit::KilometrePerHour).0;
    if !(0.0..=most).contains(&shown.0) {
        return Err(SpeedometerError::Shown);
    }
    if !(actual.0 > 0.0 && actual.0 <= most) {
        return Err(SpeedometerError::Actual);
    }
    let over = shown.0 - actual.0;
    Ok(Accuracy { over: Speed(over), over_allowance: Speed(over - allowance(actual).0) })
}

/// Shown over true on tyres of another diameter, for a speedometer that was right on its own: the smaller tyre makes
/// it read high.
///
/// # Errors
/// [`SpeedometerError::Diameter`] if a diameter is no tyre's.
pub fn shown_over_true(standard: Length, fitted: Length) -> Result<f64, SpeedometerError> {
    let tyre = |diameter: Length| (0.3..=1.2).contains(&diameter.0);
    if tyre(standard) && tyre(fitted) { Ok(standard.0 / fitted.0) } else { Err(SpeedometerError::Diameter) }
}

/// The rule `speedometer`.
pub(super) fn read(desk: &mut Desk) {
    let (Some(shown), Some(actual)) = (desk.number("shown"), desk.number("actual")) else { return };
    match judge(Speed(shown), Speed(actual)) {
        Ok(accuracy) => {
            desk.result("over", accuracy.over.0);
            desk.result("over-allowance", accuracy.over_allowance.0);
            desk.result("under", -accuracy.over.0);
        }
        Err(error) => {
            desk.problem(if error == SpeedometerError::Shown { "shown" } else { "actual" }, error.phrase());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(judge(Speed(-1.0), Speed(10.0)), Err(SpeedometerError::Shown));
        assert_eq!(judge(Speed(10.0), Speed(0.0)), Err(SpeedometerError::Actual));
        assert_eq!(shown_over_true(Length(0.0), Length(0.6)), Err(SpeedometerError::Diameter));
    }
}
