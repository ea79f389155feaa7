//! From the worksheet's sales to the market's range at the base score, with the grid that shows how.

use serde::Serialize;

use crate::bid::Fees;
use crate::condition::Condition;
use crate::figure::{Amount, Figure};
use crate::market::diagnostics::{Examined, Warning, warnings};
use crate::market::fit::{Assumptions, Comparable, Fit, FitError, fit};
use crate::market::grid::{Line, grid};
use crate::market::imputed::{Differences, PriceKind, ScoreSource, SoldCar, SubjectCar, differences};
use crate::market::range::Range;
use crate::market::rates::{CarRates, Column, RatePrior};
use crate::market::ratio_study::{LEAST_SALES, RatioStudy, study};
use crate::statistics::median;
use crate::units::{Date, Money, Unit};
use crate::worksheet::{Entry, Sale, SaleKind, Worksheet};

use super::buying;

/// Why a sale is not in the grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LeftOut {
    /// The person left it out.
    ByChoice,
    /// It has no price above nothing that can be read.
    NoPrice,
    /// It has no date that can be read.
    NoDate,
    /// It lies after the day of valuation.
    InTheFuture,
    /// There is no rate of exchange for its currency.
    NoExchange,
}

impl LeftOut {
    /// The reason as it is shown.
    #[must_use]
    pub const fn reason(self) -> &'static str {
        match self {
            Self::ByChoice => "left out by choice",
            Self::NoPrice => "needs a price above nothing",
            Self::NoDate => "needs a date",
            Self::InTheFuture => "lies after the day of valuation",
            Self::NoExchange => "needs a rate of exchange in the settings",
        }
    }
}

/// A sale's part in the grid.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct GridRow {
    /// Place of the sale in the worksheet.
    pub sale: usize,
    /// Price in the worksheet's currency, premium included.
    pub price: Money,
    /// Each adjustment in the order of [`Column::ALL`], the adjusted price, the share in the centre.
    pub line: Line,
    /// Whether the mileage was filled in.
    pub mileage_filled_in: bool,
    /// Whether the condition was filled in.
    pub condition_filled_in: bool,
}

/// The market as the sales show it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Comparison {
    /// The sales in the grid.
    pub rows: Vec<GridRow>,
    /// Sales not in it, by place, and why.
    pub left_out: Vec<(usize, LeftOut)>,
    /// What such a car fetches at the base score, 80 %.
    pub range: Range,
    /// The same, 50 %.
    pub inner: Range,
    /// Centre at the score as seen, for the cross-check only.
    pub centre_as_seen: f64,
    /// The fit.
    pub fit: Fit,
    /// The rates assumed before the sales were looked at.
    pub rates: CarRates,
    /// What to be wary of; sales are numbered by their place in `rows`.
    pub warnings: Vec<Warning>,
    /// Plain mean of the prices, to compare with.
    pub plain_mean: Money,
    /// The score at which the car was compared.
    pub base_score: f64,
    /// Whether that score was filled in, because nothing was looked at.
    pub base_score_filled_in: bool,
    /// How that score came about.
    pub score_working: Figure,
}

impl Comparison {
    /// The warnings with each sale numbered by its place in the worksheet, as the screens and the report number it.
    #[must_use]
    pub fn warnings_by_place(&self) -> Vec<Warning> {
        let place = |row: usize| self.rows.get(row).map_or(row, |row| row.sale);
        self.warnings.iter().map(|warning| warning.renumbered(place)).collect()
    }

    /// Whether there are few enough sales that the ratio study is made without a wait.
    #[must_use]
    pub fn can_be_studied(&self) -> bool {
        (LEAST_SALES..=STUDIED_AT_MOST).contains(&self.rows.len())
    }
}

/// Sales above which [`ratio_study`] takes more than a moment: it fits all others once for each.
pub const STUDIED_AT_MOST: usize = 150;

/// Why there is no comparison.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoComparison {
    /// No sale can be used.
    NoSales,
    /// There is no day of valuation.
    NoDate,
    /// The fit refuses the input.
    Fit(FitError),
}

