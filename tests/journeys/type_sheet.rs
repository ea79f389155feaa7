//! A specialist writes what differs from the general sheet: a check told otherwise, a limit drawn tighter. A worksheet that uses
//! the sheet is led and judged by it, on another day too.

use kerbworth_core::sheet::{Stage, general};
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{DESK, Part};
use kerbworth_tests::twin::Twin;

const NAME: &str = "Halberd Plover";
const KEYS: &str = "Keys, books and tools";
const OWN_KEYS: &str = "Keys, books and the jack of a Plover";
const TREAD: &str = "Least tread depth at each wheel";
const LOW: &str = "wheels-tread-low";

#[test]
fn a_sheet_that_extends_the_general_one_is_in_force_and_stays_so() {
    let mut app = App::open(DESK);
    app.to("#/sheets", "Type sheets");
    app.field("Kind of car").fill(NAME);
    app.find("button", "New sheet that extends the general one").click();
    app.at(NAME);
    change_a_check(&app);
    draw_a_limit_tighter(&app);
    assert!(!app.text().contains("to mend in this sheet"), "the sheet is sound");
    app.accessible();

    app.to_shelf();
    app.begin();
    app.field("Day").fill("2026-06-20");
    app.stage(Stage::WalkRound);
    app.open_check("wheels-tread");
    for (wheel, depth) in [("Front left", "3.6"), ("Front right", "3.8"), ("Rear left", "4"), ("Rear right", "4.1")] {
        app.field(wheel).fill(depth);
    }
    let general = app.twin();
    assert!(!is_low(&general), "by the general sheet, 3.6 mm will do");
    assert!(!app.reads("#check-wheels-tread output").contains("Raises the sign"));

    app.go("Car");
    app.field("Type sheet").choose(NAME);
    let own = app.twin();
    assert!(is_low(&own), "by the sheet of the type, it will not");
    is_in_force(&app, &own);

    app.another_day();
    app.find("link", "Unnamed car 20 Jun 2026").click();
    app.at("Car");
    assert_eq!(app.twin().worksheet, own.worksheet);
    is_in_force(&app, &own);
    app.clean();
}

/// What a person takes back in the editor is as it was in the general sheet.
#[test]
fn a_change_is_undone_and_what_a_kind_of_car_has_not_is_left_out() {
    let app = App::open(DESK);
    app.to("#/sheets", "Type sheets");
    app.field("Kind of car").fill(NAME);
    app.find("button", "New sheet that extends the general one").click();
    app.at(NAME);
    change_a_check(&app);
    app.find("button", "Back to the general one").click();
    app.no_longer_shows(OWN_KEYS);
    app.css(".sheet-entry[open]").find("button", "This kind of car has none").click();
    app.find("DisclosureTriangle", &section("Checks", 0, checks() - 1));
    app.find("button", "Undo").click();
    app.find("DisclosureTriangle", &section("Checks", 0, checks()));
    app.clean();
}

/// A section's summary: how many of its entries are of the sheet itself, and how many of the general one.
fn section(name: &str, own: usize, general: usize) -> String {
    format!("{name} {own} own, {general} general")
}

/// How many checks the general sheet has.
fn checks() -> usize {
    general::general().expect("the general sheet can be read").checks.len()
}

/// Opens an entry of a section to be changed here.
#[track_caller]
fn change<'a>(app: &'a App, summary: &str, place: usize, entry: &str) -> Part<'a> {
    app.find("DisclosureTriangle", summary).click();
    let section = app.css(&format!("details.sheet-section:nth-of-type({place})"));
    section.field("Search by name").fill(entry);
    app.until("the search finds it alone", || {
        let there = app.run(
            "return document.querySelectorAll(`details.sheet-section:nth-of-type(${arguments[0]}) .sheet-entry`).length",
            &[place.into()],
        );
        (there == 1).then_some(())
    });
    app.css(&format!("details.sheet-section:nth-of-type({place}) .sheet-entry > summary")).click();
    app.find("button", "Change here").click();
    app.css(&format!("details.sheet-section:nth-of-type({place}) fieldset:enabled"));
    section
}

#[track_caller]
fn change_a_check(app: &App) {
    let entry = change(app, &section("Checks", 0, checks()), 1, KEYS);
    entry.field("Name").fill(OWN_KEYS);
    entry.field("Time it takes").fill("soon");
    app.shows("1 to mend in this sheet");
    let said = entry.field("Time it takes").described();
    assert!(said.contains("number"), "beside the field: {said}");
    entry.field("Time it takes").fill("2.5");
    app.no_longer_shows("to mend in this sheet");
}

#[track_caller]
fn draw_a_limit_tighter(app: &App) {
    app.find("DisclosureTriangle", &section("Checks", 1, checks() - 1)).click();
    let readings = general::general().expect("the general sheet can be read").readings.len();
    change(app, &section("Readings", 0, readings), 5, TREAD);
    // The first limit is that of the law, the second that of what is right.
    let field = app.css(".sheet-entry[open] fieldset.one-row ~ fieldset.one-row").field("Least that is right");
    assert_eq!(field.value(), "3");
    field.fill("4");
    assert_eq!(
        app.css(".sheet-entry[open] fieldset.one-row").field("Least that is right").value(),
        "1.6",
        "the law stays"
    );
}

/// Whether the tread is taken to be low.
fn is_low(twin: &Twin) -> bool {
    twin.appraisal.signs.get(LOW).is_some_and(|known| known.seen)
}

/// The worksheet is led and judged by the sheet of the type.
#[track_caller]
fn is_in_force(app: &App, twin: &Twin) {
    twin.is_in_strip(app);
    app.stage(Stage::Papers);
    let row = app.reads("#check-papers-keys");
    assert!(row.contains(OWN_KEYS) && row.contains("2.5 min"), "the check is told as in the sheet: {row}");
    app.stage(Stage::WalkRound);
    app.open_check("wheels-tread");
    let said = app.reads("#check-wheels-tread output");
    assert!(said.contains("Raises the sign: Tread under 3 mm"), "the limit is that of the sheet: {said}");
    assert_eq!(twin.sheet.check("papers-keys").map(|check| &*check.name), Some(OWN_KEYS));
}
