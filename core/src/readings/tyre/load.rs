//! Load index and speed symbol: what a tyre bears, how fast, and how much of it at that speed.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::readings::desk::Desk;
use crate::units::{Mass, Speed, Unit};

use super::designation::{Designation, Purpose};

/// Why a load or speed cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadError {
    /// No index of a car's tyre.
    Index(u8),
    /// The designation ends without a load index.
    NoIndex,
    /// Not the mass on a car's axle.
    AxleMass,
    /// Not the top speed of a car.
    TopSpeed,
}

display!(LoadError);

impl Say for LoadError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Index(index) => phrase!("load index {0} is beyond the table, which runs from 50 to 120", index),
            Self::NoIndex => phrase!("no load index here; add it if it stands on the side wall, as in 165R15 86H"),
            Self::AxleMass => phrase!("the mass on an axle is 50 to 5,000 kg (110 to 11,000 lb)"),
            Self::TopSpeed => phrase!("a top speed is 20 to 400 km/h (12 to 250 mph)"),
        }
    }
}

impl core::error::Error for LoadError {}

/// Kilograms for load index 50, 51, … 120 (UN R30 annex, ISO 4000-1). 71 to 110 as in barretire.com's table, 68 to
/// 70 as in a trade table, the rest from memory.
const KILOGRAMS: [u16; 71] = [
    190, 195, 200, 206, 212, 218, 224, 230, 236, 243, // 50
    250, 257, 265, 272, 280, 290, 300, 307, 315, 325, // 60
    335, 345, 355, 365, 375, 387, 400, 412, 425, 437, // 70
    450, 462, 475, 487, 500, 515, 530, 545, 560, 580, // 80
    600, 615, 630, 650, 670, 690, 710, 730, 750, 775, // 90
    800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, // 100
    1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, // 110
    1400, // 120
];

/// What one tyre of this load index bears.
///
/// # Errors
/// [`LoadError::Index`] outside 50 to 120.
pub fn load(index: u8) -> Result<Mass, LoadError> {
    let kilograms = index.checked_sub(50).and_then(|row| KILOGRAMS.get(usize::from(row)));
    kilograms.map(|kilograms| Mass(f64::from(*kilograms))).ok_or(LoadError::Index(index))
}

/// How fast a tyre may go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeedRating {
    /// The letter; Z for the older ZR.
    pub symbol: char,
    /// The speed, or the least that an open-ended rating promises.
    pub speed: Speed,
    /// More than that, and the maker says how much: the older VR and ZR.
    pub or_more: bool,
}

impl SpeedRating {
    /// The rating of a symbol in a service description: F 80 km/h to Y 300 km/h (F to K from memory).
    #[must_use]
    pub fn of_symbol(symbol: char) -> Option<Self> {
        let kilometres_per_hour = match symbol {
            'F' => 80.0,
            'G' => 90.0,
            'J' => 100.0,
            'K' => 110.0,
            'L' => 120.0,
            'M' => 130.0,
            'N' => 140.0,
            'P' => 150.0,
            'Q' => 160.0,
            'R' => 170.0,
            'S' => 180.0,
            'T' => 190.0,
            'U' => 200.0,
            'H' => 210.0,
            'V' => 240.0,
            'W' => 270.0,
            'Y' => 300.0,
            _ => return None,
        };
        Some(Self { symbol, speed: Speed::of(kilometres_per_hour, Unit::KilometrePerHour), or_more: false })
    }

    /// The rating of the older form before the R, from before service descriptions: SR 180, HR 210, VR over 210,
    /// ZR over 240 km/h (from memory).
    #[must_use]
    pub fn before_r(symbol: char) -> Option<Self> {
        match symbol {
            'S' | 'H' => Self::of_symbol(symbol),
            'V' => Self::of_symbol('H').map(|rating| Self { symbol, or_more: true, ..rating }),
            'Z' => Self::of_symbol('V').map(|rating| Self { symbol, or_more: true, ..rating }),
            _ => None,
        }
    }

