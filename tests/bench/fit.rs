//! How long the fit takes, by the number of comparables; a keystroke in the ledger waits for it.
#![allow(missing_docs, reason = "criterion's macros make public items")]

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use kerbworth_core::market::fit::{Assumptions, Comparable, fit};
use kerbworth_core::market::rates::CarRates;
use kerbworth_core::market::ratio_study::predicted_without_each;

/// Sales that differ in every column and scatter about the rates by fixed, uneven steps.
fn comparables(count: usize) -> Vec<Comparable> {
    (0..count)
        .map(|place| {
            let turn = |step: usize, size: usize| ((place * step) % size) as f64;
            let kind = place % 4;
            let (miles, score) = (turn(37, 101) - 50.0, turn(17, 41) - 20.0);
            let mut differences = vec![miles, score, -turn(7, 36)];
            differences.extend((1..4).map(|column| f64::from(u8::from(kind == column))));
            Comparable {
                log_price: 9.5 - 0.002 * miles + 0.01 * score + 0.003 * (turn(53, 97) - 48.0),
                differences,
                measurement_variance: if place % 5 == 0 { 0.003 } else { 0.0 },
            }
        })
        .collect()
}

fn fits(criterion: &mut Criterion) {
    let rates = CarRates::default().in_order();
    let assumptions = Assumptions::default();
    let mut group = criterion.benchmark_group("fit");
    for count in [10, 50, 100, 1000, 10_000] {
        let sales = comparables(count);
        // For tests/reference/timing.py, which makes the same fit by other means.
        if let Ok(found) = fit(&sales, &rates, &assumptions) {
            println!("sales {count}: level {}, spread {}", found.theta, found.sigma2);
        }
        group.throughput(Throughput::Elements(count as u64));
        group.bench_with_input(BenchmarkId::from_parameter(count), &sales, |bencher, sales| {
            bencher.iter(|| fit(black_box(sales), &rates, &assumptions));
        });
    }
    group.finish();
    let fifty = comparables(50);
    criterion.bench_function("each of 50 left out in turn", |bencher| {
        bencher.iter(|| predicted_without_each(black_box(&fifty), &rates, &assumptions));
    });
}

criterion_group!(benches, fits);
criterion_main!(benches);
