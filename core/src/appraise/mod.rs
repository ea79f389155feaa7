//! The one public entry: a worksheet and a type sheet in, everything that can be said about the car out.
//!
//! ```
//! use kerbworth_core::appraise::appraise;
//! use kerbworth_core::sheet::{demo, extend::extend, general::general};
//!
//! let sheet = extend(&general()?, &demo::curlew()?);
//! let appraisal = appraise(&demo::worksheet()?, &sheet);
//! assert!(appraisal.problems.is_empty());
//! let worth = appraisal.worth.ok_or("nine sales give a worth")?;
//! assert!(worth.stands.low < worth.stands.middle && worth.stands.middle < worth.stands.high);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod again;
pub mod asking;
pub mod buying;
pub mod comparison;
pub mod drivers;
pub mod driving;
pub mod evidence;
mod gate_words;
pub mod looking;
pub mod prepared;
pub mod rate_lines;
pub mod repairs;
pub mod returns;
pub mod side_by_side;
pub mod stated;
pub mod trial;
pub mod valuation;

#[cfg(test)]
mod again_tests;

use serde::Serialize;

use core::cmp::Ordering;
use std::collections::BTreeMap;
use std::sync::Arc;

use crate::bid::FeesError;
use crate::condition::Condition;
use crate::lamps::Difference;
use crate::ordered;
use crate::readings::Outcome;
use crate::sheet::{Tag, TypeSheet};
use crate::show::Show;
use crate::worksheet::Worksheet;
use crate::worksheet::check::Problem;

use buying::TopBid;
use comparison::{Comparison, LeftOut, NoComparison};
use driving::{Gate, Hold};
use evidence::{Known, Origin};
use looking::Looking;
use repairs::Repairs;
use valuation::Worth;

/// A possible cause.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Cause {
    /// The fault's id.
    pub fault: String,
    /// Probability that it is there, given all that is known.
    pub probability: f64,
    /// Ordinary rate for the type.
    pub prior: f64,
    /// Ids of the signs that raised it, most telling first.
    pub because: Vec<String>,
}

impl Cause {
    /// Likeliest first; equally likely ones by their ids.
    pub(crate) fn likeliest_first(a: &Self, b: &Self) -> Ordering {
        b.probability.total_cmp(&a.probability).then_with(|| a.fault.cmp(&b.fault))
    }
}

/// Everything that can be said about the car.
///
/// The larger parts are shared: one that a change to the worksheet does not touch is the same one afterwards.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Appraisal {
    /// What is wrong in the worksheet, place by place.
    pub problems: Vec<Problem>,
    /// How the car is built: the type's tags and its own.
    pub tags: Vec<Tag>,
    /// Score, cover and band.
    pub condition: Arc<Condition>,
    /// What is known of each sign, and from where.
    pub signs: Arc<BTreeMap<String, Known>>,
    /// Each reading that was taken, read.
    pub readings: Arc<BTreeMap<String, Outcome>>,
    /// Lamps that did not do what they should.
    pub lamps: Vec<Difference>,
    /// Ids of combinations of departures that are there.
    pub combinations: Vec<String>,
    /// Every cause that applies to the car, in the sheet's order.
    pub causes: Arc<Vec<Cause>>,
    /// Names of seen signs that could not be reasoned with, because too many hang together; usually none.
    pub not_reasoned: Vec<String>,
    /// What it costs to put right.
    pub repairs: Arc<Repairs>,
    /// The market as the sales show it, or why there is none.
    pub comparison: Result<Arc<Comparison>, NoComparison>,
    /// Sales not in the grid, by place, and why.
    pub sales_left_out: Vec<(usize, LeftOut)>,
    /// The worth, if there is a comparison.
    pub worth: Option<Arc<Worth>>,
    /// The top bid, if there is a worth and the fees can be used.
    pub top_bid: Option<Result<TopBid, FeesError>>,
    /// Reasons not to drive the car.
    pub holds: Vec<Hold>,
    /// The gate before the road test.
    pub gate: Gate,
    /// What to look at next.
    pub looking: Arc<Looking>,
}

/// Appraises a car: pure, the same for the same input to the last digit, whatever the worksheet holds.
///
/// `sheet` is the whole sheet, with what it extends ([`crate::sheet::extend`]). What is wrong in the worksheet is
/// listed in [`Appraisal::problems`] and left out of the reckoning. For a worksheet that is being filled in, see
/// [`again::Appraised`].
#[must_use]
pub fn appraise(worksheet: &Worksheet, sheet: &TypeSheet) -> Appraisal {
    again::appraise(sheet, worksheet)
}

impl Appraisal {
    /// The worth in a few signs, for the strip: the rounded 80 % range, or a dash.
    #[must_use]
    pub fn worth_in_short(&self, show: &Show) -> String {
        match &self.worth {
            None => "—".to_owned(),
            Some(worth) => {
                let rounded = &worth.rounded;
                format!("{}–{}", show.whole_money(rounded.low), show.whole_money(rounded.high))
            }
        }
    }

    /// Signs that readings and lamps raised.
    pub fn raised(&self) -> impl Iterator<Item = &str> {
        let raised = |known: &Known| known.seen && matches!(known.origin, Origin::Reading | Origin::Lamps);
        self.signs.iter().filter(move |(_, known)| raised(known)).map(|(sign, _)| sign.as_str())
    }

    /// The possible causes of a sign, likeliest first.
    #[must_use]
    pub fn causes_of<'a>(&'a self, sheet: &TypeSheet, sign: &str) -> Vec<&'a Cause> {
        let shows =
            |fault: &str| sheet.fault(fault).is_some_and(|fault| fault.links.iter().any(|link| link.sign == sign));
        let mut causes: Vec<&Cause> = self.causes.iter().filter(|cause| shows(&cause.fault)).collect();
        ordered::sort(&mut causes, |a, b| Cause::likeliest_first(a, b));
        causes
    }
}
