//! Toe: how far a pair of wheels points in, as a length at a diameter or as an angle. Positive points in.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::{Angle, Length};

use super::desk::Desk;

/// Why a toe cannot be taken from what was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToeError {
    /// The points measured at are nearer or further apart than on any wheel.
    MeasuredAt,
    /// The difference or angle is beyond any axle that still rolls.
    TooFar,
}

display!(ToeError);

impl Say for ToeError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::MeasuredAt => {
                phrase!("toe is measured at a diameter of 200 to 1,000 mm (8 to 40 in): rim flange or tread")
            }
            Self::TooFar => phrase!("no axle rolls with so much toe; enter the difference, not the gap itself"),
        }
    }
}

impl core::error::Error for ToeError {}

fn checked_diameter(measured_at: Length) -> Result<f64, ToeError> {
    if (0.2..=1.0).contains(&measured_at.0) { Ok(measured_at.0) } else { Err(ToeError::MeasuredAt) }
}

/// The toe angle of both wheels together: `asin(difference / D)`, where the difference is the gap behind the axle
/// less the gap before it, and D the diameter at which both were taken: the rim's flange, not its nominal size.
///
/// # Errors
/// [`ToeError`] if the diameter is no wheel's or the difference is a tenth of it or more.
pub fn angle(difference: Length, measured_at: Length) -> Result<Angle, ToeError> {
    let diameter = checked_diameter(measured_at)?;
    let sine = difference.0 / diameter;
    if sine.abs() < 0.1 { Ok(Angle(libm::asin(sine))) } else { Err(ToeError::TooFar) }
}

/// The toe as a length at a diameter: the way back from [`angle()`].
///
/// # Errors
/// As for [`angle()`].
pub fn length(angle: Angle, measured_at: Length) -> Result<Length, ToeError> {
    let diameter = checked_diameter(measured_at)?;
    if angle.0.abs() < 0.1 { Ok(Length(libm::sin(angle.0) * diameter)) } else { Err(ToeError::TooFar) }
}

/// Toe against the maker's figure. 49 CFR 570.7(d) allows 1.5 times it. Nothing where the maker's figure is nil.
#[must_use]
pub fn against_specified(toe: Length, specified: Length) -> Option<f64> {
    let ratio = toe.0 / specified.0;
    ratio.is_finite().then_some(ratio)
}

/// The rule `toe`.
pub(super) fn read(desk: &mut Desk) {
    let (difference, measured_at) = (desk.number("difference").map(Length), desk.number("measured-at").map(Length));
    if let Some(difference) = difference {
        desk.result("toe-length", difference.0);
        against(desk, difference);
        let Some(measured_at) = measured_at else {
            if !desk.has("measured-at") {
                desk.problem("measured-at", "enter the diameter at which the difference was measured, for the angle");
            }
            return;
        };
        match angle(difference, measured_at) {
            Ok(toe) => desk.result("toe", toe.0),
            Err(error) => {
                desk.problem(if error == ToeError::TooFar { "difference" } else { "measured-at" }, error.phrase());
            }
        }
        return;
    }
    let Some(toe) = desk.number("angle").map(Angle) else {
        if !desk.has("difference") && !desk.has("angle") {
            desk.problem("difference", "enter the difference behind less before, or the angle");
        }
        return;
    };
    if toe.0.abs() >= 0.1 {
        desk.problem("angle", ToeError::TooFar.to_string());
        return;
    }
    desk.result("toe", toe.0);
    if let Some(measured_at) = measured_at
        && let Some(as_length) = desk.take("measured-at", length(toe, measured_at))
    {
        desk.result("toe-length", as_length.0);
        against(desk, as_length);
    }
}

fn against(desk: &mut Desk, toe: Length) {
    if let Some(ratio) = desk.number("specified").and_then(|specified| against_specified(toe, Length(specified))) {
        desk.result("against-specified", ratio);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(angle(Length(0.002), Length(0.0)), Err(ToeError::MeasuredAt));
        assert_eq!(angle(Length(1.4), Length(0.38)), Err(ToeError::TooFar));
        assert_eq!(length(Angle(f64::NAN), Length(0.38)), Err(ToeError::TooFar));
        assert_eq!(against_specified(Length(0.001), Length(0.0)), None);
    }

    proptest! {
        #[test]
        fn length_and_angle_are_each_others_way_back(millimetres in -15.0..15.0_f64, diameter in 0.3..0.7_f64) {
            let toe = Length(millimetres / 1000.0);
            let back = length(angle(toe, Length(diameter)).unwrap(), Length(diameter)).unwrap();
            prop_assert!((back.0 - toe.0).abs() < 1e-15);
        }
    }
}
