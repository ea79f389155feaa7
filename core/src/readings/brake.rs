//! Braking: mean deceleration from a measured stop, efficiency, and the balance across an axle.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::{Acceleration, Duration, Length, Mass, Speed, Unit};

use super::desk::Desk;

/// Why a stop cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BrakeError {
    /// No speed to stop from, or one that no such test is made at.
    Speed,
    /// No distance, or one beyond any stop.
    Distance,
    /// No time, or one beyond any stop.
    Time,
    /// The figures give more than a road tyre can.
    TooHard,
    /// An effort is negative, or none was measured at all.
    Effort,
    /// The mass is not that of a car.
    Mass,
    /// The slope is as steep as the braking: the car never stops.
    Slope,
}

display!(BrakeError);

impl Say for BrakeError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Speed => phrase!("the speed before braking is 5 to 250 km/h (3 to 155 mph)"),
            Self::Distance => {
                phrase!("the distance is more than 0 and at most 1,000 m; measure from first brake to rest")
            }
            Self::Time => phrase!("the time is more than 0 and at most 120 s; measure from first brake to rest"),
            Self::TooHard => phrase!("no road tyre stops a car so hard; check the speed and the measure"),
            Self::Effort => phrase!("brake efforts are 0 or more, and one of them is above 0"),
            Self::Mass => phrase!("the mass of the car is 100 to 10,000 kg"),
            Self::Slope => phrase!("on so steep a slope these brakes do not stop the car; use level ground"),
        }
    }
}

impl core::error::Error for BrakeError {}

/// The most that a stop is believed: 1.5 times gravity, above any road tyre.
const MOST: f64 = 1.5 * 9.806_65;

fn checked_speed(speed: Speed) -> Result<f64, BrakeError> {
    // A walking pace says nothing of brakes; the ends are exact in km/h.
    if (5.0 / 3.6..=250.0 / 3.6).contains(&speed.0) { Ok(speed.0) } else { Err(BrakeError::Speed) }
}

fn believable(deceleration: f64) -> Result<Acceleration, BrakeError> {
    if deceleration <= MOST { Ok(Acceleration(deceleration)) } else { Err(BrakeError::TooHard) }
}

/// Mean deceleration over a distance: v² / 2s.
///
/// # Errors
/// [`BrakeError`] if the speed or distance is out of reach, or the stop harder than 1.5 times gravity.
pub fn from_distance(speed: Speed, distance: Length) -> Result<Acceleration, BrakeError> {
    let speed = checked_speed(speed)?;
    if !(distance.0 > 0.0 && distance.0 <= 1000.0) {
        return Err(BrakeError::Distance);
    }
    believable(speed * speed / (2.0 * distance.0))
}

/// Mean deceleration over a time: v / t.
///
/// # Errors
/// As for [`from_distance`].
pub fn from_time(speed: Speed, time: Duration) -> Result<Acceleration, BrakeError> {
    let speed = checked_speed(speed)?;
    if !(time.0 > 0.0 && time.0 <= 120.0) {
        return Err(BrakeError::Time);
    }
    believable(speed / time.0)
}

/// A deceleration as a share of standard gravity: the braking efficiency of a stop on level ground.
#[must_use]
pub fn efficiency(deceleration: Acceleration) -> f64 {
    deceleration.0 / Acceleration::GRAVITY.0
}

/// Distance to stop at a deceleration on a road that falls by `slope` (0.02 is two in a hundred downhill):
/// v² / 2g(a/g − slope).
///
/// # Errors
/// [`BrakeError`] if the speed is out of reach or the slope outdoes the brakes.
pub fn stopping_distance(speed: Speed, deceleration: Acceleration, slope: f64) -> Result<Length, BrakeError> {
    let speed = checked_speed(speed)?;
    let net = deceleration.0 - slope * Acceleration::GRAVITY.0;
    if net > 0.0 { Ok(Length(speed * speed / (2.0 * net))) } else { Err(BrakeError::Slope) }
}

/// Efficiency on a roller bed: the sum of the wheels' efforts over the test weight, both as masses (kgf and kg).
///
/// # Errors
/// [`BrakeError`] if an effort is negative, none is above nil, or the mass is no car's.
pub fn efficiency_of_efforts(efforts: &[Mass], test_weight: Mass) -> Result<f64, BrakeError> {
    if !(100.0..=10_000.0).contains(&test_weight.0) {
        return Err(BrakeError::Mass);
    }
    let sum: f64 = efforts.iter().map(|effort| effort.0).sum();
    let bad = efforts.iter().any(|effort| !(0.0..=10_000.0).contains(&effort.0));
    if bad || sum <= 0.0 { Err(BrakeError::Effort) } else { Ok(sum / test_weight.0) }
}

/// How far the two wheels of an axle differ: (high − low) / high (from memory). The British limit is 30 % at the
/// greatest effort.
///
/// # Errors
/// [`BrakeError::Effort`] if an effort is negative or both are nil.
pub fn imbalance(left: Mass, right: Mass) -> Result<f64, BrakeError> {
    let (low, high) = if left <= right { (left.0, right.0) } else { (right.0, left.0) };
    if low >= 0.0 && high > 0.0 && high.is_finite() { Ok((high - low) / high) } else { Err(BrakeError::Effort) }
}

