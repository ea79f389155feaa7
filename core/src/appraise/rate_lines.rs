//! The rates of the grid, each as it was assumed and as the sales left it.

use super::comparison::{self, Comparison};
use crate::market::rates::{Column, RatePrior};
use crate::show::Show;
use crate::worksheet::Worksheet;

/// A rate of the grid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RateLine {
    /// Which.
    pub column: Column,
    /// What was assumed: the usual rate, or the person's own.
    pub assumed: RatePrior,
    /// Whether any part of it is the person's own.
    pub is_own: bool,
    /// What the sales made of it; none without a comparison.
    pub found: Option<RatePrior>,
}

/// Every rate, in the order of the grid.
#[must_use]
pub fn rate_lines(worksheet: &Worksheet, comparison: Option<&Comparison>) -> Vec<RateLine> {
    let assumed = comparison::rates(worksheet);
    let width = Column::ALL.len() + 1;
    Column::ALL
        .into_iter()
        .enumerate()
        .map(|(place, column)| {
            let found = comparison.and_then(|comparison| {
                // The level comes first in the covariance, so the rate at `place` has row and column `place` + 1.
                let variance = *comparison.fit.covariance.get((place + 1) * width + place + 1)?;
                Some(RatePrior { mean: *comparison.fit.beta.get(place)?, sd: libm::sqrt(variance) })
            });
            let rate = assumed.of(column);
            RateLine { column, assumed: rate, is_own: rate != column.default_rate(), found }
        })
        .collect()
}

/// A rate and its doubt in per cent of the price, as they are shown.
#[must_use]
pub fn shown(rate: RatePrior, show: &Show) -> String {
    format!("{} % ± {} %", show.number(100.0 * rate.mean, 2), show.number(100.0 * rate.sd, 2))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rates_are_shown_in_per_cent() {
        assert_eq!(shown(Column::ThousandMiles.default_rate(), &Show::default()), "−0.20 % ± 0.15 %");
    }

    use crate::appraise::appraise;
    use crate::sheet::{demo, extend::extend, general::general};
    use crate::worksheet::{Entry, RateChoice};

    #[test]
    fn the_sales_make_each_rate_surer() {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let mut worksheet = demo::worksheet().unwrap();
        let own = RateChoice { mean: Entry::Read(0.02), spread: Entry::Empty };
        worksheet.settings.rates.insert(Column::Score, own);
        let comparison = appraise(&worksheet, &sheet).comparison.unwrap();
        let lines = rate_lines(&worksheet, Some(&comparison));
        assert_eq!(lines.len(), 6);
        for line in &lines {
            let found = line.found.unwrap();
            assert!(found.sd > 0.0 && found.sd < line.assumed.sd, "{line:?}");
            assert_eq!(line.is_own, line.column == Column::Score);
        }
        assert_eq!((lines[1].assumed.mean, lines[1].assumed.sd), (0.02, 0.005));
        assert_eq!(rate_lines(&worksheet, None)[0].found, None);
    }
}
