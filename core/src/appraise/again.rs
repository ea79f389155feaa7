//! An appraisal of a worksheet that is being filled in: a change redoes only what it touches.
//!
//! The appraisal is made in steps, and each step is kept with what it was made from. A note, a name, a place touch
//! nothing; a sale touches the comparison and the worth; a sign touches the reasoning and all that rests on it. What a
//! step gives is the same whether it was kept or made, so an appraisal made again equals one made from nothing.

use core::cell::LazyCell;
use core::ops::Deref;
use std::sync::Arc;

use crate::condition::{self, Condition};
use crate::figure::Figure;
use crate::reason::exact::{Inference, Posterior};
use crate::reason::need::{Needs, needs};
use crate::reason::network::Evidence;
use crate::reason::why::why;
use crate::sheet::TypeSheet;
use crate::worksheet::check;
use crate::worksheet::{Entry, Settings, Worksheet};

use super::evidence::{self, Measured, Told};
use super::looking::looking;
use super::prepared::{Prepared, prepare};
use super::repairs::{self, Reckoned};
use super::{Appraisal, Cause, buying, comparison, driving, valuation};

/// Signs named as reasons for a cause, at most.
const MOST_REASONS: usize = 4;

/// An appraisal together with what it was made from.
///
/// ```
/// use std::sync::Arc;
/// use kerbworth_core::appraise::{again::Appraised, appraise};
/// use kerbworth_core::sheet::{demo, extend::extend, general::general};
///
/// let sheet = Arc::new(extend(&general()?, &demo::curlew()?));
/// let mut worksheet = demo::worksheet()?;
/// let before = Appraised::new(Arc::clone(&sheet), &worksheet);
/// worksheet.car.note = "A word more".into();
/// let after = before.again(&worksheet);
/// assert!(Arc::ptr_eq(after.appraisal(), before.appraisal()));
/// worksheet.sales.pop();
/// assert_eq!(**before.again(&worksheet).appraisal(), appraise(&worksheet, &sheet));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Appraised {
    sheet: Arc<TypeSheet>,
    steps: Steps,
}

impl Appraised {
    /// Appraises a car from nothing; `sheet` as for [`super::appraise`].
    #[must_use]
    pub fn new(sheet: Arc<TypeSheet>, worksheet: &Worksheet) -> Self {
        let steps = steps(&sheet, worksheet, None);
        Self { sheet, steps }
    }

    /// Appraises what the worksheet has become, or another one, by the same sheet.
    #[must_use]
    pub fn again(&self, worksheet: &Worksheet) -> Self {
        Self { sheet: Arc::clone(&self.sheet), steps: steps(&self.sheet, worksheet, Some(&self.steps)) }
    }

    /// The sheet that it is made by.
    #[must_use]
    pub fn sheet(&self) -> &Arc<TypeSheet> {
        &self.sheet
    }

    /// What can be said about the car. The very same as before if nothing that counts has changed.
    #[must_use]
    pub fn appraisal(&self) -> &Arc<Appraisal> {
        &self.steps.appraisal
    }
}

impl Deref for Appraised {
    type Target = Appraisal;

    fn deref(&self) -> &Appraisal {
        &self.steps.appraisal
    }
}

/// Equal if it is the very same appraisal by the same sheet: nothing that counts has changed from one to the other.
impl PartialEq for Appraised {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.sheet, &other.sheet) && Arc::ptr_eq(self.appraisal(), other.appraisal())
    }
}

/// From nothing, with nothing kept.
pub(super) fn appraise(sheet: &TypeSheet, worksheet: &Worksheet) -> Appraisal {
    Arc::unwrap_or_clone(steps(sheet, worksheet, None).appraisal)
}

/// What the steps gave, and the worksheet that they were made from (its words may be older).
#[derive(Debug, Clone)]
struct Steps {
    worksheet: Arc<Worksheet>,
    prepared: Arc<Prepared>,
    told: Arc<Told>,
    reasoned: Arc<Reasoned>,
    reckoned: Arc<Reckoned>,
    appraisal: Arc<Appraisal>,
}

/// What the evidence says of the causes, and how likely each item of work is needed.
#[derive(Debug)]
struct Reasoned {
    evidence: Arc<Evidence>,
    groups: Vec<Vec<usize>>,
    posterior: Posterior,
    needed: Needs,
    causes: Arc<Vec<Cause>>,
    not_reasoned: Vec<String>,
}

/// Which parts of the worksheet count for the reckoning as they did before.
#[derive(Debug, Clone, Copy, Default)]
struct Same {
    findings: bool,
    rulings: bool,
    /// What is measured, and what it is judged by.
    readings: bool,
    lamps: bool,
    /// Which work, and what it costs.
    work: bool,
    /// The sales, and what they are compared by.
    sales: bool,
    minutes: bool,
}