    /// The share of its load that a tyre bears at a speed. V loses from 210 to 240 km/h, to 91 %; W from 240 to 270,
    /// to 85 % (myengineerings.com); Y from 270 to 300, to 85 % (from memory); others bear all of it.
    #[must_use]
    pub fn share_of_load(self, at: Speed) -> f64 {
        let (from, to, least) = match (self.symbol, self.or_more) {
            ('V', false) => (210.0, 240.0, 0.91),
            ('W', _) => (240.0, 270.0, 0.85),
            ('Y', _) => (270.0, 300.0, 0.85),
            _ => return 1.0,
        };
        let beyond = ((at.to(Unit::KilometrePerHour) - from) / (to - from)).clamp(0.0, 1.0);
        1.0 - (1.0 - least) * beyond
    }
}

/// What the two tyres of an axle bear at a speed, over what they have to.
///
/// # Errors
/// [`LoadError`] if the tyre states no load index or the mass is no axle's.
pub fn load_margin(tyre: &Designation, axle: Mass, top: Option<Speed>) -> Result<f64, LoadError> {
    let each = load(tyre.load_index.ok_or(LoadError::NoIndex)?)?;
    if !(50.0..=5000.0).contains(&axle.0) {
        return Err(LoadError::AxleMass);
    }
    let share = match (tyre.speed, top) {
        (Some(rating), Some(top)) => rating.share_of_load(top),
        _ => 1.0,
    };
    Ok(2.0 * each.0 * share / axle.0)
}

/// The speed of the symbol over the top speed of the car.
///
/// # Errors
/// [`LoadError::TopSpeed`] if it is no car's.
pub fn speed_margin(rating: SpeedRating, top: Speed) -> Result<f64, LoadError> {
    if !(20.0..=400.0).contains(&top.to(Unit::KilometrePerHour)) {
        return Err(LoadError::TopSpeed);
    }
    Ok(rating.speed.0 / top.0)
}

/// The rule `tyre-load`.
pub(in crate::readings) fn read(desk: &mut Desk) {
    let Some(text) = desk.text("designation") else { return };
    let Some(tyre) = desk.take("designation", Designation::parse(text)) else { return };
    let top = desk.number("top-speed").map(Speed);
    if let Some(axle) = desk.number("axle-mass").map(Mass) {
        match load_margin(&tyre, axle, top) {
            Ok(margin) => {
                desk.result("load-margin", margin);
                desk.note(pressure_note(tyre.purpose));
            }
            Err(error) => {
                desk.problem(if error == LoadError::AxleMass { "axle-mass" } else { "designation" }, error.phrase());
            }
        }
    }
    let Some(top) = top else { return };
    let Some(rating) = tyre.speed else {
        desk.problem("designation", "no speed symbol here; add it if it stands on the side wall, as in 165R15 86H");
        return;
    };
    if let Some(margin) = desk.take("top-speed", speed_margin(rating, top)) {
        desk.result("speed-margin", margin);
        if rating.or_more {
            desk.note(
                "An open-ended speed rating: taken at the least that it promises; the maker knows how much more.",
            );
        }
    }
}

/// At what pressure the load index holds; the reference pressures are from memory.
fn pressure_note(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::PassengerMetric => {
            "The index holds at the tyre's full pressure, 240 kPa (35 psi) for P sizes; at less it bears less."
        }
        Purpose::Temporary => "The index holds at the pressure on the spare's side wall, commonly 420 kPa (60 psi).",
        Purpose::LightTruck => "The index holds at the pressure on the side wall; at less it bears less.",
        Purpose::Passenger => {
            "The index holds at the tyre's full pressure, 250 kPa (36 psi) for ordinary ones; at less it bears less."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(load(49), Err(LoadError::Index(49)));
        assert_eq!(load(121), Err(LoadError::Index(121)));
        let bare = Designation::parse("165R15").unwrap();
        assert_eq!(load_margin(&bare, Mass(500.0), None), Err(LoadError::NoIndex));
        let full = Designation::parse("165R15 86H").unwrap();
        assert_eq!(load_margin(&full, Mass(5.0), None), Err(LoadError::AxleMass));
        assert_eq!(speed_margin(full.speed.unwrap(), Speed(0.0)), Err(LoadError::TopSpeed));
    }

    #[test]
    fn the_table_rises() {
        assert!(KILOGRAMS.windows(2).all(|pair| pair[0] < pair[1]));
    }
}
