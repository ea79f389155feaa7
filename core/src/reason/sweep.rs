//! What one pass over a component gives, whichever way it is made.

use super::component::{Part, Weight};
use super::eliminate::Elimination;
use super::joint::Pairs;
use super::order;
use super::quickscore::Quickscore;

/// Probabilities relative to the component's own evidence: at its base weights `total` is 1.
#[derive(Debug, Clone)]
pub(super) struct Sweep {
    /// Of what the weights say.
    pub total: f64,
    /// Of that together with each fault being there.
    pub present: Vec<f64>,
}

impl Sweep {
    /// Together with one fault being there.
    pub fn with(&self, fault: usize) -> f64 {
        self.present.get(fault).copied().unwrap_or(0.0)
    }
}

/// No table spans more faults than this: 65 536 entries.
pub(super) const MOST_FAULTS: usize = 16;

/// Most table entries (or products) over all the sweeps that a component's pairs need: about ten milliseconds.
pub(super) const MOST_WORK: usize = 1 << 21;

/// What a bucket costs beside its entries, in entries; an entry costs about as much as a product of Quickscore
/// (measured: 230 ns, 5 ns and 4 ns). So Quickscore is less work up to about five seen signs.
const BUCKET: usize = 40;

/// The way in which a component is worked.
#[derive(Debug, Clone)]
pub(super) enum Engine {
    Quickscore(Quickscore),
    Elimination(Elimination),
}

impl Engine {
    /// Takes whichever way is less work, Quickscore only where it keeps its digits.
    ///
    /// # Errors
    /// If both are too much: the faults that crowd together most.
    pub fn new(part: &Part) -> Result<Self, Vec<usize>> {
        let faults = part.faults.len();
        let scopes: Vec<Vec<usize>> =
            part.signs.iter().map(|sign| sign.parents.iter().map(|&(fault, _)| fault).collect()).collect();
        let quick = Quickscore::work(part);
        let quick_fits = quick.saturating_mul(faults) <= MOST_WORK;
        let buckets = faults.saturating_mul(BUCKET);
        // Finding the order costs something too: where Quickscore is surely less work it is not asked for.
        if quick_fits
            && quick <= buckets
            && let Some(quickscore) = Quickscore::new(part)
        {
            return Ok(Self::Quickscore(quickscore));
        }
        let order = order::greedy(faults, &scopes, MOST_FAULTS);
        let eliminate = order.as_ref().map_or(usize::MAX, |order| order.entries.saturating_add(buckets));
        if quick_fits
            && buckets < quick
            && quick <= eliminate
            && let Some(quickscore) = Quickscore::new(part)
        {
            return Ok(Self::Quickscore(quickscore));
        }
        let order = order?;
        if order.entries.saturating_mul(faults) > MOST_WORK {
            return Err(order.largest());
        }
        Ok(Self::Elimination(Elimination::new(part, &order)))
    }

    /// Logarithm of the probability of the component's evidence.
    pub fn log_evidence(&self) -> f64 {
        match self {
            Self::Quickscore(quickscore) => quickscore.log_scale(),
            Self::Elimination(elimination) => elimination.log_scale(),
        }
    }

    /// The probability of what these weights say.
    pub fn total(&self, weights: &[Weight]) -> f64 {
        match self {
            Self::Quickscore(quickscore) => quickscore.total(weights),
            Self::Elimination(elimination) => elimination.total(weights),
        }
    }

    /// The same, and together with each fault being there.
    pub fn sweep(&self, weights: &[Weight]) -> Sweep {
        match self {
            Self::Quickscore(quickscore) => quickscore.sweep(weights),
            Self::Elimination(elimination) => elimination.sweep(weights),
        }
    }

    /// The probability that both are there, for every pair of faults.
    pub fn pairs(&self, weights: &[Weight]) -> Pairs {
        match self {
            Self::Quickscore(quickscore) => quickscore.pairs(weights),
            Self::Elimination(elimination) => elimination.pairs(weights),
        }
    }
}
