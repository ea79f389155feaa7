//! What the page costs whoever uses it: from a key or a tap to the frame that shows it, from nothing to the first screen, over
//! the wire, in memory and in the store; under a full load, at this machine's pace and at that of a cheap phone.
//!
//! `sh .ci/build && cargo bench -p kerbworth-tests --bench page`; `KERBWORTH_SLOWER` (4) and `KERBWORTH_STEPS` (40) for other
//! paces and more steps. Other work on the machine is in the figures: the load average stands beside them.

#![allow(clippy::expect_used, clippy::panic, reason = "a bench may stop at the first surprise")]

mod actions;
mod load;
mod start;

use std::env;
use std::fs;

use kerbworth_tests::app::App;
use kerbworth_tests::dist::dist;

use actions::{Action, Bench, Step};

/// Tells the time within the page.
const CLOCK: &str = include_str!("clock.js");

/// Browsers that open a page for the first time.
const STARTS: usize = 5;

fn main() {
    let slower = wanted("KERBWORTH_SLOWER", 4);
    let steps = usize::try_from(wanted("KERBWORTH_STEPS", 40)).unwrap_or(40);
    let empty = start::build_empty();
    let (full, least) = (start::weight(&dist()), start::weight(&empty));
    println!("over the wire as brotli: {full} bytes; the empty page {least}");
    for slower in [1, slower] {
        println!("\n{slower} times slower than this machine; load average {}", load_average());
        for (name, page) in [("first start", dist()), ("of the empty page", empty.clone())] {
            let mut times: Vec<f64> = (0..STARTS).map(|_| start::cold(&page, slower)).collect();
            println!("{name}: {:.0} ms (median of {STARTS})", share(&mut times, 0.5));
        }
        let bench = Bench::open(steps, slower);
        println!("start with 200 worksheets stored: {:.0} ms", start::usable(&bench.app));
        let actions = bench.run();
        print_actions(&actions);
        print_taken(&bench.app);
        println!("load average {}", load_average());
    }
}

fn wanted(variable: &str, otherwise: u32) -> u32 {
    env::var(variable).map_or(otherwise, |said| said.parse().expect("a whole number"))
}

fn print_actions(actions: &[Action]) {
    println!("{:24} {:>17} {:>17} {:>8} {:>6} {:>6}", "", "work, ms", "to paint, ms", "saved", "held", "busy");
    println!("{:24} {:>8} {:>8} {:>8} {:>8} {:>8} {:>6} {:>6}", "", "p50", "p95", "p50", "p95", "p50", "worst", "mean");
    for Action { name, steps, busy } in actions {
        let all = |of: fn(&Step) -> f64| steps.iter().map(of).collect::<Vec<_>>();
        let (mut work, mut paint) = (all(|step| step.work), all(|step| step.paint));
        let mut saved: Vec<f64> = steps.iter().filter_map(|step| step.saved).collect();
        let saved = if saved.is_empty() { "–".to_owned() } else { format!("{:.0}", share(&mut saved, 0.5)) };
        // A page that was loaded anew has begun to count anew.
        let busy = if *busy > 0.0 { format!("{busy:.0}") } else { "–".to_owned() };
        let held = all(|step| step.held).into_iter().fold(0.0, f64::max);
        println!(
            "{name:24} {:8.1} {:8.1} {:8.1} {:8.1} {saved:>8} {held:6.0} {busy:>6}",
            share(&mut work, 0.5),
            share(&mut work, 0.95),
            share(&mut paint, 0.5),
            share(&mut paint, 0.95),
        );
    }
}

fn print_taken(app: &App) {
    app.collect_garbage();
    let wasm = app.run("return kerbworthClock.memory()", &[]).as_f64().unwrap_or(f64::NAN);
    let stored = "return Object.entries(localStorage).reduce((sum, [key, text]) => sum + key.length + text.length, 0)";
    let stored = app.run(stored, &[]).as_f64().unwrap_or(f64::NAN);
    println!(
        "memory: {:.1} MB of the page's, {:.1} MB of the program's; stored {:.2} million letters",
        app.measure("JSHeapUsedSize") / 1e6,
        wasm / 1e6,
        stored / 1e6
    );
}

/// The value below which so large a share of them lies.
fn share(values: &mut [f64], share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let place = ((values.len() as f64 - 1.0) * share).round();
    values.iter().copied().nth(place as usize).unwrap_or(f64::NAN)
}

fn load_average() -> String {
    let told = fs::read_to_string("/proc/loadavg").unwrap_or_default();
    told.split(' ').next().unwrap_or("not told").to_owned()
}
