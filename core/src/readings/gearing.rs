//! Gearing: road speed from engine speed, through gear, final drive and tyre.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::{Length, Rotation, Speed, Unit};

use super::desk::Desk;
use super::tyre::designation::Designation;
use super::tyre::size;

/// Why a road speed cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GearingError {
    /// Not a ratio of a gearbox.
    Gear,
    /// Not a ratio of a final drive.
    Final,
    /// Not the circumference of a car's tyre.
    Circumference,
    /// Faster than an engine turns, or backwards.
    EngineSpeed,
}

display!(GearingError);

impl Say for GearingError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Gear => phrase!("a gear's ratio is 0.3 to 8 turns of the engine for one of the gearbox's output"),
            Self::Final => phrase!("a final drive's ratio is 1 to 10 turns of the shaft for one of the wheel"),
            Self::Circumference => phrase!("a tyre is 0.9 to 4 m round"),
            Self::EngineSpeed => phrase!("an engine turns at 0 to 12,000 rpm"),
        }
    }
}

impl core::error::Error for GearingError {}

/// How an engine drives the road.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gearing {
    /// What the driven tyre covers in a turn.
    pub circumference: Length,
    /// Turns of the engine for one of the gearbox's output.
    pub gear: f64,
    /// Turns of the gearbox's output for one of the wheel.
    pub final_drive: f64,
}

impl Gearing {
    fn checked(self) -> Result<Self, GearingError> {
        if !(0.9..=4.0).contains(&self.circumference.0) {
            return Err(GearingError::Circumference);
        }
        if !(0.3..=8.0).contains(&self.gear) {
            return Err(GearingError::Gear);
        }
        if !(1.0..=10.0).contains(&self.final_drive) {
            return Err(GearingError::Final);
        }
        Ok(self)
    }

    /// Road speed at an engine speed.
    ///
    /// # Errors
    /// [`GearingError`] if a ratio, the tyre or the engine speed is out of reach.
    pub fn road_speed(self, engine: Rotation) -> Result<Speed, GearingError> {
        let Self { circumference, gear, final_drive } = self.checked()?;
        if !(0.0..=12_000.0).contains(&engine.to(Unit::RevolutionPerMinute)) {
            return Err(GearingError::EngineSpeed);
        }
        Ok(Speed(engine.0 / (gear * final_drive) * circumference.0))
    }

    /// Engine speed at a road speed: the way back.
    ///
    /// # Errors
    /// [`GearingError`] if a ratio or the tyre is out of reach, or the engine would turn faster than one does.
    pub fn engine_speed(self, road: Speed) -> Result<Rotation, GearingError> {
        let Self { circumference, gear, final_drive } = self.checked()?;
        let engine = Rotation(road.0 / circumference.0 * gear * final_drive);
        if (0.0..=12_000.0).contains(&engine.to(Unit::RevolutionPerMinute)) {
            Ok(engine)
        } else {
            Err(GearingError::EngineSpeed)
        }
    }
}

/// The rule `gearing`. A tyre under load rolls less far than its free circumference, so the rolling one is taken
/// ([`size::rolling_circumference`]).
pub(super) fn read(desk: &mut Desk) {
    let circumference = desk.text("tyre").and_then(|text| {
        let tyre = desk.take("tyre", Designation::parse(text))?;
        desk.take("tyre", size::rolling_circumference(&tyre))
    });
    let (gear, final_drive) = (desk.number("gear"), desk.number("final"));
    let (Some(circumference), Some(gear), Some(final_drive)) = (circumference, gear, final_drive) else { return };
    let gearing = Gearing { circumference, gear, final_drive };
    let field = |error: GearingError| match error {
        GearingError::Gear => "gear",
        GearingError::Final => "final",
        GearingError::Circumference => "tyre",
        GearingError::EngineSpeed => "engine-speed",
    };
    match gearing.road_speed(Rotation::of(1000.0, Unit::RevolutionPerMinute)) {
        Ok(speed) => desk.result("per-thousand", speed.0),
        Err(error) => {
            desk.problem(field(error), error.phrase());
            return;
        }
    }
    if let Some(engine) = desk.number("engine-speed")
        && let Some(speed) = desk.take("engine-speed", gearing.road_speed(Rotation(engine)))
    {
        desk.result("road-speed", speed.0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const PLAIN: Gearing = Gearing { circumference: Length(2.0), gear: 1.0, final_drive: 4.0 };

    #[test]
    fn bad_input_says_how_to_mend_it() {
        let turn = Rotation(10.0);
        assert_eq!(Gearing { gear: 0.0, ..PLAIN }.road_speed(turn), Err(GearingError::Gear));
        assert_eq!(Gearing { final_drive: 40.0, ..PLAIN }.road_speed(turn), Err(GearingError::Final));
        assert_eq!(Gearing { circumference: Length(0.0), ..PLAIN }.road_speed(turn), Err(GearingError::Circumference));
        assert_eq!(PLAIN.road_speed(Rotation(-1.0)), Err(GearingError::EngineSpeed));
        assert_eq!(PLAIN.engine_speed(Speed(1e6)), Err(GearingError::EngineSpeed));
    }

    proptest! {
        #[test]
        fn engine_speed_is_the_way_back(rpm in 0.0..11_900.0_f64, gear in 0.5..5.0_f64, final_drive in 2.0..6.0_f64) {
            let gearing = Gearing { gear, final_drive, ..PLAIN };
            let engine = Rotation::of(rpm, Unit::RevolutionPerMinute);
            let back = gearing.engine_speed(gearing.road_speed(engine).unwrap()).unwrap();
            prop_assert!((back.0 - engine.0).abs() <= 1e-12 * engine.0.max(1.0));
        }
    }
}
