//! Money: an integer of minor units, and the currency that says what they are.

use core::fmt;
use core::iter::Sum;
use core::ops::{Add, Neg, Sub};

use serde::{Serialize, Serializer};
use serde_json::Value;

use super::number::{self, NumberError, NumberStyle};
use crate::restore::{Restore, Trail, around};

/// An amount in minor units (pence, cents) of a currency that its owner names.
///
/// Sums saturate: a clamp shows where a wrap would lie. Nobody can type more than [`Money::MOST`]; what a file holds beyond
/// it is told by the worksheet's check.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Money(pub i64);

around!(Money);

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// The largest amount that a person may enter: ten thousand million minor units.
    pub const MOST: Self = Self(10_000_000_000);

    /// The amount as a number of minor units, for arithmetic on estimates.
    #[must_use]
    pub fn minor(self) -> f64 {
        // Exact up to 2^53, far beyond MOST; what a file holds beyond that is rounded.
        self.0 as f64
    }

    /// The nearest whole amount to an estimate; half away from zero. What is not a number is nothing.
    #[must_use]
    pub fn nearest(minor: f64) -> Self {
        // `as` saturates at the ends and makes NaN 0.
        Self(libm::round(minor) as i64)
    }

    /// Rounded to the nearest multiple of a step; half away from zero.
    #[must_use]
    pub fn to_nearest(self, step: Self) -> Self {
        if step.0 <= 1 {
            return self;
        }
        Self::nearest(libm::round(self.minor() / step.minor()) * step.minor())
    }
}

impl Add for Money {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Money {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Neg for Money {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::ZERO, Add::add)
    }
}

/// A currency by its three-letter code (ISO 4217).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Currency([u8; 3]);

impl Currency {
    /// Reads a code: three letters, in any case.
    ///
    /// ```
    /// use kerbworth_core::units::Currency;
    /// assert_eq!(Currency::parse("gbp").map(|c| c.code().to_owned()), Some("GBP".to_owned()));
    /// assert_eq!(Currency::parse("pound"), None);
    /// ```
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let letters: [u8; 3] = text.trim().as_bytes().try_into().ok()?;
        letters.iter().all(u8::is_ascii_alphabetic).then(|| Self(letters.map(|letter| letter.to_ascii_uppercase())))
    }

    /// The three letters.
    #[must_use]
    pub fn code(&self) -> &str {
        core::str::from_utf8(&self.0).unwrap_or("XXX")
    }

    /// Decimals that its amounts are written with (ISO 4217, minor unit).
    #[must_use]
    pub fn places(self) -> u8 {
        match &self.0 {
            b"BIF" | b"CLP" | b"DJF" | b"GNF" | b"ISK" | b"JPY" | b"KMF" | b"KRW" | b"PYG" | b"RWF" | b"UGX"
            | b"UYI" | b"VND" | b"VUV" | b"XAF" | b"XOF" | b"XPF" => 0,
            b"BHD" | b"IQD" | b"JOD" | b"KWD" | b"LYD" | b"OMR" | b"TND" => 3,
            _ => 2,
        }
    }

    /// Minor units in one major unit.
    #[must_use]
    pub fn minor_per_major(self) -> i64 {
        10_i64.pow(u32::from(self.places()))
    }

    /// What stands before an amount.
    #[must_use]
    pub fn sign(&self) -> &str {
        match &self.0 {
            b"GBP" => "£",
            b"EUR" => "€",
            b"USD" => "$",
            _ => self.code(),
        }
    }

    /// Reads a typed amount.
    ///
    /// # Errors
    /// [`NumberError`] if it is not a number, has more decimals than the currency, or passes [`Money::MOST`].
    pub fn read(self, text: &str, style: NumberStyle) -> Result<Money, NumberError> {
        let bare = text.trim().trim_start_matches(self.sign()).trim_end_matches(self.sign()).trim();
        let amount = number::parse_scaled(bare, self.places(), style)?;
        if amount.abs() > Money::MOST.0 { Err(NumberError::TooLarge) } else { Ok(Money(amount)) }
    }

    /// An amount to the minor unit, without a sign of the currency.
    #[must_use]
    pub fn bare(self, amount: Money, style: NumberStyle) -> String {
        number::show(self.major(amount), self.places(), style)
    }

    /// An amount without minor units and without a sign of the currency.
    #[must_use]
    pub fn bare_whole(self, amount: Money, style: NumberStyle) -> String {
        // Rounded here, half away from zero: formatting alone would round halves to even.
        number::show(self.major(amount.to_nearest(Money(self.minor_per_major()))), 0, style)
    }

    fn major(self, amount: Money) -> f64 {
        amount.minor() / Money(self.minor_per_major()).minor()
    }

    /// Shows an amount as a field does: no sign, no groups, only the decimals it needs.
    #[must_use]
    pub fn show_plain(self, amount: Money, style: NumberStyle) -> String {
        let (size, per) = (amount.0.unsigned_abs(), self.minor_per_major().unsigned_abs());
        let sign = if amount.0 < 0 { "-" } else { "" };
        let decimals = match size % per {
            0 => String::new(),
            minor => format!("{}{minor:0places$}", style.decimal, places = usize::from(self.places())),
        };
        format!("{sign}{}{}", size / per, decimals.trim_end_matches('0'))
    }
}

