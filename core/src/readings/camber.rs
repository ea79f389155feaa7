//! Camber: how far a wheel leans, by an angle meter or by two gaps to a plumb line. Negative leans in at the top.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::{Angle, Length};

use super::desk::Desk;

/// Why a camber cannot be taken from what was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CamberError {
    /// The two points are too near to each other, or further apart than a wheel is high.
    Height,
    /// A gap is negative or larger than a wheel.
    Gap,
    /// An angle beyond any wheel that still holds.
    Angle,
}

display!(CamberError);

impl Say for CamberError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Height => phrase!("the two points are 100 to 1,000 mm (4 to 40 in) apart; measure between them"),
            Self::Gap => phrase!("a gap is 0 to 500 mm (20 in); hang the line just clear of the tyre"),
            Self::Angle => phrase!("no wheel leans 30 degrees; check the meter's zero and its unit"),
        }
    }
}

impl core::error::Error for CamberError {}

/// Camber from the gaps between a plumb line outside the wheel and its rim, at the top and at the bottom.
///
/// `atan((bottom − top) / height)`: a wheel that leans in at the top stands off the line there, which is negative
/// camber. The height is that between the two points measured.
///
/// # Errors
/// [`CamberError`] if a gap or the height is out of reach.
///
/// ```
/// use kerbworth_core::readings::camber::from_gaps;
/// use kerbworth_core::units::Length;
/// let lean = from_gaps(Length(0.025), Length(0.020), Length(0.380)).map(|camber| camber.0.to_degrees());
/// assert!(lean.is_ok_and(|degrees| (degrees + 0.7538).abs() < 1e-4));
/// ```
pub fn from_gaps(top: Length, bottom: Length, height: Length) -> Result<Angle, CamberError> {
    if !(0.1..=1.0).contains(&height.0) {
        return Err(CamberError::Height);
    }
    if !(0.0..=0.5).contains(&top.0) || !(0.0..=0.5).contains(&bottom.0) {
        return Err(CamberError::Gap);
    }
    from_meter(Angle(libm::atan((bottom.0 - top.0) / height.0)))
}

/// Camber as an angle meter shows it, if a wheel can lean so far.
///
/// # Errors
/// [`CamberError::Angle`] beyond 30 degrees.
pub fn from_meter(angle: Angle) -> Result<Angle, CamberError> {
    if angle.0.abs() < core::f64::consts::FRAC_PI_6 { Ok(angle) } else { Err(CamberError::Angle) }
}

/// The rule `camber`. A meter's angle goes before gaps where both are given for one wheel.
pub(super) fn read(desk: &mut Desk) {
    let left = wheel(desk, "left", ["left-top", "left-bottom"]);
    let right = wheel(desk, "right", ["right-top", "right-bottom"]);
    if let Some(left) = left {
        desk.result("left", left.0);
    }
    if let Some(right) = right {
        desk.result("right", right.0);
    }
    if let (Some(left), Some(right)) = (left, right) {
        desk.result("side-difference", (left.0 - right.0).abs());
    }
}

fn wheel(desk: &mut Desk, angle: &'static str, [top, bottom]: [&'static str; 2]) -> Option<Angle> {
    if desk.has(angle) {
        let shown = desk.number(angle)?;
        return desk.take(angle, from_meter(Angle(shown)));
    }
    if !desk.has(top) && !desk.has(bottom) {
        return None;
    }
    for gap in [top, bottom, "height"] {
        if !desk.has(gap) {
            desk.problem(gap, "enter this too: camber by a plumb line needs both gaps and the height between them");
        }
    }
    let (upper, lower, height) = (desk.number(top)?, desk.number(bottom)?, desk.number("height")?);
    match from_gaps(Length(upper), Length(lower), Length(height)) {
        Ok(camber) => Some(camber),
        Err(error) => {
            desk.problem(if error == CamberError::Height { "height" } else { top }, error.phrase());
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        let gap = Length(0.02);
        assert_eq!(from_gaps(gap, gap, Length(0.0)), Err(CamberError::Height));
        assert_eq!(from_gaps(Length(-0.01), gap, Length(0.4)), Err(CamberError::Gap));
        assert_eq!(from_gaps(gap, Length(0.5), Length(0.1)), Err(CamberError::Angle));
        assert_eq!(from_meter(Angle(f64::NAN)), Err(CamberError::Angle));
    }
}
