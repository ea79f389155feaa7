//! Exact posteriors: each component by the way that is less work, the rest fault by fault.

use super::component::{self, Part, SeenSign, Weight};
use super::joint::Pairs;
use super::network::{Evidence, Network};
use super::sweep::Engine;
use crate::ordered;

/// What the evidence says of the faults.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Posterior {
    /// The probability of each fault; 1 or 0 where it is confirmed or ruled out.
    pub marginal: Vec<f64>,
    /// Seen signs that were left out because too many hang together, rising; usually none. Everything here is
    /// exact for the evidence without them.
    pub left_out: Vec<usize>,
    /// Natural logarithm of the probability of the evidence (without what was left out).
    pub log_evidence: f64,
}

impl Posterior {
    /// The probability of a fault; 0 if there is no such fault.
    #[must_use]
    pub fn probability(&self, fault: usize) -> f64 {
        self.marginal.get(fault).copied().unwrap_or(0.0)
    }
}

/// Where a fault stands once the evidence is taken in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Place {
    /// Confirmed or ruled out.
    Fixed(bool),
    /// Independent of all others, with this probability.
    Alone(f64),
    /// In a component, at this place.
    In { part: usize, at: usize },
}

/// A component ready to answer, with its pairs.
#[derive(Debug, Clone)]
pub(super) struct Solved {
    pub part: Part,
    pub engine: Engine,
    pub pairs: Pairs,
}

/// The network with its evidence worked in: ask it for the posterior, and hand it to `needs`, `why` and
/// `next_looks`.
#[derive(Debug, Clone)]
pub struct Inference<'a> {
    pub(super) network: &'a Network,
    pub(super) evidence: &'a Evidence,
    pub(super) parts: Vec<Solved>,
    pub(super) places: Vec<Place>,
    posterior: Posterior,
}

impl<'a> Inference<'a> {
    /// Works the evidence in. The work is bounded (see the module's page): where too many seen signs hang
    /// together, those that tell least are left out and named in [`Posterior::left_out`].
    ///
    /// ```
    /// use kerbworth_core::reason::{exact::Inference, network::{Evidence, Network, SignNode}};
    /// let noise = SignNode { leak: 0.01, parents: vec![(0, 0.5), (1, 0.9)] };
    /// let network = Network::new(vec![0.20, 0.05], vec![noise]);
    /// let heard = Evidence { signs: vec![Some(true)], faults: vec![] };
    /// let posterior = Inference::new(&network, &heard).posterior().clone();
    /// assert!((posterior.probability(0) - 0.7073).abs() < 1e-4, "the common, quiet cause leads");
    /// assert!((posterior.probability(1) - 0.3055).abs() < 1e-4);
    /// ```
    #[must_use]
    pub fn new(network: &'a Network, evidence: &'a Evidence) -> Self {
        let reduced = component::reduce(network, evidence);
        let (worked, mut left_out) = work(&reduced.weights, &reduced.seen);
        left_out.sort_unstable();
        let mut places: Vec<Place> = reduced
            .weights
            .iter()
            .enumerate()
            .map(|(fault, weight)| match weight {
                Some(weight) => Place::Alone(weight.present),
                None => Place::Fixed(evidence.fault(fault) == Some(true)),
            })
            .collect();
        let mut marginal: Vec<f64> = places
            .iter()
            .map(|place| match *place {
                Place::Fixed(there) => f64::from(u8::from(there)),
                Place::Alone(probability) => probability,
                Place::In { .. } => 0.0,
            })
            .collect();
        let mut log_evidence = reduced.log_evidence;
        let mut parts = Vec::with_capacity(worked.len());
        for (number, (part, engine)) in worked.into_iter().enumerate() {
            log_evidence += engine.log_evidence();
            let pairs = engine.pairs(&part.weights);
            for (at, &fault) in part.faults.iter().enumerate() {
                if let Some(slot) = marginal.get_mut(fault) {
                    *slot = pairs.get(at, at).clamp(0.0, 1.0);
                }
                if let Some(slot) = places.get_mut(fault) {
                    *slot = Place::In { part: number, at };
                }
            }
            parts.push(Solved { part, engine, pairs });
        }
        let posterior = Posterior { marginal, left_out, log_evidence };
        Self { network, evidence, parts, places, posterior }
    }

    /// What the evidence says of the faults.
    #[must_use]
    pub fn posterior(&self) -> &Posterior {
        &self.posterior
    }
}

/// Splits, and builds an engine for every part; leaves signs out where one is too much. Gives the parts in the
/// order of their first faults, and the signs left out.
pub(super) fn work(weights: &[Option<Weight>], seen: &[SeenSign]) -> (Vec<(Part, Engine)>, Vec<usize>) {
    let mut left_out = Vec::new();
    let mut worked = Vec::new();
    let mut waiting = component::split(weights, seen);
    while let Some(part) = waiting.pop() {
        match Engine::new(&part) {
            Ok(engine) => worked.push((part, engine)),
            Err(crowd) => {
                // One at a time would be best; of very many, a share, or a hostile sheet would take for ever.
                let dropped = least_telling(&part, &crowd, 1 + part.signs.len() / 32);
                let kept: Vec<SeenSign> =
                    part.signs_in_network().into_iter().filter(|sign| !dropped.contains(&sign.sign)).collect();
                left_out.extend(dropped);
                waiting.extend(component::split(weights, &kept));
            }
        }
    }
    ordered::sort(&mut worked, |(a, _), (b, _)| a.faults.first().cmp(&b.faults.first()));
    (worked, left_out)
}

/// The signs to leave out of a part: of those that link two of the crowd (or of all, if none does) the ones
/// that could change the odds of any fault least; of equals the later.
fn least_telling(part: &Part, crowd: &[usize], count: usize) -> Vec<usize> {
    let links = |sign: &SeenSign| sign.parents.iter().filter(|(place, _)| crowd.contains(place)).count() >= 2;
    let mut ranked: Vec<(f64, usize)> =
        part.signs.iter().filter(|sign| links(sign)).map(|sign| (part.tells(sign), sign.sign)).collect();
    if ranked.is_empty() {
        ranked = part.signs.iter().map(|sign| (part.tells(sign), sign.sign)).collect();
    }
    ordered::sort(&mut ranked, |a, b| a.0.total_cmp(&b.0).then_with(|| b.1.cmp(&a.1)));
    ranked.into_iter().take(count).map(|(_, sign)| sign).collect()
}
