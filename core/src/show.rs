//! How figures are shown to a person: number style, currency and units by choice. Screens and documents both
//! show through this, so that the same figure reads the same everywhere.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::figure::Amount;
use crate::restore::record;
use crate::units::{Currency, Date, Money, NumberStyle, Quantity, Unit, number};

/// A person's way of writing numbers and units. Money is in the worksheet's currency.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Show {
    /// Whether the decimal sign is a comma.
    pub decimal_comma: bool,
    /// Units chosen, where not the usual ones.
    pub units: BTreeMap<Quantity, Unit>,
    /// Currency that amounts are in; not a choice, set from the worksheet.
    #[serde(skip)]
    pub currency: Currency,
}

record! { Show { decimal_comma, units } without { currency } }

impl Show {
    /// The number style.
    #[must_use]
    pub const fn style(&self) -> NumberStyle {
        if self.decimal_comma { NumberStyle::COMMA } else { NumberStyle::POINT }
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
        self.currency.show(amount, self.style())
    }

    /// An amount of money without minor units.
    #[must_use]
    pub fn whole_money(&self, amount: Money) -> String {
        self.currency.show_whole(amount, self.style())
    }

    /// A number.
    #[must_use]
    pub fn number(&self, value: f64, places: u8) -> String {
        number::show(value, places, self.style())
    }

    /// A quantity in the chosen unit.
    #[must_use]
    pub fn quantity(&self, quantity: Quantity, si: f64) -> String {
        self.unit(quantity).show(si, self.style())
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
            format!("over {}", self.share(0.99))
        } else if probability > 0.0 && probability < 0.01 {
            format!("under {}", self.share(0.01))
        } else {
            self.share(probability)
        }
    }

    /// A date in full.
    #[must_use]
    pub fn date(&self, date: Date) -> String {
        format!("{} {}", date.day(), Self::month(date.year(), i32::from(date.month())))
    }

    /// A month, 1 to 12, with its year.
    #[must_use]
    pub fn month(year: i32, month: i32) -> String {
        const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
        let name = usize::try_from(month - 1).ok().and_then(|place| MONTHS.get(place)).copied().unwrap_or_default();
        format!("{name} {year}")
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
        show.decimal_comma = true;
        assert_eq!(show.quantity(Quantity::Distance, 1_609_344.0), "1.609 km");
        assert_eq!(show.amount(Amount::Share(0.4567)), "45,7 %");
        assert_eq!(show.amount(Amount::Money(Money(123_456))), "£1.235");
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
