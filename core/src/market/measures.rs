//! The measures of the ratio study beside the bounds that assessors publish for them.

use super::diagnostics::{COD_TO, LEVEL, PRB, PRD};
use super::ratio_study::RatioStudy;

/// A measure and its bounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    /// Its name.
    pub name: &'static str,
    /// Its value; none with too few sales.
    pub value: Option<f64>,
    /// Decimals that it is shown with.
    pub places: u8,
    /// Bounds within which assessors of houses accept it. There are none for cars.
    pub band: (f64, f64),
    /// What it says, in a sentence.
    pub says: &'static str,
}

impl Measure {
    /// Whether it lies within its bounds; nothing without a value.
    #[must_use]
    pub fn is_within(&self) -> Option<bool> {
        self.value.map(|value| (self.band.0..=self.band.1).contains(&value))
    }
}

/// The four measures of a study.
#[must_use]
pub fn measures(study: &RatioStudy) -> [Measure; 4] {
    [
        Measure {
            name: "Median ratio",
            value: Some(study.median),
            places: 2,
            band: LEVEL,
            says: "1 when the method values these sales neither high nor low.",
        },
        Measure {
            name: "Coefficient of dispersion (COD)",
            value: Some(study.cod),
            places: 1,
            band: (0.0, COD_TO),
            says: "How far single sales lie from the median ratio on average, in per cent.",
        },
        Measure {
            name: "Price-related differential (PRD)",
            value: Some(study.prd),
            places: 2,
            band: PRD,
            says: "Above 1 when dear cars are valued too low, below when too high.",
        },
        Measure {
            name: "Price-related bias (PRB)",
            value: study.prb,
            places: 2,
            band: PRB,
            says: "How the ratio changes, as a share, each time the value doubles; stated from eight sales on.",
        },
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_measure_is_held_against_its_own_bounds() {
        let study = |median, cod, prd, prb| RatioStudy {
            ratios: vec![1.0; 8],
            median,
            mean: 1.0,
            weighted_mean: 1.0,
            cod,
            prd,
            prb,
        };
        let within = |study: &RatioStudy| measures(study).map(|measure| measure.is_within());
        assert_eq!(within(&study(1.0, 10.0, 1.0, Some(0.0))), [Some(true); 4]);
        assert_eq!(within(&study(1.2, 20.0, 1.1, Some(0.2))), [Some(false); 4]);
        assert_eq!(within(&study(1.0, 10.0, 1.0, None))[3], None);
    }
}
