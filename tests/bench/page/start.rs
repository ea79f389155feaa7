//! How long a page takes from nothing to its first screen, and what comes over the wire for it: beside a page made with Leptos
//! that has a heading and nothing else.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use kerbworth_tests::browser::{Browser, PHONE};
use kerbworth_tests::dist::{as_brotli, files, tree};
use kerbworth_tests::host::Host;

/// Builds the empty page as `.ci/build` does the other.
pub fn build_empty() -> PathBuf {
    let folder = tree().join("tests/bench/empty");
    let script = ". ../../../.ci/env && with_wasm trunk build --release --offline";
    let built = Command::new("sh").args(["-ec", script]).current_dir(&folder).status().expect("there is a shell");
    assert!(built.success(), "the empty page cannot be built: run `sh .ci/setup build`");
    folder.join("dist")
}

/// What a host with brotli sends of all files of a folder, in bytes.
pub fn weight(folder: &Path) -> usize {
    files(folder).iter().map(|file| as_brotli(&fs::read(file).expect("a file of a build can be read"))).sum()
}

/// Milliseconds from the navigation to the first screen, in a browser that has never been there.
pub fn cold(page: &Path, slower: u32) -> f64 {
    let host = Host::of(page);
    let browser = Browser::start(&host);
    browser.screen(PHONE);
    browser.before_each_page(crate::CLOCK);
    browser.slow_down(slower);
    browser.visit("");
    usable(&browser)
}

/// The same of the page that is open, since it was gone to.
pub fn usable(browser: &Browser) -> f64 {
    browser.run("return kerbworthClock.usable", &[]).as_f64().expect("the clock tells when a page is usable")
}
