//! From sales and car to differences; what is not known is filled in and the doubt about it is counted.

use serde::Serialize;

use super::fit::Comparable;
use super::rates::{CarRates, Column, RatePrior};
use crate::restore::words;
use crate::statistics::median;

/// How a price came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum PriceKind {
    /// Paid to a private seller: the kind that the worth is stated in.
    Private,
    /// Asked, not known to be paid.
    Asking,
    /// Paid to a dealer.
    Dealer,
    /// Paid at auction, buyer's premium included.
    Auction,
}

/// How a score is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum ScoreSource {
    /// The car was looked over.
    Inspected,
    /// From photographs and a description.
    Photographs,
    /// Guessed.
    #[default]
    Guess,
}

// Every way, surest first.
words! { ScoreSource { Inspected, Photographs, Guess } }

impl ScoreSource {
    /// The way as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Inspected => "inspected",
            Self::Photographs => "from photographs",
            Self::Guess => "a guess",
        }
    }

    /// Standard deviation of the score, in points. Judgement.
    #[must_use]
    pub const fn sd_points(self) -> f64 {
        match self {
            Self::Inspected => 0.0,
            Self::Photographs => 5.0,
            Self::Guess => 10.0,
        }
    }
}

/// A comparable sale in plain numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SoldCar {
    /// The price, whole: at auction with the premium. Above 0.
    pub price: f64,
    /// On the counter, in thousands of miles; `None` when not known.
    pub thousand_miles: Option<f64>,
    /// Condition as sold, 0 to 100.
    pub score: f64,
    /// How that is known.
    pub score_source: ScoreSource,
    /// Months from the day of valuation to the sale: 0 or negative.
    pub month: f64,
    /// How the price came about.
    pub kind: PriceKind,
}

/// The car on the worksheet in plain numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SubjectCar {
    /// On the counter, in thousands of miles; `None` when not known.
    pub thousand_miles: Option<f64>,
    /// Base score: as if every itemised fault were cured, 0 to 100.
    pub score: f64,
    /// How that is known.
    pub score_source: ScoreSource,
}

/// What the fit is given, and what was filled in on the way.
#[derive(Debug, Clone, PartialEq)]
pub struct Differences {
    /// One a sale, in order; columns in the order of [`Column::ALL`].
    pub comparables: Vec<Comparable>,
    /// Doubt about the subject itself, a variance on the log price.
    pub subject_variance: f64,
    /// Thousands of miles put where a mileage was not known.
    pub imputed_thousand_miles: f64,
}

/// Put where no mileage is known at all, of sales or subject. Judgement; with every difference then 0 it
/// decides only how much doubt is counted.
pub const NOTHING_KNOWN_THOUSAND_MILES: f64 = 60.0;

/// τ: standard deviation of a filled-in mileage, in thousands of miles. Judgement: 5 + 0.30 × the mileage.
#[must_use]
pub fn imputed_mileage_sd(thousand_miles: f64) -> f64 {
    5.0 + 0.30 * thousand_miles
}

/// Turns sales and car into differences, with the doubt about each.
///
/// A mileage that is not known is the median of the sales' known ones; if no sale's is known, the subject's.
/// Doubts of τ units add (b² + S²) τ² to the variance of the log price.
#[must_use]
pub fn differences(sales: &[SoldCar], subject: &SubjectCar, rates: &CarRates) -> Differences {
    let known: Vec<f64> = sales.iter().filter_map(|sale| sale.thousand_miles).collect();
    let imputed = median::median(&known).or(subject.thousand_miles).unwrap_or(NOTHING_KNOWN_THOUSAND_MILES);
    let subject_miles = subject.thousand_miles.unwrap_or(imputed);
    let comparables = sales
        .iter()
        .map(|sale| {
            let is = |kind| f64::from(u8::from(sale.kind == kind));
            let difference = |column| match column {
                Column::ThousandMiles => sale.thousand_miles.unwrap_or(imputed) - subject_miles,
                Column::Score => sale.score - subject.score,
                Column::Month => sale.month,
                Column::Asking => is(PriceKind::Asking),
                Column::Dealer => is(PriceKind::Dealer),
                Column::Auction => is(PriceKind::Auction),
            };
            Comparable {
                log_price: libm::log(sale.price),
                differences: Column::ALL.map(difference).to_vec(),
                measurement_variance: doubt(sale.thousand_miles, imputed, sale.score_source, rates),
            }
        })
        .collect();
    Differences {
        comparables,
        subject_variance: doubt(subject.thousand_miles, imputed, subject.score_source, rates),
        imputed_thousand_miles: imputed,
    }
}

