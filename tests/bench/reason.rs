//! How long reasoning takes on sheets of two sizes: 220 faults, 385 signs, 165 checks; and twice to three times that.
//!
//! Eleven systems; a fault shows three to five signs of its own system and sometimes one of the next. About half
//! of the signs are marked; how many of them seen is the number in the name. Some thirty seen is a sad car; all
//! marked ones seen does not happen, and shows the bound at work.
#![allow(clippy::indexing_slicing, reason = "a bench may stop at the first surprise")]

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use kerbworth_core::reason::exact::Inference;
use kerbworth_core::reason::need::needs;
use kerbworth_core::reason::network::{Evidence, Network, SignNode};
use kerbworth_core::reason::next_look::{Look, Need, next_looks};
use kerbworth_core::reason::plan::{Unmade, plan};
use kerbworth_core::reason::why::why;
use kerbworth_core::sheet::Stage;
use kerbworth_tests::scatter::Scatter;

const SYSTEMS: usize = 11;

/// How much each system has.
#[derive(Clone, Copy)]
struct Size {
    name: &'static str,
    faults: usize,
    signs: usize,
    checks: usize,
    marked: usize,
    seen: &'static [usize],
}

const SIZES: [Size; 2] = [
    Size { name: "220 faults", faults: 20, signs: 35, checks: 15, marked: 200, seen: &[10, 30, 60, 100, 200] },
    Size { name: "660 faults", faults: 60, signs: 75, checks: 25, marked: 400, seen: &[30, 100, 200] },
];

fn between(scatter: &mut Scatter, low: f64, high: f64) -> f64 {
    low + (high - low) * scatter.below(1_000_000) as f64 / 1e6
}

struct Sheet {
    network: Network,
    needs: Vec<Need>,
    checks: Vec<Look>,
}

fn sheet(size: Size) -> Sheet {
    let mut scatter = Scatter(7);
    let mut signs: Vec<SignNode> = (0..SYSTEMS * size.signs)
        .map(|_| SignNode { leak: between(&mut scatter, 0.003, 0.06), parents: Vec::new() })
        .collect();
    let mut priors = Vec::new();
    for fault in 0..SYSTEMS * size.faults {
        let system = fault / size.faults;
        priors.push(between(&mut scatter, 0.01, 0.3));
        let own = 3 + scatter.below(3);
        for link in 0..=own {
            let (of, strength) = match link {
                // One fault in ten reaches into the next system.
                0 if scatter.below(10) == 0 => ((system + 1) % SYSTEMS, between(&mut scatter, 0.1, 0.5)),
                0 => continue,
                _ => (system, between(&mut scatter, 0.2, 0.95)),
            };
            let sign = of * size.signs + scatter.below(size.signs);
            signs[sign].parents.push((fault, strength));
        }
    }
    let mut needs: Vec<Need> = (0..SYSTEMS * size.faults)
        .filter(|fault| fault % 10 != 0)
        .map(|fault| Need { faults: vec![fault], deduction: between(&mut scatter, 5e3, 2e5) })
        .collect();
    // Jobs that several faults call for, and the strip-downs that jobs share.
    for _ in 0..40 {
        let system = scatter.below(SYSTEMS);
        let faults = (0..3).map(|_| system * size.faults + scatter.below(size.faults)).collect();
        needs.push(Need { faults, deduction: between(&mut scatter, 5e3, 5e4) });
    }
    let checks = (0..SYSTEMS * size.checks)
        .map(|check| {
            let (system, at) = (check / size.checks, check % size.checks);
            let signs = (0..size.signs)
                .filter(|sign| sign % size.checks == at)
                .map(|sign| system * size.signs + sign)
                .collect();
            Look { signs, minutes: between(&mut scatter, 0.5, 15.0) }
        })
        .collect();
    Sheet { network: Network::new(priors, signs), needs, checks }
}

fn evidence(network: &Network, marked_in_all: usize, seen: usize) -> Evidence {
    let mut scatter = Scatter(11);
    let mut evidence = Evidence::none(network);
    let mut marked = 0;
    while marked < marked_in_all {
        let slot = &mut evidence.signs[scatter.below(network.signs().len())];
        if slot.is_none() {
            *slot = Some(marked < seen);
            marked += 1;
        }
    }
    evidence
}

fn whole(sheet: &Sheet, evidence: &Evidence) -> f64 {
    let inference = Inference::new(&sheet.network, evidence);
    let groups: Vec<Vec<usize>> = sheet.needs.iter().map(|need| need.faults.clone()).collect();
    let needed = needs(&inference, &groups);
    let gains = next_looks(&inference, &sheet.needs, &sheet.checks);
    let unmade: Vec<Unmade> = gains
        .iter()
        .zip(&sheet.checks)
        .enumerate()
        .map(|(place, (gain, check))| Unmade {
            stage: Stage::ALL[place % 7],
            place,
            minutes: check.minutes,
            variance: gain.variance,
            weight: 5.0,
            before_driving: false,
        })
        .collect();
    plan(&unmade, 30.0).unseen_variance + needed.both(0, 1)
}

fn reason(c: &mut Criterion) {
    for size in SIZES {
        let sheet = sheet(size);
        let groups: Vec<Vec<usize>> = sheet.needs.iter().map(|need| need.faults.clone()).collect();
        let mut group = c.benchmark_group(size.name);
        for &seen in size.seen {
            let evidence = evidence(&sheet.network, size.marked, seen);
            let inference = Inference::new(&sheet.network, &evidence);
            group.bench_function(BenchmarkId::new("posterior", seen), |b| {
                b.iter(|| black_box(Inference::new(&sheet.network, &evidence).posterior().log_evidence));
            });
            group.bench_function(BenchmarkId::new("needs", seen), |b| b.iter(|| black_box(needs(&inference, &groups))));
            group.bench_function(BenchmarkId::new("next looks", seen), |b| {
                b.iter(|| black_box(next_looks(&inference, &sheet.needs, &sheet.checks)));
            });
            group.bench_function(BenchmarkId::new("why", seen), |b| b.iter(|| black_box(why(&inference, 3))));
            group.bench_function(BenchmarkId::new("all but why", seen), |b| {
                b.iter(|| black_box(whole(&sheet, &evidence)));
            });
        }
        group.finish();
    }
}

criterion_group!(benches, reason);
criterion_main!(benches);
