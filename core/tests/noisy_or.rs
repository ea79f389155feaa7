//! The posterior against values from outside: a general-purpose Bayesian-network library and two published tables.

#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use kerbworth_core::reason::exact::Inference;
use kerbworth_core::reason::need::needs;
use kerbworth_core::reason::network::{Evidence, Network, SignNode};
use serde_json::Value;

#[track_caller]
fn near(have: f64, want: f64, what: &str) {
    assert!((have - want).abs() <= 1e-9, "{what}: have {have}, want {want}");
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn evidence(case: &Value, network: &Network) -> Evidence {
    let mut evidence = Evidence::none(network);
    for (field, list) in [("signs", &mut evidence.signs), ("faults", &mut evidence.faults)] {
        for (place, known) in case[field].as_object().unwrap() {
            list[place.parse::<usize>().unwrap()] = Some(known.as_bool().unwrap());
        }
    }
    evidence
}

/// pgmpy 0.1.26 (variable elimination over full conditional tables), run once by `tests/reference/causes.py`.
#[test]
fn posteriors_equal_the_librarys() {
    let reference: Value = serde_json::from_str(include_str!("../../tests/reference/noisy_or.json")).unwrap();
    let priors = reference["priors"].as_array().unwrap().iter().map(number).collect();
    let link = |pair: &Value| (pair[0].as_u64().unwrap() as usize, number(&pair[1]));
    let node = |sign: &Value| SignNode {
        leak: number(&sign["leak"]),
        parents: sign["parents"].as_array().unwrap().iter().map(link).collect(),
    };
    let network = Network::new(priors, reference["signs"].as_array().unwrap().iter().map(node).collect());
    let cases = reference["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 7);
    for (number_of_case, case) in cases.iter().enumerate() {
        let evidence = evidence(case, &network);
        let inference = Inference::new(&network, &evidence);
        let posterior = inference.posterior();
        let probability = number(&case["evidence"]);
        near(posterior.log_evidence, probability.ln(), &format!("case {number_of_case}, evidence"));
        for (fault, want) in case["marginal"].as_object().unwrap() {
            let what = format!("case {number_of_case}, fault {fault}");
            near(posterior.probability(fault.parse().unwrap()), number(want), &what);
        }
        for (pair, want) in case["pairs"].as_object().unwrap() {
            let (a, b) = pair.split_once(',').unwrap();
            let what = format!("case {number_of_case}, pair {pair}");
            let both = needs(&inference, &[vec![a.parse().unwrap()], vec![b.parse().unwrap()]]);
            near(both.both(0, 1), number(want), &what);
        }
    }
}

/// P(sign | each combination of its faults), first fault the slowest, as tables are printed.
fn table(leak: f64, strengths: &[f64]) -> Vec<f64> {
    let count = strengths.len();
    let sign = SignNode { leak, parents: strengths.iter().copied().enumerate().collect() };
    let network = Network::new(vec![0.5; count], vec![sign]);
    let row = |state: usize| {
        let faults = (0..count).map(|fault| Some(state >> (count - 1 - fault) & 1 == 1)).collect();
        let evidence = Evidence { signs: vec![Some(true)], faults };
        // The evidence is the combination, one of 2^count equally likely, and the sign.
        Inference::new(&network, &evidence).posterior().log_evidence.exp() * f64::from(1 << count)
    };
    (0..1 << count).map(row).collect()
}

#[track_caller]
fn table_is(leak: f64, strengths: &[f64], want: &[f64]) {
    for (have, want) in table(leak, strengths).iter().zip(want) {
        near(*have, *want, "table");
    }
}

/// S. Russell and P. Norvig, *Artificial Intelligence: A Modern Approach*, 3rd edition, section 14.3, the table of
/// P(Fever | Cold, Flu, Malaria) with inhibitions 0.6, 0.2 and 0.1; from memory.
#[test]
fn the_textbooks_fever() {
    table_is(0.0, &[0.4, 0.8, 0.9], &[0.0, 0.9, 0.8, 0.98, 0.4, 0.94, 0.88, 0.988]);
}

/// Bayesia, *BayesiaLab user guide*, "Discrete probability distributions", NoisyOr(?N3?, 0.1, ?N1?, 0.8, ?N2?, 0.6).
#[test]
fn the_manuals_leaky_or() {
    table_is(0.1, &[0.8, 0.6], &[0.1, 0.64, 0.82, 0.928]);
}
