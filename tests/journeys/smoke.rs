//! What holds on every screen and before any: it opens, it is quiet, it is accessible, it opens without a network, it changes
//! to a new version only when asked, and when it cannot go on it says so and gives back what was stored.

use std::fs;

use kerbworth_tests::browser::{Browser, DARK, DESK, LIGHT, PHONE};
use kerbworth_tests::dist::{dist, files};
use kerbworth_tests::host::Host;
use kerbworth_tests::newer::Newer;
use serde_json::{Value, json};

#[test]
fn opens_quietly_and_accessibly() {
    let host = Host::of_dist();
    let browser = Browser::start(&host);
    browser.open("");
    for (screen, name) in [(PHONE, "phone"), (DESK, "desk")] {
        browser.screen(screen);
        for scheme in [LIGHT, DARK] {
            browser.prefer(scheme);
            assert!(!browser.names("heading").is_empty(), "a page begins with a heading");
            browser.accessible();
            browser.screenshot(&format!("start-{name}-{}", scheme.1));
        }
    }
    browser.clean();
}

#[test]
fn opens_without_a_network_after_the_first_visit() {
    let mut host = Host::of_dist();
    let browser = Browser::start(&host);
    browser.open("");
    wait_until_stored(&browser);
    let before = browser.text();
    host.cut();
    browser.reload();
    assert_eq!(browser.text(), before);
    browser.clean();
}

#[test]
fn a_new_version_waits_until_it_is_asked_for() {
    let host = Host::of_dist();
    let browser = Browser::start(&host);
    browser.open("");
    wait_until_stored(&browser);
    let newer = Newer::build();
    host.change_to(&newer.folder);

    browser.reload();
    browser.css("html[data-update=ready]");
    browser.reload();
    assert_eq!(build_of(&browser), "old", "the new version took over unasked");

    browser.run("dispatchEvent(new Event('kerbworth-take-over'))", &[]);
    browser.until("the new version is there", || (build_of(&browser) == "new").then_some(()));
}

#[test]
fn a_host_caught_between_two_versions_is_not_stored() {
    let host = Host::of_dist();
    let newer = Newer::build();
    // The worker is the new version's already, the page is not yet.
    host.replace("/sw.js", fs::read(newer.folder.join("sw.js")).expect("the new version has a worker"));
    let browser = Browser::start(&host);
    browser.open("");
    browser.css("html[data-offline=failed]");
    browser.run("location.hash = '#/settings'", &[]);
    browser.shows("Not stored for opening without a network yet.");
    assert_eq!(browser.run("return caches.keys().then((names) => names.length)", &[]), 0);
}

#[test]
fn a_stopped_worksheet_gives_back_what_was_stored() {
    let host = Host::of_dist();
    let browser = Browser::start(&host);
    browser.open("");
    browser.run("localStorage.clear()", &[]);
    browser.store("kerbworth/worksheet/1", r#"{"note": "<b>wet “carpet”</b>"}"#);
    browser.store("another-page", "not ours");
    browser.run(
        "dispatchEvent(new CustomEvent('kerbworth-panic', { detail: 'panicked at <i>desk.rs</i>: a test' }));
         dispatchEvent(new ErrorEvent('error', { error: new WebAssembly.RuntimeError('unreachable') }));",
        &[],
    );
    browser.shows("The worksheet stopped");
    browser.shows("panicked at <i>desk.rs</i>: a test");
    browser.shows("What you entered is safe");
    for scheme in [LIGHT, DARK] {
        browser.prefer(scheme);
        browser.accessible();
    }
    browser.screenshot("rescue");

    browser.find("button", "Save what is stored as a file").click();
    let file: Value = serde_json::from_slice(&browser.downloaded("kerbworth-rescue-")).expect("the file is JSON");
    assert_eq!(file.get("stored"), Some(&json!({ "kerbworth/worksheet/1": r#"{"note": "<b>wet “carpet”</b>"}"# })));

    browser.find("button", "Open Kerbworth again").click();
    browser.no_longer_shows("The worksheet stopped");
}

#[test]
fn a_trap_alone_is_a_stop_as_well_and_an_ordinary_error_is_not() {
    let host = Host::of_dist();
    let browser = Browser::start(&host);
    browser.open("");
    browser.run("dispatchEvent(new ErrorEvent('error', { error: new Error('a trifle') }))", &[]);
    assert!(!browser.text().contains("The worksheet stopped"));
    browser.run(
        "const rejection = { promise: Promise.resolve(), reason: new WebAssembly.RuntimeError('unreachable') };
         dispatchEvent(new PromiseRejectionEvent('unhandledrejection', rejection))",
        &[],
    );
    browser.shows("The worksheet stopped");
    browser.shows("Nothing has been stored in this browser yet");
}

#[test]
fn a_page_that_cannot_start_says_so() {
    let host = Host::of_dist();
    let wasm = files(&dist()).into_iter().find(|path| path.extension().is_some_and(|ending| ending == "wasm"));
    let wasm = wasm.and_then(|path| Some(path.file_name()?.to_str()?.to_owned())).expect("the build has a wasm file");
    host.replace(&format!("/{wasm}"), *b"not a program");
    let browser = Browser::start(&host);
    browser.visit("");
    browser.shows("Kerbworth could not open");
    browser.accessible();
}

#[track_caller]
fn wait_until_stored(browser: &Browser) {
    browser.css("html[data-offline=ready]");
}

fn build_of(browser: &Browser) -> String {
    let script = "return document.querySelector('meta[name=build-of-test]')?.content ?? 'old'";
    browser.run(script, &[]).as_str().unwrap_or_default().to_owned()
}
