//! What a designation comes to: section height, diameter, circumference, and how they compare.

use crate::figure::Amount;
use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::readings::desk::Desk;
use crate::readings::speedometer;
use crate::units::Length;

use super::designation::{Construction, Designation, Purpose, Section};
use super::rim;

/// Why a tyre's size cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SizeError {
    /// A letter size states load, not width, and its diameter does not follow from it.
    LetterSize(char),
}

display!(SizeError);

impl Say for SizeError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::LetterSize(letter) => phrase!(
                "the letter {0} stands for a load, not for a width; enter the metric or inch size of a tyre like it",
                letter
            ),
        }
    }
}

impl core::error::Error for SizeError {}

/// A tyre's nominal measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Nominal width.
    pub width: Length,
    /// Height over width, stated or meant.
    pub ratio: f64,
    /// Outer diameter of the tyre off the road.
    pub diameter: Length,
}

impl Size {
    /// The free circumference: pi times the diameter.
    #[must_use]
    pub fn circumference(self) -> Length {
        Length(core::f64::consts::PI * self.diameter.0)
    }
}

/// The ratio meant by a metric size without one: 82 % (inspection manual 5.2.3, quoted: "nominal aspect ratio of
/// 82%"; discountpartcenter.com: "assumed to be 82 if not present").
pub const FULL_RATIO: f64 = 0.82;

/// The ratio of an inch size whose width ends in a zero, about (customwheelsmarket.com).
pub const OLD_INCH_RATIO: f64 = 0.92;

/// The measures of a tyre: D = rim + 2 × width × ratio.
///
/// # Errors
/// [`SizeError::LetterSize`] for a letter size.
pub fn size(tyre: &Designation) -> Result<Size, SizeError> {
    let of = |width: Length, ratio: f64| Size { width, ratio, diameter: Length(tyre.rim.0 + 2.0 * width.0 * ratio) };
    match tyre.section {
        Section::Metric { width, ratio } => Ok(of(width, ratio.unwrap_or(FULL_RATIO))),
        Section::Inch { width, low } => Ok(of(width, if low { FULL_RATIO } else { OLD_INCH_RATIO })),
        Section::Flotation { diameter, width } => {
            Ok(Size { width, ratio: (diameter.0 - tyre.rim.0) / 2.0 / width.0, diameter })
        }
        Section::Letter { size, .. } => Err(SizeError::LetterSize(size)),
    }
}

/// What a loaded tyre covers in a turn: 3.05 times the diameter for radials, 2.99 for others (ETRTO, from memory).
///
/// # Errors
/// As for [`size`].
pub fn rolling_circumference(tyre: &Designation) -> Result<Length, SizeError> {
    let factor = match tyre.construction {
        Construction::Radial => 3.05,
        Construction::Diagonal | Construction::BiasBelted => 2.99,
    };
    Ok(Length(factor * size(tyre)?.diameter.0))
}

/// The rule `tyre-size`.
pub(in crate::readings) fn read(desk: &mut Desk) {
    let front = tyre(desk, "front");
    let rear = tyre(desk, "rear");
    let original = tyre(desk, "original");
    let rim_width = desk.number("rim-width").map(Length);
    let fitted: Vec<(&'static str, Designation)> =
        [("front", front), ("rear", rear)].into_iter().filter_map(|(place, tyre)| Some((place, tyre?))).collect();
    if let Some(rim_width) = rim_width {
        rim::read(desk, &fitted, original.as_ref(), rim_width);
    }
    if let Some(original) = original {
        against_original(desk, &fitted, &original);
    }
    if let (Some(front), Some(rear)) = (front, rear) {
        if let (Ok(before), Ok(behind)) = (size(&front), size(&rear)) {
            desk.result("front-to-rear", before.diameter.0 / behind.diameter.0);
        }
        note_mixture(desk, &front, &rear);
    }
    if fitted.iter().any(|(_, tyre)| tyre.purpose == Purpose::PassengerMetric) {
        desk.note(
            "A P before the size is American passenger-metric: its side wall is softer than that of a European tyre \
             of the same figures.",
        );
    }
    if fitted.iter().any(|(_, tyre)| tyre.purpose == Purpose::Temporary) {
        desk.note("A T before the size is a temporary spare: not to be driven on but to the next workshop.");
    }
}

fn tyre(desk: &mut Desk, field: &'static str) -> Option<Designation> {
    let text = desk.text(field)?;
    let tyre = desk.take(field, Designation::parse(text))?;
    desk.take(field, size(&tyre)).map(|_| tyre)
}

/// The ratio of diameters of whichever axle lies further from the original, and what it does to the speedometer.
fn against_original(desk: &mut Desk, fitted: &[(&'static str, Designation)], original: &Designation) {
    let Ok(standard) = size(original) else { return };
    let furthest = fitted
        .iter()
        .filter_map(|(_, tyre)| Some(size(tyre).ok()?.diameter))
        .max_by(|one, other| (one.0 - standard.diameter.0).abs().total_cmp(&(other.0 - standard.diameter.0).abs()));
    let Some(diameter) = furthest else { return };
    let ratio = diameter.0 / standard.diameter.0;
    desk.result("against-original", ratio);
    if let Ok(shown) = speedometer::shown_over_true(standard.diameter, diameter)
        && (shown - 1.0).abs() >= 0.005
    {
        let percent = Amount::Number((shown - 1.0).abs() * 100.0, 1);
        desk.note(if shown > 1.0 {
            phrase!(
                "Driven by these tyres, a speedometer that was right on the original size reads {0} % high.",
                percent
            )
        } else {
            phrase!(
                "Driven by these tyres, a speedometer that was right on the original size reads {0} % low.",
                percent
            )
        });
    }
}

fn note_mixture(desk: &mut Desk, front: &Designation, rear: &Designation) {
    if front.construction == Construction::Radial && rear.construction != Construction::Radial {
        desk.note("Radials in front with cross-plies behind is never allowed: the tail gives way first.");
    } else if front.construction != rear.construction {
        desk.note("Two constructions on one car: never on one axle, and radials only behind.");
    }
    if (front.purpose == Purpose::PassengerMetric) != (rear.purpose == Purpose::PassengerMetric) {
        desk.note("Passenger-metric tyres on one axle and European ones on the other: the two ends answer unlike.");
    }
}
