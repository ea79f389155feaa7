//! How figures are shown to a person: number style, currency and units by choice. Screens and documents both
//! show through this, so that the same figure reads the same everywhere.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::figure::Amount;
use crate::phrase::Words;
use crate::restore::record;
use crate::say;
use crate::units::{Currency, Date, Money, NumberStyle, Quantity, Unit, number};

/// How numbers, dates and money are written where the person lives. Plain data, learned by whoever calls: the same
/// input gives the same text everywhere.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Locale {
    /// The signs in numbers.
    pub style: NumberStyle,
    /// A date, with day, month by name and year as `{0}`, `{1}` and `{2}`.
    pub date: String,
    /// Whether a currency's sign stands behind the amount.
    pub sign_behind: bool,
    /// Whether there is a space between sign and amount; beside a code of letters there always is one.
    pub sign_apart: bool,
}

impl Default for Locale {
    fn default() -> Self {
        NumberStyle::POINT.into()
    }
}

/// British in all but the signs in numbers.
impl From<NumberStyle> for Locale {
    fn from(style: NumberStyle) -> Self {
        Self { style, date: "{0} {1} {2}".to_owned(), sign_behind: false, sign_apart: false }
    }
}

/// A person's way of writing numbers and units, and their language. Money is in the worksheet's currency.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Show {
    /// Units chosen, where not the usual ones.
    pub units: BTreeMap<Quantity, Unit>,
    /// Whether a comma was chosen as the decimal sign, by a build before regions could be.
    #[serde(skip)]
    pub decimal_comma: bool,
    /// How numbers, dates and money are written.
    #[serde(skip)]
    pub locale: Locale,
    /// The language.
    #[serde(skip)]
    pub words: Words,
    /// Currency that amounts are in; not a choice, set from the worksheet.
    #[serde(skip)]
    pub currency: Currency,
}

record! { Show { units, decimal_comma } without { locale, words, currency } }

impl Show {
    /// The number style.
    #[must_use]
    pub const fn style(&self) -> NumberStyle {
        self.locale.style
    }

    /// The same for amounts in a currency.
    #[must_use]
    pub fn in_currency(&self, currency: Currency) -> Self {
        Self { currency, ..self.clone() }
    }

    /// The unit in which a quantity is entered and shown: as chosen, else the usual one.
    #[must_use]
    pub fn unit(&self, quantity: Quantity) -> Unit {
        self.units.get(&quantity).copied().filter(|unit| unit.quantity() == quantity).unwrap_or(usual(quantity))
    }

    /// An amount of money to the minor unit.
    #[must_use]
    pub fn money(&self, amount: Money) -> String {
        self.with_sign(self.currency.bare(amount, self.style()))
    }

    /// An amount of money without minor units.
    #[must_use]
    pub fn whole_money(&self, amount: Money) -> String {
        self.with_sign(self.currency.bare_whole(amount, self.style()))
    }

    /// An amount with its currency's sign where it belongs, a minus before both.
    fn with_sign(&self, amount: String) -> String {
        let sign = self.currency.sign();
        let gap = if self.locale.sign_apart || sign.is_ascii() && sign.len() == 3 { "\u{a0}" } else { "" };
        if self.locale.sign_behind {
            return amount + gap + sign;
        }
        match amount.strip_prefix('−') {
            Some(size) => format!("−{sign}{gap}{size}"),
            None => format!("{sign}{gap}{amount}"),
        }
    }

    /// A number.
    #[must_use]
    pub fn number(&self, value: f64, places: u8) -> String {
        number::show(value, places, self.style())
    }

    /// A quantity in the chosen unit.
    #[must_use]
    pub fn quantity(&self, quantity: Quantity, si: f64) -> String {
        self.in_unit(self.unit(quantity), si)
    }

    /// A quantity in a unit. Degrees are shown as degrees and minutes.
    #[must_use]
    pub fn in_unit(&self, unit: Unit, si: f64) -> String {
        match unit {
            Unit::Degree | Unit::Each => unit.show(si, self.style()),
            _ => format!("{} {}", number::show(unit.from_si(si), unit.places(), self.style()), self.symbol(unit)),
        }
    }

    /// How a unit is written.
    #[must_use]
    pub fn symbol(&self, unit: Unit) -> &str {
        self.word(unit.symbol())
    }

    /// A share in per cent.
    #[must_use]
    pub fn share(&self, share: f64) -> String {
        format!("{} %", self.number(share * 100.0, 0))
    }

    /// A probability in per cent. One that is reasoned and not known is never shown as none or all.
    #[must_use]
    pub fn chance(&self, probability: f64) -> String {
        if probability > 0.99 && probability < 1.0 {
            say!(self, "over {0}", self.share(0.99))
        } else if probability > 0.0 && probability < 0.01 {
            say!(self, "under {0}", self.share(0.01))
        } else {
            self.share(probability)
        }
    }

