//! The independent twin for the tests: every combination of faults, by the definition alone.

use core::ops::RangeInclusive;

use proptest::prelude::*;

use super::network::{Evidence, Network, SignNode};

pub struct Brute {
    faults: usize,
    /// Probability of each combination together with the evidence.
    states: Vec<f64>,
}

impl Brute {
    pub fn new(network: &Network, evidence: &Evidence) -> Self {
        let faults = network.priors().len();
        let states = (0..1_usize << faults)
            .map(|state| {
                let there = |fault: usize| state >> fault & 1 == 1;
                let mut probability = 1.0;
                for (fault, prior) in network.priors().iter().enumerate() {
                    probability *= if there(fault) { *prior } else { 1.0 - prior };
                    if evidence.fault(fault).is_some_and(|known| known != there(fault)) {
                        probability = 0.0;
                    }
                }
                for (sign, node) in network.signs().iter().enumerate() {
                    let mut absent = 1.0 - node.leak;
                    for &(fault, strength) in &node.parents {
                        absent *= if there(fault) { 1.0 - strength } else { 1.0 };
                    }
                    probability *= match evidence.sign(sign) {
                        Some(true) => 1.0 - absent,
                        Some(false) => absent,
                        None => 1.0,
                    };
                }
                probability
            })
            .collect();
        Self { faults, states }
    }

    /// Probability of an event together with the evidence.
    fn sum(&self, event: impl Fn(usize) -> bool) -> f64 {
        self.states.iter().enumerate().filter(|(state, _)| event(*state)).map(|(_, probability)| probability).sum()
    }

    pub fn evidence(&self) -> f64 {
        self.sum(|_| true)
    }

    /// Probability of an event given the evidence.
    pub fn given(&self, event: impl Fn(usize) -> bool) -> f64 {
        self.sum(event) / self.evidence()
    }

    pub fn fault(&self, fault: usize) -> f64 {
        self.given(|state| state >> fault & 1 == 1)
    }

    pub fn both(&self, i: usize, j: usize) -> f64 {
        self.given(|state| state >> i & 1 == 1 && state >> j & 1 == 1)
    }

    pub fn faults(&self) -> usize {
        self.faults
    }

    /// Expectation of a figure that depends on the faults.
    pub fn mean(&self, figure: impl Fn(usize) -> f64) -> f64 {
        self.states.iter().enumerate().map(|(state, probability)| probability * figure(state)).sum::<f64>()
            / self.evidence()
    }
}

/// Random networks of up to so many faults and so many signs, with all kinds of evidence.
pub fn cases(most_faults: usize, signs: RangeInclusive<usize>) -> impl Strategy<Value = (Network, Evidence)> {
    let sizes = (1..=most_faults, signs);
    sizes.prop_flat_map(|(faults, signs)| {
        let node = (0.001_f64..0.3, prop::collection::vec((0..faults, 0.05_f64..0.98), 0..=5))
            .prop_map(|(leak, parents)| SignNode { leak, parents });
        // Seen twice as often as absent or not looked for: those are what makes it hard.
        let finding = prop_oneof![2 => Just(Some(true)), 1 => Just(Some(false)), 1 => Just(None)];
        let fixed = prop_oneof![8 => Just(None), 1 => Just(Some(true)), 1 => Just(Some(false))];
        (
            prop::collection::vec(0.005_f64..0.6, faults),
            prop::collection::vec(node, signs),
            prop::collection::vec(finding, signs),
            prop::collection::vec(fixed, faults),
        )
            .prop_map(|(priors, nodes, signs, faults)| (Network::new(priors, nodes), Evidence { signs, faults }))
    })
}

#[track_caller]
pub fn near(have: f64, want: f64, what: &str) {
    assert!((have - want).abs() <= 1e-9 * want.abs().max(1e-3), "{what}: have {have}, want {want}");
}
