//! A car that departs from how it was made in ways that do not go together is held; whoever drives it all the same says why, and
//! the report says it after.

use kerbworth_core::appraise::driving::Because;
use kerbworth_core::hand_over::{Kind, Length, document, text::text};
use kerbworth_core::sheet::Stage;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::PHONE;

const EFFECT: &str = "Rear stiffness added twice: the tail breaks away abruptly as the throttle is lifted. Take the bar off or \
                      go back to standard springs.";
const REASON: &str = "moved at walking pace across the field, nobody near";

#[test]
fn two_that_combine_badly_hold_the_car_and_passing_over_the_gate_is_reported() {
    let app = App::open(PHONE);
    app.begin();
    app.beside_checks("Departures");
    press(&app, "Stiffer rear springs", "there");
    app.shows("There: 1 · combine badly: 0");
    assert_eq!(app.strip()[2], "none", "a departure alone is no fault");
    press(&app, "Anti-roll bar added at the rear", "there");
    app.shows("There: 2 · combine badly: 1");
    app.shows(EFFECT);
    app.accessible();
    let twin = app.twin();
    twin.is_in_strip(&app);
    let [hold] = &twin.appraisal.holds[..] else { panic!("one hold: {:?}", twin.appraisal.holds) };
    assert_eq!(hold.because, Because::Combination { combination: "rear-stiff-and-bar".into() });

    app.stage(Stage::RoadTest);
    app.find("heading", "What holds the car");
    app.shows(EFFECT);
    app.find("heading", "Safety checks still to make");
    assert!(!app.has("button", "Stamp the time"), "the drive is shut");
    assert!(!app.text().contains("Parking brake holds on a slope"), "the checks of the drive are shut");
    app.field("To open it all the same, write why; the report shows the reason").type_keys(REASON);
    app.find("button", "Stamp the time").click();
    app.shows("Parking brake holds on a slope");
    app.accessible();

    app.go("Hand over");
    app.document(Kind::Report);
    app.until("the report is there", || app.reads("article.document h2").starts_with("Report").then_some(()));
    let twin = app.twin();
    assert_eq!((twin.appraisal.holds.len(), twin.worksheet.log.len()), (1, 1));
    let written = text(&document(twin.case(), Kind::Report, Length::Full), &twin.show);
    let shown = app.reads("article.document");
    for said in [REASON, "Bad combination: Stiffer rear springs + Anti-roll bar added at the rear."] {
        assert!(written.contains(said), "core's report says “{said}”");
        assert!(shown.contains(said), "the report on the screen says “{said}”:\n{shown}");
    }

    app.beside_checks("Departures");
    press(&app, "Anti-roll bar added at the rear", "not there");
    app.shows("There: 1 · combine badly: 0");
    app.twin().is_in_strip(&app);
    assert_eq!(app.strip()[2], "none", "with the bar off, nothing holds it");
    app.clean();
}

#[track_caller]
fn press(app: &App, departure: &str, answer: &str) {
    app.find("group", departure).find("button", answer).click();
}