/// What the comparison came to.
pub type Compared = Result<Comparison, (NoComparison, Vec<(usize, LeftOut)>)>;

/// The rates with the person's own in place.
#[must_use]
pub fn rates(worksheet: &Worksheet) -> CarRates {
    let rate = |column: Column| {
        let usual = column.default_rate();
        let own = worksheet.settings.rates.get(&column);
        let within =
            |entry: &Entry<f64>, low: f64, high: f64| entry.value().filter(|value| (low..=high).contains(value));
        RatePrior {
            mean: own.and_then(|own| within(&own.mean, -1.0, 1.0)).unwrap_or(usual.mean),
            sd: own.and_then(|own| within(&own.spread, 1e-6, 1.0)).unwrap_or(usual.sd),
        }
    };
    CarRates {
        thousand_miles: rate(Column::ThousandMiles),
        score: rate(Column::Score),
        month: rate(Column::Month),
        asking: rate(Column::Asking),
        dealer: rate(Column::Dealer),
        auction: rate(Column::Auction),
    }
}

/// What a sale cost its buyer in the worksheet's currency, premium included, in minor units.
///
/// # Errors
/// [`LeftOut`] if that cannot be told.
pub fn price(sale: &Sale, worksheet: &Worksheet, fees: &Fees) -> Result<Money, LeftOut> {
    let paid = sale.price.value().filter(|price| *price > Money::ZERO).ok_or(LeftOut::NoPrice)?;
    let settings = &worksheet.settings;
    let paid = if sale.currency == settings.currency {
        paid
    } else {
        let rate = settings.exchange.get(&sale.currency).and_then(Entry::value).filter(|rate| *rate > 0.0);
        let places =
            Money(settings.currency.minor_per_major()).minor() / Money(sale.currency.minor_per_major()).minor();
        Money::nearest(paid.minor() * places * rate.ok_or(LeftOut::NoExchange)?)
    };
    if sale.kind != SaleKind::AuctionHammer {
        return Ok(paid);
    }
    // What the room added; charges that any buyer has beside it are no part of the price.
    let outlay = fees.outlay(paid);
    Ok(outlay.hammer + outlay.premium + outlay.tax_on_premium + outlay.tax_on_hammer)
}

const fn price_kind(kind: SaleKind) -> PriceKind {
    match kind {
        SaleKind::Private => PriceKind::Private,
        SaleKind::Dealer => PriceKind::Dealer,
        SaleKind::AuctionHammer | SaleKind::AuctionWithPremium => PriceKind::Auction,
        SaleKind::Asking => PriceKind::Asking,
    }
}

/// The sales that can be used, as plain numbers, with their places; and those that cannot.
struct Usable {
    places: Vec<usize>,
    sold: Vec<SoldCar>,
    left_out: Vec<(usize, LeftOut)>,
}

fn usable(worksheet: &Worksheet, on: Date, base: f64) -> Usable {
    let fees = buying::room_fees(&worksheet.settings.fees);
    let mut usable = Usable { places: Vec::new(), sold: Vec::new(), left_out: Vec::new() };
    for (place, sale) in worksheet.sales.iter().enumerate() {
        match sold_car(sale, worksheet, &fees, on, base) {
            Ok(sold) => {
                usable.places.push(place);
                usable.sold.push(sold);
            }
            Err(why) => usable.left_out.push((place, why)),
        }
    }
    usable
}

fn sold_car(sale: &Sale, worksheet: &Worksheet, fees: &Fees, on: Date, base: f64) -> Result<SoldCar, LeftOut> {
    if sale.left_out {
        return Err(LeftOut::ByChoice);
    }
    let price = price(sale, worksheet, fees)?;
    let date = sale.date.value().ok_or(LeftOut::NoDate)?;
    let month = date.months_since(on);
    if month > 0 {
        return Err(LeftOut::InTheFuture);
    }
    let score = sale.condition.value().filter(|score| (0.0..=100.0).contains(score));
    Ok(SoldCar {
        price: price.minor(),
        thousand_miles: sale.mileage.value().map(|mileage| mileage.to(Unit::Mile) / 1000.0),
        // A condition nobody gives is taken as the car's own, with a guess's doubt.
        score: score.unwrap_or(base),
        score_source: if score.is_some() { sale.condition_known } else { ScoreSource::Guess },
        month: f64::from(month),
        kind: price_kind(sale.kind),
    })
}

