//! From causes to jobs, from jobs to money: what it costs to put right, and what the market deducts.
//!
//! A job is needed if any fault that it cures is there; the strip-down that several jobs share is an item of its
//! own, needed if any of them is, so that its hours count once. Probabilities that two items are needed together
//! are exact, from the network.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Serialize;

use crate::figure::{Amount, Figure};
use crate::ordered;
use crate::reason::exact::{Inference, Posterior};
use crate::reason::need::{Needs, needs};
use crate::reason::network_of::SheetNetwork;
use crate::repair::deduction::{Deduction, Item, JobGroup, Together, deduction_together};
use crate::repair::three_point::ThreePoint;
use crate::sheet::{MarketShare, Spread, TypeSheet};
use crate::statistics::normal;
use crate::units::Money;
use crate::worksheet::{JobChoice, Worksheet};

use super::prepared::Prepared;

/// Cover of the spread that is shown for a cost.
const COVER: f64 = 0.8;

/// A probability this much above what the type has anyway counts as raised by what was seen.
const RAISED: f64 = 1e-6;

/// What an item of work is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Work {
    /// A job, by its id.
    Job(String),
    /// A strip-down that jobs share, by its id.
    Access(String),
}

/// One item of work with its likelihood and cost.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Repair {
    /// Which.
    pub work: Work,
    /// Its name.
    pub name: String,
    /// Probability that it is needed.
    pub probability: f64,
    /// The probability that any car of the type needs it.
    pub usual: f64,
    /// Whether what was seen raised it above the usual.
    pub raised: bool,
    /// Lowest cost.
    pub low: Money,
    /// Likely cost.
    pub likely: Money,
    /// Highest cost.
    pub high: Money,
    /// Mean cost if needed.
    pub mean: Money,
    /// Share of it that the market takes off.
    pub share: f64,
    /// Whether the person chose to have it done.
    pub chosen: bool,
    /// What it takes off the worth here.
    pub deduction: Money,
    /// Names of the faults that call for it, likeliest first.
    pub because: Vec<String>,
}

/// A sum of money with its spread.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Estimate {
    /// Low end of the 80 % range.
    pub low: Money,
    /// Mean.
    pub middle: Money,
    /// High end.
    pub high: Money,
}

impl Estimate {
    /// From mean and variance, no end below nothing.
    fn of(mean: f64, variance: f64) -> Self {
        let reach = normal::deviations_holding(COVER) * libm::sqrt(variance.max(0.0));
        Self {
            low: Money::nearest((mean - reach).max(0.0)),
            middle: Money::nearest(mean),
            high: Money::nearest(mean + reach),
        }
    }
}

/// Costs and deductions of a car.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Repairs {
    /// Every item that may be needed, dearest expected first.
    pub items: Vec<Repair>,
    /// What it costs to put right what was found or is suspected from what was seen.
    pub found: Estimate,
    /// What the ordinary risk of what was not seen may cost beside.
    pub unseen: Estimate,
    /// Whether jobs are missing for want of a rate of exchange for the type sheet's costs.
    pub unpriced: bool,
    /// How `found` came about.
    pub working: Figure,
}

/// Costs with what the valuation needs of them.
#[derive(Debug, Clone)]
pub struct Reckoned {
    /// For the screens.
    pub repairs: Arc<Repairs>,
    /// For the valuation: items in the order of the sheet, job by job, then access by access.
    pub items: Vec<Item>,
    /// Pairs of them that are not independent.
    pub together: Together,
    /// For each item the faults of the network that call for it.
    pub groups: Vec<Vec<usize>>,
    /// Whether the person chose to have the item done.
    pub chosen: Vec<bool>,
}

impl Reckoned {
    /// The deduction for all items; nothing if there are some without a price.
    #[must_use]
    pub fn deduction(&self) -> Option<Deduction> {
        if self.repairs.unpriced {
            return None;
        }
        deduction_together(&self.items, &self.together).ok()
    }

    /// The deduction once the chosen work is done: those items are then known not to be needed, and like any item that
    /// was looked at and found right they leave the car a little above the ordinary risk.
    #[must_use]
    pub fn deduction_when_done(&self) -> Option<Deduction> {
        let done = |(item, chosen): (&Item, &bool)| Item {
            probability: if *chosen { 0.0 } else { item.probability },
            ..*item
        };
        let items: Vec<Item> = self.items.iter().zip(&self.chosen).map(done).collect();
        deduction_together(&items, &self.together).ok()
    }

    /// Expected cost of the chosen work: each item's mean cost at the probability that it is needed.
    #[must_use]
    pub fn chosen_cost(&self) -> f64 {
        let chosen = self.items.iter().zip(&self.chosen).filter(|(_, chosen)| **chosen);
        chosen.map(|(item, _)| item.probability * item.cost.mean()).sum()
    }
}

/// Minor units of the type sheet's currency, and the price of an hour, in the worksheet's.
struct Prices {
    exchange: f64,
    hour: f64,
}