impl Same {
    fn between(before: &Worksheet, now: &Worksheet) -> Self {
        let findings = before.findings.len() == now.findings.len()
            && before.findings.iter().zip(&now.findings).all(|((a, one), (b, other))| a == b && one.counts_as(other));
        let sales = before.sales.len() == now.sales.len()
            && before.sales.iter().zip(&now.sales).all(|(one, other)| one.counts_as(other));
        let readings = before.readings.len() == now.readings.len()
            && before
                .readings
                .iter()
                .zip(&now.readings)
                .all(|((a, one), (b, other))| a == b && one.given == other.given);
        let same_date = before.visit.date == now.visit.date;
        Self {
            findings,
            rulings: before.rulings == now.rulings,
            readings: readings && same_date && before.car.year == now.car.year,
            lamps: before.lamps == now.lamps,
            work: before.jobs == now.jobs && prices(&before.settings) == prices(&now.settings),
            sales: sales
                && same_date
                && before.car.mileage == now.car.mileage
                && market(&before.settings) == market(&now.settings),
            minutes: before.visit.minutes == now.visit.minutes,
        }
    }

    /// Whether all that steps are kept for is the same.
    fn all(self) -> bool {
        let Self { findings, rulings, readings, lamps, work, sales, minutes } = self;
        findings && rulings && readings && lamps && work && sales && minutes
    }
}

/// The settings that the cost of work depends on.
fn prices(settings: &Settings) -> impl PartialEq {
    let exchange: Vec<_> = settings.exchange.iter().map(|(currency, rate)| (*currency, rate.value())).collect();
    (settings.currency, settings.labour_rate.value(), exchange)
}

/// The settings that the comparison depends on: all but the price of an hour and the margin.
fn market(settings: &Settings) -> impl PartialEq {
    Settings { labour_rate: Entry::Empty, margin: Entry::Empty, ..settings.clone() }
}

/// What was made before if it still holds, else what is made now.
fn kept<T>(before: Option<&Arc<T>>, holds: bool, make: impl FnOnce() -> T) -> Arc<T> {
    match before {
        Some(before) if holds => Arc::clone(before),
        _ => Arc::new(make()),
    }
}

/// Makes the steps, keeping those of before that still hold.
fn steps(sheet: &TypeSheet, worksheet: &Worksheet, before: Option<&Steps>) -> Steps {
    let same = before.map_or_else(Same::default, |before| Same::between(&before.worksheet, worksheet));
    let was = before.map(|before| &before.appraisal);

    let tags = condition::tags(sheet, worksheet);
    let same_tags = before.is_some_and(|before| before.prepared.tags == tags);
    let prepared = kept(before.map(|before| &before.prepared), same_tags, || prepare(sheet, tags));
    let Prepared { tags, network, .. } = &*prepared;
    let same_measured = same_tags && same.readings && same.lamps;
    let was_measured = before.map(|before| &before.told.measured);
    let measured = kept(was_measured, same_measured, || Measured::of(sheet, worksheet, tags));
    let curable = LazyCell::new(|| prepared.curable(sheet, worksheet).raised(measured.raised()));

    // A finding counts through one door or the other by what was raised, too.
    let same_condition = same_measured && same.findings && same.rulings;
    let condition =
        kept(was.map(|was| &was.condition), same_condition, || condition::condition(sheet, worksheet, tags, &curable));
    let told = kept(before.map(|before| &before.told), same_condition, || {
        evidence::told(sheet, worksheet, Arc::clone(&measured), &curable)
    });

    let evidence = kept(before.map(|before| &before.reasoned.evidence), same_condition, || told.evidence(network));
    let inference = LazyCell::new(|| Inference::new(&network.network, &evidence));
    let (reasoned, reckoned) = match before {
        Some(before) if same_condition && same.work => (Arc::clone(&before.reasoned), Arc::clone(&before.reckoned)),
        _ => {
            let (entered, groups, unpriced) = repairs::enter(sheet, worksheet, &prepared);
            let reasoned = before.map(|before| &before.reasoned);
            let same_reasoned =
                same_tags && reasoned.is_some_and(|was| was.evidence == evidence && was.groups == groups);
            let reasoned = kept(reasoned, same_reasoned, || reason(sheet, &prepared, &evidence, &inference, groups));
            let Reasoned { groups, needed, posterior, .. } = &*reasoned;
            let reckoned = repairs::weigh(sheet, &prepared, (entered, unpriced), groups, needed, posterior);
            (reasoned, Arc::new(reckoned))
        }
    };
    let same_reckoned = before.is_some_and(|before| Arc::ptr_eq(&before.reckoned, &reckoned));
    let same_looking = same_reckoned && same.findings && same.minutes;
    let looking = kept(was.map(|was| &was.looking), same_looking, || {
        looking(sheet, worksheet, network, &evidence, &inference, &reckoned)
    });

    let same_compared = same.sales && was.is_some_and(|was| compared_by(&was.condition) == compared_by(&condition));
    let (comparison, sales_left_out) = match was {
        Some(was) if same_compared => (was.comparison.clone(), was.sales_left_out.clone()),
        _ => match comparison::compare(worksheet, &condition) {
            Ok(comparison) => {
                let left_out = comparison.left_out.clone();
                (Ok(Arc::new(comparison)), left_out)
            }
            Err((why, left_out)) => (Err(why), left_out),
        },
    };
    let worth = match was {
        Some(was) if same_compared && same_reckoned => was.worth.clone(),
        _ => comparison.as_ref().ok().and_then(|compared| valuation::value(compared, &reckoned)).map(Arc::new),
    };
    let top_bid = worth.as_ref().map(|worth| buying::top_bid(&worksheet.settings, &worth.stands));

    let holds = driving::holds(sheet, worksheet, tags, &told.signs, network, &reasoned.posterior);
    let combinations = driving::bad_combinations(sheet, worksheet);
    let appraisal = Appraisal {
        problems: check::check(worksheet, sheet),
        tags: tags.clone(),
        condition,
        signs: Arc::clone(&told.signs),
        readings: Arc::clone(&measured.readings),
        lamps: measured.lamps.clone(),
        combinations: combinations.into_iter().map(|combination| combination.id.clone()).collect(),
        causes: Arc::clone(&reasoned.causes),
        not_reasoned: reasoned.not_reasoned.clone(),
        repairs: Arc::clone(&reckoned.repairs),
        comparison,
        sales_left_out,
        worth,
        top_bid,
        gate: driving::gate(sheet, worksheet, tags, &holds),
        holds,
        looking,
    };
    // Told apart by what the parts share, not by what is in them: a part that was made again counts as another.
    let unchanged = was.filter(|was| was.shares(&appraisal));
    Steps {
        appraisal: unchanged.map_or_else(|| Arc::new(appraisal), Arc::clone),
        worksheet: kept(before.map(|before| &before.worksheet), same.all(), || worksheet.clone()),
        prepared,
        told,
        reasoned,
        reckoned,
    }
}

