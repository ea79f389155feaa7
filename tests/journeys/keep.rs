//! A worksheet is filled in, judged, left, found again on another day, deleted and brought back.

use kerbworth_core::sheet::Stage;
use kerbworth_core::worksheet::SaleKind;
use kerbworth_tests::app::{App, THREE_SALES, Typed};
use kerbworth_tests::browser::{DESK, PHONE};

#[test]
fn what_is_filled_in_is_judged_as_core_does_and_is_there_on_another_day() {
    let mut app = App::open(PHONE);
    app.begin();
    fill_in_the_car(&app);
    grade_findings(&app);
    app.go("Sales");
    THREE_SALES.into_iter().for_each(|sale| app.add_sale(sale));

    let before = app.twin();
    assert_eq!(before.worksheet.title(), "1964 Halberd Plover saloon");
    assert_eq!((before.worksheet.findings.len(), before.worksheet.sales.len()), (5, 3));
    assert!(before.appraisal.problems.is_empty(), "{:?}", before.appraisal.problems);
    before.is_in_grid(&app);
    app.go("Worth");
    before.is_on_worth_screen(&app);

    app.another_day();
    app.find("link", "1964 Halberd Plover saloon 20 Jun 2026 · Lower Penwick").click();
    app.at("Car");
    assert_eq!(app.field("Mileage, as you believe it").value(), "64200");
    assert_eq!(app.field("Price asked").value(), "8500");
    app.stage(Stage::WalkRound);
    assert!(app.reads("#check-structure-sills").contains("serious"), "{}", app.reads("#check-structure-sills"));
    app.go("Worth");
    let after = app.twin();
    assert_eq!(after.worksheet, before.worksheet);
    after.is_on_worth_screen(&app);
    app.go("Sales");
    after.is_in_grid(&app);
    app.clean();
}

#[test]
fn the_shelf_holds_several_and_gives_back_what_was_deleted() {
    let mut app = App::open(PHONE);
    for (maker, model) in [("Halberd", "Plover"), ("Wexcombe", "Curlew"), ("Halberd", "Dotterel")] {
        app.begin();
        app.field("Maker").fill(maker);
        app.field("Model and body").fill(model);
        app.saved();
        app.to_shelf();
    }
    app.shows("Halberd Plover");
    app.find("button", "Delete Wexcombe Curlew").click();
    app.find("heading", "Deleted");
    app.another_day();
    app.find("button", "Bring back").click();
    app.no_longer_shows("Bring back");
    for name in ["Halberd Plover", "Wexcombe Curlew", "Halberd Dotterel"] {
        app.find("button", &format!("Delete {name}"));
    }
    open_from_shelf(&app, "Wexcombe Curlew");
    assert_eq!(app.field("Maker").value(), "Wexcombe");
    assert_eq!(app.field("Model and body").value(), "Curlew");

    app.to_shelf();
    app.find("button", "Delete Halberd Plover").click();
    app.find("button", "Delete these for good").click();
    app.no_longer_shows("Halberd Plover");
    app.another_day();
    assert!(!app.text().contains("Halberd Plover"), "what was deleted for good stays away");
    assert!(app.text().contains("Halberd Dotterel"));
    app.clean();
}

#[test]
fn a_slip_is_undone_and_done_again() {
    let app = App::open(DESK);
    app.begin();
    app.field("Registration mark").fill("ZHW 417E");
    app.go("Checks");
    let right = app.css("#check-papers-keys .grades button");
    right.click();
    let found = app.twin();
    assert_eq!((found.worksheet.findings.len(), &*found.worksheet.car.registration), (1, "ZHW 417E"));

    app.find("button", "Undo").click();
    assert_eq!(app.twin().worksheet.findings.len(), 0);
    assert_eq!(right.attribute("aria-pressed").as_deref(), Some("false"));
    app.find("button", "Undo").click();
    let undone = app.twin();
    assert_eq!(undone.worksheet.car.registration, "");
    undone.is_in_strip(&app);

    app.find("button", "Redo").click();
    app.find("button", "Redo").click();
    let again = app.twin();
    assert_eq!(again.worksheet, found.worksheet);
    again.is_in_strip(&app);
    assert!(app.find("button", "Redo").attribute("disabled").is_some());
    app.clean();
}

#[test]
fn a_choice_undone_shows_what_is_stored() {
    let app = App::open(DESK);
    app.begin();
    app.go("Sales");
    app.add_sale(Typed { kind: "dealer", price: "8,950", ..Typed::default() });
    app.go("Checks");
    app.css("#check-papers-keys .grades button").click();
    app.go("Sales");
    app.css("ol.sales summary").click();
    let kind = || app.field("How the price came about").value();
    let dealer = kind();
    app.field("How the price came about").choose("private");
    let private = kind();
    assert_ne!(private, dealer);
    for (button, want) in [("Undo", &dealer), ("Redo", &private), ("Undo", &dealer)] {
        app.find("button", button).click();
        app.until(&format!("{button} shows in the list"), || (kind() == *want).then_some(()));
    }
    assert_eq!(app.twin().worksheet.sales[0].kind, SaleKind::Dealer);
    app.clean();
}

fn open_from_shelf(app: &App, name: &str) {
    let script =
        "[...document.querySelectorAll('li.card > a')].find((a) => a.innerText.startsWith(arguments[0])).click()";
    app.run(script, &[name.into()]);
    app.at("Car");
}

fn fill_in_the_car(app: &App) {
    let fields = [
        ("Maker", "Halberd"),
        ("Model and body", "Plover saloon"),
        ("Year made", "1964"),
        ("Mileage, as you believe it", "64,200"),
        ("Price asked", "8,500"),
        ("Day", "2026-06-20"),
        ("Place", "Lower Penwick"),
    ];
    for (label, text) in fields {
        app.field(label).fill(text);
    }
}

// Two by one tap, one by its grade, two by what was seen.
fn grade_findings(app: &App) {
    app.go("Checks");
    app.css("#check-papers-seller .grades button").click();
    app.open_check("papers-keys").find("button", "slight").click();
    app.stage(Stage::WalkRound);
    app.css("#check-wheels-tread .grades button").click();
    app.open_check("structure-sills").find("button", "Hole or burst seam in the sill").click();
    app.stage(Stage::Cabin);
    app.open_check("brakes-pedal-hold")
        .find("button", "Pedal sinks under a steady foot, heavy or light unsafe")
        .click();
}
