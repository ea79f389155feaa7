//! Numbers as they were typed: a reading is kept in SI units, where 26 pounds on the square inch has sixteen digits.

/// Sizes of the units that people type in, in SI units. Frozen with the first version.
const UNITS: [f64; 12] = [
    1.0,
    1_609.344,                 // miles
    1e-6,                      // micrometres
    6_894.757_293_168_361,     // pounds on the square inch
    1.0 / 60.0,                // revolutions a minute
    31_557_600.0,              // years
    0.0254,                    // inches
    0.017_453_292_519_943_295, // degrees
    1_609.344 / 3_600.0,       // miles an hour
    1_000.0 / 3_600.0,         // kilometres an hour
    25.4e-6,                   // thousandths of an inch
    0.453_592_37,              // pounds
];

/// Decimals that are tried.
const MOST_DECIMALS: u32 = 9;

/// Digits from which on a number is no shorter typed than as its bits.
const MOST_DIGITS: f64 = 1e13;

/// A number as it may have been typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Typed {
    /// Which of the units.
    pub unit: u32,
    /// Whether it is below nothing, or minus nothing.
    pub negative: bool,
    /// Decimals.
    pub decimals: u32,
    /// Its digits, without sign and point.
    pub digits: u64,
}

impl Typed {
    /// The shortest way to type a number, if there is one of no more than thirteen digits: to the last bit, or for want of
    /// one no further off than so many. The sample was learnt with one; what is written is exact.
    pub fn of(number: f64, most_off: u64) -> Option<Self> {
        let mut best: Option<Self> = None;
        for off in 0..=most_off {
            for (unit, size) in (0..).zip(UNITS) {
                let fitting = |decimals| {
                    let digits = libm::round(number.abs() / size * power(decimals));
                    let typed = Self { unit, negative: number.is_sign_negative(), decimals, digits: digits as u64 };
                    let near = typed.number()?.to_bits().abs_diff(number.to_bits()) <= off;
                    (near && digits < MOST_DIGITS).then_some(typed)
                };
                let found = (0..=MOST_DECIMALS).find_map(fitting);
                if let Some(typed) = found.filter(|typed| best.is_none_or(|best| typed.digits < best.digits / 16)) {
                    best = Some(typed);
                }
            }
        }
        best
    }

    /// The number; nothing if there is no such unit.
    pub fn number(self) -> Option<f64> {
        let size = self.digits as f64 / power(self.decimals) * UNITS.get(self.unit as usize)?;
        Some(if self.negative { -size } else { size })
    }
}

/// Ten to the power of so many decimals: exact, as all up to 10^22 are.
fn power(decimals: u32) -> f64 {
    (0..decimals).fold(1.0, |power, _| power * 10.0)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::units::{Length, Unit};

    #[track_caller]
    fn as_typed(number: f64, unit: u32, decimals: u32, digits: u64) {
        let typed = Typed::of(number, 0).unwrap();
        assert_eq!((typed.unit, typed.decimals, typed.digits), (unit, decimals, digits), "{number}");
        assert_eq!(typed.number(), Some(number));
    }

    #[test]
    fn is_told_as_typed() {
        as_typed(0.0, 0, 0, 0);
        as_typed(60.0, 0, 0, 60);
        as_typed(0.352, 0, 3, 352);
        as_typed(Length::of(62_000.0, Unit::Mile).0, 1, 0, 62_000);
        as_typed(0.000_141_999_999_999_999_98, 2, 0, 142);
        as_typed(179_263.689_622_377_4, 3, 0, 26);
        as_typed(1_013.0 / 60.0, 4, 0, 1_013);
        as_typed(59.0 * 31_557_600.0, 5, 0, 59);
    }

    #[test]
    fn a_number_with_no_short_form_has_none() {
        assert_eq!(Typed::of(std::f64::consts::PI.sqrt(), 0), None);
        assert_eq!(Typed::of(1.0e300, 0), None);
        assert_eq!(Typed::of(-1.5, 0).and_then(Typed::number), Some(-1.5));
        assert!(Typed::of(-0.0, 0).and_then(Typed::number).is_some_and(f64::is_sign_negative));
    }

    proptest! {
        #[test]
        fn is_exact_to_the_last_bit(number in any::<f64>()) {
            if let Some(typed) = Typed::of(number, 0).and_then(Typed::number) {
                prop_assert_eq!(typed.to_bits(), number.to_bits());
            }
        }
    }
}