/// Doubt about the car's own base score, in points: a guess's where nothing was looked at, none where all was.
fn subject_doubt(cover: f64) -> f64 {
    ScoreSource::Guess.sd_points() * (1.0 - cover.clamp(0.0, 1.0))
}

/// A score of the whole car: what was seen speaks for the share of the weight that was looked at, and for the rest the
/// middle of the sold cars, as for a car that nobody looked at (method, section 1). Without that, one check found right
/// would make the whole car as good as new.
fn of_whole_car(seen: Option<f64>, sold: Option<f64>, cover: f64) -> Option<f64> {
    match (seen, sold) {
        (Some(seen), Some(sold)) => Some(cover * seen + (1.0 - cover) * sold),
        (one, other) => one.or(other),
    }
}

/// How the score came about at which the car is compared.
fn score_working(condition: &Condition, sold: Option<f64>, score: f64) -> Figure {
    let mut parts = Vec::new();
    if condition.base.is_some() {
        parts.push(condition.base_working.clone());
        parts.push(Figure::new("Share of the weight that was looked at", Amount::Share(condition.overall.cover)));
    }
    if let Some(sold) = sold {
        let middle = Figure::new("Middle score of the sold cars", Amount::Score(sold));
        parts.push(middle.noted("Stands for what was not looked at"));
    }
    Figure::new("Score at which the car is compared", Amount::Score(score)).from_parts(parts)
}

/// Compares the car with its sales.
pub fn compare(worksheet: &Worksheet, condition: &Condition) -> Compared {
    compare_at(worksheet, condition, None)
}

/// Compares the car with its sales at its own score, or at another.
pub fn compare_at(worksheet: &Worksheet, condition: &Condition, score: Option<f64>) -> Compared {
    let Some(on) = worksheet.visit.date.value() else { return Err((NoComparison::NoDate, Vec::new())) };
    let known: Vec<f64> = worksheet.sales.iter().filter_map(|sale| sale.condition.value()).collect();
    let sold_score = median::median(&known);
    let filled_in = condition.base.is_none();
    let whole = |seen| of_whole_car(seen, sold_score, condition.overall.cover);
    let base = score.or_else(|| whole(condition.base)).unwrap_or(50.0);
    let Usable { places, sold, left_out } = usable(worksheet, on, base);
    if sold.is_empty() {
        return Err((NoComparison::NoSales, left_out));
    }
    let rates = rates(worksheet);
    let cover = if filled_in { 0.0 } else { condition.overall.cover };
    let at = |score: f64| taken(&sold, worksheet, score, cover, &rates);
    let assumptions = Assumptions::with_spread(worksheet.settings.spread);
    let (comparables, doubt) = at(base);
    let fitted = match fit(&comparables, &rates.in_order(), &assumptions) {
        Ok(fitted) => fitted,
        Err(error) => return Err((NoComparison::Fit(error), left_out)),
    };
    let seen = condition.overall.value.and_then(|seen| whole(Some(seen))).unwrap_or(base);
    let theta_as_seen = if seen.to_bits() == base.to_bits() {
        fitted.theta
    } else {
        fit(&at(seen).0, &rates.in_order(), &assumptions).map_or(f64::NAN, |fit| fit.theta)
    };
    let lines = grid(&comparables, &fitted);
    let examined =
        Examined { comparables: &comparables, fit: &fitted, lines: &lines, assumptions: &assumptions, study: None };
    let warnings = warnings(&examined);
    let rows = places.iter().zip(&sold).zip(lines).map(|((place, sold), line)| GridRow {
        sale: *place,
        price: Money::nearest(sold.price),
        line,
        mileage_filled_in: sold.thousand_miles.is_none(),
        condition_filled_in: worksheet.sales.get(*place).is_some_and(|sale| sale.condition.value().is_none()),
    });
    Ok(Comparison {
        rows: rows.collect(),
        left_out,
        range: fitted.range(0.8, doubt),
        inner: fitted.range(0.5, doubt),
        centre_as_seen: libm::exp(theta_as_seen),
        fit: fitted,
        rates,
        warnings,
        plain_mean: Money::nearest(sold.iter().map(|sold| sold.price).sum::<f64>() / sold.len() as f64),
        base_score: base,
        base_score_filled_in: filled_in,
        score_working: score_working(condition, sold_score, base),
    })
}

