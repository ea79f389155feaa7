//! Next looks against enumeration, and the valuation method's example.

use super::brute::{Brute, cases, near};
use super::exact::Inference;
use super::network::{Evidence, Network, SignNode};
use super::next_look::{Gain, Look, Need, TOGETHER, next_looks};
use proptest::prelude::*;

/// The gain by definition: the evidence with each outcome of the signs filled in, every state enumerated.
fn by_enumeration(network: &Network, evidence: &Evidence, needs: &[Need], signs: &[usize]) -> Gain {
    let deduction = |state: usize| -> f64 {
        let needed = needs.iter().filter(|need| need.faults.iter().any(|&fault| state >> fault & 1 == 1));
        needed.map(|need| need.deduction).sum()
    };
    let before = Brute::new(network, evidence);
    let mean = before.mean(deduction);
    let (mut variance, mut clear, mut chance_clear) = (0.0, mean, 1.0);
    for outcome in 0..1_usize << signs.len() {
        let mut then = evidence.clone();
        for (bit, &sign) in signs.iter().enumerate() {
            then.signs[sign] = Some(outcome >> bit & 1 == 1);
        }
        let after = Brute::new(network, &then);
        let chance = after.evidence() / before.evidence();
        variance += chance * (after.mean(deduction) - mean).powi(2);
        if outcome == 0 {
            (clear, chance_clear) = (after.mean(deduction), chance);
        }
    }
    let found = if signs.is_empty() { mean } else { (mean - chance_clear * clear) / (1.0 - chance_clear) };
    Gain { variance, per_minute: variance / 2.0, chance_clear, clear, found, whole: true }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn gains_equal_enumeration(
        (network, evidence) in cases(8, 0..=9),
        groups in prop::collection::vec((prop::collection::vec(0_usize..8, 0..4), 0.0_f64..3.0), 1..6),
        picked in prop::collection::vec(0_usize..9, 0..5),
    ) {
        let needs: Vec<Need> =
            groups.into_iter().map(|(faults, deduction)| Need { faults, deduction }).collect();
        let look = Look { signs: picked.clone(), minutes: 2.0 };
        let have = &next_looks(&Inference::new(&network, &evidence), &needs, &[look])[0];
        let mut signs: Vec<usize> = picked;
        signs.retain(|&sign| sign < network.signs().len() && evidence.sign(sign).is_none());
        signs.sort_unstable();
        signs.dedup();
        prop_assume!(signs.len() <= TOGETHER);
        let want = by_enumeration(&network, &evidence, &needs, &signs);
        near(have.chance_clear, want.chance_clear, "nothing shows");
        near(have.clear, want.clear, "clear");
        near(have.found, want.found, "found");
        near(have.variance, want.variance, "variance");
        near(have.per_minute, want.per_minute, "a minute");
        prop_assert!(have.whole);
    }

    #[test]
    fn a_check_with_many_signs_errs_low((network, mut evidence) in cases(7, 6..=8)) {
        evidence.signs.iter_mut().skip(1).for_each(|sign| *sign = None);
        let needs: Vec<Need> = (0..7).map(|fault| Need { faults: vec![fault], deduction: 1.0 }).collect();
        let unmade: Vec<usize> =
            (0..network.signs().len()).filter(|&sign| evidence.sign(sign).is_none()).collect();
        let look = Look { signs: unmade.clone(), minutes: 2.0 };
        let have = &next_looks(&Inference::new(&network, &evidence), &needs, &[look])[0];
        let want = by_enumeration(&network, &evidence, &needs, &unmade);
        prop_assert!(!have.whole && have.variance <= want.variance * (1.0 + 1e-9));
        near(have.clear, want.clear, "clear takes all signs");
        for &sign in &unmade {
            let alone = by_enumeration(&network, &evidence, &needs, &[sign]);
            prop_assert!(have.variance >= alone.variance * (1.0 - 1e-9) - 1e-12);
        }
    }
}

/// The valuation method's example, section 6: a check of one fault with sensitivity and specificity, given
/// as share, prior, mean cost, and wanted variance, q if it shows and q if not.
#[track_caller]
fn example(prior: f64, share_of_cost: f64, sensitivity: f64, specificity: f64, want: f64, swing: f64) {
    let leak = 1.0 - specificity;
    let strength = 1.0 - (1.0 - sensitivity) / specificity;
    let network = Network::new(vec![prior], vec![SignNode { leak, parents: vec![(0, strength)] }]);
    let nothing = Evidence::none(&network);
    let needs = [Need { faults: vec![0], deduction: share_of_cost }];
    let looks = [Look { signs: vec![0], minutes: 10.0 }];
    let gain = &next_looks(&Inference::new(&network, &nothing), &needs, &looks)[0];
    assert!((gain.variance / want - 1.0).abs() < 1e-5, "variance {} against {want}", gain.variance);
    assert!((gain.per_minute / want * 10.0 - 1.0).abs() < 1e-5);
    assert!((gain.swing() / swing - 1.0).abs() < 5e-5, "swing {} against {swing}", gain.swing());
}

#[test]
fn the_methods_example() {
    example(0.25, 2866.6667, 1.0, 1.0, 1_540_830.0, 22543.3 - 19676.7);
    example(0.30, 0.75 * 1933.3333, 1.0, 1.0, 441_525.0, 22261.7 - 20811.7);
    example(0.15, 0.75 * 1333.3333, 1.0, 1.0, 127_500.0, 21976.7 - 20976.7);
    example(0.25, 2866.6667, 0.8, 0.9, 710_039.0, 2866.6667 * (0.727_273 - 0.068_965_5));
}

#[test]
fn what_is_settled_tells_nothing_more() {
    let network = Network::new(vec![0.2], vec![SignNode { leak: 0.01, parents: vec![(0, 0.9)] }]);
    let needs = [Need { faults: vec![0], deduction: 100.0 }];
    let looks = [Look { signs: vec![0], minutes: 0.0 }, Look::default(), Look { signs: vec![9], minutes: 1.0 }];
    for (known, mean) in [(Some(true), 100.0), (Some(false), 0.0)] {
        let evidence = Evidence { signs: vec![None], faults: vec![known] };
        for gain in next_looks(&Inference::new(&network, &evidence), &needs, &looks) {
            assert_eq!((gain.variance, gain.per_minute, gain.clear, gain.found), (0.0, 0.0, mean, mean));
        }
    }
}
