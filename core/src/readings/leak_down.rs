//! Leak-down: how much of the pressure fed to a closed cylinder escapes.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::Pressure;

use super::desk::Desk;

/// Why a leak-down test cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeakDownError {
    /// Nothing is supplied, or more than such a tester takes.
    Supplied,
    /// No cylinder was measured, or more than an engine has.
    Cylinders(usize),
    /// A cylinder holds less than nothing or more than is supplied; the place counts from 1.
    Held(usize),
}

display!(LeakDownError);

impl Say for LeakDownError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Supplied => phrase!("the pressure supplied is above 0 and at most 20 bar (290 psi)"),
            Self::Cylinders(count) => phrase!("{0} pressures here; enter one for each cylinder, 1 to 16", count),
            Self::Held(place) => phrase!("cylinder {0}: it holds between 0 and what is supplied", place),
        }
    }
}

impl core::error::Error for LeakDownError {}

/// The share lost in one cylinder: (supplied − held) / supplied.
#[must_use]
fn loss(supplied: Pressure, held: Pressure) -> f64 {
    (supplied.0 - held.0) / supplied.0
}

/// The greatest loss over the cylinders, and the place of that cylinder, from 1. Workshop manuals allow 25 %.
///
/// # Errors
/// [`LeakDownError`] if a pressure is out of reach.
pub fn greatest_loss(supplied: Pressure, held: &[Pressure]) -> Result<(f64, usize), LeakDownError> {
    if !(supplied.0 > 0.0 && supplied.0 <= 2e6) {
        return Err(LeakDownError::Supplied);
    }
    if !(1..=16).contains(&held.len()) {
        return Err(LeakDownError::Cylinders(held.len()));
    }
    let mut worst = (0.0, 1);
    for (place, pressure) in held.iter().enumerate() {
        if !(0.0..=supplied.0).contains(&pressure.0) {
            return Err(LeakDownError::Held(place + 1));
        }
        let lost = loss(supplied, *pressure);
        if lost > worst.0 {
            worst = (lost, place + 1);
        }
    }
    Ok(worst)
}

/// The rule `leak-down`.
pub(super) fn read(desk: &mut Desk) {
    let (Some(supplied), Some(held)) = (desk.number("supplied"), desk.numbers("held")) else { return };
    let held: Vec<Pressure> = held.into_iter().map(Pressure).collect();
    match greatest_loss(Pressure(supplied), &held) {
        Ok((loss, place)) => {
            desk.result("greatest-loss", loss);
            if held.len() > 1 && loss > 0.0 {
                desk.note(phrase!(
                    "Number {0} of those entered loses most: listen at carburettor, exhaust and filler.",
                    place
                ));
            }
        }
        Err(error) => {
            desk.problem(if error == LeakDownError::Supplied { "supplied" } else { "held" }, error.phrase());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_worst_cylinder_counts() {
        let held = [Pressure(7.2e5), Pressure(6.0e5), Pressure(7.0e5)];
        let (loss, place) = greatest_loss(Pressure(8e5), &held).unwrap();
        assert!((loss - 0.25).abs() < 1e-12);
        assert_eq!(place, 2);
    }

    #[test]
    fn bad_input_says_how_to_mend_it() {
        let supplied = Pressure(5e5);
        assert_eq!(greatest_loss(Pressure(0.0), &[supplied]), Err(LeakDownError::Supplied));
        assert_eq!(greatest_loss(supplied, &[]), Err(LeakDownError::Cylinders(0)));
        assert_eq!(greatest_loss(supplied, &[supplied, Pressure(6e5)]), Err(LeakDownError::Held(2)));
    }
}
