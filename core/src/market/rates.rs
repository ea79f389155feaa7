//! What a difference between two cars is worth: the columns of the grid, with a stated belief about each rate.
//!
//! A handful of sales cannot teach six rates. Each rate is therefore stated beforehand with its own doubt, and
//! the sales move it only as far as they are strong enough to. Every default is a judgement that the user may
//! overwrite, and each carries the sentence that says what it rests on.

use serde::Serialize;

use crate::restore::words;

/// A belief about a rate before the sales are seen: normal, on the log of the price per unit of difference.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RatePrior {
    /// Change of the log price for one unit more: 0.01 is about one per cent.
    pub mean: f64,
    /// Standard deviation of the belief about it; above 0.
    pub sd: f64,
}

impl RatePrior {
    /// Variance that a doubt of `sd_units` units of difference puts on the log price: (b² + S²) τ².
    #[must_use]
    pub fn variance_of_doubt(self, sd_units: f64) -> f64 {
        (self.mean * self.mean + self.sd * self.sd) * sd_units * sd_units
    }
}

/// A column of the car grid: a way in which a sold car, or its sale, differs from the car on the worksheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Column {
    /// Distance on the counter, in thousands of miles.
    ThousandMiles,
    /// Condition, in points of 100.
    Score,
    /// Time of the sale, in months from the day of valuation (earlier is negative).
    Month,
    /// 1 for a price that was only asked.
    Asking,
    /// 1 for a dealer's sale.
    Dealer,
    /// 1 for an auction sale, premium included.
    Auction,
}

// Every column, in the order in which the grid applies them.
words! { Column { ThousandMiles, Score, Month, Asking, Dealer, Auction } }

impl Column {
    /// The column as it is named in data and in the grid's head.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::ThousandMiles => "mileage",
            Self::Score => "condition",
            Self::Month => "time",
            Self::Asking => "asking",
            Self::Dealer => "dealer",
            Self::Auction => "auction",
        }
    }

    /// What one unit of difference is.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::ThousandMiles => "thousand miles",
            Self::Score => "point of score",
            Self::Month => "month",
            Self::Asking => "asked, not sold",
            Self::Dealer => "sold by a dealer",
            Self::Auction => "sold at auction, premium included",
        }
    }

    /// Whether cars on both sides of the subject are wanted: a feature of the car, not of the sale.
    #[must_use]
    pub const fn wants_bracketing(self) -> bool {
        matches!(self, Self::ThousandMiles | Self::Score)
    }

    /// The rate believed in until the user or the sales say otherwise.
    #[must_use]
    pub const fn default_rate(self) -> RatePrior {
        match self {
            Self::ThousandMiles => RatePrior { mean: -0.002, sd: 0.0015 },
            Self::Score => RatePrior { mean: 0.010, sd: 0.005 },
            Self::Month => RatePrior { mean: 0.0, sd: 0.004 },
            Self::Asking => RatePrior { mean: 0.06, sd: 0.05 },
            Self::Dealer => RatePrior { mean: 0.08, sd: 0.05 },
            Self::Auction => RatePrior { mean: 0.0, sd: 0.04 },
        }
    }

    /// What the default rests on, as a sentence for the settings.
    #[must_use]
    pub const fn basis(self) -> &'static str {
        match self {
            Self::ThousandMiles => {
                "Judgement: an older car kept for its own sake loses about 0.2 % for each thousand miles more. \
                 Everyday cars lose 0.3 % to 1.5 %; set your own if you know the type."
            }
            Self::Score => {
                "Judgement: about 1 % for each point of score. House sales of two neighbourhoods show 0.8 % to \
                 1.1 % a point of graded quality; no open data on cars was found."
            }
            Self::Month => "Judgement: no drift of prices is assumed, with room for 0.4 % a month either way.",
            Self::Asking => {
                "In 929 house sales the list price stood 5 % to 7 % above the price paid. Those all sold; what \
                 is still for sale is likely further off. Transfer to cars is judgement."
            }
            Self::Dealer => "Judgement: a dealer's price holds preparation and warranty, about 8 %.",
            Self::Auction => {
                "Judgement: with the premium included, an auction price is taken as a private one, give or take 4 %."
            }
        }
    }
}

