//! A lead-acid battery at rest: its charge from its voltage, with the temperature taken out.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::sheet::Tag;
use crate::units::{Temperature, Unit, Voltage};

use super::desk::Desk;

/// Why a rest voltage cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BatteryError {
    /// The voltage is not that of such a battery at rest.
    Voltage(Nominal),
    /// No battery is so cold or so hot.
    Temperature,
}

display!(BatteryError);

impl Say for BatteryError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Voltage(Nominal::Six) => {
                phrase!("a 6 V battery at rest shows 0 to 8 V; stop the engine, check the meter's leads and range")
            }
            Self::Voltage(Nominal::Twelve) => {
                phrase!("a 12 V battery at rest shows 0 to 16 V; stop the engine, check the meter's leads and range")
            }
            Self::Temperature => phrase!("a battery in a car is between −40 and 70 °C (−40 and 158 °F)"),
        }
    }
}

impl core::error::Error for BatteryError {}

/// The battery's nominal voltage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nominal {
    /// Three cells.
    Six,
    /// Six cells.
    Twelve,
}

impl Nominal {
    /// Its share of twelve volts: every voltage of a 6 V battery is half (from memory).
    pub(super) const fn share(self) -> f64 {
        match self {
            Self::Six => 0.5,
            Self::Twelve => 1.0,
        }
    }
}

/// Rest voltage and charge of a 12 V battery at 80 °F (maker's article 120, tables 6 and 7, discoverbattery.com).
pub const REST_TABLE: [(Voltage, f64); 5] = [
    (Voltage(11.89), 0.0),
    (Voltage(12.06), 0.25),
    (Voltage(12.24), 0.5),
    (Voltage(12.45), 0.75),
    (Voltage(12.65), 1.0),
];

/// The temperature to which the table belongs: 80 °F.
#[must_use]
pub fn reference_temperature() -> Temperature {
    Temperature::of(80.0, Unit::Fahrenheit)
}

/// What the battery would show at 80 °F: 0.024 V for each 10 °F is added above it and taken off below it, half of
/// that for 6 V (same source).
///
/// # Errors
/// [`BatteryError`] if the voltage or temperature is out of reach.
pub fn at_reference(shown: Voltage, temperature: Temperature, nominal: Nominal) -> Result<Voltage, BatteryError> {
    let shown = checked(shown, nominal)?;
    let celsius = temperature.to(Unit::Celsius);
    if !(-40.0..=70.0).contains(&celsius) {
        return Err(BatteryError::Temperature);
    }
    let off_reference = temperature.to(Unit::Fahrenheit) - 80.0;
    Ok(Voltage(shown + 0.0024 * off_reference * nominal.share()))
}

/// The charge, 0 to 1, that a rest voltage at 80 °F speaks of: straight lines between the rows of [`REST_TABLE`].
///
/// # Errors
/// [`BatteryError::Voltage`] if the voltage is out of reach.
pub fn charge(at_reference: Voltage, nominal: Nominal) -> Result<f64, BatteryError> {
    let volts = checked(at_reference, nominal)? / nominal.share();
    let mut below = (Voltage(f64::NEG_INFINITY), 0.0);
    for (row, share) in REST_TABLE {
        if volts < row.0 {
            let (from, least) = below;
            return Ok(if from.0.is_finite() {
                least + (share - least) * (volts - from.0) / (row.0 - from.0)
            } else {
                0.0
            });
        }
        below = (row, share);
    }
    Ok(1.0)
}

fn checked(volts: Voltage, nominal: Nominal) -> Result<f64, BatteryError> {
    if (0.0..=16.0 * nominal.share()).contains(&volts.0) { Ok(volts.0) } else { Err(BatteryError::Voltage(nominal)) }
}

/// The battery that the car has: by its tags; by the voltage itself where they do not say.
pub(super) fn nominal(desk: &Desk, shown: f64) -> Nominal {
    let known = |six: bool, twelve: bool| if six { Some(Nominal::Six) } else { twelve.then_some(Nominal::Twelve) };
    let by_tag = known(desk.is(Tag::SixVolt), desk.is(Tag::TwelveVolt));
    by_tag.unwrap_or(if shown < 9.0 { Nominal::Six } else { Nominal::Twelve })
}

/// The rule `battery-rest`.
pub(super) fn read(desk: &mut Desk) {
    let Some(shown) = desk.number("voltage") else { return };
    let nominal = nominal(desk, shown);
    if nominal == Nominal::Six && !desk.is(Tag::SixVolt) {
        desk.note("Read as a 6 V battery; if it is a 12 V one, it is dead: say 12 V in the car's build.");
    }
    let reference = match desk.number("temperature") {
        Some(temperature) => at_reference(Voltage(shown), Temperature(temperature), nominal),
        None => checked(Voltage(shown), nominal).map(Voltage),
    };
    let reference = match reference {
        Ok(reference) => reference,
        Err(error) => {
            desk.problem(if error == BatteryError::Temperature { "temperature" } else { "voltage" }, error.phrase());
            return;
        }
    };
    if !desk.has("temperature") {
        desk.note("Taken as measured at 26.7 °C (80 °F); a cold battery reads a little higher in charge than it is.");
    }
    if reference.0 > 12.85 * nominal.share() {
        desk.note("Above a full battery at rest: let it stand some hours with nothing on, then measure again.");
    }
    let Some(charge) = desk.take("voltage", charge(reference, nominal)) else { return };
    desk.result("charge", charge);
    desk.result("voltage-at-reference", reference.0);
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        let warm = reference_temperature();
        assert_eq!(at_reference(Voltage(24.0), warm, Nominal::Twelve), Err(BatteryError::Voltage(Nominal::Twelve)));
        assert_eq!(at_reference(Voltage(12.0), warm, Nominal::Six), Err(BatteryError::Voltage(Nominal::Six)));
        assert_eq!(at_reference(Voltage(12.0), Temperature(0.0), Nominal::Twelve), Err(BatteryError::Temperature));
        assert_eq!(charge(Voltage(f64::NAN), Nominal::Twelve), Err(BatteryError::Voltage(Nominal::Twelve)));
    }

    proptest! {
        #[test]
        fn charge_rises_with_voltage_and_stays_a_share(volts in 0.0..15.9_f64, more in 0.0..0.1_f64) {
            let charge = |volts| charge(Voltage(volts), Nominal::Twelve).unwrap();
            prop_assert!(charge(volts) <= charge(volts + more));
            prop_assert!((0.0..=1.0).contains(&charge(volts)));
        }

        #[test]
        fn six_volts_are_half_of_twelve(volts in 0.0..16.0_f64) {
            let six = charge(Voltage(volts / 2.0), Nominal::Six).unwrap();
            prop_assert!((six - charge(Voltage(volts), Nominal::Twelve).unwrap()).abs() < 1e-12);
        }
    }
}
