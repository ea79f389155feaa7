//! Why a fault is suspected: which seen signs raised it, and by how much.
//!
//! A sign's contribution is the change of the fault's log-odds if that sign were taken as not looked for and
//! all else stayed. Contributions need not add up: two signs that each prove a fault contribute little singly.

use super::component::{SeenSign, Weight, with_free_faults};
use super::exact::{Inference, Place, work};
use super::network::{either, held};
use crate::ordered;

/// A contribution below this is rounding, not a reason.
const LEAST: f64 = 1e-6;

/// A seen sign that raised a fault.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Raised {
    /// The sign.
    pub sign: usize,
    /// By how much its log-odds rose (natural logarithm; 0.69 doubles them).
    pub log_odds: f64,
}

/// For each fault, at most `most` of the seen signs that raised it, the strongest first; of equals the earlier.
/// A fault that is confirmed or ruled out has none.
///
/// ```
/// use kerbworth_core::reason::{exact::Inference, network::{Evidence, Network, SignNode}, why::why};
/// let knock = SignNode { leak: 0.01, parents: vec![(0, 0.5)] };
/// let network = Network::new(vec![0.1], vec![knock]);
/// let heard = Evidence { signs: vec![Some(true)], faults: vec![] };
/// let reasons = why(&Inference::new(&network, &heard), 3);
/// // Odds times 0.505 / 0.01.
/// assert!((reasons[0][0].log_odds - f64::ln(50.5)).abs() < 1e-12);
/// ```
#[must_use]
pub fn why(inference: &Inference<'_>, most: usize) -> Vec<Vec<Raised>> {
    let mut reasons: Vec<Vec<Raised>> = vec![Vec::new(); inference.places.len()];
    let mut add = |fault: usize, sign: usize, without: f64| {
        let log_odds = log_odds(inference.posterior().probability(fault)) - log_odds(without);
        if log_odds > LEAST
            && let Some(list) = reasons.get_mut(fault)
        {
            list.push(Raised { sign, log_odds });
        }
    };
    for sign in 0..inference.network.signs().len() {
        if inference.evidence.sign(sign) != Some(true) || inference.posterior().left_out.contains(&sign) {
            continue;
        }
        let seen = with_free_faults(inference.network, inference.evidence, sign);
        match *seen.parents.as_slice() {
            [] => {}
            [(fault, strength)] => match inference.places.get(fault) {
                Some(&Place::Alone(probability)) => {
                    let weight = Weight { absent: 1.0 - probability, present: probability };
                    add(fault, sign, weight.share(seen.none / either(seen.none, strength)));
                }
                Some(&Place::In { part, at }) => {
                    let Some(solved) = inference.parts.get(part) else { continue };
                    let mut weights = solved.part.weights.clone();
                    if let Some(weight) = weights.get_mut(at) {
                        // Only the odds matter: taking presence down is the same as taking absence up.
                        weight.present *= seen.none / either(seen.none, strength);
                    }
                    let sweep = solved.engine.sweep(&weights);
                    for (&fault, present) in solved.part.faults.iter().zip(&sweep.present) {
                        add(fault, sign, present / sweep.total);
                    }
                }
                _ => {}
            },
            [(fault, _), ..] => {
                let Some(&Place::In { part, .. }) = inference.places.get(fault) else { continue };
                for (fault, without) in without_sign(inference, part, sign) {
                    add(fault, sign, without);
                }
            }
        }
    }
    for list in &mut reasons {
        ordered::sort(list, |a, b| b.log_odds.total_cmp(&a.log_odds).then_with(|| a.sign.cmp(&b.sign)));
        list.truncate(most);
    }
    reasons
}

