//! Consumption of fuel or oil: what 100 km take, and how far a gallon of fuel goes.

use crate::figure::Amount;
use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::{Length, Unit, Volume};

use super::desk::Desk;

/// Why a consumption cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ConsumptionError {
    /// No distance.
    Distance,
    /// Less than nothing, or more than a car uses over that distance.
    Volume,
}

display!(ConsumptionError);

impl Say for ConsumptionError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Distance => phrase!("the distance is more than 1 km (0.6 mi); fill up, drive, fill up again"),
            Self::Volume => phrase!("at most 1 L a kilometre is used; enter what the second filling took"),
        }
    }
}

impl core::error::Error for ConsumptionError {}

/// What 100 km take: a volume over that distance, since no unit of distance suits both fuel and oil.
///
/// # Errors
/// [`ConsumptionError`] if there is no distance, or more than a litre a kilometre is used.
pub fn per_hundred_kilometres(distance: Length, volume: Volume) -> Result<Volume, ConsumptionError> {
    if !(distance.0 > 1000.0 && distance.0 <= 1e9) {
        return Err(ConsumptionError::Distance);
    }
    let for_hundred = volume.0 / distance.0 * 100_000.0;
    if (0.0..=0.1).contains(&for_hundred) { Ok(Volume(for_hundred)) } else { Err(ConsumptionError::Volume) }
}

/// How many miles a gallon of this size lasts, for what 100 km take; nothing where nothing is used.
#[must_use]
pub fn miles_per_gallon(for_hundred_kilometres: Volume, gallon: Unit) -> Option<f64> {
    let miles = Length(100_000.0).to(Unit::Mile) / for_hundred_kilometres.to(gallon);
    miles.is_finite().then_some(miles)
}

/// Below this for 100 km it is oil that was measured: no car goes so far on fuel.
const LEAST_FUEL: Volume = Volume(0.002);

/// The rule `consumption`. Miles to the gallon are named where it is fuel.
pub(super) fn read(desk: &mut Desk) {
    let (Some(distance), Some(volume)) = (desk.number("distance"), desk.number("volume")) else { return };
    match per_hundred_kilometres(Length(distance), Volume(volume)) {
        Ok(used) => {
            desk.result("per-distance", used.0);
            let miles = |gallon| miles_per_gallon(used, gallon).filter(|_| used >= LEAST_FUEL);
            if let (Some(imperial), Some(american)) = (miles(Unit::ImperialGallon), miles(Unit::UsGallon)) {
                desk.note(phrase!(
                    "That is {0} miles to the imperial gallon, {1} to the US gallon.",
                    Amount::Number(imperial, 1),
                    Amount::Number(american, 1)
                ));
            }
        }
        Err(error) => {
            desk.problem(if error == ConsumptionError::Distance { "distance" } else { "volume" }, error.phrase());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(per_hundred_kilometres(Length(0.0), Volume(0.01)), Err(ConsumptionError::Distance));
        assert_eq!(per_hundred_kilometres(Length(1e5), Volume(-0.001)), Err(ConsumptionError::Volume));
        assert_eq!(per_hundred_kilometres(Length(1e5), Volume(1.0)), Err(ConsumptionError::Volume));
    }

    #[test]
    fn an_engine_may_use_no_oil() {
        let none = per_hundred_kilometres(Length(1e6), Volume(0.0)).unwrap();
        assert_eq!(none, Volume(0.0));
        assert_eq!(miles_per_gallon(none, Unit::UsGallon), None);
    }

    #[test]
    fn litres_and_gallons_agree() {
        // The constants follow from the definitions of mile and gallons: 282.48 and 235.21 over L/100 km.
        let fuel = per_hundred_kilometres(Length(2e5), Volume(0.02)).unwrap();
        assert!((fuel.to(Unit::Litre) - 10.0).abs() < 1e-12);
        assert!((miles_per_gallon(fuel, Unit::ImperialGallon).unwrap() - 28.248).abs() < 5e-4);
        assert!((miles_per_gallon(fuel, Unit::UsGallon).unwrap() - 23.521).abs() < 5e-4);
    }
}
