//! Splitting a network by its evidence into components that can be reasoned about one by one.
//!
//! What is known simplifies the network first: a fixed fault (confirmed or ruled out) becomes part of its
//! signs' leaks; an absent sign multiplies into the odds of each of its faults; a sign not looked for drops
//! out; a seen sign with one free fault is that fault's own affair. What is left to hold faults together are
//! the seen signs with two free faults or more.

use super::network::{Evidence, Network, either};

/// Relative weights of a fault's absence and presence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Weight {
    pub absent: f64,
    pub present: f64,
}

impl Weight {
    /// Share of the fault's presence when so much of it is kept.
    pub fn share(self, kept: f64) -> f64 {
        let present = self.present * kept;
        let both = self.absent + present;
        if both > 0.0 { present / both } else { 0.0 }
    }

    /// The same with the fault not there.
    pub fn only_absent(self) -> Self {
        Self { present: 0.0, ..self }
    }

    /// The same with the fault there.
    pub fn only_present(self) -> Self {
        Self { absent: 0.0, ..self }
    }

    /// Scales both so that they sum to 1; gives the logarithm of what was divided out.
    fn normalise(&mut self) -> f64 {
        let both = self.absent + self.present;
        self.absent /= both;
        self.present /= both;
        libm::log(both)
    }
}

/// Below this a product of weights is brought back to 1 before it can underflow.
const FAINT: f64 = 1e-200;

/// A seen sign with its free faults.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SeenSign {
    /// Its index in the network.
    pub sign: usize,
    /// Probability of seeing it with none of the free faults there: the leak and the confirmed faults.
    pub none: f64,
    /// Free faults with their strengths.
    pub parents: Vec<(usize, f64)>,
}

/// What is left of the network once the simple evidence is taken in.
#[derive(Debug, Clone)]
pub(super) struct Reduced {
    /// For each fault its weights, summing to 1; `None` if it is fixed.
    pub weights: Vec<Option<Weight>>,
    /// The seen signs with at least two free faults.
    pub seen: Vec<SeenSign>,
    /// Logarithm of the probability of the evidence taken in so far.
    pub log_evidence: f64,
}

/// A sign with what the fixed faults make of it: its free faults, and how often it is seen without them.
pub(super) fn with_free_faults(network: &Network, evidence: &Evidence, sign: usize) -> SeenSign {
    let mut seen = SeenSign { sign, none: 0.0, parents: Vec::new() };
    let Some(node) = network.signs().get(sign) else { return seen };
    seen.none = node.leak;
    for &(fault, strength) in &node.parents {
        match evidence.fault(fault) {
            Some(true) => seen.none = either(seen.none, strength),
            Some(false) => {}
            None => seen.parents.push((fault, strength)),
        }
    }
    seen
}

/// Takes in all the evidence except the seen signs that hold faults together.
pub(super) fn reduce(network: &Network, evidence: &Evidence) -> Reduced {
    let mut log_evidence = 0.0;
    let mut weights: Vec<Option<Weight>> = Vec::with_capacity(network.priors().len());
    for (fault, &prior) in network.priors().iter().enumerate() {
        weights.push(match evidence.fault(fault) {
            None => Some(Weight { absent: 1.0 - prior, present: prior }),
            Some(there) => {
                log_evidence += libm::log(if there { prior } else { 1.0 - prior });
                None
            }
        });
    }
    let mut seen = Vec::new();
    let mut times = |weights: &mut Vec<Option<Weight>>, fault: usize, absent: f64, present: f64| {
        if let Some(Some(weight)) = weights.get_mut(fault) {
            weight.absent *= absent;
            weight.present *= present;
            if weight.absent + weight.present < FAINT {
                log_evidence += weight.normalise();
            }
        }
    };
    let mut log_signs = 0.0;
    for sign in 0..network.signs().len() {
        let Some(is_seen) = evidence.sign(sign) else { continue };
        let SeenSign { none, parents: free, .. } = with_free_faults(network, evidence, sign);
        if is_seen {
            match *free.as_slice() {
                [] => log_signs += libm::log(none),
                [(fault, strength)] => times(&mut weights, fault, none, either(none, strength)),
                _ => seen.push(SeenSign { sign, none, parents: free }),
            }
        } else {
            log_signs += libm::log1p(-none);
            for (fault, strength) in free {
                times(&mut weights, fault, 1.0, 1.0 - strength);
            }
        }
    }
    log_evidence += log_signs + weights.iter_mut().flatten().map(Weight::normalise).sum::<f64>();
    Reduced { weights, seen, log_evidence }
}

/// Faults held together by seen signs. Within it, faults are numbered by their place in `faults`.
#[derive(Debug, Clone)]
pub(super) struct Part {
    /// Indices in the network, rising.
    pub faults: Vec<usize>,
    /// One for each fault.
    pub weights: Vec<Weight>,
    /// With parents by their place in `faults`.
    pub signs: Vec<SeenSign>,
}

