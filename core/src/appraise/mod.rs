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

use serde::Serialize;

use std::collections::BTreeMap;

use crate::bid::FeesError;
use crate::condition::{self, Condition};
use crate::lamps::Difference;
use crate::ordered;
use crate::readings::Outcome;
use crate::reason::exact::Inference;
use crate::reason::network_of::SheetNetwork;
use crate::reason::why::why;
use crate::sheet::{Tag, TypeSheet};
use crate::show::Show;
use crate::worksheet::Worksheet;
use crate::worksheet::check::{self, Problem};

use buying::TopBid;
use comparison::{Comparison, LeftOut, NoComparison};
use driving::{Gate, Hold};
use evidence::{Known, Measured, Origin};
use looking::Looking;
use prepared::{Prepared, prepare};
use repairs::Repairs;
use valuation::Worth;

/// Signs named as reasons for a cause, at most.
const MOST_REASONS: usize = 4;

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

/// Everything that can be said about the car.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Appraisal {
    /// What is wrong in the worksheet, place by place.
    pub problems: Vec<Problem>,
    /// How the car is built: the type's tags and its own.
    pub tags: Vec<Tag>,
    /// Score, cover and band.
    pub condition: Condition,
    /// What is known of each sign, and from where.
    pub signs: BTreeMap<String, Known>,
    /// Each reading that was taken, read.
    pub readings: BTreeMap<String, Outcome>,
    /// Lamps that did not do what they should.
    pub lamps: Vec<Difference>,
    /// Ids of combinations of departures that are there.
    pub combinations: Vec<String>,
    /// Every cause that applies to the car, in the sheet's order.
    pub causes: Vec<Cause>,
    /// Names of seen signs that could not be reasoned with, because too many hang together; usually none.
    pub not_reasoned: Vec<String>,
    /// What it costs to put right.
    pub repairs: Repairs,
    /// The market as the sales show it, or why there is none.
    pub comparison: Result<Comparison, NoComparison>,
    /// Sales not in the grid, by place, and why.
    pub sales_left_out: Vec<(usize, LeftOut)>,
    /// The worth, if there is a comparison.
    pub worth: Option<Worth>,
    /// The top bid, if there is a worth and the fees can be used.
    pub top_bid: Option<Result<TopBid, FeesError>>,
    /// Reasons not to drive the car.
    pub holds: Vec<Hold>,
    /// The gate before the road test.
    pub gate: Gate,
    /// What to look at next.
    pub looking: Looking,
}

/// Appraises a car: pure, the same for the same input to the last digit, whatever the worksheet holds.
///
/// `sheet` is the whole sheet, with what it extends ([`crate::sheet::extend`]). What is wrong in the worksheet is
/// listed in [`Appraisal::problems`] and left out of the reckoning.
#[must_use]
pub fn appraise(worksheet: &Worksheet, sheet: &TypeSheet) -> Appraisal {
    let tags = condition::tags(sheet, worksheet);
    let prepared = prepare(sheet, tags);
    let Prepared { tags, network, .. } = &prepared;
    let measured = Measured::of(sheet, worksheet, tags);
    let curable = prepared.curable(sheet, worksheet).raised(measured.raised());
    let condition = condition::condition(sheet, worksheet, tags, &curable);
    let told = evidence::told(sheet, worksheet, measured, &curable);
    let signs = ordered::map(told.signs.iter().map(|(id, known)| (id.as_str(), known.seen)));
    let faults = ordered::map(told.faults.iter().map(|(id, there)| (id.as_str(), *there)));
    let evidence = network.evidence(&signs, &faults);
    let inference = Inference::new(&network.network, &evidence);
    let reckoned = repairs::reckon(sheet, worksheet, &prepared, &inference);
    let holds = driving::holds(sheet, worksheet, tags, &told.signs, network, inference.posterior());
    let looking = looking::looking(sheet, worksheet, network, &evidence, &inference, &reckoned);
    let (comparison, sales_left_out) = match comparison::compare(worksheet, &condition) {
        Ok(comparison) => {
            let left_out = comparison.left_out.clone();
            (Ok(comparison), left_out)
        }
        Err((why, left_out)) => (Err(why), left_out),
    };
    let worth = comparison.as_ref().ok().and_then(|compared| valuation::value(compared, &reckoned));
    let top_bid = worth.as_ref().map(|worth| buying::top_bid(&worksheet.settings, &worth.stands));
    let combinations = driving::bad_combinations(sheet, worksheet);
    Appraisal {
        problems: check::check(worksheet, sheet),
        gate: driving::gate(sheet, worksheet, tags, &holds),
        combinations: combinations.into_iter().map(|combination| combination.id.clone()).collect(),
        causes: causes(sheet, network, &inference),
        not_reasoned: network.left_out(sheet, inference.posterior()).map(|left_out| left_out.signs).unwrap_or_default(),
        repairs: reckoned.repairs,
        tags: tags.clone(),
        condition,
        signs: told.signs,
        readings: told.measured.readings,
        lamps: told.measured.lamps,
        comparison,
        sales_left_out,
        worth,
        top_bid,
        holds,
        looking,
    }
}

fn causes(sheet: &TypeSheet, network: &SheetNetwork, inference: &Inference<'_>) -> Vec<Cause> {
    let reasons = why(inference, MOST_REASONS);
    let sign_id = |sign: usize| {
        let (check, place) = network.signs.get(sign)?;
        Some(sheet.checks.get(*check)?.signs.get(*place)?.id.clone())
    };
    network
        .faults
        .iter()
        .enumerate()
        .filter_map(|(number, place)| {
            let raised = reasons.get(number).map_or(&[][..], Vec::as_slice);
            Some(Cause {
                fault: sheet.faults.get(*place)?.id.clone(),
                probability: inference.posterior().probability(number),
                prior: network.network.priors().get(number).copied()?,
                because: raised.iter().filter_map(|raised| sign_id(raised.sign)).collect(),
            })
        })
        .collect()
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
        ordered::sort(&mut causes, |a, b| b.probability.total_cmp(&a.probability).then_with(|| a.fault.cmp(&b.fault)));
        causes
    }
}
