//! Physical quantities, each a type of its own over its SI unit, and the units that people read and write.

use core::fmt;

use serde::Serialize;

use super::number::{self, NumberError, NumberStyle};
use crate::restore::{around, words};

/// Defines a quantity: a number of one SI unit.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(transparent)]
        pub struct $name(pub f64);

        impl $name {
            /// The quantity that is this many of a unit.
            #[must_use]
            pub fn of(amount: f64, unit: Unit) -> Self {
                Self(unit.to_si(amount))
            }

            /// How many of a unit it is.
            #[must_use]
            pub fn to(self, unit: Unit) -> f64 {
                unit.from_si(self.0)
            }
        }
    };
}

quantity!(
    /// A length, in metres.
    Length
);
around!(Length);
quantity!(
    /// An angle, in radians.
    Angle
);
quantity!(
    /// A gauge pressure, in pascals.
    Pressure
);
quantity!(
    /// A voltage, in volts.
    Voltage
);
quantity!(
    /// A temperature, in kelvins.
    Temperature
);
quantity!(
    /// A speed, in metres a second.
    Speed
);
quantity!(
    /// An acceleration, in metres a second squared.
    Acceleration
);
quantity!(
    /// A speed of rotation, in revolutions a second (the hertz of firing and idle).
    Rotation
);
quantity!(
    /// A time that passes, in seconds.
    Duration
);
quantity!(
    /// A mass, in kilograms.
    Mass
);
quantity!(
    /// A volume, in cubic metres.
    Volume
);

impl Acceleration {
    /// Standard gravity: 9.80665 m/s² (SI brochure; CGPM 1901).
    pub const GRAVITY: Self = Self(9.806_65);
}

/// What is measured. Each has one SI unit in which it is stored and several in which it is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Quantity {
    /// Lengths on the car, in metres.
    Length,
    /// Paint film, in metres.
    Film,
    /// Distance driven, in metres.
    Distance,
    /// Angle, in radians.
    Angle,
    /// Gauge pressure, in pascals.
    Pressure,
    /// Voltage, in volts.
    Voltage,
    /// Temperature, in kelvins.
    Temperature,
    /// Speed, in metres a second.
    Speed,
    /// Acceleration, in metres a second squared.
    Acceleration,
    /// Rotation, in revolutions a second.
    Rotation,
    /// Time by the watch, in seconds.
    Duration,
    /// Age, in seconds.
    Age,
    /// Mass, in kilograms.
    Mass,
    /// Volume, in cubic metres.
    Volume,
    /// Fuel used over a distance, in cubic metres a metre.
    Consumption,
    /// A share or ratio, as a plain number.
    Ratio,
    /// A whole number of things.
    Count,
}

words! { Quantity {
    Length, Film, Distance, Angle, Pressure, Voltage, Temperature, Speed, Acceleration, Rotation, Duration, Age,
    Mass, Volume, Consumption, Ratio, Count,
} }

/// A unit in which a quantity is entered and shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)] // `symbol` and `quantity` say each in full
pub enum Unit {
    Millimetre,
    Inch,
    Metre,
    Foot,
    Micrometre,
    Mil,
    Kilometre,
    Mile,
    Degree,
    Radian,
    Psi,
    Bar,
    Kilopascal,
    Volt,
    Celsius,
    Fahrenheit,
    Kelvin,
    KilometrePerHour,
    MilePerHour,
    MetrePerSecond,
    MetrePerSecondSquared,
    RevolutionPerMinute,
    Hertz,
    Second,
    Minute,
    Year,
    Kilogram,
    Pound,
    Litre,
    ImperialGallon,
    UsGallon,
    LitrePerHundredKilometres,
    MilePerImperialGallon,
    MilePerUsGallon,
    Percent,
    Times,
    Each,
}

words! { Unit {
    Millimetre, Inch, Metre, Foot, Micrometre, Mil, Kilometre, Mile, Degree, Radian, Psi, Bar, Kilopascal, Volt,
    Celsius, Fahrenheit, Kelvin, KilometrePerHour, MilePerHour, MetrePerSecond, MetrePerSecondSquared,
    RevolutionPerMinute, Hertz, Second, Minute, Year, Kilogram, Pound, Litre, ImperialGallon, UsGallon,
    LitrePerHundredKilometres, MilePerImperialGallon, MilePerUsGallon, Percent, Times, Each,
} }

