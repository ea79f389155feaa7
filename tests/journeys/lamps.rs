//! The table of lamps, tapped through: all lamps outside flash and the tell-tale does not, which is the relay before any wire.

use kerbworth_core::walk::behind::{Behind, behind};
use kerbworth_tests::app::App;
use kerbworth_tests::browser::PHONE;
use kerbworth_tests::twin::Twin;

const SIGN: &str = "electrics-indicator-tell-tale-odd";
const RELAY: &str = "electrics-flasher-relay";

#[test]
fn a_dark_tell_tale_beside_flashing_lamps_points_to_the_relay() {
    let app = App::open(PHONE);
    app.begin();
    app.beside_checks("Lamps");
    app.shows("No lamp differs so far.");
    assert!(app.find("button", "What that says").attribute("disabled").is_some());

    for side in ["left", "right"] {
        let position = format!("Ignition on, indicating {side}");
        app.unfold(&format!("{position} 0/19 watched"));
        app.find("button", "all as it should be").click();
        app.find("button", "Indicator tell-tale lit").click();
        app.find("button", "Indicator tell-tale dark, should not be");
        // One open position at a time, as on a phone in the hand.
        app.unfold(&format!("{position} 19/19 watched · 1 differ"));
    }
    app.shows("2 lamps differ.");
    app.find("button", "What that says").click();
    app.find("heading", "What differs");
    let twin = app.twin();
    let lamps = &twin.appraisal.lamps;
    assert!(lamps.len() == 2 && lamps.iter().all(|it| it.sign == SIGN && !it.lit), "{lamps:?}");
    let causes = causes(&twin);
    assert_eq!(causes.first().map(|cause| &*cause.fault), Some(RELAY), "the relay comes first");
    are_shown(&app, &twin, &causes);
    app.accessible();

    app.find("button", "confirmed: Indicator relay ageing").click();
    app.until("the relay is certain", || (app.reads(".causes .amount") == "100 %").then_some(()));
    let ruled = app.twin();
    are_shown(&app, &ruled, &self::causes(&ruled));
    app.go("Worth");
    let job = app.reads(".jobs .job");
    assert!(job.starts_with("Renew a lamp switch or relay 100 % likely"), "the work that cures it leads the list: {job}");
    app.clean();
}

/// The check's own row tells of it too, without a word typed there.
#[test]
fn the_lamps_raise_their_sign_at_the_check_they_belong_to() {
    let app = App::open(PHONE);
    app.begin();
    app.beside_checks("Lamps");
    app.unfold("Ignition on, indicating left 0/19 watched");
    app.find("button", "all as it should be").click();
    app.find("button", "Indicator tell-tale lit").click();
    app.find("link", "Every lamp against every switch").click();
    app.at("Cabin");
    let row = app.css("#check-electrics-lamp-table .opened");
    app.until("the sign is raised in its row", || row.text().contains("from the lamps").then_some(()));
    let twin = app.twin();
    are_shown(&app, &twin, &causes(&twin));
    app.clean();
}

fn causes(twin: &Twin) -> Vec<Behind> {
    behind(&twin.sheet, &twin.appraisal, &[SIGN.to_owned()])
}

/// The first of the causes, with their chances.
#[track_caller]
fn are_shown(app: &App, twin: &Twin, causes: &[Behind]) {
    let name = |cause: &Behind| twin.sheet.fault(&cause.fault).map(|fault| fault.name.clone()).expect("the fault is known");
    let wanted: Vec<_> =
        causes.iter().take(4).map(|cause| vec![name(cause), twin.show.chance(cause.probability)]).collect();
    assert_eq!(app.table_of(".causes > li > .figure-line", "strong, .amount"), wanted);
}