fn doubt(thousand_miles: Option<f64>, imputed: f64, score: ScoreSource, rates: &CarRates) -> f64 {
    let of = |rate: RatePrior, sd| rate.variance_of_doubt(sd);
    let of_mileage = match thousand_miles {
        Some(_) => 0.0,
        None => of(rates.thousand_miles, imputed_mileage_sd(imputed)),
    };
    of_mileage + of(rates.score, score.sd_points())
}

#[cfg(test)]
mod tests {
    use super::*;

    const SALE: SoldCar = SoldCar {
        price: 10_000.0,
        thousand_miles: Some(50.0),
        score: 70.0,
        score_source: ScoreSource::Inspected,
        month: -4.0,
        kind: PriceKind::Private,
    };
    const SUBJECT: SubjectCar =
        SubjectCar { thousand_miles: Some(60.0), score: 65.0, score_source: ScoreSource::Inspected };

    fn unknown(sale: SoldCar) -> SoldCar {
        SoldCar { thousand_miles: None, ..sale }
    }

    #[track_caller]
    fn check(sales: &[SoldCar], subject: SubjectCar, imputed: f64, miles: &[f64], sale_sd: f64, subject_sd: f64) {
        let rates = CarRates::default();
        let made = differences(sales, &subject, &rates);
        assert_eq!(made.imputed_thousand_miles, imputed);
        let found: Vec<f64> = made.comparables.iter().map(|sale| sale.differences[0]).collect();
        assert_eq!(found, miles);
        let expected = rates.thousand_miles.variance_of_doubt(sale_sd);
        assert_eq!(made.comparables.last().unwrap().measurement_variance, expected);
        assert_eq!(made.subject_variance, rates.thousand_miles.variance_of_doubt(subject_sd));
    }

    #[test]
    fn unknown_mileage_is_the_median_of_the_known() {
        let at = |miles| SoldCar { thousand_miles: Some(miles), ..SALE };
        let nobody = SubjectCar { thousand_miles: None, ..SUBJECT };
        let three = [at(40.0), at(90.0), at(50.0), unknown(SALE)];
        check(&three, SUBJECT, 50.0, &[-20.0, 30.0, -10.0, -10.0], 20.0, 0.0);
        check(&three, nobody, 50.0, &[-10.0, 40.0, 0.0, 0.0], 20.0, 20.0);
        check(&[unknown(SALE)], SUBJECT, 60.0, &[0.0], 23.0, 0.0);
        check(&[unknown(SALE)], nobody, NOTHING_KNOWN_THOUSAND_MILES, &[0.0], 23.0, 23.0);
    }

    #[test]
    fn a_looser_score_counts_as_more_doubt() {
        for (source, variance) in
            [(ScoreSource::Inspected, 0.0), (ScoreSource::Photographs, 0.003_125), (ScoreSource::Guess, 0.0125)]
        {
            let made = differences(&[SoldCar { score_source: source, ..SALE }], &SUBJECT, &CarRates::default());
            assert!((made.comparables[0].measurement_variance - variance).abs() < 1e-15, "{source:?}");
        }
    }

    #[test]
    fn each_kind_has_its_column() {
        for (kind, columns) in [
            (PriceKind::Private, [0.0, 0.0, 0.0]),
            (PriceKind::Asking, [1.0, 0.0, 0.0]),
            (PriceKind::Dealer, [0.0, 1.0, 0.0]),
            (PriceKind::Auction, [0.0, 0.0, 1.0]),
        ] {
            let made = differences(&[SoldCar { kind, ..SALE }], &SUBJECT, &CarRates::default());
            assert_eq!(made.comparables[0].differences[..3], [-10.0, 5.0, -4.0]);
            assert_eq!(made.comparables[0].differences[3..], columns, "{kind:?}");
        }
    }
}
