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
use crate::units::{Date, Length, Money, Unit};
use crate::worksheet::check::{FURTHEST, YEARS};
use crate::worksheet::{Entry, Sale, SaleKind, Worksheet};

use super::buying;

/// Why a sale is not in the grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LeftOut {
    /// The person left it out.
    ByChoice,
    /// It has no price that can be: above nothing, and no more than [`Money::MOST`] before and after exchange.
    NoPrice,
    /// It has no date that can be read, or one in no year that a car was made in.
    NoDate,
    /// It lies after the day of valuation.
    InTheFuture,
    /// There is no rate of exchange for its currency.
    NoExchange,
    /// It is a hammer price, and the fees of the sale room cannot be used.
    NoFees,
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
            Self::NoFees => "needs the fees of the sale room, which cannot be used yet",
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
    /// What such a car fetches at the base score, 80 %, in minor units.
    pub range: Range,
    /// The same, 50 %, in minor units.
    pub inner: Range,
    /// Centre at the score as seen, in minor units, for the cross-check only.
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
/// [`LeftOut::NoPrice`], [`LeftOut::NoExchange`] or [`LeftOut::NoFees`] if that cannot be told.
pub fn price(sale: &Sale, worksheet: &Worksheet, fees: Option<&Fees>) -> Result<Money, LeftOut> {
    let usable =
        |price: Money| if price > Money::ZERO && price <= Money::MOST { Ok(price) } else { Err(LeftOut::NoPrice) };
    let paid = usable(sale.price.value().unwrap_or_default())?;
    let rate = worksheet.settings.per_minor(sale.currency).ok_or(LeftOut::NoExchange)?;
    let paid = usable(Money::nearest(paid.minor() * rate))?;
    if sale.kind != SaleKind::AuctionHammer {
        return Ok(paid);
    }
    let fees = fees.ok_or(LeftOut::NoFees)?;
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

impl Usable {
    /// Their conditions, of those that have one.
    fn conditions(&self, worksheet: &Worksheet) -> Vec<f64> {
        self.places.iter().filter_map(|place| condition_of(worksheet.sales.get(*place)?)).collect()
    }

    /// The sales; a condition nobody gives is taken as the car's own, with a guess's doubt.
    fn filled_in(self, worksheet: &Worksheet, base: f64) -> Vec<SoldCar> {
        let given = |place: usize| worksheet.sales.get(place).and_then(condition_of);
        let fill = |(place, sold): (&usize, SoldCar)| match given(*place) {
            Some(_) => sold,
            None => SoldCar { score: base, score_source: ScoreSource::Guess, ..sold },
        };
        self.places.iter().zip(self.sold).map(fill).collect()
    }
}

/// A sale's condition, if it is one.
fn condition_of(sale: &Sale) -> Option<f64> {
    sale.condition.value().filter(|score| (0.0..=100.0).contains(score))
}

/// A mileage, if a car can have gone so far.
fn thousand_miles(mileage: &Entry<Length>) -> Option<f64> {
    let mileage = mileage.value().filter(|mileage| (0.0..=FURTHEST.0).contains(&mileage.0))?;
    Some(mileage.to(Unit::Mile) / 1000.0)
}

fn usable(worksheet: &Worksheet, on: Date) -> Usable {
    let fees = buying::room_fees(&worksheet.settings.fees).ok();
    let mut usable = Usable { places: Vec::new(), sold: Vec::new(), left_out: Vec::new() };
    for (place, sale) in worksheet.sales.iter().enumerate() {
        match sold_car(sale, worksheet, fees.as_ref(), on) {
            Ok(sold) => {
                usable.places.push(place);
                usable.sold.push(sold);
            }
            Err(why) => usable.left_out.push((place, why)),
        }
    }
    usable
}

fn sold_car(sale: &Sale, worksheet: &Worksheet, fees: Option<&Fees>, on: Date) -> Result<SoldCar, LeftOut> {
    if sale.left_out {
        return Err(LeftOut::ByChoice);
    }
    let price = price(sale, worksheet, fees)?;
    let date = sale.date.value().filter(|date| YEARS.contains(&date.year())).ok_or(LeftOut::NoDate)?;
    if date > on {
        return Err(LeftOut::InTheFuture);
    }
    Ok(SoldCar {
        price: price.minor(),
        thousand_miles: thousand_miles(&sale.mileage),
        score: condition_of(sale).unwrap_or_default(),
        score_source: sale.condition_known,
        month: f64::from(date.months_since(on)),
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
///
/// # Errors
/// [`NoComparison`] says what is missing; with it go the sales that cannot be used, and why.
pub fn compare(worksheet: &Worksheet, condition: &Condition) -> Compared {
    compare_at(worksheet, condition, None)
}

/// Compares the car with its sales at its own score, or at another.
///
/// # Errors
/// As [`compare`].
pub fn compare_at(worksheet: &Worksheet, condition: &Condition, score: Option<f64>) -> Compared {
    let Some(on) = worksheet.visit.date.value() else { return Err((NoComparison::NoDate, Vec::new())) };
    let usable = usable(worksheet, on);
    let sold_score = median::median(&usable.conditions(worksheet));
    let filled_in = condition.base.is_none();
    let whole = |seen| of_whole_car(seen, sold_score, condition.overall.cover);
    let base = score.or_else(|| whole(condition.base)).unwrap_or(50.0);
    let (places, left_out) = (usable.places.clone(), usable.left_out.clone());
    let sold = usable.filled_in(worksheet, base);
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
    let examined = Examined { comparables: &comparables, fit: &fitted, lines: &lines, assumptions: &assumptions };
    let warnings = warnings(&examined);
    let rows = places.iter().zip(&sold).zip(lines).map(|((place, sold), line)| GridRow {
        sale: *place,
        price: Money::nearest(sold.price),
        line,
        mileage_filled_in: sold.thousand_miles.is_none(),
        condition_filled_in: worksheet.sales.get(*place).is_none_or(|sale| condition_of(sale).is_none()),
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
        thousand_miles: thousand_miles(&worksheet.car.mileage),
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
    let sold = usable(worksheet, on).filled_in(worksheet, comparison.base_score);
    let (comparables, _) = taken(&sold, worksheet, comparison.base_score, 1.0, &comparison.rates);
    let assumptions = Assumptions::with_spread(worksheet.settings.spread);
    study(&comparables, &comparison.rates.in_order(), &assumptions).ok().flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::appraise;
    use crate::sheet::{TypeSheet, general};
    use crate::units::Currency;
    use crate::worksheet::{Finding, PremiumStep};

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

    /// Sales with prices of so many pounds and conditions, a month before the day of valuation.
    fn sold(sales: &[(i64, f64)]) -> Worksheet {
        let sale = |(price, score): &(i64, f64)| Sale {
            id: price.to_string(),
            date: Date::new(2026, 1, 9).into(),
            price: Money(price * 100).into(),
            condition: Some(*score).into(),
            ..Sale::default()
        };
        let mut worksheet = Worksheet { sales: sales.iter().map(sale).collect(), ..Worksheet::default() };
        worksheet.visit.date = Date::new(2026, 2, 9).into();
        worksheet
    }

    #[track_caller]
    fn score(change: impl FnOnce(&mut Worksheet), expected: f64) {
        let mut worksheet = sold(&[(9_000, 70.0), (8_500, 66.0), (8_200, 50.0)]);
        change(&mut worksheet);
        assert_eq!(compared(&worksheet, &general::general().unwrap()).base_score, expected);
    }

    #[test]
    fn only_sales_in_the_grid_set_the_score() {
        score(|_| {}, 66.0);
        score(|worksheet| worksheet.sales[1].left_out = true, 60.0);
        score(|worksheet| worksheet.sales[1].date = Entry::Empty, 60.0);
        score(|worksheet| worksheet.sales[2].condition = Entry::Read(700.0), 68.0);
        score(|worksheet| worksheet.sales[2].condition = Entry::Read(-1.0), 68.0);
    }

    /// What [`crate::worksheet::check`] finds fault with moves nothing.
    #[test]
    fn what_is_wrong_is_left_out() {
        let sheet = general::general().unwrap();
        let range = |change: &dyn Fn(&mut Worksheet)| {
            let mut worksheet = sold(&[(9_000, 70.0), (8_500, 66.0)]);
            worksheet.car.mileage = Entry::Read(Length(1.0e8));
            change(&mut worksheet);
            compared(&worksheet, &sheet).range
        };
        let blank = range(&|worksheet| worksheet.car.mileage = Entry::Empty);
        for metres in [-1.0, FURTHEST.0 * 2.0] {
            assert_eq!(range(&|worksheet| worksheet.car.mileage = Entry::Read(Length(metres))), blank);
            let of_sale = range(&|worksheet| worksheet.sales[0].mileage = Entry::Read(Length(metres)));
            assert_eq!(of_sale, range(&|_| {}));
        }
    }

    #[track_caller]
    fn left_out(change: impl FnOnce(&mut Worksheet), expected: Option<LeftOut>) {
        let mut worksheet = sold(&[(9_000, 70.0), (8_500, 66.0)]);
        change(&mut worksheet);
        let appraisal = appraise(&worksheet, &general::general().unwrap());
        assert_eq!(appraisal.sales_left_out, expected.map(|why| (0, why)).into_iter().collect::<Vec<_>>());
    }

    #[test]
    fn sales_that_cannot_be_used_are_left_out_with_a_reason() {
        let unfinished = |worksheet: &mut Worksheet| worksheet.settings.fees.premium.push(PremiumStep::default());
        left_out(unfinished, None);
        let hammer = |worksheet: &mut Worksheet| worksheet.sales[0].kind = SaleKind::AuctionHammer;
        left_out(hammer, None);
        let both = |worksheet: &mut Worksheet| {
            hammer(worksheet);
            unfinished(worksheet);
        };
        left_out(both, Some(LeftOut::NoFees));
        let day =
            |year, month, day| move |sheet: &mut Worksheet| sheet.sales[0].date = Date::new(year, month, day).into();
        left_out(day(2026, 2, 9), None);
        left_out(day(2026, 2, 10), Some(LeftOut::InTheFuture));
        left_out(day(1200, 2, 10), Some(LeftOut::NoDate));
        let price = |minor| move |worksheet: &mut Worksheet| worksheet.sales[0].price = Entry::Read(Money(minor));
        left_out(price(Money::MOST.0), None);
        left_out(price(Money::MOST.0 + 1), Some(LeftOut::NoPrice));
        left_out(price(0), Some(LeftOut::NoPrice));
        let foreign = |rate: f64| {
            move |worksheet: &mut Worksheet| {
                let yen = Currency::parse("JPY").unwrap();
                worksheet.sales[0].currency = yen;
                worksheet.settings.exchange.insert(yen, Entry::Read(rate));
            }
        };
        left_out(foreign(0.005), None);
        left_out(foreign(1e9), Some(LeftOut::NoExchange));
        left_out(foreign(1e6), Some(LeftOut::NoPrice));
    }

    #[test]
    fn one_check_found_right_hardly_moves_the_market() {
        let sheet = general::general().unwrap();
        let mut worksheet = sold(&[(9_000, 70.0), (8_500, 66.0), (8_200, 62.0)]);
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