/// The differences to the car at a score, and the doubt about the car itself as a variance of the log price.
fn taken(sold: &[SoldCar], worksheet: &Worksheet, score: f64, cover: f64, rates: &CarRates) -> (Vec<Comparable>, f64) {
    let subject = SubjectCar {
        thousand_miles: worksheet.car.mileage.value().map(|mileage| mileage.to(Unit::Mile) / 1000.0),
        score,
        score_source: ScoreSource::Inspected,
    };
    let Differences { comparables, subject_variance, .. } = differences(sold, &subject, rates);
    (comparables, subject_variance + rates.score.variance_of_doubt(subject_doubt(cover)))
}

/// The ratio study of the worksheet's sales: each predicted from the others. `None` with too few sales. Slow for
/// many sales, so no part of [`super::appraise`].
#[must_use]
pub fn ratio_study(worksheet: &Worksheet, comparison: &Comparison) -> Option<RatioStudy> {
    let on = worksheet.visit.date.value()?;
    let Usable { sold, .. } = usable(worksheet, on, comparison.base_score);
    let (comparables, _) = taken(&sold, worksheet, comparison.base_score, 1.0, &comparison.rates);
    let assumptions = Assumptions::with_spread(worksheet.settings.spread);
    study(&comparables, &comparison.rates.in_order(), &assumptions).ok().flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::appraise;
    use crate::sheet::{TypeSheet, general};
    use crate::worksheet::Finding;

    #[test]
    fn what_was_not_looked_at_is_as_the_sold_cars_are() {
        assert_eq!(of_whole_car(Some(100.0), Some(70.0), 0.0), Some(70.0));
        assert_eq!(of_whole_car(Some(100.0), Some(70.0), 0.25), Some(77.5));
        assert_eq!(of_whole_car(Some(100.0), Some(70.0), 1.0), Some(100.0));
        assert_eq!(of_whole_car(Some(90.0), None, 0.1), Some(90.0));
        assert_eq!(of_whole_car(None, Some(70.0), 0.0), Some(70.0));
        assert_eq!(of_whole_car(None, None, 0.0), None);
    }

    #[track_caller]
    fn compared(worksheet: &Worksheet, sheet: &TypeSheet) -> std::sync::Arc<Comparison> {
        appraise(worksheet, sheet).comparison.unwrap()
    }

    #[test]
    fn one_check_found_right_hardly_moves_the_market() {
        let sheet = general::general().unwrap();
        let sale = |id: &str, price: i64, score: f64| Sale {
            id: id.to_owned(),
            date: Date::new(2026, 1, 9).into(),
            price: Money(price * 100).into(),
            condition: Some(score).into(),
            ..Sale::default()
        };
        let mut worksheet = Worksheet {
            sales: vec![sale("a", 9_000, 70.0), sale("b", 8_500, 66.0), sale("c", 8_200, 62.0)],
            ..Worksheet::default()
        };
        worksheet.visit.date = Date::new(2026, 2, 9).into();
        let before = compared(&worksheet, &sheet);
        assert!(before.base_score_filled_in);
        assert_eq!(before.base_score, 66.0);

        let mut right = Finding::default();
        right.press_grade(crate::grade::Grade::Right);
        worksheet.findings.insert("papers-keys".to_owned(), right);
        let after = compared(&worksheet, &sheet);
        assert!(!after.base_score_filled_in);
        assert!(after.base_score > 66.0 && after.base_score < 66.5, "{}", after.base_score);
        let ratio = after.range.middle / before.range.middle;
        assert!((1.0..1.01).contains(&ratio), "{ratio}");
    }
}
