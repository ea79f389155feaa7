//! Consumption of fuel or oil: what 100 km take, and how far a gallon of fuel goes.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::{Length, Volume};

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

/// Below this for 100 km it is oil that was measured: no car goes so far on fuel.
const LEAST_FUEL: Volume = Volume(0.002);

/// The rule `consumption`. Where it is fuel, it is also said as people say it: miles to a gallon, or litres in 100 km.
pub(super) fn read(desk: &mut Desk) {
    let (Some(distance), Some(volume)) = (desk.number("distance"), desk.number("volume")) else { return };
    match per_hundred_kilometres(Length(distance), Volume(volume)) {
        Ok(used) => {
            desk.result("per-distance", used.0);
            if used >= LEAST_FUEL {
                desk.result("consumption", used.0 / 100_000.0);
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
    use crate::units::Unit;

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
    }

    #[test]
    fn fuel_is_said_as_people_say_it_and_oil_is_not() {
        let spec = crate::sheet::ReadingSpec {
            id: "x".to_owned(),
            check: "x".to_owned(),
            name: "X".to_owned(),
            rule: crate::readings::Rule::Consumption,
            quantity: None,
            limits: Vec::new(),
            when: Vec::new(),
            source: "common practice, no source".to_owned(),
        };
        let read = |litres: f64| {
            let reading = crate::readings::Reading::default()
                .with("distance", crate::readings::Given::Number(2e5))
                .with("volume", crate::readings::Given::Number(litres / 1000.0));
            crate::readings::read(&spec, &reading, &crate::readings::Circumstances::default()).result("consumption")
        };
        let used = read(20.0).unwrap();
        assert!((Unit::LitrePerHundredKilometres.from_si(used) - 10.0).abs() < 1e-9);
        assert_eq!(read(0.2), None);
    }
}
