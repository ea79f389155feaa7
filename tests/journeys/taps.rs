//! How many taps a finding takes, counted as the page hears them, from the list of a stage's checks, as the buyer stands there.

use kerbworth_core::grade::Grade;
use kerbworth_core::sheet::Stage;
use kerbworth_core::worksheet::Seen;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::PHONE;

/// A check of the walk-round with nothing recorded yet in a blank worksheet.
const SILLS: &str = "structure-sills";

/// Counts taps from now on.
fn count(app: &App) {
    app.run("window.taps = 0; window.addEventListener('pointerdown', () => { window.taps += 1 }, true)", &[]);
}

fn taps(app: &App) -> u64 {
    app.run("const taps = window.taps; window.taps = 0; return taps", &[]).as_u64().expect("taps are counted")
}

#[test]
fn a_finding_takes_as_few_taps_as_can_be() {
    let app = App::open(PHONE);
    app.begin();
    app.stage(Stage::WalkRound);
    count(&app);

    let checks = app.run("return [...document.querySelectorAll('.check')].map((row) => row.id)", &[]);
    let checks: Vec<String> = serde_json::from_value(checks).expect("rows have ids");
    let right = checks.iter().find(|id| **id != format!("check-{SILLS}")).expect("there are checks");
    app.css(&format!("#{right}")).find("button", "right").click();
    app.css(&format!("#{right} .grades [aria-pressed=true]"));
    assert_eq!(taps(&app), 1, "right is one tap");
    assert!(app.run("return document.querySelector('.opened')", &[]).is_null(), "what is right asks nothing");

    let row = app.check(SILLS);
    row.find("button", "moderate").click();
    let first = app.css(&format!("#check-{SILLS} .opened .sign-name"));
    let box_of = |selector: &str| {
        let script =
            "const box = document.querySelector(arguments[0]).getBoundingClientRect(); return [box.top, box.bottom]";
        let edges: [f64; 2] = serde_json::from_value(app.run(script, &[selector.into()])).expect("a box has edges");
        edges
    };
    let [_, boxes_end] = box_of(&format!("#check-{SILLS} .grades"));
    let [sign_begins, _] = box_of(&format!("#check-{SILLS} .sign-name"));
    assert!(sign_begins - boxes_end < 120.0, "the signs are offered right beneath: {}", sign_begins - boxes_end);
    first.click();
    app.css(&format!("#check-{SILLS} .sign-name[aria-pressed=true]"));
    assert_eq!(taps(&app), 2, "a grade with a sign is two taps");

    let other = checks.iter().find(|id| *id != right && **id != format!("check-{SILLS}")).expect("there are more");
    app.css(&format!("#{other}-name")).click();
    app.css(&format!("#{other}")).field("Note").click();
    let note = app.css(&format!("#{other} textarea"));
    app.until("the note can be typed", || note.has_focus().then_some(()));
    assert!(taps(&app) <= 3, "a note is never more than three");
    note.type_keys("dull, a hand long");

    let worksheet = app.twin().worksheet;
    let of = |id: &str| worksheet.findings.get(id.trim_start_matches("check-")).cloned().unwrap_or_default();
    assert_eq!(of(right).grade(), Some(Grade::Right));
    assert_eq!(of(SILLS).grade(), Some(Grade::Moderate));
    assert!(of(SILLS).signs.values().any(|seen| *seen == Seen::Yes));
    assert_eq!(of(other).note, "dull, a hand long");
    app.clean();
}

/// Full sun is one tap from any screen of a worksheet, lasts until the next day, and another tap takes it off.
#[test]
fn full_sun_is_one_tap_away() {
    let mut app = App::open(PHONE);
    app.demo();
    app.go("Checks");
    count(&app);
    app.find("button", "Full sun").click();
    app.css("html[data-theme=sun]");
    assert_eq!(taps(&app), 1);
    app.another_day();
    app.css("html[data-theme=sun]");
    app.find("button", "Full sun").click();
    app.css("html[data-theme=device]");
    app.clean();
}

/// The strip leads to where its figures are told.
#[test]
fn each_figure_of_the_strip_opens_to_its_working() {
    let app = App::open(PHONE);
    app.demo();
    app.go("Car");
    app.css("#strip-cover").click();
    app.at("Worth");
    let score = app.css("#score");
    app.until("the score is shown", || score.has_focus().then_some(()));
    app.css("#strip-hold").click();
    app.at(Stage::RoadTest.name());
    app.find("heading", "What holds the car");
    app.css("#strip-worth").click();
    app.at("Worth");
    app.clean();
}

/// The first steps are walked once, are skipped with one tap, and come again from the settings.
#[test]
fn the_first_steps_come_once() {
    let mut app = App::open(PHONE);
    app.find("heading", "1. Walk round the car");
    app.find("button", "Next step").click();
    app.find("heading", "2. Say how long you have");
    app.find("button", "Skip").click();
    app.no_longer_shows("Say how long you have");
    app.another_day();
    app.no_longer_shows("Walk round the car");
    app.to("#/settings", "Settings");
    app.find("button", "Show the first steps again").click();
    app.at("Shelf");
    for heading in ["1. Walk round the car", "2. Say how long you have", "3. Add what others sold for"] {
        app.find("heading", heading);
        app.find("button", "Next step").click();
    }
    app.find("heading", "4. Hand it over");
    app.find("button", "Begin").click();
    app.no_longer_shows("Hand it over");
    app.clean();
}