/// A unit's quantity, symbol, decimals shown, and size: SI = amount × factor + offset, or factor ÷ amount where more of
/// the unit is less of the quantity.
struct Facts {
    quantity: Quantity,
    symbol: &'static str,
    places: u8,
    factor: f64,
    offset: f64,
    inverse: bool,
}

const fn facts(quantity: Quantity, symbol: &'static str, places: u8, factor: f64) -> Facts {
    Facts { quantity, symbol, places, factor, offset: 0.0, inverse: false }
}

impl Unit {
    /// Factors are exact by definition: the international yard and pound agreement of 1959 (inch 25.4 mm, pound
    /// 0.45359237 kg), the litre of 1964, the imperial gallon of 4.54609 L (1985), the US gallon of 231 cubic
    /// inches; psi follows from pound, inch and standard gravity. The year is the Julian year of 365.25 days.
    const fn facts(self) -> Facts {
        match self {
            Self::Millimetre => facts(Quantity::Length, "mm", 1, 0.001),
            Self::Inch => facts(Quantity::Length, "in", 2, 0.0254),
            Self::Metre => facts(Quantity::Length, "m", 2, 1.0),
            Self::Foot => facts(Quantity::Length, "ft", 1, 0.3048),
            Self::Micrometre => facts(Quantity::Film, "µm", 0, 1e-6),
            Self::Mil => facts(Quantity::Film, "mil", 1, 25.4e-6),
            Self::Kilometre => facts(Quantity::Distance, "km", 0, 1000.0),
            Self::Mile => facts(Quantity::Distance, "mi", 0, 1609.344),
            Self::Degree => facts(Quantity::Angle, "°", 2, core::f64::consts::PI / 180.0),
            Self::Radian => facts(Quantity::Angle, "rad", 4, 1.0),
            Self::Psi => facts(Quantity::Pressure, "psi", 1, 0.453_592_37 * 9.806_65 / (0.0254 * 0.0254)),
            Self::Bar => facts(Quantity::Pressure, "bar", 2, 100_000.0),
            Self::Kilopascal => facts(Quantity::Pressure, "kPa", 0, 1000.0),
            Self::Volt => facts(Quantity::Voltage, "V", 2, 1.0),
            Self::Celsius => Facts { offset: 273.15, ..facts(Quantity::Temperature, "°C", 0, 1.0) },
            Self::Fahrenheit => {
                Facts { offset: 273.15 - 32.0 * 5.0 / 9.0, ..facts(Quantity::Temperature, "°F", 0, 5.0 / 9.0) }
            }
            Self::Kelvin => facts(Quantity::Temperature, "K", 1, 1.0),
            Self::KilometrePerHour => facts(Quantity::Speed, "km/h", 0, 1000.0 / 3600.0),
            Self::MilePerHour => facts(Quantity::Speed, "mph", 0, 1609.344 / 3600.0),
            Self::MetrePerSecond => facts(Quantity::Speed, "m/s", 2, 1.0),
            Self::MetrePerSecondSquared => facts(Quantity::Acceleration, "m/s²", 2, 1.0),
            Self::RevolutionPerMinute => facts(Quantity::Rotation, "rpm", 0, 1.0 / 60.0),
            Self::Hertz => facts(Quantity::Rotation, "Hz", 1, 1.0),
            Self::Second => facts(Quantity::Duration, "s", 1, 1.0),
            Self::Minute => facts(Quantity::Duration, "min", 1, 60.0),
            Self::Year => facts(Quantity::Age, "years", 1, 31_557_600.0),
            Self::Kilogram => facts(Quantity::Mass, "kg", 0, 1.0),
            Self::Pound => facts(Quantity::Mass, "lb", 0, 0.453_592_37),
            Self::Litre => facts(Quantity::Volume, "L", 1, 0.001),
            Self::ImperialGallon => facts(Quantity::Volume, "imp. gal", 2, 0.004_546_09),
            Self::UsGallon => facts(Quantity::Volume, "US gal", 2, 231.0 * 0.0254 * 0.0254 * 0.0254),
            Self::LitrePerHundredKilometres => facts(Quantity::Consumption, "L/100 km", 1, 0.001 / 100_000.0),
            Self::MilePerImperialGallon => {
                Facts { inverse: true, ..facts(Quantity::Consumption, "mpg (imp.)", 1, 0.004_546_09 / 1609.344) }
            }
            Self::MilePerUsGallon => Facts {
                inverse: true,
                ..facts(Quantity::Consumption, "mpg (US)", 1, 231.0 * 0.0254 * 0.0254 * 0.0254 / 1609.344)
            },
            Self::Percent => facts(Quantity::Ratio, "%", 1, 0.01),
            Self::Times => facts(Quantity::Ratio, "×", 3, 1.0),
            Self::Each => facts(Quantity::Count, "", 0, 1.0),
        }
    }

