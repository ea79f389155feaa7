//! From values to places along an axis.

use super::ticks::{month_ticks, ticks};
use super::{Axis, Tick};
use crate::show::Show;
use crate::units::{Money, Quantity};

/// Room left at each end, as a share of the span.
const ROOM: f64 = 0.05;

/// A span of values laid along an axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    low: f64,
    high: f64,
}

impl Scale {
    /// One that holds every value, with room at the ends; nothing if there are no values.
    #[must_use]
    pub fn around(values: impl IntoIterator<Item = f64>) -> Option<Self> {
        let mut ends = None::<(f64, f64)>;
        for value in values.into_iter().filter(|value| value.is_finite()) {
            let (low, high) = ends.unwrap_or((value, value));
            ends = Some((low.min(value), high.max(value)));
        }
        let (low, high) = ends?;
        // A single value gets room in its own measure.
        let room = if high > low { (high - low) * ROOM } else { libm::fabs(low).max(1.0) * ROOM };
        Some(Self { low: low - room, high: high + room })
    }

    /// The same, but not reaching below a value.
    #[must_use]
    pub fn not_below(self, least: f64) -> Self {
        Self { low: self.low.max(least.min(self.high - 1e-9)), ..self }
    }

    /// The place of a value, 0 at the low end and 1 at the high.
    #[must_use]
    pub fn at(&self, value: f64) -> f64 {
        ((value - self.low) / (self.high - self.low)).clamp(0.0, 1.0)
    }

    /// So many values from end to end, evenly spaced.
    #[must_use]
    pub fn spaced(&self, count: usize) -> Vec<f64> {
        let last = count.saturating_sub(1).max(1) as f64;
        (0..count).map(|place| self.low + (self.high - self.low) * place as f64 / last).collect()
    }

    fn axis(&self, title: String, ticks: impl IntoIterator<Item = (f64, String)>) -> Axis {
        let ticks = ticks.into_iter().map(|(value, label)| Tick { at: self.at(value), label }).collect();
        Axis { title, ticks }
    }

    /// An axis of money, for values in minor units.
    #[must_use]
    pub fn of_money(&self, title: &str, show: &Show, most: usize) -> Axis {
        let major = Money(show.currency.minor_per_major()).minor();
        let values = ticks(self.low / major, self.high / major, most);
        let label = |value: f64| (value * major, show.whole_money(Money::nearest(value * major)));
        self.axis(show.word(title).to_owned(), values.into_iter().map(label))
    }

    /// An axis of distance driven, for values in the person's own unit.
    #[must_use]
    pub fn of_distance(&self, title: &str, show: &Show, most: usize) -> Axis {
        let unit = show.unit(Quantity::Distance);
        let values = ticks(self.low, self.high, most).into_iter().map(|value| (value, show.number(value, 0)));
        self.axis(format!("{}, {}", show.word(title), show.symbol(unit)), values)
    }

    /// An axis of time, for values in months from the year 0.
    #[must_use]
    pub fn of_months(&self, title: &str, show: &Show, most: usize) -> Axis {
        let (months, step) = month_ticks(self.low, self.high, most);
        let label = |month: i32| {
            let year = month / 12;
            let shown = if step % 12 == 0 { year.to_string() } else { show.month(year, month % 12 + 1) };
            (f64::from(month), shown)
        };
        self.axis(show.word(title).to_owned(), months.into_iter().map(label))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_every_value_with_room() {
        let scale = Scale::around([10.0, 30.0, f64::NAN]).unwrap();
        assert!((scale.at(20.0) - 0.5).abs() < 1e-12);
        assert!(scale.at(10.0) > 0.04 && scale.at(30.0) < 0.96);
        assert_eq!((scale.at(-100.0), scale.at(100.0)), (0.0, 1.0));
        assert_eq!(Scale::around([]), None);
        assert!((Scale::around([5.0]).unwrap().at(5.0) - 0.5).abs() < 1e-12);
        assert!(Scale::around([0.0, 10.0]).unwrap().not_below(0.0).at(0.0).abs() < 1e-12);
        let spaced = scale.spaced(3);
        assert!((spaced[1] - 20.0).abs() < 1e-9 && spaced.len() == 3);
    }

    #[test]
    fn axes_say_their_values() {
        let labels = |axis: Axis| axis.ticks.into_iter().map(|tick| tick.label).collect::<Vec<_>>();
        let show = Show::default();
        let money = Scale::around([1_180_000.0, 2_450_000.0]).unwrap().of_money("Price", &show, 4);
        assert_eq!(labels(money), ["£15,000", "£20,000", "£25,000"]);
        let miles = Scale::around([54_000.0, 141_000.0]).unwrap().of_distance("Mileage", &show, 5);
        assert_eq!(miles.title, "Mileage, mi");
        assert_eq!(labels(miles), ["60,000", "80,000", "100,000", "120,000", "140,000"]);
        let months = Scale::around([24_307.0, 24_321.0]).unwrap().of_months("Date", &show, 4);
        assert_eq!(labels(months), ["Jan 2026", "Jul 2026"]);
        assert_eq!(
            labels(Scale::around([24_000.0, 24_060.0]).unwrap().of_months("Date", &show, 3)),
            ["2000", "2002", "2004"]
        );
    }
}
