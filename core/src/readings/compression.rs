//! Compression: the spread over the cylinders, and what a spoonful of oil says of the weakest.

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::Pressure;

use super::desk::Desk;

/// Why compression figures cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CompressionError {
    /// No cylinder was measured, or more than an engine has.
    Cylinders(usize),
    /// A pressure is negative or beyond a petrol engine's gauge; the place counts from 1.
    Pressure(usize),
    /// Every cylinder shows nothing.
    AllNil,
    /// The wet figures are not one for each cylinder.
    WetCount {
        /// Cylinders measured without oil.
        dry: usize,
        /// Cylinders measured with it.
        wet: usize,
    },
}

display!(CompressionError);

impl Say for CompressionError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Cylinders(count) => phrase!("{0} pressures here; enter one for each cylinder, 1 to 16", count),
            Self::Pressure(place) => {
                phrase!("cylinder {0}: a compression is 0 to 50 bar (725 psi); check the figure and its unit", place)
            }
            Self::AllNil => phrase!("every cylinder shows nothing; hold the throttle open and crank again"),
            Self::WetCount { dry, wet } => {
                phrase!("{0} pressures with oil against {1} without; enter one for each cylinder, in order", wet, dry)
            }
        }
    }
}

impl core::error::Error for CompressionError {}

/// What compression figures come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Compression {
    /// The lowest cylinder.
    pub least: Pressure,
    /// Its place, from 1.
    pub weakest: usize,
    /// The highest cylinder.
    pub greatest: Pressure,
    /// Lowest over highest: 0.70 or 0.75 is the least that workshop manuals allow.
    pub ratio: f64,
    /// Two neighbours are low together and not the whole engine: the gasket between them.
    pub neighbours_low: bool,
}

/// Below this share of the highest a cylinder counts as low: the stricter of the two published floors.
pub const LOW: f64 = 0.75;

/// Judges the dry figures, in cylinder order.
///
/// # Errors
/// [`CompressionError`] if there are none, too many, or one is out of reach.
pub fn judge(dry: &[Pressure]) -> Result<Compression, CompressionError> {
    check(dry)?;
    let mut least = (Pressure(f64::INFINITY), 0);
    let mut greatest = Pressure(0.0);
    for (place, pressure) in dry.iter().enumerate() {
        if *pressure < least.0 {
            least = (*pressure, place + 1);
        }
        if *pressure > greatest {
            greatest = *pressure;
        }
    }
    if greatest.0 <= 0.0 {
        return Err(CompressionError::AllNil);
    }
    let low = |pressure: &Pressure| pressure.0 < LOW * greatest.0;
    let neighbours_low = dry.windows(2).any(|pair| pair.iter().all(low)) && dry.iter().filter(|p| !low(p)).count() >= 2;
    Ok(Compression { least: least.0, weakest: least.1, greatest, ratio: least.0.0 / greatest.0, neighbours_low })
}

/// How much the weakest cylinder gains with oil, as a share of its dry figure: much speaks for rings, little for
/// valves. Nothing where it was nil.
///
/// # Errors
/// [`CompressionError`] if the figures are not one for each cylinder or are out of reach.
pub fn wet_gain(dry: &[Pressure], wet: &[Pressure]) -> Result<Option<f64>, CompressionError> {
    let weakest = judge(dry)?.weakest;
    check(wet)?;
    if dry.len() != wet.len() {
        return Err(CompressionError::WetCount { dry: dry.len(), wet: wet.len() });
    }
    let gain = dry.iter().zip(wet).nth(weakest - 1).map(|(dry, wet)| (wet.0 - dry.0) / dry.0);
    Ok(gain.filter(|gain| gain.is_finite()))
}

fn check(pressures: &[Pressure]) -> Result<(), CompressionError> {
    if !(1..=16).contains(&pressures.len()) {
        return Err(CompressionError::Cylinders(pressures.len()));
    }
    match pressures.iter().position(|pressure| !(0.0..=5e6).contains(&pressure.0)) {
        Some(place) => Err(CompressionError::Pressure(place + 1)),
        None => Ok(()),
    }
}

/// The rule `compression`.
pub(super) fn read(desk: &mut Desk) {
    let typed = |values: Vec<f64>| values.into_iter().map(Pressure).collect::<Vec<_>>();
    let (dry, wet) = (desk.numbers("dry").map(typed), desk.numbers("wet").map(typed));
    let Some(dry) = dry else { return };
    let Some(found) = desk.take("dry", judge(&dry)) else { return };
    desk.result("least", found.least.0);
    desk.result("greatest", found.greatest.0);
    desk.result("ratio", found.ratio);
    if found.ratio < LOW {
        desk.note(phrase!("The weakest is number {0} of those entered.", found.weakest));
    }
    if let Some(wet) = wet
        && let Some(Some(gain)) = desk.take("wet", wet_gain(&dry, &wet))
    {
        desk.result("wet-gain", gain);
    }
    desk.result("neighbours-low", f64::from(u8::from(found.neighbours_low)));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(kilopascals: &[f64]) -> Vec<Pressure> {
        kilopascals.iter().map(|amount| Pressure(amount * 1000.0)).collect()
    }

    #[test]
    fn bad_input_says_how_to_mend_it() {
        assert_eq!(judge(&[]), Err(CompressionError::Cylinders(0)));
        assert_eq!(judge(&of(&[1000.0, -1.0])), Err(CompressionError::Pressure(2)));
        assert_eq!(judge(&of(&[0.0, 0.0])), Err(CompressionError::AllNil));
        let wrong = wet_gain(&of(&[1000.0, 900.0]), &of(&[1000.0]));
        assert_eq!(wrong, Err(CompressionError::WetCount { dry: 2, wet: 1 }));
    }

    #[test]
    fn oil_lifts_the_weakest() {
        let dry = of(&[1000.0, 600.0, 980.0, 990.0]);
        let gain = wet_gain(&dry, &of(&[1050.0, 900.0, 1000.0, 1000.0])).unwrap().unwrap();
        assert!((gain - 0.5).abs() < 1e-12);
        assert_eq!(wet_gain(&of(&[1000.0, 0.0]), &of(&[1000.0, 500.0])), Ok(None));
    }

    #[test]
    fn two_neighbours_low_but_not_a_tired_engine() {
        assert!(judge(&of(&[1000.0, 500.0, 520.0, 990.0])).unwrap().neighbours_low);
        assert!(!judge(&of(&[500.0, 1000.0, 520.0, 990.0])).unwrap().neighbours_low);
        // One good cylinder among low ones is no gasket.
        assert!(!judge(&of(&[500.0, 500.0, 520.0, 990.0])).unwrap().neighbours_low);
    }
}
