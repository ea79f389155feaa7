//! The page as one file, opened from a disk without any host: what is entered is there on another day.

use std::process::Command;

use kerbworth_tests::browser::{Browser, PHONE};
use kerbworth_tests::dist::{dist, tree};
use kerbworth_tests::host::Host;

#[test]
fn one_file_opens_from_a_disk_and_keeps_what_is_entered() {
    let file = tree().join("target/kerbworth.html");
    let made = Command::new("node").current_dir(tree()).arg(".ci/one-file.mjs").args([&dist(), &file]).status();
    assert!(made.expect("node runs").success(), "the one file is made");

    let mut host = Host::of_dist();
    let mut browser = Browser::start(&host);
    host.cut();
    browser.screen(PHONE);
    browser.open_from_disk(&file);
    browser.find("button", "Open the demonstration").click();
    let strip = "return document.getElementById('strip-worth')?.innerText ?? ''";
    let worth = |browser: &Browser| browser.run(strip, &[]).as_str().unwrap_or_default().to_owned();
    browser.until("the worth is shown", || worth(&browser).starts_with('£').then_some(()));
    let before = worth(&browser);
    browser.find("link", "Car").click();
    browser.field("Place").fill("Nether Harrow");
    let saved = "return document.getElementById('saved')?.innerText ?? ''";
    browser.until("everything is saved", || (browser.run(saved, &[]) == "saved").then_some(()));

    browser.restart();
    browser.screen(PHONE);
    browser.open_from_disk(&file);
    browser.css("li.card > a").click();
    browser.until("the field is there", || browser.has("textbox", "Place").then_some(()));
    assert_eq!(browser.field("Place").value(), "Nether Harrow");
    assert_eq!(worth(&browser), before);

    assert_eq!(browser.console(), [""; 0]);
    let page = format!("file://{}", file.display());
    let own = |address: &String| *address == page || address.starts_with("data:") || address.starts_with("blob:");
    let requests = browser.requests();
    assert!(requests.contains(&page) && requests.iter().all(own), "nothing but the file is asked for: {requests:?}");
}
