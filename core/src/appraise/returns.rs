//! Which repairs return more than they cost.
//!
//! The market takes off a share of what a job costs on average, so against that average a job returns its cost at
//! best. But costs are skewed: the likely cost lies below the average that the market reckons with. A job is
//! therefore weighed against what it is likely to cost, and with it stands the cost below which it pays.

use core::cmp::Reverse;

use serde::Serialize;

use super::repairs::{Repair, Work};
use super::valuation::Return;
use crate::ordered;
use crate::units::Money;

/// Whether having a job done pays.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Pays {
    /// At its likely cost it returns at least what it costs.
    AtItsLikelyCost,
    /// Only near its lowest cost.
    IfDoneCheaply,
    /// Not even at its lowest cost.
    Never,
}

impl Pays {
    /// As it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::AtItsLikelyCost => "returns more than its likely cost",
            Self::IfDoneCheaply => "pays only if done cheaply",
            Self::Never => "costs more than it returns",
        }
    }
}

/// A job weighed: what it returns against what it costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Weighed {
    /// What it adds and costs on average, at the probability that it is needed.
    pub on_average: Return,
    /// If it is needed, the cost up to which it pays.
    pub pays_up_to: Money,
    /// What it adds less its likely cost, at the probability that it is needed; negative if it costs more.
    pub gain: Money,
    /// The verdict.
    pub pays: Pays,
}

impl Weighed {
    /// Weighs a job.
    #[must_use]
    pub fn of(repair: &Repair) -> Self {
        let on_average = Return::of(repair);
        let pays_up_to = Money::nearest(repair.share * repair.mean.minor());
        let pays = if pays_up_to >= repair.likely {
            Pays::AtItsLikelyCost
        } else if pays_up_to > repair.low {
            Pays::IfDoneCheaply
        } else {
            Pays::Never
        };
        let gain = on_average.adds - Money::nearest(repair.probability * repair.likely.minor());
        Self { on_average, pays_up_to, gain, pays }
    }
}

/// In which order jobs are listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Order {
    /// Dearest first, at the probability that they are needed.
    #[default]
    Dearest,
    /// Those that return most beyond their likely cost first.
    ReturnsMost,
}

impl Order {
    /// Every order.
    pub const ALL: [Self; 2] = [Self::Dearest, Self::ReturnsMost];

    /// As it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Dearest => "dearest first",
            Self::ReturnsMost => "what returns most first",
        }
    }
}

/// The work that is listed (`raised`: what was seen made it likelier), in an order. `repairs` come dearest first.
#[must_use]
pub fn in_order(repairs: &[Repair], raised: bool, order: Order) -> Vec<Work> {
    let mut listed: Vec<&Repair> = repairs.iter().filter(|repair| repair.raised == raised).collect();
    if order == Order::ReturnsMost {
        let rank = |repair: &Repair| {
            let weighed = Weighed::of(repair);
            (weighed.pays, Reverse(weighed.gain))
        };
        ordered::sort(&mut listed, |a, b| rank(a).cmp(&rank(b)));
    }
    listed.into_iter().map(|repair| repair.work.clone()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn repair(id: &str, probability: f64, (low, likely, high): (i64, i64, i64), share: f64) -> Repair {
        Repair {
            work: Work::Job(id.to_owned()),
            name: id.to_owned(),
            probability,
            usual: 0.0,
            raised: true,
            low: Money(low),
            likely: Money(likely),
            high: Money(high),
            mean: Money((low + 4 * likely + high) / 6),
            share,
            chosen: false,
            deduction: Money::ZERO,
            because: Vec::new(),
        }
    }

    #[track_caller]
    fn check(share: f64, expected: (Pays, i64, i64)) {
        // The sill repair of the method's worked example: mean 1,750.
        let weighed = Weighed::of(&repair("sills", 1.0, (90_000, 160_000, 320_000), share));
        assert_eq!((weighed.pays, weighed.pays_up_to.0, weighed.gain.0), expected, "share {share}");
    }

    #[test]
    fn the_share_that_the_market_takes_decides() {
        check(1.0, (Pays::AtItsLikelyCost, 175_000, 15_000));
        check(0.75, (Pays::IfDoneCheaply, 131_250, -28_750));
        check(0.5, (Pays::Never, 87_500, -72_500));
    }

    #[test]
    fn a_suspected_job_counts_at_its_probability() {
        let weighed = Weighed::of(&repair("gearbox", 0.5, (90_000, 160_000, 320_000), 1.0));
        assert_eq!((weighed.on_average.adds, weighed.on_average.costs), (Money(87_500), Money(87_500)));
        assert_eq!((weighed.pays_up_to, weighed.gain), (Money(175_000), Money(7500)));
    }

    #[test]
    fn what_returns_most_comes_first() {
        let repairs = [
            repair("trim", 1.0, (90_000, 160_000, 320_000), 0.5),
            repair("brakes", 1.0, (35_000, 50_000, 90_000), 1.0),
            repair("sills", 1.0, (90_000, 160_000, 320_000), 1.0),
            repair("gearbox", 1.0, (90_000, 160_000, 320_000), 0.75),
        ];
        let ids = |order| {
            in_order(&repairs, true, order)
                .into_iter()
                .map(|work| match work {
                    Work::Job(id) | Work::Access(id) => id,
                })
                .collect::<Vec<_>>()
        };
        assert_eq!(ids(Order::Dearest), ["trim", "brakes", "sills", "gearbox"]);
        assert_eq!(ids(Order::ReturnsMost), ["sills", "brakes", "gearbox", "trim"]);
        assert!(in_order(&repairs, false, Order::Dearest).is_empty());
    }
}
