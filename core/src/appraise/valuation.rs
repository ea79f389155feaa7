//! From the market's range and the repairs to the worth as the car stands.

use crate::phrase;
use serde::Serialize;

use crate::figure::{Amount, Figure};
use crate::market::range::Range;
use crate::market::rates::Column;
use crate::repair::deduction::{Deduction, deduction};
use crate::units::Money;
use crate::worth::cross_check::CrossCheck;
use crate::worth::range::{as_it_stands, confirmed};
use crate::worth::rounding::{RoundedRange, rounded};

use super::comparison::{Comparison, GridRow};
use super::repairs::{Reckoned, Repair};

/// The worth, from the market to the car as it stands.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Worth {
    /// As it stands, 80 %, in minor units as all ranges here.
    pub stands: Range,
    /// As it stands, 50 %.
    pub inner: Range,
    /// As it stands, counting confirmed faults only, 80 %.
    pub confirmed_only: Range,
    /// Once the chosen work is done, 80 %.
    pub when_done: Range,
    /// Mean cost of the chosen work.
    pub chosen_cost: Money,
    /// What the chosen work returns beyond its cost; negative if it costs more than it returns.
    pub returns: Money,
    /// What the market deducts, mean.
    pub deduction: Money,
    /// The two doors against each other.
    pub cross_check: CrossCheck,
    /// As it stands, rounded to what the evidence supports.
    pub rounded: RoundedRange,
    /// How the middle came about.
    pub working: Figure,
}

/// A job's effect on the worth, for "which repairs return more than they cost".
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Return {
    /// What doing it adds to the middle of the worth.
    pub adds: Money,
    /// What it costs, mean.
    pub costs: Money,
}

impl Return {
    /// Of a repair that is needed with the probability it has: what the market would no longer take off, against
    /// the cost if it is done.
    #[must_use]
    pub fn of(repair: &Repair) -> Self {
        let adds = Money::nearest(repair.share * repair.probability * repair.mean.minor());
        let costs = Money::nearest(repair.probability * repair.mean.minor());
        Self { adds, costs }
    }
}

/// The worth; nothing if the deduction cannot be reckoned.
#[must_use]
pub fn value(compared: &Comparison, reckoned: &Reckoned) -> Option<Worth> {
    let taken = reckoned.deduction()?;
    let stands = as_it_stands(&compared.range, &taken);
    let known = deduction(&confirmed(&reckoned.items)).ok()?;
    let done = as_it_stands(&compared.range, &reckoned.deduction_when_done()?);
    let chosen_cost = reckoned.chosen_cost();
    Some(Worth {
        stands,
        inner: as_it_stands(&compared.inner, &taken),
        confirmed_only: as_it_stands(&compared.range, &known),
        when_done: done,
        chosen_cost: Money::nearest(chosen_cost),
        returns: Money::nearest(done.middle - stands.middle - chosen_cost),
        deduction: Money::nearest(taken.mean),
        cross_check: CrossCheck::of(known.mean, compared.range.middle, compared.centre_as_seen),
        rounded: rounded(&stands),
        working: working(compared, reckoned, &taken, &stands),
    })
}

fn money(minor: f64) -> Amount {
    Amount::Money(Money::nearest(minor))
}

fn working(compared: &Comparison, reckoned: &Reckoned, taken: &Deduction, stands: &Range) -> Figure {
    let market = Figure::new("Market, at the base score", money(compared.range.middle))
        .noted("Weighted geometric mean of the adjusted prices of the sales")
        .from_parts(compared.rows.iter().map(row_working).collect());
    let deductions = reckoned.repairs.items.iter().filter(|repair| repair.deduction != Money::ZERO).map(|repair| {
        Figure::new(repair.name.clone(), Amount::Money(-repair.deduction)).noted(phrase!(
            "share the market takes {0} % × (probability {1} % − usual rate) × mean cost",
            Amount::Number(100.0 * repair.share, 0),
            Amount::Number(100.0 * repair.probability, 1)
        ))
    });
    let off = Figure::new("What the market takes off for faults", money(-taken.mean))
        .noted("Each fault beyond the ordinary rate of the type, once, through this door only")
        .from_parts(deductions.collect());
    Figure::new("Worth as it stands", money(stands.middle)).from_parts(vec![market, off])
}

/// A sale's line in the grid: price, each adjustment, adjusted price and weight.
#[must_use]
pub fn row_working(row: &GridRow) -> Figure {
    let price = Figure::new("Price, premium included", Amount::Money(row.price));
    let adjustments = Column::ALL.iter().zip(&row.line.adjustments).filter(|(_, adjustment)| adjustment.amount != 0.0);
    let lines = adjustments.map(|(column, adjustment)| {
        Figure::new(column.name(), money(adjustment.amount)).noted(phrase!(
            "difference {0} × rate {1}",
            Amount::Number(adjustment.difference, 2),
            Amount::Number(adjustment.rate, 5)
        ))
    });
    let share = Figure::new("Weight", Amount::Share(row.line.share));
    Figure::new(phrase!("Sale {0}", row.sale + 1), money(row.line.adjusted))
        .from_parts(core::iter::once(price).chain(lines).chain(core::iter::once(share)).collect())
}

#[cfg(test)]
mod tests {
    use crate::appraise::appraise;
    use crate::sheet::{demo, extend::extend, general::general};
    use crate::units::Currency;
    use crate::worksheet::Entry;

    #[test]
    fn costs_in_a_currency_without_a_rate_are_not_taken_for_ones_own() {
        let mut sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let mut worksheet = demo::worksheet().unwrap();
        let before = appraise(&worksheet, &sheet);
        // Yen have no minor units: at a hundredth of a pound each, one is a penny.
        sheet.currency = Currency::parse("JPY").unwrap();
        let without = appraise(&worksheet, &sheet);
        assert!(without.comparison.is_ok() && without.repairs.unpriced);
        assert_eq!((without.worth, without.top_bid), (None, None));
        worksheet.settings.exchange.insert(sheet.currency, Entry::Read(0.01));
        let with = appraise(&worksheet, &sheet);
        assert!(!with.repairs.unpriced);
        assert_eq!(with.worth.map(|worth| worth.stands), before.worth.map(|worth| worth.stands));
    }
}
