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

use core::fmt;

use crate::units::{Length, Unit};

use super::load::SpeedRating;

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

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Width => "the width, in millimetres or in inches with a point",
            Self::Ratio => "the ratio of height to width, as 65",
            Self::Construction => "the construction: R, D, B or a dash",
            Self::Rim => "the rim's diameter in inches, as 15",
            Self::LoadIndex => "the load index, as 91",
            Self::SpeedSymbol => "the speed symbol, as H",
        })
    }
}

impl fmt::Display for DesignationError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "no size here; copy it from the side wall, as 165R15 or 195/65R15 91H"),
            Self::Expected { part, after } if after.is_empty() => {
                write!(f, "a size begins with {part}; write it as 165R15 or 195/65R15 91H")
            }
            Self::Expected { part, after } => write!(f, "after “{after}” should stand {part}"),
            Self::OutOfReach { part, found } => write!(f, "“{found}” cannot be right for {part}"),
            Self::Trailing(rest) => write!(f, "“{rest}” after the size is no known marking; leave it out"),
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
        Reader { text: &tidy, at: 0 }.designation()
    }
}

/// A place in a text, moving on.
struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Reader<'a> {
    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn skip_spaces(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
    }

    /// Takes a text if it comes next, after spaces.
    fn take(&mut self, wanted: &str) -> bool {
        self.skip_spaces();
        let found = self.rest().starts_with(wanted);
        if found {
            self.at += wanted.len();
        }
        found
    }

    /// Takes one of these signs if it comes next, after spaces.
    fn take_one(&mut self, signs: &str) -> Option<char> {
        self.skip_spaces();
        let sign = self.rest().chars().next().filter(|sign| signs.contains(*sign))?;
        self.at += sign.len_utf8();
        Some(sign)
    }

    /// Takes digits with at most one point between them, after spaces.
    fn take_number(&mut self) -> Option<&'a str> {
        self.skip_spaces();
        let rest = self.rest();
        let mut points = 0;
        let end = rest
            .char_indices()
            .find(|(_, sign)| {
                points += usize::from(*sign == '.');
                !(sign.is_ascii_digit() || (*sign == '.' && points == 1))
            })
            .map_or(rest.len(), |(place, _)| place);
        let found = rest.get(..end)?.trim_end_matches('.');
        if found.is_empty() || found.starts_with('.') || found.len() > 6 {
            return None;
        }
        self.at += found.len();
        Some(found)
    }

    fn expected(&self, part: Part) -> DesignationError {
        DesignationError::Expected { part, after: self.text.get(..self.at).unwrap_or_default().trim().to_owned() }
    }

    fn designation(mut self) -> Result<Designation, DesignationError> {
        let mut purpose = self.purpose();
        let section = self.section()?;
        let (construction, old_speed) = match section {
            Some(section) => self.construction(section)?,
            None => (Construction::Diagonal, None),
        };
        // A letter size carries its construction before the ratio; it is read as one piece.
        let (section, construction) = match section {
            Some(section) => (section, construction),
            None => self.letter_size()?,
        };
        let rim = self.rim()?;
        let commercial = self.commercial();
        let (load_index, speed) = self.service()?;
        let light_truck = self.markings()?;
        if (commercial || light_truck) && purpose == Purpose::Passenger {
            purpose = Purpose::LightTruck;
        }
        Ok(Designation { purpose, section, construction, rim, load_index, speed: speed.or(old_speed) })
    }

    fn purpose(&mut self) -> Purpose {
        for (letters, purpose) in
            [("P", Purpose::PassengerMetric), ("LT", Purpose::LightTruck), ("T", Purpose::Temporary)]
        {
            let before = self.at;
            if self.take(letters) && self.rest().trim_start().starts_with(|sign: char| sign.is_ascii_digit()) {
                return purpose;
            }
            self.at = before;
        }
        Purpose::Passenger
    }

    /// Width and ratio, or outer diameter and width; nothing for a size that begins with a letter.
    fn section(&mut self) -> Result<Option<Section>, DesignationError> {
        self.skip_spaces();
        if self.rest().starts_with(|sign: char| ('A'..='N').contains(&sign)) {
            return Ok(None);
        }
        let first = self.take_number().ok_or_else(|| self.expected(Part::Width))?;
        let width = value(first);
        let out_of_reach = |found: &str| DesignationError::OutOfReach { part: Part::Width, found: found.to_owned() };
        if (20.0..50.0).contains(&width) && self.take("X") {
            let second = self.take_number().ok_or_else(|| self.expected(Part::Width))?;
            if !(5.0..=20.0).contains(&value(second)) {
                return Err(out_of_reach(second));
            }
            let inches = |amount| Length::of(amount, Unit::Inch);
            return Ok(Some(Section::Flotation { diameter: inches(width), width: inches(value(second)) }));
        }
        if (3.0..20.0).contains(&width) && first.contains('.') {
            let hundredths = libm::round(width * 100.0);
            return Ok(Some(Section::Inch { width: Length::of(width, Unit::Inch), low: hundredths % 10.0 != 0.0 }));
        }
        if !(100.0..=400.0).contains(&width) {
            return Err(out_of_reach(first));
        }
        let ratio = if self.take("/") {
            let found = self.take_number().ok_or_else(|| self.expected(Part::Ratio))?;
            Some(ratio(found)?)
        } else {
            None
        };
        Ok(Some(Section::Metric { width: Length::of(width, Unit::Millimetre), ratio }))
    }

    /// R, D, B or a dash, with an older speed symbol before it or, in inch sizes, in its place.
    fn construction(&mut self, section: Section) -> Result<(Construction, Option<SpeedRating>), DesignationError> {
        let speed = self.take_one("SHVZ").and_then(SpeedRating::before_r);
        let construction = match self.take_one("RDB-X") {
            Some('R') => Construction::Radial,
            Some('B') => Construction::BiasBelted,
            // `5.20x13` is an older way to write `5.20-13`; no metric size is written so.
            Some('X') if !matches!(section, Section::Inch { .. }) => return Err(self.expected(Part::Construction)),
            Some(_) => Construction::Diagonal,
            None if speed.is_some() && matches!(section, Section::Inch { .. }) => Construction::Diagonal,
            None => return Err(self.expected(Part::Construction)),
        };
        self.take("-");
        Ok((construction, speed))
    }

    /// A letter size up to its rim: `FR78-`, `C78-`, `E70-`.
    fn letter_size(&mut self) -> Result<(Section, Construction), DesignationError> {
        let size = self.take_one("ABCDEFGHJKLMN").ok_or_else(|| self.expected(Part::Width))?;
        let radial = self.take("R");
        let found = self.take_number().ok_or_else(|| self.expected(Part::Ratio))?;
        let section = Section::Letter { size, ratio: ratio(found)? };
        let construction = match self.take_one("-RB") {
            Some('R') => Construction::Radial,
            Some('B') => Construction::BiasBelted,
            Some(_) if radial => Construction::Radial,
            Some(_) => Construction::Diagonal,
            None => return Err(self.expected(Part::Construction)),
        };
        Ok((section, construction))
    }

    /// The rim's diameter: 8 to 24 inches, or 300 to 500 mm as a few makers wrote it.
    fn rim(&mut self) -> Result<Length, DesignationError> {
        let found = self.take_number().ok_or_else(|| self.expected(Part::Rim))?;
        let diameter = value(found);
        if (8.0..=24.0).contains(&diameter) {
            return Ok(Length::of(diameter, Unit::Inch));
        }
        if (300.0..=500.0).contains(&diameter) {
            return Ok(Length::of(diameter, Unit::Millimetre));
        }
        Err(DesignationError::OutOfReach { part: Part::Rim, found: found.to_owned() })
    }

    /// Load index and speed symbol, if they stand there: `91H`, `(91W)`, `104/101S`; a lone symbol, `165R15S`.
    fn service(&mut self) -> Result<(Option<u8>, Option<SpeedRating>), DesignationError> {
        let bracket = self.take("(");
        let Some(found) = self.take_number() else {
            let speed = self.lone_symbol();
            return Ok((None, speed));
        };
        // Ply ratings, `4PR`, are markings.
        if self.rest().starts_with("PR") {
            self.at -= found.len();
            return Ok((None, None));
        }
        let out_of_reach = || DesignationError::OutOfReach { part: Part::LoadIndex, found: found.to_owned() };
        let index = found.parse::<u8>().ok().filter(|index| (20..=200).contains(index)).ok_or_else(out_of_reach)?;
        if self.take("/") && self.take_number().is_none() {
            return Err(self.expected(Part::LoadIndex));
        }
        let symbol = self.take_one("FGJKLMNPQRSTUHVWY").and_then(SpeedRating::of_symbol);
        let speed = symbol.ok_or_else(|| self.expected(Part::SpeedSymbol))?;
        if bracket {
            self.take(")");
        }
        Ok((Some(index), Some(speed)))
    }

    /// C for commercial, which stands between rim and service description.
    fn commercial(&mut self) -> bool {
        self.skip_spaces();
        let mut signs = self.rest().chars();
        let found = signs.next() == Some('C') && !signs.next().is_some_and(char::is_alphabetic);
        self.at += usize::from(found);
        found
    }

    /// A speed symbol that stands alone after the rim, as on early radials.
    fn lone_symbol(&mut self) -> Option<SpeedRating> {
        let before = self.at;
        let symbol = self.take_one("QRSTHV")?;
        if self.rest().is_empty() || self.rest().starts_with(char::is_whitespace) {
            return SpeedRating::before_r(symbol).or_else(|| SpeedRating::of_symbol(symbol));
        }
        self.at = before;
        None
    }

    /// Markings after the designation; whether one of them says light truck.
    fn markings(&mut self) -> Result<bool, DesignationError> {
        const KNOWN: [&str; 16] = [
            "TL",
            "TT",
            "XL",
            "RF",
            "REINF",
            "REINF.",
            "REINFORCED",
            "EXTRA",
            "LOAD",
            "TUBELESS",
            "M+S",
            "WW",
            "WSW",
            "RADIAL",
            "DOT",
            "E4",
        ];
        let mut light_truck = false;
        for word in self.rest().split_whitespace() {
            let plies = word.strip_suffix("PR").is_some_and(|plies| plies.parse::<u8>().is_ok());
            match word {
                "LT" => light_truck = true,
                _ if plies || KNOWN.contains(&word) => {}
                _ => return Err(DesignationError::Trailing(word.chars().take(20).collect())),
            }
        }
        Ok(light_truck)
    }
}

/// The value of digits with a point, which [`Reader::take_number`] took.
fn value(digits: &str) -> f64 {
    digits.parse().unwrap_or(f64::NAN)
}

fn ratio(found: &str) -> Result<f64, DesignationError> {
    let percent = value(found);
    if (25.0..=100.0).contains(&percent) {
        Ok(percent / 100.0)
    } else {
        Err(DesignationError::OutOfReach { part: Part::Ratio, found: found.to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
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