impl Appraisal {
    /// Whether another shares all its larger parts and equals it in the smaller ones.
    fn shares(&self, other: &Self) -> bool {
        let same_worth = match (&self.worth, &other.worth) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (one, other) => one.is_none() && other.is_none(),
        };
        let same_comparison = match (&self.comparison, &other.comparison) {
            (Ok(one), Ok(other)) => Arc::ptr_eq(one, other),
            (one, other) => one.as_ref().err() == other.as_ref().err(),
        };
        same_worth
            && same_comparison
            && Arc::ptr_eq(&self.condition, &other.condition)
            && Arc::ptr_eq(&self.signs, &other.signs)
            && Arc::ptr_eq(&self.readings, &other.readings)
            && Arc::ptr_eq(&self.causes, &other.causes)
            && Arc::ptr_eq(&self.repairs, &other.repairs)
            && Arc::ptr_eq(&self.looking, &other.looking)
            && self.problems == other.problems
            && self.tags == other.tags
            && self.lamps == other.lamps
            && self.combinations == other.combinations
            && self.not_reasoned == other.not_reasoned
            && self.sales_left_out == other.sales_left_out
            && self.top_bid == other.top_bid
            && self.holds == other.holds
            && self.gate == other.gate
    }
}

/// What the comparison takes from the condition.
fn compared_by(condition: &Condition) -> (Option<f64>, Option<f64>, f64, &Figure) {
    (condition.base, condition.overall.value, condition.overall.cover, &condition.base_working)
}

fn reason(
    sheet: &TypeSheet,
    prepared: &Prepared,
    evidence: &Arc<Evidence>,
    inference: &Inference<'_>,
    groups: Vec<Vec<usize>>,
) -> Reasoned {
    let network = &prepared.network;
    let reasons = why(inference, MOST_REASONS);
    let sign_id = |sign: usize| {
        let (check, place) = network.signs.get(sign)?;
        Some(sheet.checks.get(*check)?.signs.get(*place)?.id.clone())
    };
    let cause = |(number, place): (usize, &usize)| {
        let raised = reasons.get(number).map_or(&[][..], Vec::as_slice);
        Some(Cause {
            fault: sheet.faults.get(*place)?.id.clone(),
            probability: inference.posterior().probability(number),
            prior: network.network.priors().get(number).copied()?,
            because: raised.iter().filter_map(|raised| sign_id(raised.sign)).collect(),
        })
    };
    let posterior = inference.posterior().clone();
    Reasoned {
        evidence: Arc::clone(evidence),
        needed: needs(inference, &groups),
        groups,
        causes: Arc::new(network.faults.iter().enumerate().filter_map(cause).collect()),
        not_reasoned: network.left_out(sheet, &posterior),
        posterior,
    }
}
