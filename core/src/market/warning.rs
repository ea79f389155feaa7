//! The warnings of a grid, each with the sentence that says it.

use crate::figure::Amount;
use crate::phrase;
use crate::phrase::{Phrase, Say, display, key};
use serde::Serialize;

use super::diagnostics::{COD_TO, PRD};
use super::rates::{Column, Spread};

/// On which side of the subject every sale lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// Every sale has less of it.
    Below,
    /// Every sale has more of it.
    Above,
}

/// A reason for care. Sales are counted from 0 here and from 1 in the sentence.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Warning {
    /// One or two sales.
    PriorDriven,
    /// Three or four sales.
    MostlyAssumed,
    /// The spread found passes the one assumed.
    SalesDisagree {
        /// Found, on the log price.
        spread: f64,
        /// Assumed, on the log price.
        assumed: f64,
    },
    /// All sales lie on one side of the subject in a main feature.
    NotBracketed {
        /// Which feature.
        column: Column,
        /// Which side.
        side: Side,
    },
    /// A sale needed much adjusting, signs ignored.
    GrossAdjustment {
        /// Which sale.
        sale: usize,
        /// Share of its price.
        share: f64,
    },
    /// A sale moved far by its adjustments.
    NetAdjustment {
        /// Which sale.
        sale: usize,
        /// Share of its price, with sign.
        share: f64,
    },
    /// One sale carries more than all others together.
    OneSaleDominates {
        /// Which sale.
        sale: usize,
        /// Its share in the centre.
        share: f64,
    },
    /// A sale lies far from the rest and counts for less.
    FarFromTheRest {
        /// Which sale.
        sale: usize,
        /// Its λ.
        trust: f64,
    },
    /// The method values these sales too high or too low.
    Level {
        /// Median ratio.
        median: f64,
    },
    /// The method misses single sales widely.
    Dispersion {
        /// Coefficient of dispersion, per cent.
        cod: f64,
    },
    /// Dear and cheap sales are not valued alike, by the price-related differential.
    Differential {
        /// The differential.
        prd: f64,
    },
    /// The ratio drifts with the value.
    Bias {
        /// Change when the value doubles.
        prb: f64,
    },
    /// The rounds of the fit met their cap.
    NotSettled,
}

impl Warning {
    /// The sale that it is about, if it is about one.
    #[must_use]
    pub const fn sale(&self) -> Option<usize> {
        match self {
            Self::GrossAdjustment { sale, .. }
            | Self::NetAdjustment { sale, .. }
            | Self::OneSaleDominates { sale, .. }
            | Self::FarFromTheRest { sale, .. } => Some(*sale),
            _ => None,
        }
    }

    /// The same with its sale numbered another way.
    #[must_use]
    pub fn renumbered(mut self, number: impl FnOnce(usize) -> usize) -> Self {
        if let Self::GrossAdjustment { sale, .. }
        | Self::NetAdjustment { sale, .. }
        | Self::OneSaleDominates { sale, .. }
        | Self::FarFromTheRest { sale, .. } = &mut self
        {
            *sale = number(*sale);
        }
        self
    }
}

display!(Warning);

impl Say for Warning {
    fn phrase(&self) -> Phrase {
        let per_cent = |share: f64| Amount::Number(100.0 * share, 0);
        match *self {
            Self::PriorDriven => {
                phrase!("prior-driven: the width comes from the assumed spread, not from your sales; add sales")
            }
            Self::MostlyAssumed => phrase!("mostly assumed spread: three or four sales say little of it; add sales"),
            Self::SalesDisagree { spread, assumed } if assumed < Spread::Wide.log_sd() => phrase!(
                "these sales disagree more than assumed ({0} % against {1} %); consider the wide preset",
                per_cent(spread),
                per_cent(assumed)
            ),
            Self::SalesDisagree { spread, assumed } => phrase!(
                "these sales disagree more than assumed ({0} % against {1} %)",
                per_cent(spread),
                per_cent(assumed)
            ),
            Self::NotBracketed { column, side } => {
                let (feature, wanted) = match (column, side) {
                    (Column::ThousandMiles, Side::Below) => ("fewer miles", "with more"),
                    (Column::ThousandMiles, Side::Above) => ("more miles", "with fewer"),
                    (Column::Score, Side::Below) => ("a lower score", "in better condition"),
                    (Column::Score, Side::Above) => ("a higher score", "in worse condition"),
                    (_, Side::Below) => ("less of a feature", "with more of it"),
                    (_, Side::Above) => ("more of a feature", "with less of it"),
                };
                phrase!("every sale has {0} than this car; look for one {1}", feature, wanted)
            }
            Self::GrossAdjustment { sale, share } => phrase!(
                "sale {0} needs adjustments of {1} % of its price in all; a nearer car would say more",
                sale + 1,
                per_cent(share)
            ),
            Self::NetAdjustment { sale, share } => {
                let way = if share < 0.0 { key("down") } else { key("up") };
                phrase!(
                    "sale {0} is adjusted {1} by {2} % of its price; a nearer car would say more",
                    sale + 1,
                    way,
                    per_cent(libm::fabs(share))
                )
            }
            Self::OneSaleDominates { sale, share } => {
                phrase!("sale {0} carries {1} % of the worth; check it twice or add sales", sale + 1, per_cent(share))
            }
            Self::FarFromTheRest { sale, .. } => phrase!(
                "sale {0} lies far from the rest and counts for less; check its price, kind and condition",
                sale + 1
            ),
            Self::Level { median } => phrase!(
                "tried on your own sales the method comes out at {0} % of their prices (90 to 110 is usual); check the rates",
                per_cent(median)
            ),
            Self::Dispersion { cod } => phrase!(
                "tried on your own sales the method misses by {0} % on average (assessors of houses accept {1}); \
                 the sales or their scores are uneven",
                Amount::Number(cod, 0),
                Amount::Number(COD_TO, 0)
            ),
            Self::Differential { prd } => {
                let (valued, bound) = if prd > PRD.1 { (key("low"), PRD.1) } else { (key("high"), PRD.0) };
                phrase!(
                    "tried on your own sales the method values dear cars too {0} (differential {1}, bound {2}); \
                     go by sales near this car's price",
                    valued,
                    Amount::Number(prd, 2),
                    Amount::Number(bound, 2)
                )
            }
            Self::Bias { prb } => {
                let way = if prb < 0.0 { key("falls") } else { key("rises") };
                phrase!(
                    "tried on your own sales the valuation {0} by {1} % each time the price doubles; go by sales \
                     near this car's price",
                    way,
                    per_cent(libm::fabs(prb))
                )
            }
            Self::NotSettled => {
                phrase!("the weighing did not settle; look for two sales that cannot both be right")
            }
        }
    }
}
