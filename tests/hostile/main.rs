//! Texts that nobody means well with: whatever comes in by a link, a file, a table or a field, nothing stops the program,
//! nothing takes long, and what was read is what would be written again.
//!
//! Inputs are well-formed ones, changed at random and at length; each run prints how many it tried, and its seed.
//! `KERBWORTH_HOSTILE_SECONDS` sets how long it takes in all, `KERBWORTH_SEED` where it begins. Nothing here knows the code from
//! inside as a fuzzer with coverage does; it runs on the stable compiler, in every test run.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop at the first surprise"
)]

mod appraised;
mod change;
mod doors;

use std::env;
use std::fmt::Write as _;
use std::io::{self, Write as _};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

use change::Changes;
use doors::{Door, doors};

/// How long all of it takes, unless it is said otherwise.
const SECONDS: u64 = 60;

/// How long one input may take: thrice the bar of 50 ms, since it is read here by code that is hardly optimised, and what was
/// read is written and read once more.
const LONGEST: Duration = Duration::from_millis(150);

/// What an input may grow to, or to what the longest of its door's seeds is: beyond is a matter of the doors' own limits, which
/// their unit tests hold.
const MOST_BYTES: usize = 200_000;

#[test]
fn no_input_stops_it_or_takes_long() {
    let number = |name: &str, usual: u64| env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(usual);
    let (seconds, seed) = (number("KERBWORTH_HOSTILE_SECONDS", SECONDS), number("KERBWORTH_SEED", 2026));
    let doors = doors();
    let each = Duration::from_secs(seconds) / u32::try_from(doors.len()).expect("few doors");
    let (mut told, mut all) = (String::new(), 0);
    for door in &doors {
        let (inputs, taken, slowest) = besiege(door, each, seed);
        all += inputs;
        writeln!(told, "{:>12}: {inputs:>9} inputs, {taken:>8} taken, slowest {slowest:.1?}", door.name)
            .expect("a text grows");
    }
    // Past the test's capture: the figures are for every run's record.
    writeln!(io::stderr(), "{told}hostile: {all} inputs in {seconds} s, seed {seed}")
        .expect("standard error takes a line");
}

/// How many inputs were tried and how many of them taken, and the longest time that one took.
#[track_caller]
fn besiege(door: &Door, time: Duration, seed: u64) -> (u64, u64, Duration) {
    let mut changes = Changes::new(seed);
    let (mut inputs, mut taken, mut slowest) = (0, 0, Duration::ZERO);
    for seed in &door.seeds {
        assert!((door.takes)(seed), "{}: what was not changed is taken: {}", door.name, shown(seed));
    }
    let most = door.seeds.iter().map(Vec::len).fold(MOST_BYTES, usize::max);
    let began = Instant::now();
    while began.elapsed() < time {
        let mut input = changes.of(&door.seeds);
        input.truncate(most);
        let time = |input: &[u8]| {
            let began = Instant::now();
            let took = catch_unwind(AssertUnwindSafe(|| (door.takes)(input)));
            (took.unwrap_or_else(|_| panic!("{} stops at {}", door.name, shown(input))), began.elapsed())
        };
        let (took, mut longest) = time(&input);
        // The machine is shared: only what is slow each time is slow.
        for _ in 0..3 {
            if longest > LONGEST / 8 {
                longest = longest.min(time(&input).1);
            }
        }
        assert!(longest <= LONGEST, "{}: {longest:.1?} for {} bytes: {}", door.name, input.len(), shown(&input));
        slowest = slowest.max(longest);
        taken += u64::from(took);
        inputs += 1;
    }
    (inputs, taken, slowest)
}

/// The input, so that it can be made a case of a unit test.
fn shown(input: &[u8]) -> String {
    let text = String::from_utf8_lossy(input);
    format!("{:?}", text.chars().take(20_000).collect::<String>())
}