/// The rates of the car grid, one a column.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct CarRates {
    /// A thousand miles more.
    pub thousand_miles: RatePrior,
    /// A point of score more.
    pub score: RatePrior,
    /// A month later.
    pub month: RatePrior,
    /// Asked, against sold privately.
    pub asking: RatePrior,
    /// Sold by a dealer, against sold privately.
    pub dealer: RatePrior,
    /// Sold at auction, against sold privately.
    pub auction: RatePrior,
}

impl CarRates {
    /// The rate of a column.
    #[must_use]
    pub const fn of(&self, column: Column) -> RatePrior {
        match column {
            Column::ThousandMiles => self.thousand_miles,
            Column::Score => self.score,
            Column::Month => self.month,
            Column::Asking => self.asking,
            Column::Dealer => self.dealer,
            Column::Auction => self.auction,
        }
    }

    /// The rates in the order of [`Column::ALL`].
    #[must_use]
    pub fn in_order(&self) -> [RatePrior; 6] {
        Column::ALL.map(|column| self.of(column))
    }
}

impl Default for CarRates {
    fn default() -> Self {
        Self {
            thousand_miles: Column::ThousandMiles.default_rate(),
            score: Column::Score.default_rate(),
            month: Column::Month.default_rate(),
            asking: Column::Asking.default_rate(),
            dealer: Column::Dealer.default_rate(),
            auction: Column::Auction.default_rate(),
        }
    }
}

/// How much like cars of the type sell apart, as far as is known before these sales are seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Spread {
    /// Many alike, prices well known.
    Tight,
    /// Nothing special known.
    #[default]
    Typical,
    /// Rare, or sold in very different states and places.
    Wide,
}

// Every preset, narrowest first.
words! { Spread { Tight, Typical, Wide } }

impl Spread {
    /// The preset as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tight => "tight",
            Self::Typical => "typical",
            Self::Wide => "wide",
        }
    }

    /// The assumed spread s₀ of the log price of one sale around what the rates explain.
    #[must_use]
    pub const fn log_sd(self) -> f64 {
        match self {
            Self::Tight => 0.08,
            Self::Typical => 0.12,
            Self::Wide => 0.24,
        }
    }

    /// What the preset says, as a sentence for the settings.
    #[must_use]
    pub const fn basis(self) -> &'static str {
        match self {
            Self::Tight => {
                "Judgement: like cars sell within about 10 % of each other. Too narrow if your sales disagree."
            }
            Self::Typical => {
                "Judgement: like cars sell within about 15 % of each other. Right on average on the open data it \
                 was tried on; not in every market."
            }
            Self::Wide => {
                "Judgement: like cars sell within about 31 % of each other. For rare cars, or sales that disagree."
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::market::fit::Assumptions;

    #[test]
    fn each_column_has_its_own_rate_and_basis() {
        let rates = CarRates::default();
        for (column, rate) in Column::ALL.into_iter().zip(rates.in_order()) {
            assert_eq!(rate, column.default_rate(), "{column:?}");
            assert!(rate.sd > 0.0 && column.basis().len() > 40 && !column.unit().is_empty(), "{column:?}");
        }
        let own = CarRates { dealer: RatePrior { mean: 0.2, sd: 0.01 }, ..rates };
        assert_eq!(own.of(Column::Dealer).mean, 0.2);
        assert_eq!(own.of(Column::Auction), rates.auction);
    }

    /// The per cent in the preset's sentence is the one that it works out to: √c s₀.
    #[test]
    fn preset_sentences_state_their_own_width() {
        for preset in Spread::ALL {
            let per_cent = 100.0 * Assumptions::default().cover_factor.sqrt() * preset.log_sd();
            let sentence = format!("about {per_cent:.0} %");
            assert!(preset.basis().contains(&sentence), "{preset:?}: {sentence}");
        }
    }
}