/// Splits the faults of the given seen signs into parts, in the order of their first faults. Faults with no
/// such sign are in none: they are independent of all others.
pub(super) fn split(weights: &[Option<Weight>], seen: &[SeenSign]) -> Vec<Part> {
    let mut root: Vec<usize> = (0..weights.len()).collect();
    let mut held = vec![false; weights.len()];
    for sign in seen {
        let mut first = None;
        for &(fault, _) in &sign.parents {
            if let Some(held) = held.get_mut(fault) {
                *held = true;
            }
            let other = find(&mut root, fault);
            let lead = *first.get_or_insert(other);
            // The lower index leads, so that the parts come in the order of their first faults.
            let (low, high) = (lead.min(other), lead.max(other));
            if let Some(slot) = root.get_mut(high) {
                *slot = low;
            }
            first = Some(low);
        }
    }
    let mut part_of: Vec<Option<(usize, usize)>> = vec![None; weights.len()];
    let mut parts: Vec<Part> = Vec::new();
    for (fault, weight) in weights.iter().enumerate() {
        let (true, Some(weight)) = (held.get(fault).copied().unwrap_or(false), weight) else { continue };
        let lead = find(&mut root, fault);
        let number = match part_of.get(lead).copied().flatten() {
            Some((number, _)) => number,
            None => {
                parts.push(Part { faults: Vec::new(), weights: Vec::new(), signs: Vec::new() });
                parts.len() - 1
            }
        };
        if let (Some(part), Some(slot)) = (parts.get_mut(number), part_of.get_mut(fault)) {
            *slot = Some((number, part.faults.len()));
            part.faults.push(fault);
            part.weights.push(*weight);
        }
    }
    for sign in seen {
        let mut parents = Vec::with_capacity(sign.parents.len());
        let mut number = None;
        for &(fault, strength) in &sign.parents {
            if let Some((part, place)) = part_of.get(fault).copied().flatten() {
                number = Some(part);
                parents.push((place, strength));
            }
        }
        if let Some(part) = number.and_then(|number| parts.get_mut(number)) {
            part.signs.push(SeenSign { sign: sign.sign, none: sign.none, parents });
        }
    }
    parts
}

fn find(root: &mut [usize], fault: usize) -> usize {
    let mut at = fault;
    while let Some(&up) = root.get(at)
        && up != at
    {
        let further = root.get(up).copied().unwrap_or(up);
        if let Some(slot) = root.get_mut(at) {
            *slot = further;
        }
        at = further;
    }
    at
}

impl Part {
    /// The signs with their parents as faults of the network, to split again.
    pub fn signs_in_network(&self) -> Vec<SeenSign> {
        self.signs
            .iter()
            .map(|sign| {
                let parents = sign.parents.iter();
                let parents =
                    parents.filter_map(|&(place, strength)| Some((*self.faults.get(place)?, strength))).collect();
                SeenSign { sign: sign.sign, none: sign.none, parents }
            })
            .collect()
    }

    /// By how much at most a sign alone multiplies the odds of one of its faults: how much it tells.
    pub fn tells(&self, sign: &SeenSign) -> f64 {
        let probability = |place: usize| self.weights.get(place).map_or(0.0, |weight| weight.present);
        let absent = |&(place, strength): &(usize, f64)| 1.0 - probability(place) * strength;
        let none_absent = sign.parents.iter().map(absent).fold(1.0 - sign.none, |product, factor| product * factor);
        sign.parents
            .iter()
            .map(|parent| {
                // The sign's absence with this fault not there; there, it is (1 − strength) of that.
                let without = none_absent / absent(parent);
                (1.0 - without * (1.0 - parent.1)) / (1.0 - without)
            })
            .fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::super::network::SignNode;
    use super::*;

    fn network(faults: usize, signs: &[&[usize]]) -> Network {
        let signs = signs
            .iter()
            .map(|parents| SignNode { leak: 0.01, parents: parents.iter().map(|&fault| (fault, 0.5)).collect() });
        Network::new(vec![0.1; faults], signs.collect())
    }

    #[track_caller]
    fn splits(network: &Network, evidence: &Evidence, want: &[&[usize]]) {
        let reduced = reduce(network, evidence);
        let parts = split(&reduced.weights, &reduced.seen);
        let faults: Vec<&[usize]> = parts.iter().map(|part| part.faults.as_slice()).collect();
        assert_eq!(faults, want);
    }

    #[test]
    fn only_seen_signs_between_free_faults_hold_them_together() {
        let network = network(6, &[&[4, 1], &[0, 3], &[3, 5], &[2], &[1, 0]]);
        let mut evidence = Evidence::none(&network);
        splits(&network, &evidence, &[]);
        evidence.signs = vec![Some(true), Some(true), Some(true), Some(true), None];
        splits(&network, &evidence, &[&[0, 3, 5], &[1, 4]]);
        evidence.signs[4] = Some(false);
        splits(&network, &evidence, &[&[0, 3, 5], &[1, 4]]);
        evidence.signs[4] = Some(true);
        splits(&network, &evidence, &[&[0, 1, 3, 4, 5]]);
        evidence.faults[3] = Some(true);
        splits(&network, &evidence, &[&[0, 1, 4]]);
    }

    #[test]
    fn a_sign_with_a_high_leak_tells_little() {
        let sign = |none| SeenSign { sign: 0, none, parents: vec![(0, 0.8), (1, 0.4)] };
        let weight = Weight { absent: 0.9, present: 0.1 };
        let part = Part { faults: vec![0, 1], weights: vec![weight; 2], signs: Vec::new() };
        assert!(part.tells(&sign(0.001)) > part.tells(&sign(0.05)));
        // One fault in ten shows it, the other never: odds times (leak or strength) / leak.
        let alone = SeenSign { sign: 0, none: 0.05, parents: vec![(0, 0.8)] };
        assert!((part.tells(&alone) - 0.81 / 0.05).abs() < 1e-12);
    }
}
