//! Reads a designation from left to right.

use crate::units::{Length, Unit};

use super::designation::{Construction, Designation, DesignationError, Part, Purpose, Section};
use super::load::SpeedRating;

/// A place in a text, moving on.
pub(super) struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Reader<'a> {
    /// At the beginning of a text in capitals.
    pub(super) const fn new(text: &'a str) -> Self {
        Self { text, at: 0 }
    }

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

    /// The whole designation.
    pub(super) fn designation(mut self) -> Result<Designation, DesignationError> {
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
