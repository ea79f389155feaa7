//! The same figures in the browser as on this machine: wasm and native core give the same digits.

use kerbworth_core::hand_over::{Kind, Length, document, table, text::text};
use kerbworth_tests::app::App;
use kerbworth_tests::browser::PHONE;

#[test]
fn the_demonstration_is_shown_as_native_core_reckons_it() {
    let app = App::open(PHONE);
    app.demo();
    let twin = app.twin();
    assert!(twin.appraisal.problems.is_empty(), "{:?}", twin.appraisal.problems);
    twin.is_on_worth_screen(&app);
    let bid =
        twin.appraisal.top_bid.as_ref().and_then(|bid| bid.as_ref().ok()).expect("the demonstration has a top bid");
    assert_eq!(app.reads("#top-bid"), twin.money(bid.hammer.expect("a bid is within the limit")));
    app.shows(&format!("The highest hammer price at which the whole outlay, {},", twin.money(bid.all_in)));
    app.go("Sales");
    twin.is_in_grid(&app);
    app.clean();
}

/// Thousands of figures at once: every document and table that leaves the page is, letter for letter, the one that native core
/// writes from the stored worksheet.
#[test]
fn what_is_handed_over_is_letter_for_letter_what_native_core_writes() {
    let app = App::open(PHONE);
    app.demo();
    app.go("Hand over");
    let twin = app.twin();
    for kind in Kind::ALL {
        app.document(kind);
        app.css(".no-print fieldset button[aria-pressed=true]");
        app.find("button", "Save as text").click();
        let written = text(&document(twin.case(), kind, Length::Full), &twin.show);
        same(&app, kind.file_word(), "txt", &written);
    }
    app.unfold("Save as a file");
    let tables = [
        ("findings", "Findings as a table", table::findings(twin.case())),
        ("sales", "Sales as a table", table::sales(twin.case())),
        ("grid", "Adjustments as a table", table::grid(twin.case())),
    ];
    for (word, button, written) in tables {
        app.find("button", button).click();
        same(&app, word, "csv", &format!("\u{feff}{written}"));
    }
    app.clean();
}

#[track_caller]
fn same(app: &App, word: &str, ending: &str, written: &str) {
    let twin = app.twin();
    let name = kerbworth_core::hand_over::file::file_name(&twin.worksheet, word, ending);
    let saved = String::from_utf8(app.downloaded(&name)).expect("a document is text");
    let differ = saved.lines().zip(written.lines()).find(|(saved, written)| saved != written);
    assert_eq!(differ, None, "{name}: the browser's line and native core's");
    assert_eq!(saved, written, "{name}");
}
