//! Several worksheets side by side: the figures that decide between cars, and where the cars differ.
//!
//! Each car keeps its own currency; amounts are not converted, because a rate that one worksheet knows another
//! may not.

use serde::Serialize;

use super::Appraisal;
use super::repairs::Estimate;
use crate::ordered;
use crate::sheet::System;
use crate::show::Show;
use crate::units::{Currency, Date, Money};
use crate::worksheet::Worksheet;
use crate::worth::rounding::RoundedRange;

/// So many worksheets can be compared at least.
pub const LEAST: usize = 2;
/// So many at most: more do not fit beside each other.
pub const MOST: usize = 5;

/// Where there is nothing to show.
const NONE: &str = "—";

/// One car's figures.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Car {
    /// The worksheet's id.
    pub id: String,
    /// What it is called.
    pub title: String,
    /// The day it was seen.
    pub seen: Option<Date>,
    /// Currency of its amounts.
    pub currency: Currency,
    /// The worth as it stands, rounded.
    pub worth: Option<RoundedRange>,
    /// Comparable sales in its grid.
    pub sales: usize,
    /// Share of the weight that was looked at.
    pub cover: f64,
    /// Score as seen.
    pub score: Option<f64>,
    /// What it costs to put right what was found or is suspected.
    pub put_right: Estimate,
    /// The dearest work that what was seen calls for.
    pub dearest: Option<String>,
    /// What holds it, each in a few words.
    pub holds: Vec<String>,
    /// The top bid, if there is one.
    pub top_bid: Option<Money>,
    /// The price asked.
    pub asked: Option<Money>,
    /// Score of each system that was looked at.
    pub systems: Vec<(System, f64)>,
}

/// Gathers a car's figures.
#[must_use]
pub fn car(worksheet: &Worksheet, appraisal: &Appraisal) -> Car {
    let systems = appraisal.condition.systems.iter();
    Car {
        id: worksheet.id.clone(),
        title: worksheet.title(),
        seen: worksheet.visit.date.value(),
        currency: worksheet.settings.currency,
        worth: appraisal.worth.as_ref().map(|worth| worth.rounded),
        sales: appraisal.comparison.as_ref().map_or(0, |comparison| comparison.rows.len()),
        cover: appraisal.condition.overall.cover,
        score: appraisal.condition.overall.value,
        put_right: appraisal.repairs.found,
        dearest: appraisal.repairs.items.iter().find(|repair| repair.raised).map(|repair| repair.name.clone()),
        holds: appraisal.holds.iter().map(|hold| hold.what.clone()).collect(),
        top_bid: appraisal.top_bid.as_ref().and_then(|bid| bid.as_ref().ok()).and_then(|bid| bid.hammer),
        asked: worksheet.car.asked.value(),
        systems: systems.filter_map(|system| Some((system.system, system.score.value?))).collect(),
    }
}

/// A line of the table: what it is, and one cell a car.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Line {
    /// What it is.
    pub label: &'static str,
    /// One a car, in order, as shown.
    pub cells: Vec<String>,
    /// Whether the cells are figures, to be set flush right.
    pub figures: bool,
}

/// Whether the cars are in more than one currency, so that their amounts cannot be held against each other.
#[must_use]
pub fn currencies_differ(cars: &[Car]) -> bool {
    cars.windows(2).any(|pair| matches!(pair, [one, other] if one.currency != other.currency))
}

/// The lines of the table.
#[must_use]
pub fn lines(cars: &[Car], show: &Show) -> Vec<Line> {
    let line = |label, figures, cell: &dyn Fn(&Car, &Show) -> String| Line {
        label,
        cells: cars.iter().map(|car| cell(car, &show.in_currency(car.currency))).collect(),
        figures,
    };
    let or_none = |shown: Option<String>| shown.unwrap_or_else(|| NONE.to_owned());
    vec![
        line("Seen on", false, &|car, show| or_none(car.seen.map(|date| show.date(date)))),
        line("Worth as it stands, four in five", true, &|car, show| {
            let range =
                |worth: RoundedRange| format!("{}–{}", show.whole_money(worth.low), show.whole_money(worth.high));
            or_none(car.worth.map(range))
        }),
        line("Middle of the worth", true, &|car, show| or_none(car.worth.map(|worth| show.whole_money(worth.middle)))),
        line("Comparable sales", true, &|car, _| car.sales.to_string()),
        line("Cover", true, &|car, show| show.share(car.cover)),
        line("Score as seen", true, &|car, show| or_none(car.score.map(|score| show.number(score, 0)))),
        line("Put right, mean", true, &|car, show| show.whole_money(car.put_right.middle)),
        line("Put right, four in five", true, &|car, show| {
            let Estimate { low, high, .. } = car.put_right;
            format!("{}–{}", show.whole_money(low), show.whole_money(high))
        }),
        line("Dearest work", false, &|car, _| or_none(car.dearest.clone())),
        line("Holds", true, &|car, show| {
            if car.holds.is_empty() { show.word("none").to_owned() } else { car.holds.len().to_string() }
        }),
        line("Top bid", true, &|car, show| or_none(car.top_bid.map(|bid| show.whole_money(bid)))),
        line("Price asked", true, &|car, show| or_none(car.asked.map(|asked| show.whole_money(asked)))),
        line("Asked less the middle", true, &|car, show| {
            or_none(car.asked.zip(car.worth).map(|(asked, worth)| show.whole_money(asked - worth.middle)))
        }),
    ]
}

