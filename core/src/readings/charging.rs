//! Charging voltage: what the regulator holds, brought to 20 °C.
//!
//! What is right is the type's own: 13.6 to 13.8 V where the type is set so, and above 14 V there the battery
//! suffers; 14.4 V on another. The bands therefore stand in the sheet as limits; here is only the arithmetic.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::{Temperature, Unit, Voltage};

use super::battery::{self, Nominal};
use super::desk::Desk;

/// Why a charging voltage cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChargingError {
    /// The voltage is not that of such a system.
    Voltage,
    /// No regulator is so cold or so hot.
    Temperature,
}

display!(ChargingError);

impl Say for ChargingError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Voltage => phrase!("a charging voltage is 4 to 20 V; measure across the battery's own posts"),
            Self::Temperature => phrase!("a regulator under the bonnet is between −40 and 120 °C (−40 and 248 °F)"),
        }
    }
}

impl core::error::Error for ChargingError {}

/// What the regulator would hold at 20 °C: it is set to fall by 0.1 V for each 10 °C in a 12 V system (Westerbeke
/// 33A data, manualshelf.com: 14.4 ± 0.3 V at 20 °C, −0.1 V per 10 °C), half of that in a 6 V one.
///
/// # Errors
/// [`ChargingError`] if the voltage or temperature is out of reach.
pub fn at_twenty(shown: Voltage, temperature: Temperature, nominal: Nominal) -> Result<Voltage, ChargingError> {
    let shown = checked(shown)?;
    let celsius = temperature.to(Unit::Celsius);
    if !(-40.0..=120.0).contains(&celsius) {
        return Err(ChargingError::Temperature);
    }
    Ok(Voltage(shown.0 + 0.01 * (celsius - 20.0) * nominal.share()))
}

fn checked(shown: Voltage) -> Result<Voltage, ChargingError> {
    if (4.0..=20.0).contains(&shown.0) { Ok(shown) } else { Err(ChargingError::Voltage) }
}

/// The rule `charging`.
pub(super) fn read(desk: &mut Desk) {
    let Some(shown) = desk.number("voltage") else { return };
    let nominal = battery::nominal(desk, shown);
    let held = match desk.number("temperature") {
        Some(temperature) => {
            desk.note("Brought to 20 °C: a regulator is set to hold less when it is hot.");
            at_twenty(Voltage(shown), Temperature(temperature), nominal)
        }
        None => checked(Voltage(shown)),
    };
    match held {
        Ok(held) => desk.result("voltage", held.0),
        Err(error) => {
            desk.problem(if error == ChargingError::Voltage { "voltage" } else { "temperature" }, error.phrase());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        let mild = Temperature::of(20.0, Unit::Celsius);
        assert_eq!(at_twenty(Voltage(0.0), mild, Nominal::Twelve), Err(ChargingError::Voltage));
        assert_eq!(at_twenty(Voltage(14.0), Temperature(0.0), Nominal::Twelve), Err(ChargingError::Temperature));
        assert_eq!(at_twenty(Voltage(14.0), mild, Nominal::Twelve), Ok(Voltage(14.0)));
    }
}
