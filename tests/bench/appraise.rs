//! What a keystroke costs in core: the whole appraisal of the demo, and of a worksheet with 200 findings and 50
//! sales, natively.
//!
//! `cargo bench -p kerbworth-tests --bench appraise`

#![allow(clippy::unwrap_used, missing_docs)] // a bench may stop at the first surprise

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use kerbworth_core::appraise::appraise;
use kerbworth_core::sheet::{demo, extend::extend, general};
use kerbworth_tests::worksheets::full;

fn appraisals(criterion: &mut Criterion) {
    let sheet = extend(&general::general().unwrap(), &demo::curlew().unwrap());
    let demo = demo::worksheet().unwrap();
    criterion.bench_function("appraise/demo", |bench| bench.iter(|| appraise(black_box(&demo), &sheet)));
    let full = full(&sheet, 200, 50);
    criterion.bench_function("appraise/200 findings, 50 sales", |bench| {
        bench.iter(|| appraise(black_box(&full), &sheet));
    });
    criterion.bench_function("restore/demo", |bench| bench.iter(|| demo::worksheet().unwrap()));
    criterion.bench_function("restore/general sheet", |bench| bench.iter(|| general::general().unwrap()));
}

criterion_group!(benches, appraisals);
criterion_main!(benches);