/// Mean fully developed deceleration of type approval: over the part of the stop between 0.8 and 0.1 of the speed,
/// (vb² − ve²) / 25.92 (se − sb) in km/h and m (71/320/EEC annex II 1.1.2; UN R13).
///
/// # Errors
/// [`BrakeError`] if the speed is out of reach, the distances do not rise, or the result is beyond a road tyre.
pub fn fully_developed(
    speed: Speed,
    at_eight_tenths: Length,
    at_one_tenth: Length,
) -> Result<Acceleration, BrakeError> {
    let speed = checked_speed(speed)?;
    let run = at_one_tenth.0 - at_eight_tenths.0;
    if !(at_eight_tenths.0 >= 0.0 && run > 0.0 && run <= 1000.0) {
        return Err(BrakeError::Distance);
    }
    // In SI units the 25.92 is 2 × 3.6².
    believable((0.64 - 0.01) * speed * speed / (2.0 * run))
}

/// A type-approval stop of a passenger car: an upper yardstick, not a limit for cars in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Approval {
    /// UN R13-H, service brake, type 0: 0.1 v + 0.0060 v².
    Service,
    /// UN R13-H, secondary braking: 0.1 v + 0.0158 v².
    Secondary,
}

/// The longest stop that type approval allows from a speed, reaction of the brakes included.
///
/// # Errors
/// [`BrakeError::Speed`] if the speed is out of reach.
pub fn approval_distance(speed: Speed, approval: Approval) -> Result<Length, BrakeError> {
    let kilometres_per_hour = Speed(checked_speed(speed)?).to(Unit::KilometrePerHour);
    let square = match approval {
        Approval::Service => 0.0060,
        Approval::Secondary => 0.0158,
    };
    Ok(Length(0.1 * kilometres_per_hour + square * kilometres_per_hour * kilometres_per_hour))
}

/// The rule `stop`. The distance, where it is known, goes before the time: a tape is surer than a thumb on a watch.
pub(super) fn read(desk: &mut Desk) {
    let (distance, time) = (desk.number("distance"), desk.number("time"));
    if !desk.has("distance") && !desk.has("time") {
        desk.problem("distance", "enter the distance or the time of the stop");
    }
    let Some(speed) = desk.number("speed").map(Speed) else { return };
    let by_distance = distance.map(|distance| from_distance(speed, Length(distance)));
    let by_time = time.map(|time| from_time(speed, Duration(time)));
    if let (Some(Ok(one)), Some(Ok(other))) = (by_distance, by_time)
        && (one.0 - other.0).abs() > 0.2 * one.0
    {
        desk.note("Distance and time disagree by more than a fifth: the distance was taken, measure both again.");
    }
    let name = |desk: &mut Desk, field: &'static str, error: BrakeError| {
        desk.problem(if error == BrakeError::Speed { "speed" } else { field }, error.phrase());
    };
    let taken = match (by_distance, by_time) {
        (Some(Ok(deceleration)), _) => Some(deceleration),
        (Some(Err(error)), _) => {
            name(desk, "distance", error);
            None
        }
        (None, Some(Ok(deceleration))) => Some(deceleration),
        (None, Some(Err(error))) => {
            name(desk, "time", error);
            None
        }
        (None, None) => None,
    };
    if let Some(deceleration) = taken {
        desk.result("deceleration", deceleration.0);
        desk.result("efficiency", efficiency(deceleration));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        let speed = Speed(10.0);
        assert_eq!(from_distance(Speed(0.0), Length(5.0)), Err(BrakeError::Speed));
        assert_eq!(from_distance(speed, Length(0.0)), Err(BrakeError::Distance));
        assert_eq!(from_distance(speed, Length(1.0)), Err(BrakeError::TooHard));
        assert_eq!(from_time(speed, Duration(-1.0)), Err(BrakeError::Time));
        assert_eq!(stopping_distance(speed, Acceleration(0.5), 0.1), Err(BrakeError::Slope));
        assert_eq!(efficiency_of_efforts(&[], Mass(1000.0)), Err(BrakeError::Effort));
        assert_eq!(efficiency_of_efforts(&[Mass(100.0)], Mass(0.0)), Err(BrakeError::Mass));
        assert_eq!(imbalance(Mass(0.0), Mass(0.0)), Err(BrakeError::Effort));
        assert_eq!(fully_developed(speed, Length(9.0), Length(8.0)), Err(BrakeError::Distance));
    }

    proptest! {
        #[test]
        fn distance_is_the_way_back_from_deceleration(speed in 2.0..60.0_f64, deceleration in 2.0..12.0_f64) {
            let distance = stopping_distance(Speed(speed), Acceleration(deceleration), 0.0).unwrap();
            let back = from_distance(Speed(speed), distance).unwrap();
            prop_assert!((back.0 - deceleration).abs() < 1e-12 * deceleration);
        }

        #[test]
        fn a_longer_stop_is_a_gentler_one(speed in 5.0..40.0_f64, distance in 90.0..400.0_f64, more in 0.1..100.0_f64) {
            let stop = |metres| from_distance(Speed(speed), Length(metres)).unwrap();
            prop_assert!(stop(distance + more) < stop(distance));
        }
    }
}