impl Default for Currency {
    fn default() -> Self {
        Self(*b"GBP")
    }
}

impl fmt::Debug for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

impl Serialize for Currency {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code())
    }
}

impl Restore for Currency {
    fn blank() -> Self {
        Self::default()
    }

    fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool {
        let read = json.as_str().and_then(Self::parse);
        trail.put(self, read, json, "a currency as a code of three letters, such as GBP")
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Currency {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Currency".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string", "pattern": "^[A-Z]{3}$", "description": "A currency by its three-letter code (ISO 4217)." })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn gbp() -> Currency {
        Currency::default()
    }

    #[test]
    fn reads_and_shows_to_the_penny() {
        assert_eq!(gbp().read("£1,250.5", NumberStyle::POINT), Ok(Money(125_050)));
        assert_eq!(gbp().read("1.250,50 £", NumberStyle::COMMA), Ok(Money(125_050)));
        assert_eq!(gbp().bare(Money(-125_050), NumberStyle::POINT), "−1,250.50");
        assert_eq!(gbp().bare_whole(Money(125_050), NumberStyle::POINT), "1,251");
        let plain = |minor| gbp().show_plain(Money(minor), NumberStyle::COMMA);
        let amounts = [(125_050, "1250,5"), (125_005, "1250,05"), (-7, "-0,07"), (900, "9"), (0, "0")];
        amounts.into_iter().for_each(|(minor, want)| assert_eq!(plain(minor), want));
        assert_eq!(gbp().read("12.505", NumberStyle::POINT), Err(NumberError::TooManyDecimals(2)));
        assert_eq!(gbp().read("999999999999", NumberStyle::POINT), Err(NumberError::TooLarge));
    }

    #[test]
    fn currencies_have_their_own_decimals() {
        let yen = Currency::parse("JPY").unwrap();
        assert_eq!(yen.read("1200", NumberStyle::POINT), Ok(Money(1200)));
        assert_eq!(yen.read("1.5", NumberStyle::POINT), Err(NumberError::TooManyDecimals(0)));
        assert_eq!(yen.bare(Money(1200), NumberStyle::POINT), "1,200");
    }

    #[test]
    fn rounds_half_away_from_zero() {
        assert_eq!(Money::nearest(2.5), Money(3));
        assert_eq!(Money::nearest(-2.5), Money(-3));
        assert_eq!(Money::nearest(f64::NAN), Money(0));
        assert_eq!(Money(12_349).to_nearest(Money(100)), Money(12_300));
        assert_eq!(Money(i64::MAX) + Money(1), Money(i64::MAX));
    }
}