/// A system's scores side by side.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SystemLine {
    /// Which.
    pub system: System,
    /// One a car, in order; nothing where it was not looked at.
    pub scores: Vec<Option<f64>>,
    /// Highest less lowest of those that were looked at.
    pub apart: f64,
}

/// The systems that were looked at on at least one car, those that differ most first.
#[must_use]
pub fn systems(cars: &[Car]) -> Vec<SystemLine> {
    let score = |car: &Car, system: System| car.systems.iter().find(|(known, _)| *known == system).map(|(_, it)| *it);
    let of = |system: System| {
        let scores: Vec<Option<f64>> = cars.iter().map(|car| score(car, system)).collect();
        let known = || scores.iter().flatten().copied();
        let (low, high) = (known().reduce(f64::min)?, known().reduce(f64::max)?);
        Some(SystemLine { system, apart: high - low, scores })
    };
    let mut found: Vec<SystemLine> = System::ALL.into_iter().filter_map(of).collect();
    ordered::sort(&mut found, |a, b| b.apart.total_cmp(&a.apart));
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::appraise;
    use crate::sheet::{demo, extend::extend, general::general};

    fn plain(id: &str) -> Car {
        Car {
            id: id.to_owned(),
            title: id.to_owned(),
            seen: None,
            currency: Currency::default(),
            worth: None,
            sales: 0,
            cover: 0.0,
            score: None,
            put_right: Estimate::default(),
            dearest: None,
            holds: Vec::new(),
            top_bid: None,
            asked: None,
            systems: Vec::new(),
        }
    }

    /// A car whose every figure is given.
    fn full() -> Car {
        Car {
            seen: Date::parse("2026-10-04"),
            worth: Some(RoundedRange {
                low: Money(1_550_000),
                middle: Money(2_200_000),
                high: Money(2_950_000),
                step: Money(50_000),
            }),
            sales: 9,
            cover: 0.625,
            score: Some(71.6),
            put_right: Estimate { low: Money(100_000), middle: Money(250_000), high: Money(400_000) },
            dearest: Some("Renew sills".to_owned()),
            holds: vec!["Brake pipe".to_owned(), "Tyre".to_owned()],
            top_bid: Some(Money(1_570_000)),
            asked: Some(Money(2_495_000)),
            ..plain("full")
        }
    }

    #[test]
    fn every_line_has_a_cell_for_each_car() {
        let shown: Vec<(&str, Vec<String>)> = lines(&[full(), plain("blank")], &Show::default())
            .into_iter()
            .map(|line| (line.label, line.cells))
            .collect();
        let expected = [
            ("Seen on", ["4 Oct 2026", "—"]),
            ("Worth as it stands, four in five", ["£15,500–£29,500", "—"]),
            ("Middle of the worth", ["£22,000", "—"]),
            ("Comparable sales", ["9", "0"]),
            ("Cover", ["62 %", "0 %"]),
            ("Score as seen", ["72", "—"]),
            ("Put right, mean", ["£2,500", "£0"]),
            ("Put right, four in five", ["£1,000–£4,000", "£0–£0"]),
            ("Dearest work", ["Renew sills", "—"]),
            ("Holds", ["2", "none"]),
            ("Top bid", ["£15,700", "—"]),
            ("Price asked", ["£24,950", "—"]),
            ("Asked less the middle", ["£2,950", "—"]),
        ];
        assert_eq!(shown, expected.map(|(label, cells)| (label, cells.map(ToOwned::to_owned).to_vec())));
    }

    #[test]
    fn each_car_is_shown_in_its_own_currency() {
        let euros = Car { currency: Currency::parse("EUR").unwrap(), ..full() };
        assert!(!currencies_differ(&[full(), full()]));
        assert!(currencies_differ(&[full(), euros.clone()]));
        let middle = &lines(&[full(), euros], &Show::default())[2];
        assert_eq!(middle.cells, ["£22,000", "€22,000"]);
    }

    #[test]
    fn systems_that_differ_most_come_first() {
        let with = |systems: &[(System, f64)]| Car { systems: systems.to_vec(), ..plain("car") };
        let cars = [
            with(&[(System::Structure, 60.0), (System::Engine, 90.0), (System::Cabin, 80.0)]),
            with(&[(System::Structure, 95.0), (System::Engine, 85.0)]),
        ];
        let found: Vec<_> = systems(&cars).into_iter().map(|line| (line.system, line.scores, line.apart)).collect();
        assert_eq!(
            found,
            [
                (System::Structure, vec![Some(60.0), Some(95.0)], 35.0),
                (System::Engine, vec![Some(90.0), Some(85.0)], 5.0),
                (System::Cabin, vec![Some(80.0), None], 0.0),
            ]
        );
    }

    #[test]
    fn gathers_what_the_appraisal_says() {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let worksheet = demo::worksheet().unwrap();
        let appraisal = appraise(&worksheet, &sheet);
        let car = car(&worksheet, &appraisal);
        assert_eq!(car.worth, appraisal.worth.as_ref().map(|worth| worth.rounded));
        assert_eq!(car.put_right, appraisal.repairs.found);
        assert_eq!(car.holds.len(), appraisal.holds.len());
        assert_eq!(car.score, appraisal.condition.overall.value);
        assert_eq!(car.top_bid, appraisal.top_bid.unwrap().unwrap().hammer);
    }
}
