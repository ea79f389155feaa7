//! The designation on a tyre's side wall, in every form that an older car may wear.
//!
//! | form | example |
//! | --- | --- |
//! | metric with service description | `195/65 R15 91H` |
//! | American passenger-metric | `P215/65R15 95S` |
//! | metric without a ratio (82 % is meant) | `165R15`, `165 SR 15`, `185VR15` |
//! | temporary spare | `T145/80D18 103M` |
//! | light truck, flotation | `LT235/75R15 104/101S`, `31x10.50R15 LT` |
//! | inches | `7.00-14`, `5.60-15`, `6.95-14` |
//! | letters for load | `C78-15`, `FR78-15` |

use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::Length;

use super::load::SpeedRating;
use super::reader::Reader;

/// Why a text is no tyre's designation. Each says what was looked for and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DesignationError {
    /// Nothing to read.
    Empty,
    /// Something else stands where a part of the designation should.
    Expected {
        /// The part.
        part: Part,
        /// What was read before it.
        after: String,
    },
    /// A part that no tyre has.
    OutOfReach {
        /// The part.
        part: Part,
        /// What stands there.
        found: String,
    },
    /// Something after the designation that is no known marking.
    Trailing(String),
}

/// A part of a designation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)] // the names of the parts
pub enum Part {
    Width,
    Ratio,
    Construction,
    Rim,
    LoadIndex,
    SpeedSymbol,
}

display!(Part);

impl Say for Part {
    fn phrase(&self) -> Phrase {
        Phrase::from(match self {
            Self::Width => "the width, in millimetres or in inches with a point",
            Self::Ratio => "the ratio of height to width, as 65",
            Self::Construction => "the construction: R, D, B or a dash",
            Self::Rim => "the rim's diameter in inches, as 15",
            Self::LoadIndex => "the load index, as 91",
            Self::SpeedSymbol => "the speed symbol, as H",
        })
    }
}

display!(DesignationError);

impl Say for DesignationError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Empty => phrase!("no size here; copy it from the side wall, as 165R15 or 195/65R15 91H"),
            Self::Expected { part, after } if after.is_empty() => {
                phrase!("a size begins with {0}; write it as 165R15 or 195/65R15 91H", part)
            }
            Self::Expected { part, after } => phrase!("after “{0}” should stand {1}", after, part),
            Self::OutOfReach { part, found } => phrase!("“{0}” cannot be right for {1}", found, part),
            Self::Trailing(rest) => phrase!("“{0}” after the size is no known marking; leave it out", rest),
        }
    }
}

impl core::error::Error for DesignationError {}

/// What a tyre is made for, by the letters before its size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// No letter: European metric, or an older size.
    Passenger,
    /// P: American passenger-metric, from 1976; a softer side wall for the same figures.
    PassengerMetric,
    /// LT before or after the size, or C after it.
    LightTruck,
    /// T: a temporary spare.
    Temporary,
}

/// How the casing is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Construction {
    /// R.
    Radial,
    /// D or a dash: cross-ply.
    Diagonal,
    /// B: cross-ply under a belt.
    BiasBelted,
}

/// The size itself, as its form states it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Section {
    /// Width in millimetres; without a ratio, 82 % is meant.
    Metric {
        /// Nominal width.
        width: Length,
        /// Height over width, if it is stated.
        ratio: Option<f64>,
    },
    /// Width in inches.
    Inch {
        /// Nominal width.
        width: Length,
        /// The width does not end in a zero: a later, lower tyre of about 82 % where the older has about 92 %.
        low: bool,
    },
    /// Outer diameter and width in inches.
    Flotation {
        /// Outer diameter.
        diameter: Length,
        /// Nominal width.
        width: Length,
    },
    /// A letter for load and size, A to N, which states no width.
    Letter {
        /// The letter.
        size: char,
        /// Height over width.
        ratio: f64,
    },
}

/// What stands on a tyre's side wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Designation {
    /// What it is made for.
    pub purpose: Purpose,
    /// Its size.
    pub section: Section,
    /// How it is built.
    pub construction: Construction,
    /// Diameter of its rim.
    pub rim: Length,
    /// Load index, the single-tyre one where two stand there.
    pub load_index: Option<u8>,
    /// Speed symbol: of the service description, or the older one before the R.
    pub speed: Option<SpeedRating>,
}