    /// What it measures.
    #[must_use]
    pub const fn quantity(self) -> Quantity {
        self.facts().quantity
    }

    /// How it is written.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        self.facts().symbol
    }

    /// Whether more of the unit is less of the quantity, as with miles to the gallon: limits change places in it.
    #[must_use]
    pub const fn is_inverse(self) -> bool {
        self.facts().inverse
    }

    /// Decimals that it is usually shown with.
    #[must_use]
    pub const fn places(self) -> u8 {
        self.facts().places
    }

    /// The SI value of an amount.
    #[must_use]
    pub fn to_si(self, amount: f64) -> f64 {
        let Facts { factor, offset, inverse, .. } = self.facts();
        if inverse { factor / amount } else { amount * factor + offset }
    }

    /// The amount of this unit in an SI value.
    #[must_use]
    pub fn from_si(self, si: f64) -> f64 {
        let Facts { factor, offset, inverse, .. } = self.facts();
        if inverse { factor / si } else { (si - offset) / factor }
    }

    /// Shows an SI value with its unit. Degrees are shown as degrees and minutes.
    ///
    /// ```
    /// use kerbworth_core::units::{NumberStyle, Unit};
    /// assert_eq!(Unit::Psi.show(179_263.0, NumberStyle::POINT), "26.0 psi");
    /// assert_eq!(Unit::Degree.show(-0.5_f64.to_radians(), NumberStyle::POINT), "−0° 30′");
    /// ```
    #[must_use]
    pub fn show(self, si: f64, style: NumberStyle) -> String {
        let amount = self.from_si(si);
        match self {
            Self::Degree => show_degrees(amount),
            Self::Each => number::show(amount, self.places(), style),
            _ => format!("{} {}", number::show(amount, self.places(), style), self.symbol()),
        }
    }

    /// Shows an SI value as a field does: the bare number, with the decimals it needs.
    #[must_use]
    pub fn show_plain(self, si: f64, style: NumberStyle) -> String {
        number::show_short(self.from_si(si), self.places() + 2, style)
    }

    /// Reads a typed amount of this unit into its SI value. Angles may be typed as `1.5` or `1° 30′`.
    ///
    /// # Errors
    /// [`NumberError`] if it is not a number.
    pub fn read(self, text: &str, style: NumberStyle) -> Result<f64, NumberError> {
        let amount = match (self, text.split_once('°')) {
            (Self::Degree, Some((degrees, minutes))) => read_degrees(degrees, minutes, style)?,
            _ => number::parse(text, style)?,
        };
        let si = self.to_si(amount);
        // No distance at all from a gallon is no consumption that can be kept.
        if si.is_finite() { Ok(si) } else { Err(NumberError::TooLarge) }
    }
}

/// Degrees and minutes, rounded to the minute first, so that 59.99 minutes carry.
fn show_degrees(degrees: f64) -> String {
    if !degrees.is_finite() {
        return "—".to_owned();
    }
    let minutes = libm::round(degrees.abs() * 60.0);
    let whole = libm::floor(minutes / 60.0);
    let sign = if degrees < 0.0 && minutes > 0.0 { "−" } else { "" };
    format!("{sign}{whole:.0}° {:02.0}′", minutes - whole * 60.0)
}