impl Prices {
    /// Nothing without a rate of exchange.
    fn of(sheet: &TypeSheet, worksheet: &Worksheet) -> Option<Self> {
        let settings = &worksheet.settings;
        let exchange = settings.per_minor(sheet.currency)?;
        let hour = settings.labour_rate.value().map_or(sheet.labour_rate.minor() * exchange, Money::minor);
        Some(Self { exchange, hour })
    }

    fn cost(&self, hours: Spread<f64>, parts: Spread<Money>) -> Option<ThreePoint> {
        let at = |hours: f64, parts: Money| hours * self.hour + parts.minor() * self.exchange;
        ThreePoint::new(at(hours.0, parts.0), at(hours.1, parts.1), at(hours.2, parts.2)).ok()
    }
}

/// The person's own cost of a job, if all three figures are given in rising order.
fn own_cost(choice: Option<&JobChoice>) -> Option<ThreePoint> {
    let choice = choice?;
    let (low, likely, high) = (choice.low.value()?, choice.likely.value()?, choice.high.value()?);
    ThreePoint::new(low.minor(), likely.minor(), high.minor()).ok()
}

/// An item before the network is asked.
#[derive(Debug)]
pub struct Entered<'a> {
    work: Work,
    name: &'a str,
    cost: ThreePoint,
    share: f64,
    group: Option<JobGroup>,
    chosen: bool,
}

/// The jobs and strip-downs that the car's faults may call for: what each costs, and for each the faults of the
/// network that call for it. And whether some were left out because the type sheet's costs have no rate of exchange.
#[must_use]
pub fn enter<'a>(
    sheet: &'a TypeSheet,
    worksheet: &Worksheet,
    prepared: &Prepared,
) -> (Vec<Entered<'a>>, Vec<Vec<usize>>, bool) {
    /// What the jobs of a strip-down come to.
    struct Shared {
        faults: Vec<usize>,
        market: MarketShare,
        chosen: bool,
    }

    let prices = Prices::of(sheet, worksheet);
    let mut unpriced = false;
    let mut cost = |hours, parts| {
        unpriced |= prices.is_none();
        prices.as_ref()?.cost(hours, parts)
    };
    let none = Spread(Money::ZERO, Money::ZERO, Money::ZERO);
    let mut entered = Vec::with_capacity(sheet.jobs.len());
    let mut groups = Vec::with_capacity(sheet.jobs.len());
    let mut shared: BTreeMap<usize, Shared> = BTreeMap::new();
    let calls = prepared.faults_of_jobs.iter().zip(&prepared.access_of_jobs);
    for (job, (faults, access)) in sheet.jobs.iter().zip(calls) {
        let choice = worksheet.jobs.get(&job.id);
        if faults.is_empty() || choice.is_some_and(|choice| choice.leave_out) {
            continue;
        }
        let chosen = choice.is_some_and(|choice| choice.do_it);
        if let Some(access) = access {
            let all = Shared { faults: Vec::new(), market: job.market, chosen: false };
            let all = shared.entry(*access).or_insert(all);
            all.faults.extend(faults);
            all.market = all.market.min(job.market);
            all.chosen |= chosen;
        }
        let Some(cost) = own_cost(choice).or_else(|| cost(job.hours, job.parts)) else { continue };
        entered.push(Entered {
            work: Work::Job(job.id.clone()),
            name: &job.name,
            cost,
            share: job.market.share(),
            // Jobs of one strip-down run dear together.
            group: access.map(JobGroup),
            chosen,
        });
        groups.push(faults.clone());
    }
    for (place, Shared { mut faults, market, chosen }) in shared {
        let Some(access) = sheet.access.get(place) else { continue };
        faults.sort_unstable();
        faults.dedup();
        let Some(cost) = cost(access.hours, none) else { continue };
        entered.push(Entered {
            work: Work::Access(access.id.clone()),
            name: &access.name,
            cost,
            share: market.share(),
            group: Some(JobGroup(place)),
            chosen,
        });
        groups.push(faults);
    }
    (entered, groups, unpriced)
}

/// Costs and deductions from what is known.
#[must_use]
pub fn reckon(sheet: &TypeSheet, worksheet: &Worksheet, prepared: &Prepared, inference: &Inference<'_>) -> Reckoned {
    let (entered, groups, unpriced) = enter(sheet, worksheet, prepared);
    let needed = needs(inference, &groups);
    weigh(sheet, prepared, (entered, unpriced), &groups, &needed, inference.posterior())
}

