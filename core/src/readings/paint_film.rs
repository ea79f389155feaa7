//! Paint film: panels of one car compared with each other.
//!
//! No standard gives a factory range (ISO 2808, 2178 and 2360, from memory, say how to measure, not what is right),
//! so the car is its own yardstick: a panel far above the car's median was painted again, and one many times above
//! it carries filler.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::statistics::median;
use crate::units::Length;

use super::desk::Desk;

/// Why film readings cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilmError {
    /// There are none.
    None,
    /// One is negative or beyond a gauge; the place counts from 1.
    Reading(usize),
    /// More than half of them are nil: bare metal, or a gauge that does not see this panel.
    MostlyNil,
}

display!(FilmError);

impl Say for FilmError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::None => phrase!("no readings here; enter some for each panel"),
            Self::Reading(place) => {
                phrase!("reading {0}: a film is 0 to 20,000 µm (790 mil); check the figure and its unit", place)
            }
            Self::MostlyNil => {
                phrase!("half of them are nil; set the gauge for this metal: a magnetic one is blind on aluminium")
            }
        }
    }
}

impl core::error::Error for FilmError {}

/// What film readings come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Film {
    /// The median: what most of this car carries.
    pub median: Length,
    /// The spread that a few thick readings do not sway: 1.4826 times the median distance from the median, which
    /// for normally scattered readings is their standard deviation.
    pub spread: Length,
    /// The thickest.
    pub greatest: Length,
    /// Its place, from 1.
    pub thickest: usize,
    /// Thickest over median.
    pub greatest_ratio: f64,
}

/// Judges film readings.
///
/// # Errors
/// [`FilmError`] if there are none, one is out of reach, or most are nil.
pub fn judge(readings: &[Length]) -> Result<Film, FilmError> {
    if let Some(place) = readings.iter().position(|film| !(0.0..=0.02).contains(&film.0)) {
        return Err(FilmError::Reading(place + 1));
    }
    let values: Vec<f64> = readings.iter().map(|film| film.0).collect();
    let median = median::median(&values).ok_or(FilmError::None)?;
    if median <= 0.0 {
        return Err(FilmError::MostlyNil);
    }
    let distances: Vec<f64> = values.iter().map(|value| (value - median).abs()).collect();
    let spread = 1.4826 * median::median(&distances).unwrap_or(0.0);
    let (mut greatest, mut thickest) = (0.0, 1);
    for (place, value) in values.iter().enumerate() {
        if *value > greatest {
            (greatest, thickest) = (*value, place + 1);
        }
    }
    let lengths = |value| Length(value);
    Ok(Film {
        median: lengths(median),
        spread: lengths(spread),
        greatest: lengths(greatest),
        thickest,
        greatest_ratio: greatest / median,
    })
}

/// The rule `paint-film`.
pub(super) fn read(desk: &mut Desk) {
    let Some(values) = desk.numbers("film") else { return };
    let readings: Vec<Length> = values.into_iter().map(Length).collect();
    let Some(film) = desk.take("film", judge(&readings)) else { return };
    desk.result("median", film.median.0);
    desk.result("greatest", film.greatest.0);
    desk.result("greatest-ratio", film.greatest_ratio);
    if readings.len() < 5 {
        desk.note("Fewer than five readings: the median may be that of one panel, not of the car.");
    } else if film.greatest.0 - film.median.0 > 5.0 * film.spread.0 && film.greatest_ratio > 1.5 {
        desk.note(phrase!(
            "Number {0} of those entered stands apart from the rest: look at that panel.",
            film.thickest
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn films(micrometres: &[f64]) -> Vec<Length> {
        micrometres.iter().map(|amount| Length(amount * 1e-6)).collect()
    }

    #[test]
    fn one_filled_panel_does_not_sway_the_rest() {
        let film = judge(&films(&[110.0, 118.0, 105.0, 1400.0, 112.0, 121.0])).unwrap();
        assert!((film.median.0 - 115e-6).abs() < 1e-12);
        assert_eq!(film.thickest, 4);
        assert!((film.greatest_ratio - 1400.0 / 115.0).abs() < 1e-9);
        assert!(film.spread.0 < 15e-6);
    }

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(judge(&[]), Err(FilmError::None));
        assert_eq!(judge(&films(&[100.0, -1.0])), Err(FilmError::Reading(2)));
        assert_eq!(judge(&films(&[0.0, 0.0, 100.0])), Err(FilmError::MostlyNil));
    }

    proptest! {
        #[test]
        fn the_median_lies_between_and_order_does_not_matter(mut values in prop::collection::vec(1.0..2000.0_f64, 1..40)) {
            let forward = judge(&films(&values)).unwrap();
            values.reverse();
            let back = judge(&films(&values)).unwrap();
            prop_assert_eq!(forward.median, back.median);
            prop_assert!(forward.median <= forward.greatest && forward.greatest_ratio >= 1.0);
        }
    }
}