fn read_degrees(degrees: &str, minutes: &str, style: NumberStyle) -> Result<f64, NumberError> {
    let whole = number::parse(degrees, style)?;
    let minutes = minutes.trim().trim_end_matches(['\'', '′', '’']);
    let minutes = if minutes.is_empty() { 0.0 } else { number::parse(minutes, style)? };
    let negative = degrees.trim_start().starts_with(['-', '−', '–']);
    if !(0.0..60.0).contains(&minutes) {
        return Err(NumberError::Minutes);
    }
    let size = whole.abs() + minutes / 60.0;
    Ok(if negative { -size } else { size })
}

impl Quantity {
    /// Units in which it may be entered and shown.
    pub fn units(self) -> impl Iterator<Item = Unit> {
        Unit::ALL.into_iter().filter(move |unit| unit.quantity() == self)
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn angles_read_and_show_in_degrees_and_minutes() {
        let style = NumberStyle::POINT;
        let read = |text| Unit::Degree.read(text, style).map(|si| Unit::Degree.show(si, style));
        assert_eq!(read("-0° 30′"), Ok("−0° 30′".to_owned()));
        assert_eq!(read("-0.5"), Ok("−0° 30′".to_owned()));
        assert_eq!(read("1°"), Ok("1° 00′".to_owned()));
        // facts.md TV-6.24: never 0° 60′.
        assert_eq!(read("0.99992"), Ok("1° 00′".to_owned()));
        assert_eq!(read("1° 59′"), Ok("1° 59′".to_owned()));
        for wrong in ["1° 60′", "1° 75", "1° -30′"] {
            assert_eq!(read(wrong), Err(NumberError::Minutes));
        }
        assert!(read("x°").is_err());
    }

    #[test]
    fn every_unit_belongs_to_its_quantity() {
        for unit in Unit::ALL {
            assert!(unit.quantity().units().any(|other| other == unit), "{unit:?}");
        }
    }

    #[test]
    fn miles_to_either_gallon_are_told_apart() {
        // 282.48 and 235.21 over L/100 km, by the definitions of mile and gallons.
        let used = Unit::LitrePerHundredKilometres.to_si(10.0);
        assert_eq!(Unit::MilePerImperialGallon.show(used, NumberStyle::POINT), "28.2 mpg (imp.)");
        assert_eq!(Unit::MilePerUsGallon.show(used, NumberStyle::POINT), "23.5 mpg (US)");
        assert!(Unit::MilePerUsGallon.read("0", NumberStyle::POINT).is_err());
    }

    /// A stored value is SI: another unit only shows it otherwise, and what a field then shows reads back as it.
    #[test]
    fn another_unit_never_changes_what_is_stored() {
        for unit in Unit::ALL {
            let stored = unit.to_si(26.0);
            for other in unit.quantity().units() {
                for style in [NumberStyle::POINT, NumberStyle::COMMA] {
                    let read = other.read(&other.show_plain(stored, style), style).unwrap();
                    // A field shows two decimals more than is usual; half of the last is what it may be off by.
                    let last = 0.51 * libm::pow(10.0, -f64::from(other.places() + 2));
                    let off = (other.from_si(read) - other.from_si(stored)).abs();
                    assert!(off <= last, "{unit:?} in {other:?}: off by {off}");
                    assert_eq!(other.quantity(), unit.quantity());
                }
            }
        }
    }

    proptest! {
        #[test]
        fn units_round_trip(amount in -1.0e6..1.0e6_f64, place in 0..Unit::ALL.len()) {
            let unit = Unit::ALL[place];
            let back = unit.from_si(unit.to_si(amount));
            // The offset of a temperature costs a few units in the last place of the larger number.
            prop_assert!((back - amount).abs() <= 1e-9 * amount.abs().max(1.0), "{unit:?} {amount} {back}");
        }

        #[test]
        fn a_field_shows_what_was_typed(hundredths in -99_999_i64..99_999, place in 0..Unit::ALL.len()) {
            let unit = Unit::ALL[place];
            prop_assume!(hundredths != 0 || !unit.is_inverse());
            let typed = number::show_short(hundredths as f64 / 100.0, unit.places() + 2, NumberStyle::POINT);
            let si = unit.read(&typed, NumberStyle::POINT).unwrap();
            prop_assert_eq!(unit.show_plain(si, NumberStyle::POINT), typed);
        }
    }
}