    /// A date in full.
    #[must_use]
    pub fn date(&self, date: Date) -> String {
        let month = self.month_name(i32::from(date.month()));
        let places = [("{0}", &*date.day().to_string()), ("{1}", month), ("{2}", &*date.year().to_string())];
        places.iter().fold(self.locale.date.clone(), |date, (place, part)| date.replace(place, part))
    }

    /// A month, 1 to 12, with its year.
    #[must_use]
    pub fn month(&self, year: i32, month: i32) -> String {
        format!("{} {year}", self.month_name(month))
    }

    fn month_name(&self, month: i32) -> &str {
        const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
        let name = usize::try_from(month - 1).ok().and_then(|place| MONTHS.get(place)).copied();
        self.word(name.unwrap_or_default())
    }

    /// The amount of a figure.
    #[must_use]
    pub fn amount(&self, amount: Amount) -> String {
        match amount {
            Amount::Money(money) => self.whole_money(money),
            Amount::Exact(money) => self.money(money),
            Amount::Score(score) => self.number(score, 1),
            Amount::Share(share) => format!("{} %", self.number(share * 100.0, 1)),
            Amount::Number(value, places) => self.number(value, places),
            Amount::Quantity(si, unit) => self.quantity(unit.quantity(), si),
            Amount::Count(count) => count.to_string(),
            Amount::None => String::new(),
        }
    }
}

/// The unit that a British workshop would use.
const fn usual(quantity: Quantity) -> Unit {
    match quantity {
        Quantity::Length => Unit::Millimetre,
        Quantity::Film => Unit::Micrometre,
        Quantity::Distance => Unit::Mile,
        Quantity::Angle => Unit::Degree,
        Quantity::Pressure => Unit::Psi,
        Quantity::Voltage => Unit::Volt,
        Quantity::Temperature => Unit::Celsius,
        Quantity::Speed => Unit::MilePerHour,
        Quantity::Acceleration => Unit::MetrePerSecondSquared,
        Quantity::Rotation => Unit::RevolutionPerMinute,
        Quantity::Duration => Unit::Second,
        Quantity::Age => Unit::Year,
        Quantity::Mass => Unit::Kilogram,
        Quantity::Volume => Unit::ImperialGallon,
        Quantity::Consumption => Unit::MilePerImperialGallon,
        Quantity::Ratio => Unit::Percent,
        Quantity::Count => Unit::Each,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shows_by_choice() {
        let mut show = Show::default();
        assert_eq!(show.quantity(Quantity::Distance, 1_609_344.0), "1,000 mi");
        show.units.insert(Quantity::Distance, Unit::Kilometre);
        show.locale = NumberStyle::COMMA.into();
        assert_eq!(show.quantity(Quantity::Distance, 1_609_344.0), "1.609 km");
        assert_eq!(show.amount(Amount::Share(0.4567)), "45,7 %");
        assert_eq!(show.amount(Amount::Money(Money(123_456))), "£1.235");
    }

    #[test]
    fn shows_where_the_person_lives() {
        let date = Date::new(2026, 10, 4).unwrap();
        let amount = Money(-123_450);
        let german =
            Locale { style: NumberStyle::COMMA, date: "{0}. {1} {2}".to_owned(), sign_behind: true, sign_apart: true };
        let swiss = Locale {
            style: NumberStyle { decimal: '.', group: '’' },
            date: "{0}.{1}.{2}".to_owned(),
            sign_behind: false,
            sign_apart: true,
        };
        let american = Locale { date: "{1} {0}, {2}".to_owned(), ..Locale::default() };
        for (locale, want) in [
            (Locale::default(), ["4 Oct 2026", "−£1,234.50", "−JPY\u{a0}123,450"]),
            (german, ["4. Oct 2026", "−1.234,50\u{a0}£", "−123.450\u{a0}JPY"]),
            (swiss, ["4.Oct.2026", "−£\u{a0}1’234.50", "−JPY\u{a0}123’450"]),
            (american, ["Oct 4, 2026", "−£1,234.50", "−JPY\u{a0}123,450"]),
        ] {
            let show = Show { locale, ..Show::default() };
            let yen = show.in_currency(Currency::parse("JPY").unwrap());
            assert_eq!([show.date(date), show.money(amount), yen.money(amount)], want);
        }
    }

    #[test]
    fn what_is_reasoned_is_never_certain() {
        let show = Show::default();
        for (probability, want) in
            [(0.0, "0 %"), (1e-9, "under 1 %"), (0.01, "1 %"), (0.5, "50 %"), (0.996, "over 99 %"), (1.0, "100 %")]
        {
            assert_eq!(show.chance(probability), want);
        }
    }

    #[test]
    fn a_unit_of_another_quantity_is_not_used() {
        let mut show = Show::default();
        show.units.insert(Quantity::Distance, Unit::Volt);
        assert_eq!(show.unit(Quantity::Distance), Unit::Mile);
    }

    #[test]
    fn every_usual_unit_measures_its_quantity() {
        for unit in Unit::ALL {
            assert_eq!(usual(unit.quantity()).quantity(), unit.quantity());
        }
    }
}
