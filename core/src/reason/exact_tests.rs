//! The posterior against enumeration, and its limit cases.

use proptest::prelude::*;

use super::brute::{Brute, cases, near};
use super::component::{Part, reduce, split};
use super::eliminate::Elimination;
use super::exact::Inference;
use super::need::needs;
use super::network::{Evidence, Network, SignNode};
use super::order;
use super::quickscore::Quickscore;
use super::sweep::Sweep;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn posterior_equals_enumeration((network, evidence) in cases(12, 0..=10)) {
        let brute = Brute::new(&network, &evidence);
        let inference = Inference::new(&network, &evidence);
        let posterior = inference.posterior();
        prop_assert!(posterior.left_out.is_empty());
        near(posterior.log_evidence, brute.evidence().ln(), "log evidence");
        let alone: Vec<Vec<usize>> = (0..brute.faults()).map(|fault| vec![fault]).collect();
        let needs = needs(&inference, &alone);
        for i in 0..brute.faults() {
            near(posterior.probability(i), brute.fault(i), "marginal");
            for j in 0..brute.faults() {
                near(needs.both(i, j), brute.both(i, j), "pair");
            }
        }
    }

    /// Both ways, whichever the engine would have taken: they must agree, and where Quickscore declines it
    /// must be for lost digits.
    #[test]
    fn quickscore_and_elimination_are_twins((network, evidence) in cases(10, 0..=9)) {
        for part in parts(&network, &evidence) {
            let scopes: Vec<Vec<usize>> =
                part.signs.iter().map(|sign| sign.parents.iter().map(|parent| parent.0).collect()).collect();
            let order = order::greedy(part.faults.len(), &scopes, 16).unwrap();
            prop_assert!(order.entries <= 2 << part.faults.len(), "never more than twice plain enumeration");
            let elimination = Elimination::new(&part, &order);
            let Some(quickscore) = Quickscore::new(&part) else { continue };
            near(quickscore.log_scale(), elimination.log_scale(), "scale");
            alike(&quickscore.sweep(&part.weights), &elimination.sweep(&part.weights));
            let (one, other) = (quickscore.pairs(&part.weights), elimination.pairs(&part.weights));
            for i in 0..part.faults.len() {
                for j in i..part.faults.len() {
                    near(one.get(i, j), other.get(i, j), "pair");
                }
            }
            // With the first fault ruled out and the last one confirmed.
            let mut clamped = part.weights.clone();
            clamped[0] = clamped[0].only_absent();
            let last = clamped.len() - 1;
            clamped[last] = clamped[last].only_present();
            alike(&quickscore.sweep(&clamped), &elimination.sweep(&clamped));
            near(quickscore.total(&clamped), elimination.total(&clamped), "total");
        }
    }
}

fn parts(network: &Network, evidence: &Evidence) -> Vec<Part> {
    let reduced = reduce(network, evidence);
    split(&reduced.weights, &reduced.seen)
}

#[track_caller]
fn alike(one: &Sweep, other: &Sweep) {
    near(one.total, other.total, "total");
    for (one, other) in one.present.iter().zip(&other.present) {
        near(*one, *other, "present");
    }
}

fn sign(leak: f64, parents: &[(usize, f64)]) -> SignNode {
    SignNode { leak, parents: parents.to_vec() }
}

#[test]
fn nothing_known_leaves_the_priors() {
    let network = Network::new(vec![0.1, 0.3], vec![sign(0.02, &[(0, 0.5), (1, 0.9)])]);
    let nothing = Evidence::default();
    let inference = Inference::new(&network, &nothing);
    assert_eq!(inference.posterior().marginal, [0.1, 0.3]);
    assert_eq!(inference.posterior().log_evidence, 0.0);
    assert_eq!(needs(&inference, &[vec![0], vec![1]]).dependent, []);
}

#[test]
fn all_absent_multiplies_the_odds() {
    let network = Network::new(vec![0.2], vec![sign(0.02, &[(0, 0.5)]), sign(0.01, &[(0, 0.9)])]);
    let absent = Evidence { signs: vec![Some(false); 2], faults: Vec::new() };
    let odds = 0.2 / 0.8 * 0.5 * 0.1;
    near(Inference::new(&network, &absent).posterior().probability(0), odds / (1.0 + odds), "odds");
}

#[test]
fn a_sign_without_faults_is_all_leak() {
    let network = Network::new(vec![0.2], vec![sign(0.03, &[])]);
    let seen = Evidence { signs: vec![Some(true)], faults: Vec::new() };
    let inference = Inference::new(&network, &seen);
    near(inference.posterior().probability(0), 0.2, "untouched");
    near(inference.posterior().log_evidence, 0.03_f64.ln(), "leak");
}

