//! Free play at the rim of the steering wheel: as an angle, and against published limits.
//!
//! A worn coupling and a worn box feel alike at the rim; the length there grows with the wheel, so limits are
//! written by the wheel's size and the angle is what two cars can be compared by.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::sheet::Tag;
use crate::units::{Angle, Length, Unit};

use super::desk::Desk;
use super::outcome::Verdict;

/// Why a free play cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FreePlayError {
    /// The wheel is no steering wheel of a car.
    WheelSize,
    /// The play is negative, or more than half a turn of the rim.
    Play,
}

display!(FreePlayError);

impl Say for FreePlayError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::WheelSize => phrase!("a steering wheel is 200 to 700 mm (8 to 27 in) across; measure it again"),
            Self::Play => phrase!("free play is 0 or more and less than half a turn; measure along the rim"),
        }
    }
}

impl core::error::Error for FreePlayError {}

/// What turns the road wheels; the limit for a rack is tighter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gear {
    /// Rack and pinion.
    Rack,
    /// A box of any kind.
    Box,
}

fn checked_wheel(diameter: Length) -> Result<Length, FreePlayError> {
    if (0.2..=0.7).contains(&diameter.0) { Ok(diameter) } else { Err(FreePlayError::WheelSize) }
}

/// The play as an angle of the wheel; it is measured along the rim, so it is an arc.
///
/// # Errors
/// [`FreePlayError`] if the wheel or the play is out of reach.
pub fn play_angle(play: Length, wheel_diameter: Length) -> Result<Angle, FreePlayError> {
    let radius = checked_wheel(wheel_diameter)?.0 / 2.0;
    if !(0.0..core::f64::consts::PI * radius).contains(&play.0) {
        return Err(FreePlayError::Play);
    }
    Ok(Angle(play.0 / radius))
}

/// The most play that 49 CFR 570.7 table 1 allows, engine on and wheels straight ahead: 2 in for a wheel of 16 in
/// or less, 2 1/4 for 18, 2 1/2 for 20, 2 3/4 for 22. Every row is an eighth of the diameter, which also serves
/// between rows; a larger wheel keeps the last row.
///
/// # Errors
/// [`FreePlayError::WheelSize`] if it is no steering wheel.
pub fn limit_570_7(wheel_diameter: Length) -> Result<Length, FreePlayError> {
    let inches = checked_wheel(wheel_diameter)?.to(Unit::Inch);
    Ok(Length::of((inches / 8.0).clamp(2.0, 2.75), Unit::Inch))
}

/// The most play that the British inspection manual of 2012, section 2.2, allows: 13 mm at a wheel of 380 mm for
/// rack and pinion, 75 mm for other gears, in proportion for other wheels.
///
/// # Errors
/// [`FreePlayError::WheelSize`] if it is no steering wheel.
pub fn limit_uk_2012(wheel_diameter: Length, gear: Gear) -> Result<Length, FreePlayError> {
    let at_380 = match gear {
        Gear::Rack => 0.013,
        Gear::Box => 0.075,
    };
    Ok(Length(at_380 * checked_wheel(wheel_diameter)?.0 / 0.38))
}

/// The example in EU Directive 2014/45, annex I, 2.3 (from memory): a fifth of the wheel's diameter.
///
/// # Errors
/// [`FreePlayError::WheelSize`] if it is no steering wheel.
pub fn limit_eu_example(wheel_diameter: Length) -> Result<Length, FreePlayError> {
    Ok(Length(checked_wheel(wheel_diameter)?.0 / 5.0))
}

/// The rule `free-play`. The limit is the American one, whatever the gear; a rack that the British figure would
/// refuse is named.
pub(super) fn read(desk: &mut Desk) {
    let (Some(play), Some(wheel)) = (desk.number("play"), desk.number("wheel-diameter")) else { return };
    let (play, wheel) = (Length(play), Length(wheel));
    let Some(limit) = desk.take("wheel-diameter", limit_570_7(wheel)) else { return };
    let Some(angle) = desk.take("play", play_angle(play, wheel)) else { return };
    desk.result("play-angle", angle.0);
    desk.result("over-limit", play.0 - limit.0);
    if desk.is(Tag::RackSteering)
        && let Ok(rack) = limit_uk_2012(wheel, Gear::Rack)
        && Verdict::of(play.0, None, Some(rack.0)) == Verdict::Above
    {
        desk.note(
            "More than a rack and pinion should have: 13 mm at a wheel of 380 mm, in proportion (British inspection \
             manual of 2012, section 2.2).",
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        let wheel = Length(0.4);
        assert_eq!(play_angle(Length(-0.001), wheel), Err(FreePlayError::Play));
        assert_eq!(play_angle(Length(0.7), wheel), Err(FreePlayError::Play));
        assert_eq!(play_angle(Length(0.01), Length(0.0)), Err(FreePlayError::WheelSize));
        assert_eq!(limit_570_7(Length(f64::NAN)), Err(FreePlayError::WheelSize));
    }

    #[test]
    fn the_american_limit_is_the_tighter_for_a_box() {
        for tenths in 80..270 {
            let wheel = Length::of(f64::from(tenths) / 10.0, Unit::Inch);
            if wheel.to(Unit::Inch) >= 10.2 {
                assert!(limit_570_7(wheel).unwrap() <= limit_uk_2012(wheel, Gear::Box).unwrap(), "{tenths}");
            }
        }
    }
}
