//! What the built page may weigh and may name. Needs `dist`: `sh .ci/build` first.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop at the first surprise"
)]

use std::fs;
use std::io::{self, Write};
use std::path::Path;

use kerbworth_tests::dist::{as_brotli, dist, files};

/// All of the page as a host with brotli sends it, in bytes: the bar, which the page does not meet yet. Every run says by how
/// much.
const BAR: usize = 400_000;

/// What no build may weigh until the bar is met: the last figure measured, with a hundredth for the differences between
/// compilers. It is raised only by a commit that says what for; the day it reaches the bar, it goes.
const CEILING: usize = 842_000;

/// What the page may do, word for word: run and load its own files, and nothing else.
const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; \
    connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'";

/// Names, not addresses: nothing is ever fetched from there.
const NAMESPACES: &str = "http://www.w3.org/";

#[test]
fn the_whole_page_grows_no_heavier() {
    let mut told = String::new();
    let (mut whole, mut words) = (0, 0);
    for file in files(&dist()) {
        let size = as_brotli(&fs::read(&file).expect("a file of the build can be read"));
        // A language is beside the page: nobody waits for it but who chose it, and the worker stores it after the page.
        *(if name(&file).starts_with("words/") { &mut words } else { &mut whole }) += size;
        told += &format!("{size:>8}  {}\n", name(&file));
    }
    // Past the test's capture: the figure is for every run's record.
    let over = whole.saturating_sub(BAR);
    writeln!(io::stderr(), "dist as brotli: {whole} bytes, {over} over the bar of {BAR}; languages beside it: {words}")
        .expect("standard error takes a line");
    assert!(whole <= CEILING, "dist is {whole} bytes as brotli, over the ceiling of {CEILING}:\n{told}");
    const { assert!(CEILING > BAR, "the bar is met: hold the page to it, without a ceiling of its own") };
}

#[test]
fn the_page_allows_only_its_own_files() {
    let page = text(&dist().join("index.html"));
    let policies: Vec<&str> = page.matches("http-equiv=\"Content-Security-Policy\"").collect();
    assert_eq!(policies.len(), 1, "the page has one policy");
    assert!(page.contains(&format!("content=\"{POLICY}\"")), "the page's policy is not the one agreed");
    let policy_at = page.find("Content-Security-Policy").expect("it was found above");
    for tag in ["<script", "<link", "<body"] {
        assert!(
            page.find(tag).is_some_and(|at| at > policy_at),
            "{tag} comes before the policy, which does not bind it"
        );
    }
}

#[test]
fn nothing_in_the_page_is_inline() {
    let page = text(&dist().join("index.html"));
    for (at, _) in page.match_indices("<script") {
        let tag = page[at..].split('>').next().unwrap_or_default();
        assert!(tag.contains(" src="), "a script without a file of its own: {tag}");
    }
    for forbidden in ["<style", " style=", " onload=", " onclick=", " onerror=", "javascript:"] {
        assert!(!page.contains(forbidden), "the page has {forbidden}");
    }
}

#[test]
fn nothing_that_loads_names_a_foreign_address() {
    let loads = |file: &&Path| {
        let ending = file.extension().and_then(|ending| ending.to_str());
        matches!(ending, Some("html" | "js" | "css" | "svg" | "webmanifest"))
    };
    let all = files(&dist());
    for file in all.iter().map(AsRef::as_ref).filter(loads) {
        let text = code(&text(file)).replace(NAMESPACES, "");
        for scheme in ["http://", "https://", "ws://", "wss://", "src=\"//", "href=\"//", "url(//"] {
            let found = text.find(scheme).map(|at| text[at..].chars().take(60).collect::<String>());
            assert_eq!(found, None, "{} names a foreign address", name(file));
        }
    }
}

#[test]
fn every_file_is_stored_for_opening_without_a_network() {
    let worker = text(&dist().join("sw.js"));
    assert!(!worker.contains("@version@") && !worker.contains("@files@"), "the worker's template was not filled");
    for file in files(&dist()) {
        let path = match name(&file).as_str() {
            "sw.js" => continue,
            "index.html" => "./".to_owned(),
            name => format!("./{name}"),
        };
        assert_eq!(worker.matches(&format!("[\"{path}\", ")).count(), 1, "{path} in the worker's list");
    }
}

#[test]
fn the_worker_template_itself_is_not_served() {
    assert!(!dist().join("sw.template.js").exists());
}

// Without the lines that are comments: wasm-bindgen's name pages of a manual, and nothing loads from a comment.
fn code(text: &str) -> String {
    text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

fn text(file: &Path) -> String {
    fs::read_to_string(file).expect("a text of the build can be read")
}

fn name(file: &Path) -> String {
    let inside = file.strip_prefix(dist()).expect("a file of dist is in dist");
    inside.to_string_lossy().replace('\\', "/")
}
