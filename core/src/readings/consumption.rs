//! Fuel consumption: what 100 km take, and how far a gallon goes.

use core::fmt;

use crate::units::{Length, NumberStyle, Unit, Volume, number};

use super::desk::Desk;

/// Why a consumption cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ConsumptionError {
    /// No distance.
    Distance,
    /// No fuel, or more than a car burns over that distance.
    Volume,
}

impl fmt::Display for ConsumptionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Distance => write!(f, "the distance is more than 1 km (0.6 mi); fill up, drive, fill up again"),
            Self::Volume => {
                write!(f, "the fuel is above 0 and at most 1 L a kilometre; enter what the second filling took")
            }
        }
    }
}

impl core::error::Error for ConsumptionError {}

/// Fuel that 100 km take.
///
/// # Errors
/// [`ConsumptionError`] if there is no distance, no fuel, or more than a litre a kilometre.
pub fn per_hundred_kilometres(distance: Length, volume: Volume) -> Result<Volume, ConsumptionError> {
    if !(distance.0 > 1000.0 && distance.0 <= 1e9) {
        return Err(ConsumptionError::Distance);
    }
    let for_hundred = volume.0 / distance.0 * 100_000.0;
    if for_hundred > 0.0 && for_hundred <= 0.1 { Ok(Volume(for_hundred)) } else { Err(ConsumptionError::Volume) }
}

/// How many miles a gallon of this size lasts, for fuel that 100 km take.
#[must_use]
pub fn miles_per_gallon(for_hundred_kilometres: Volume, gallon: Unit) -> f64 {
    let miles = Length(100_000.0).to(Unit::Mile);
    miles / for_hundred_kilometres.to(gallon)
}

/// The rule `consumption`.
pub(super) fn read(desk: &mut Desk) {
    let (Some(distance), Some(volume)) = (desk.number("distance"), desk.number("volume")) else { return };
    match per_hundred_kilometres(Length(distance), Volume(volume)) {
        Ok(fuel) => {
            desk.result("per-distance", fuel.0);
            let shown = |gallon| number::show(miles_per_gallon(fuel, gallon), 1, NumberStyle::POINT);
            desk.note(format!(
                "That is {} miles to the imperial gallon, {} to the US gallon.",
                shown(Unit::ImperialGallon),
                shown(Unit::UsGallon)
            ));
        }
        Err(error) => {
            desk.problem(if error == ConsumptionError::Distance { "distance" } else { "volume" }, error.to_string());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(per_hundred_kilometres(Length(0.0), Volume(0.01)), Err(ConsumptionError::Distance));
        assert_eq!(per_hundred_kilometres(Length(1e5), Volume(0.0)), Err(ConsumptionError::Volume));
        assert_eq!(per_hundred_kilometres(Length(1e5), Volume(1.0)), Err(ConsumptionError::Volume));
    }

    #[test]
    fn litres_and_gallons_agree() {
        // The constants follow from the definitions of mile and gallons: 282.48 and 235.21 over L/100 km.
        let fuel = per_hundred_kilometres(Length(2e5), Volume(0.02)).unwrap();
        assert!((fuel.to(Unit::Litre) - 10.0).abs() < 1e-12);
        assert!((miles_per_gallon(fuel, Unit::ImperialGallon) - 28.248).abs() < 5e-4);
        assert!((miles_per_gallon(fuel, Unit::UsGallon) - 23.521).abs() < 5e-4);
    }
}