/// Costs and deductions of what was entered, given how likely each item is needed.
#[must_use]
pub fn weigh(
    sheet: &TypeSheet,
    prepared: &Prepared,
    (entered, unpriced): (Vec<Entered<'_>>, bool),
    groups: &[Vec<usize>],
    needed: &Needs,
    posterior: &Posterior,
) -> Reckoned {
    let causes = Causes { sheet, network: &prepared.network, posterior };
    let items: Vec<Item> = entered
        .iter()
        .zip(groups)
        .zip(&needed.probability)
        .map(|((item, faults), probability)| Item {
            probability: *probability,
            base_rate: causes.usual(faults, false),
            share: item.share,
            cost: item.cost,
            group: item.group,
        })
        .collect();
    let apart = |one: usize, other: usize| {
        items.get(one).zip(items.get(other)).map_or(0.0, |(a, b)| a.probability * b.probability)
    };
    let told = |((one, other), both): &&((usize, usize), f64)| (both - apart(*one, *other)).abs() > 1e-12;
    let together = Together::of(needed.dependent.iter().filter(told).copied());
    let chosen = entered.iter().map(|item| item.chosen).collect();
    let repairs = Repairs { unpriced, ..shown(&causes, entered, groups, &items, &together) };
    Reckoned { repairs: Arc::new(repairs), items, together, groups: groups.to_vec(), chosen }
}

/// The faults that call for work.
struct Causes<'a> {
    sheet: &'a TypeSheet,
    network: &'a SheetNetwork,
    posterior: &'a Posterior,
}

impl Causes<'_> {
    /// Probability that any car of the type has one of the faults, those that anyone sees counted or not.
    fn usual(&self, faults: &[usize], count_visible: bool) -> f64 {
        let absent = faults.iter().map(|fault| {
            let entry = self.network.faults.get(*fault).and_then(|place| self.sheet.faults.get(*place));
            let counts = count_visible || entry.is_some_and(|fault| !fault.visible);
            if counts { 1.0 - self.network.network.priors().get(*fault).copied().unwrap_or(0.0) } else { 1.0 }
        });
        (1.0 - absent.product::<f64>()).clamp(0.0, 1.0)
    }

    /// Their names, likeliest first.
    fn names(&self, faults: &[usize]) -> Vec<String> {
        let mut likely: Vec<(f64, &str)> = faults
            .iter()
            .filter_map(|fault| {
                let entry = self.sheet.faults.get(*self.network.faults.get(*fault)?)?;
                Some((self.posterior.probability(*fault), entry.name.as_str()))
            })
            .collect();
        ordered::sort(&mut likely, |(a, _), (b, _)| b.total_cmp(a));
        likely.into_iter().map(|(_, name)| name.to_owned()).collect()
    }
}

fn shown(
    causes: &Causes<'_>,
    entered: Vec<Entered<'_>>,
    groups: &[Vec<usize>],
    items: &[Item],
    together: &Together,
) -> Repairs {
    let mut listed: Vec<Repair> = entered
        .into_iter()
        .zip(groups)
        .zip(items)
        .map(|((entered, faults), item)| {
            let usual = causes.usual(faults, true);
            Repair {
                work: entered.work,
                name: entered.name.to_owned(),
                probability: item.probability,
                usual,
                raised: item.probability > usual + RAISED,
                low: Money::nearest(item.cost.low()),
                likely: Money::nearest(item.cost.likely()),
                high: Money::nearest(item.cost.high()),
                mean: Money::nearest(item.cost.mean()),
                share: item.share,
                chosen: entered.chosen,
                deduction: Money::nearest(item.deduction()),
                because: causes.names(faults),
            }
        })
        .collect();
    let part = |raised: bool| {
        // As if the market took all of it and nothing were usual: the plain cost and its spread.
        let cost = |(item, repair): (&Item, &Repair)| Item {
            share: if repair.raised == raised { 1.0 } else { 0.0 },
            base_rate: 0.0,
            ..*item
        };
        let items: Vec<Item> = items.iter().zip(&listed).map(cost).collect();
        deduction_together(&items, together)
            .map_or_else(|_| Estimate::default(), |all| Estimate::of(all.mean, all.variance))
    };
    let (found, unseen) = (part(true), part(false));
    ordered::sort(&mut listed, |a, b| expected(b).total_cmp(&expected(a)));
    let lines = listed.iter().filter(|repair| repair.raised).map(line).collect();
    let working = Figure::new("Put-right cost", Amount::Money(found.middle))
        .noted("Probability of each job × its mean cost, for jobs that what was seen made likelier")
        .from_parts(lines);
    Repairs { items: listed, found, unseen, unpriced: false, working }
}

/// Expected cost, for ordering.
fn expected(repair: &Repair) -> f64 {
    repair.probability * repair.mean.minor()
}

/// A job as a line: probability × mean.
fn line(repair: &Repair) -> Figure {
    let parts = vec![
        Figure::new("Probability that it is needed", Amount::Share(repair.probability)),
        Figure::new("Cost, low", Amount::Money(repair.low)),
        Figure::new("Cost, likely", Amount::Money(repair.likely)),
        Figure::new("Cost, high", Amount::Money(repair.high)),
        Figure::new("Cost, mean: (low + 4 × likely + high) ÷ 6", Amount::Money(repair.mean)),
    ];
    Figure::new(repair.name.clone(), Amount::Money(Money::nearest(expected(repair)))).from_parts(parts)
}
