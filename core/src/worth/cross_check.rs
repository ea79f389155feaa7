//! The cross-check of the two doors: what the confirmed faults deduct, against what the points given back were worth.

use crate::figure::Amount;
use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use serde::Serialize;

/// Lowest ratio of deductions to score drop that needs no second look. Judgement.
pub const RATIO_FROM: f64 = 0.5;
/// Highest ratio that needs no second look. Judgement.
pub const RATIO_TO: f64 = 2.0;

/// How the confirmed deductions stand to the score that was given back for them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CrossCheck {
    /// No fault is confirmed and no points are given back.
    NothingToCompare,
    /// They are of one size.
    Agrees {
        /// Deductions ÷ (centre at the base score − centre at the score seen).
        ratio: f64,
    },
    /// The costs take much less than the points are worth.
    CostsLow {
        /// The same ratio.
        ratio: f64,
    },
    /// The costs take much more than the points are worth.
    CostsHigh {
        /// The same ratio.
        ratio: f64,
    },
    /// Faults are deducted for which no points were given back: the score takes them a second time.
    NoPointsGivenBack,
}

impl CrossCheck {
    /// Compares confirmed deductions with the drop of the centre from base score to the score seen. All in one unit of
    /// money; shown, never added to the worth.
    #[must_use]
    pub fn of(confirmed_deduction: f64, centre_at_base: f64, centre_as_seen: f64) -> Self {
        let drop = centre_at_base - centre_as_seen;
        // A drop below a millionth of the centre is rounding.
        if drop <= 1e-6 * centre_at_base {
            return if confirmed_deduction > 0.0 { Self::NoPointsGivenBack } else { Self::NothingToCompare };
        }
        let ratio = confirmed_deduction / drop;
        if ratio < RATIO_FROM {
            Self::CostsLow { ratio }
        } else if ratio > RATIO_TO {
            Self::CostsHigh { ratio }
        } else {
            Self::Agrees { ratio }
        }
    }

    /// Whether the user is asked to look again.
    #[must_use]
    pub const fn asks_for_review(self) -> bool {
        matches!(self, Self::CostsLow { .. } | Self::CostsHigh { .. } | Self::NoPointsGivenBack)
    }
}

display!(CrossCheck);

impl Say for CrossCheck {
    fn phrase(&self) -> Phrase {
        match self {
            Self::NothingToCompare => phrase!("no confirmed fault to compare with the score"),
            Self::Agrees { ratio } => {
                phrase!(
                    "confirmed deductions are {0} times what the score would take: they agree",
                    Amount::Number(*ratio, 1)
                )
            }
            Self::CostsLow { ratio } => phrase!(
                "confirmed deductions are only {0} times what the score would take; review the costs, or give \
                 fewer points back",
                Amount::Number(*ratio, 1)
            ),
            Self::CostsHigh { ratio } => phrase!(
                "confirmed deductions are {0} times what the score would take; review the costs, or give more \
                 points back",
                Amount::Number(*ratio, 1)
            ),
            Self::NoPointsGivenBack => phrase!(
                "faults are deducted for which no points are given back to the score; give them back, or the money is \
                 taken twice"
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(confirmed: f64, base: f64, seen: f64, review: bool, sentence: &str) {
        let found = CrossCheck::of(confirmed, base, seen);
        assert_eq!((found.asks_for_review(), found.to_string().as_str()), (review, sentence));
    }

    #[test]
    fn each_outcome() {
        check(0.0, 10_000.0, 10_000.0, false, "no confirmed fault to compare with the score");
        check(
            500.0,
            10_000.0,
            9000.0,
            false,
            "confirmed deductions are 0.5 times what the score would take: they agree",
        );
        check(
            2000.0,
            10_000.0,
            9000.0,
            false,
            "confirmed deductions are 2.0 times what the score would take: they agree",
        );
        check(
            400.0,
            10_000.0,
            9000.0,
            true,
            "confirmed deductions are only 0.4 times what the score would take; review the costs, or give fewer points back",
        );
        check(
            2600.0,
            10_000.0,
            9000.0,
            true,
            "confirmed deductions are 2.6 times what the score would take; review the costs, or give more points back",
        );
        check(
            100.0,
            10_000.0,
            10_000.0,
            true,
            "faults are deducted for which no points are given back to the score; give them back, or the money is taken twice",
        );
    }
}
