//! Oil pressure: cold, hot at idle and hot at road speed; what matters is the hot engine.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::Pressure;

use super::desk::Desk;

/// Why an oil pressure cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OilPressureError {
    /// Negative, or beyond any relief valve.
    Pressure,
}

display!(OilPressureError);

impl Say for OilPressureError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Pressure => phrase!("oil pressure is 0 to 15 bar (218 psi); check the figure and its unit"),
        }
    }
}

impl core::error::Error for OilPressureError {}

/// A pressure that an engine's gauge can show.
///
/// # Errors
/// [`OilPressureError`] otherwise.
pub fn checked(pressure: Pressure) -> Result<Pressure, OilPressureError> {
    if (0.0..=1.5e6).contains(&pressure.0) { Ok(pressure) } else { Err(OilPressureError::Pressure) }
}

/// The rule `oil-pressure`. The drop is the cold pressure less the hot one at road speed.
pub(super) fn read(desk: &mut Desk) {
    let mut field = |name: &'static str| {
        let shown = desk.number(name)?;
        desk.take(name, checked(Pressure(shown)))
    };
    let (cold, hot_idle, hot_running) = (field("cold"), field("hot-idle"), field("hot-running"));
    if let Some(pressure) = hot_idle {
        desk.result("hot-idle", pressure.0);
    }
    if let Some(pressure) = hot_running {
        desk.result("hot-running", pressure.0);
    }
    if let (Some(cold), Some(hot)) = (cold, hot_running) {
        desk.result("drop", cold.0 - hot.0);
    }
    if let (Some(idle), Some(running)) = (hot_idle, hot_running)
        && idle > running
    {
        desk.note("More pressure at idle than at road speed: the two may have changed places.");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(checked(Pressure(-1.0)), Err(OilPressureError::Pressure));
        assert_eq!(checked(Pressure(f64::NAN)), Err(OilPressureError::Pressure));
        assert_eq!(checked(Pressure(0.0)), Ok(Pressure(0.0)));
    }
}