/// The faults of a component with their probabilities without one of its signs.
fn without_sign(inference: &Inference<'_>, part: usize, sign: usize) -> Vec<(usize, f64)> {
    let Some(solved) = inference.parts.get(part) else { return Vec::new() };
    let weights: Vec<Option<Weight>> = solved.part.weights.iter().copied().map(Some).collect();
    let signs: Vec<SeenSign> = solved.part.signs.iter().filter(|other| other.sign != sign).cloned().collect();
    let (worked, left_out) = work(&weights, &signs);
    if !left_out.is_empty() {
        // Another order of elimination can be worse although a sign is gone. Then there is nothing exact to say.
        return Vec::new();
    }
    // Right for those that this sign alone held; the others follow.
    let mut without: Vec<f64> = solved.part.weights.iter().map(|weight| weight.present).collect();
    for (part, engine) in worked {
        let sweep = engine.sweep(&part.weights);
        for (&place, present) in part.faults.iter().zip(&sweep.present) {
            if let Some(slot) = without.get_mut(place) {
                *slot = present / sweep.total;
            }
        }
    }
    solved.part.faults.iter().copied().zip(without).collect()
}

fn log_odds(probability: f64) -> f64 {
    let probability = held(probability);
    libm::log(probability) - libm::log1p(-probability)
}

#[cfg(test)]
mod tests {
    use super::super::brute::{Brute, cases, near};
    use super::super::network::{Evidence, Network, SignNode};
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn reasons_equal_leaving_the_sign_out((network, evidence) in cases(9, 0..=8)) {
            let reasons = why(&Inference::new(&network, &evidence), 99);
            let odds = |probability: f64| (probability / (1.0 - probability)).ln();
            let with = Brute::new(&network, &evidence);
            for sign in (0..network.signs().len()).filter(|&sign| evidence.sign(sign) == Some(true)) {
                let mut less = evidence.clone();
                less.signs[sign] = None;
                let less = Brute::new(&network, &less);
                for fault in (0..network.priors().len()).filter(|&fault| evidence.fault(fault).is_none()) {
                    let want = odds(with.fault(fault)) - odds(less.fault(fault));
                    let have = reasons[fault].iter().find(|raised| raised.sign == sign);
                    prop_assert!((have.map_or(0.0, |raised| raised.log_odds) - want.max(0.0)).abs() < 1e-5);
                }
            }
            for (fault, list) in reasons.iter().enumerate() {
                prop_assert!(list.is_sorted_by(|a, b| a.log_odds >= b.log_odds));
                prop_assert!(evidence.fault(fault).is_none() || list.is_empty());
            }
        }
    }

    #[test]
    fn the_strongest_come_first_and_no_more_than_asked() {
        let sign = |leak, strength| SignNode { leak, parents: vec![(0, strength), (1, 0.2)] };
        let network = Network::new(vec![0.1, 0.1], vec![sign(0.05, 0.5), sign(0.01, 0.9), sign(0.05, 0.9)]);
        let seen = Evidence { signs: vec![Some(true); 3], faults: Vec::new() };
        let reasons = why(&Inference::new(&network, &seen), 2);
        assert_eq!(reasons[0].iter().map(|raised| raised.sign).collect::<Vec<_>>(), [1, 2]);
    }

    #[test]
    fn a_sign_with_one_cause_reaches_its_rivals_too() {
        // Fault 0 alone shows sign 1; hearing it explains sign 0 away from fault 1.
        let network = Network::new(
            vec![0.1, 0.1],
            vec![
                SignNode { leak: 0.01, parents: vec![(0, 0.9), (1, 0.9)] },
                SignNode { leak: 0.01, parents: vec![(0, 0.9)] },
            ],
        );
        let seen = Evidence { signs: vec![Some(true); 2], faults: Vec::new() };
        let reasons = why(&Inference::new(&network, &seen), 9);
        assert_eq!(reasons[0].len(), 2);
        assert_eq!(reasons[1].iter().map(|raised| raised.sign).collect::<Vec<_>>(), [0]);
        near(reasons[0][0].log_odds.max(reasons[0][1].log_odds), reasons[0][0].log_odds, "order");
    }
}
