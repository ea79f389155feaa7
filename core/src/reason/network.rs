//! What the reasoning works on: faults with priors, signs with leaks and links, and what was seen.
//!
//! Everything is an index: fault `i` is the `i`th prior, sign `s` the `s`th node. `network_of` makes one from a
//! type sheet and keeps the names.

/// How near to 0 and 1 a probability may come. What is nearer is held here, so that nothing that a sheet says
/// can be certain: no finding is then impossible, and no division is by zero.
pub const NEAREST: f64 = 1e-12;

/// Holds a probability between [`NEAREST`] and 1 − [`NEAREST`]; what is not a number becomes the least.
#[must_use]
pub fn held(probability: f64) -> f64 {
    if probability.is_nan() { NEAREST } else { probability.clamp(NEAREST, 1.0 - NEAREST) }
}

/// The probability of one or the other of two independent events, without the rounding of 1 − (1 − a)(1 − b).
pub(super) fn either(a: f64, b: f64) -> f64 {
    a + b * (1.0 - a)
}

/// A sign and the faults that can show it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SignNode {
    /// Probability of noticing it with none of its faults there.
    pub leak: f64,
    /// Faults that can show it, each with the probability that it does.
    pub parents: Vec<(usize, f64)>,
}

/// Faults above, signs below, links between: a noisy-OR network of two layers.
///
/// The faults are independent of one another before anything is seen, and
/// P(sign | faults) = 1 − (1 − leak) · ∏ (1 − strength) over the faults that are there.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Network {
    priors: Vec<f64>,
    signs: Vec<SignNode>,
}

impl Network {
    /// Builds a network. It takes anything: probabilities are [`held`], links to faults that do not exist are
    /// dropped, and two links from one fault to one sign act as one that is as strong as both.
    ///
    /// ```
    /// use kerbworth_core::reason::network::{Network, SignNode};
    /// let network = Network::new(vec![0.1], vec![SignNode { leak: 0.01, parents: vec![(0, 0.8), (7, 0.5)] }]);
    /// assert_eq!(network.signs()[0].parents, [(0, 0.8)]);
    /// ```
    #[must_use]
    pub fn new(priors: Vec<f64>, signs: Vec<SignNode>) -> Self {
        let faults = priors.len();
        let priors = priors.into_iter().map(held).collect();
        let signs = signs
            .into_iter()
            .map(|sign| {
                let mut parents: Vec<(usize, f64)> = Vec::with_capacity(sign.parents.len());
                for (fault, strength) in sign.parents {
                    let strength = held(strength);
                    match parents.iter_mut().find(|(known, _)| *known == fault) {
                        Some((_, known)) => *known = held(either(*known, strength)),
                        None if fault < faults => parents.push((fault, strength)),
                        None => {}
                    }
                }
                SignNode { leak: held(sign.leak), parents }
            })
            .collect();
        Self { priors, signs }
    }

    /// The probability of each fault before anything is seen.
    #[must_use]
    pub fn priors(&self) -> &[f64] {
        &self.priors
    }

    /// The signs.
    #[must_use]
    pub fn signs(&self) -> &[SignNode] {
        &self.signs
    }
}

/// What is known of one car. Lists that are too short say nothing of the rest.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Evidence {
    /// For each sign: seen, looked for and absent, or not looked for.
    pub signs: Vec<Option<bool>>,
    /// For each fault: confirmed, ruled out, or neither.
    pub faults: Vec<Option<bool>>,
}

impl Evidence {
    /// Nothing looked at yet.
    #[must_use]
    pub fn none(network: &Network) -> Self {
        Self { signs: vec![None; network.signs.len()], faults: vec![None; network.priors.len()] }
    }

    /// Whether a sign was seen (`Some(true)`), was looked for and is absent, or was not looked for.
    #[must_use]
    pub fn sign(&self, sign: usize) -> Option<bool> {
        self.signs.get(sign).copied().flatten()
    }

    /// Whether a fault was confirmed (`Some(true)`), ruled out, or neither.
    #[must_use]
    pub fn fault(&self, fault: usize) -> Option<bool> {
        self.faults.get(fault).copied().flatten()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn anything_makes_a_network() {
        let odd = SignNode { leak: f64::NAN, parents: vec![(0, 2.0), (9, 0.5), (1, 0.5), (1, 0.5)] };
        let network = Network::new(vec![-1.0, 0.25], vec![odd]);
        assert_eq!(network.priors(), [NEAREST, 0.25]);
        assert_eq!(network.signs(), [SignNode { leak: NEAREST, parents: vec![(0, 1.0 - NEAREST), (1, 0.75)] }]);
    }

    #[test]
    fn short_lists_say_nothing_of_the_rest() {
        let evidence = Evidence { signs: vec![Some(true)], faults: Vec::new() };
        assert_eq!((evidence.sign(0), evidence.sign(1), evidence.fault(0)), (Some(true), None, None));
    }
}