#[test]
fn a_confirmed_fault_explains_the_sign_away() {
    let network = Network::new(vec![0.1, 0.1], vec![sign(0.001, &[(0, 0.95), (1, 0.6)])]);
    let mut evidence = Evidence { signs: vec![Some(true)], faults: vec![None, None] };
    let suspected = Inference::new(&network, &evidence).posterior().probability(1);
    evidence.faults[0] = Some(true);
    let explained = Inference::new(&network, &evidence).posterior().probability(1);
    evidence.faults[0] = Some(false);
    let alone = Inference::new(&network, &evidence).posterior().probability(1);
    assert!(explained < suspected && suspected < alone, "{explained} {suspected} {alone}");
    assert!(explained > 0.1 && explained < 0.11, "little above its prior");
    near(alone, 0.1 * (0.001 + 0.6 * 0.999) / (0.1 * (0.001 + 0.6 * 0.999) + 0.9 * 0.001), "alone");
}

#[test]
fn signs_that_cannot_be_are_only_very_unlikely() {
    // No leak, and the only cause ruled out.
    let network = Network::new(vec![0.1], vec![sign(0.0, &[(0, 1.0)])]);
    let evidence = Evidence { signs: vec![Some(true)], faults: vec![Some(false)] };
    let inference = Inference::new(&network, &evidence);
    assert!(inference.posterior().log_evidence < -27.0 && inference.posterior().log_evidence.is_finite());
}

#[test]
fn many_faint_signs_do_not_underflow() {
    // Forty signs, each nearly impossible, in a ring: their product is far below what a float holds.
    let signs: Vec<SignNode> = (0..40).map(|place| sign(0.0, &[(place, 1e-9), ((place + 1) % 40, 1e-9)])).collect();
    let network = Network::new(vec![1e-3; 40], signs);
    let evidence = Evidence { signs: vec![Some(true); 40], faults: Vec::new() };
    let inference = Inference::new(&network, &evidence);
    let posterior = inference.posterior();
    assert!(posterior.log_evidence < -800.0 && posterior.log_evidence.is_finite());
    near(posterior.probability(0), posterior.probability(17), "a ring looks the same from everywhere");
    assert!(posterior.probability(0) > 0.4);
}

#[test]
fn quickscore_takes_a_sign_with_very_many_faults() {
    let parents: Vec<(usize, f64)> = (0..200).map(|fault| (fault, 0.3)).collect();
    let network = Network::new(vec![0.01; 200], vec![sign(0.05, &parents)]);
    let evidence = Evidence { signs: vec![Some(true)], faults: Vec::new() };
    let inference = Inference::new(&network, &evidence);
    assert!(inference.posterior().left_out.is_empty());
    let seen = 1.0 - 0.95 * 0.997_f64.powi(200);
    let seen_with = 1.0 - 0.95 * 0.7 * 0.997_f64.powi(199);
    near(inference.posterior().probability(7), 0.01 * seen_with / seen, "Bayes' rule by hand");
}

#[test]
fn too_much_at_once_leaves_signs_out_and_says_so() {
    // Sixty seen signs over forty faults in a tangle.
    let signs: Vec<SignNode> = (0..60_u64)
        .map(|place| {
            let scattered = |turn: u64| (place * 3 + turn).wrapping_mul(0x9E37_79B9_7F4A_7C15).rotate_left(23) % 40;
            let parent = |turn: u64, strength: f64| (scattered(turn) as usize, strength);
            sign(0.01, &[parent(0, 0.7), parent(1, 0.6), parent(2, 0.5)])
        })
        .collect();
    let network = Network::new(vec![0.05; 40], signs);
    let evidence = Evidence { signs: vec![Some(true); 60], faults: Vec::new() };
    let inference = Inference::new(&network, &evidence);
    let left_out = &inference.posterior().left_out;
    assert!((1..25).contains(&left_out.len()) && left_out.is_sorted(), "{left_out:?}");
    // Exact for what was kept: taken as not looked for, the signs left out change nothing.
    let mut kept = evidence.clone();
    for &sign in left_out {
        kept.signs[sign] = None;
    }
    let again = Inference::new(&network, &kept);
    assert!(again.posterior().left_out.is_empty());
    for fault in 0..40 {
        near(inference.posterior().probability(fault), again.posterior().probability(fault), "kept");
    }
}

#[test]
fn what_tells_least_is_left_out_first() {
    // Fourteen signs that share most of twenty faults: one too many for either way.
    let mut signs: Vec<SignNode> =
        (0..14).map(|place| sign(0.02, &(0..15).map(|turn| ((place + turn) % 20, 0.4)).collect::<Vec<_>>())).collect();
    signs[5].leak = 0.8;
    let network = Network::new(vec![0.3; 20], signs);
    let evidence = Evidence { signs: vec![Some(true); 14], faults: Vec::new() };
    let inference = Inference::new(&network, &evidence);
    let left_out = &inference.posterior().left_out;
    assert!(left_out.contains(&5) && left_out.len() <= 2, "{left_out:?}");
}