impl Designation {
    /// Reads a designation, in capitals or not, with or without spaces.
    ///
    /// # Errors
    /// [`DesignationError`] says which part is missing or cannot be.
    ///
    /// ```
    /// use kerbworth_core::readings::tyre::designation::{Construction, Designation};
    /// let tyre = Designation::parse("195/65 R15 91H")?;
    /// assert_eq!((tyre.construction, tyre.load_index), (Construction::Radial, Some(91)));
    /// assert!(Designation::parse("195/65").is_err());
    /// # Ok::<(), kerbworth_core::readings::tyre::designation::DesignationError>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, DesignationError> {
        let tidy = text.trim().to_uppercase().replace(',', ".").replace(['×', '*'], "X").replace(['–', '−'], "-");
        if tidy.is_empty() {
            return Err(DesignationError::Empty);
        }
        Reader::new(&tidy).designation()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Unit;
    use proptest::prelude::*;

    #[track_caller]
    fn refused(text: &str, sentence: &str) {
        let error = Designation::parse(text).expect_err(text);
        assert_eq!(error.to_string(), sentence, "{text}");
    }

    #[test]
    fn errors_say_where_and_what() {
        refused("  ", "no size here; copy it from the side wall, as 165R15 or 195/65R15 91H");
        refused("195/", "after “195/” should stand the ratio of height to width, as 65");
        refused("195/65", "after “195/65” should stand the construction: R, D, B or a dash");
        refused("195/65R", "after “195/65R” should stand the rim's diameter in inches, as 15");
        refused("195/65R15 91", "after “195/65R15 91” should stand the speed symbol, as H");
        refused("195/650R15", "“650” cannot be right for the ratio of height to width, as 65");
        refused("95/65R15", "“95” cannot be right for the width, in millimetres or in inches with a point");
        refused("165R55", "“55” cannot be right for the rim's diameter in inches, as 15");
        refused("165R15 fast", "“FAST” after the size is no known marking; leave it out");
        refused(
            "?",
            "a size begins with the width, in millimetres or in inches with a point; write it as 165R15 or 195/65R15 91H",
        );
    }

    #[test]
    fn the_same_tyre_however_it_is_written() {
        let plain = Designation::parse("195/65R15 91H").unwrap();
        for text in
            ["195/65 R 15 91 H", "195/65r15 91h", " 195 / 65R15  (91H) ", "195/65R15 91H TL XL", "195/65-R15 91H"]
        {
            if text.contains("-R") {
                assert!(Designation::parse(text).is_err(), "{text}");
            } else {
                assert_eq!(Designation::parse(text), Ok(plain), "{text}");
            }
        }
        assert_eq!(Designation::parse("5.20x13"), Designation::parse("5.20-13"));
        assert_eq!(Designation::parse("5,20-13"), Designation::parse("5.20-13"));
        assert_eq!(Designation::parse("165 SR 15"), Designation::parse("165R15 S"));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]
        #[test]
        fn never_panics(text in "\\PC{0,30}", near in "[PTL]{0,2}[0-9.]{0,5}[/X]?[0-9.]{0,4}[SHVZ]?[RDB-]?[0-9.]{0,4}[ (]?[0-9/]{0,5}[A-Z]{0,3}") {
            let _ = Designation::parse(&text);
            let _ = Designation::parse(&near);
        }

        #[test]
        fn every_metric_size_reads_back(width in 12_u32..34, ratio in 6_u32..17, rim in 10_u32..20, index in 60_u8..110) {
            let (width, ratio) = (width * 10 + 5, ratio * 5);
            let tyre = Designation::parse(&format!("{width}/{ratio}R{rim} {index}T")).unwrap();
            let want = Section::Metric { width: Length::of(f64::from(width), Unit::Millimetre), ratio: Some(f64::from(ratio) / 100.0) };
            prop_assert_eq!(tyre.section, want);
            prop_assert_eq!(tyre.rim, Length::of(f64::from(rim), Unit::Inch));
            prop_assert_eq!(tyre.load_index, Some(index));
        }
    }
}
