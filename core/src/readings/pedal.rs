//! Pedal reserve: how much of the brake pedal's travel is used up when it is pressed hard.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::Length;

use super::desk::Desk;

/// Why a pedal's travel cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PedalError {
    /// The free height is not that of a pedal.
    FreeHeight,
    /// The pressed pedal is below the floor or above its rest.
    PressedHeight,
}

display!(PedalError);

impl Say for PedalError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::FreeHeight => phrase!("a pedal at rest stands 20 to 400 mm (1 to 16 in) from the floor"),
            Self::PressedHeight => phrase!("pressed, the pedal stands between the floor and its rest"),
        }
    }
}

impl core::error::Error for PedalError {}

/// The share of the travel used: (A − B) / A, where A is the height at rest and B the height pressed. 49 CFR
/// 570.55(c) and 570.5 allow 80 % at 50 lb.
///
/// # Errors
/// [`PedalError`] if the heights are no pedal's.
pub fn travel_used(free: Length, pressed: Length) -> Result<f64, PedalError> {
    if !(0.02..=0.4).contains(&free.0) {
        return Err(PedalError::FreeHeight);
    }
    if !(0.0..=free.0).contains(&pressed.0) {
        return Err(PedalError::PressedHeight);
    }
    Ok((free.0 - pressed.0) / free.0)
}

/// The rule `pedal-reserve`.
pub(super) fn read(desk: &mut Desk) {
    let (Some(free), Some(pressed)) = (desk.number("free-height"), desk.number("pressed-height")) else { return };
    match travel_used(Length(free), Length(pressed)) {
        Ok(used) => desk.result("used", used),
        Err(error) => {
            desk.problem(
                if error == PedalError::FreeHeight { "free-height" } else { "pressed-height" },
                error.phrase(),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(travel_used(Length(0.0), Length(0.0)), Err(PedalError::FreeHeight));
        assert_eq!(travel_used(Length(0.15), Length(0.16)), Err(PedalError::PressedHeight));
        assert_eq!(travel_used(Length(0.15), Length(-0.01)), Err(PedalError::PressedHeight));
        assert_eq!(travel_used(Length(0.15), Length(0.15)), Ok(0.0));
    }
}
