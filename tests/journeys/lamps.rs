//! The table of lamps, tapped through: all lamps outside flash and the tell-tale does not. Its bulb or the relay, then; that it
//! flashes too fast besides says which.

use kerbworth_core::walk::behind::{Behind, behind};
use kerbworth_tests::app::App;
use kerbworth_tests::browser::PHONE;
use kerbworth_tests::twin::Twin;

const TELL_TALE_ODD: &str = "electrics-indicator-tell-tale-odd";
const FLASHES_WRONGLY: &str = "electrics-flash-slow";
const BULB: &str = "electrics-charge-lamp-bulb";
const RELAY: &str = "electrics-flasher-relay";

#[test]
fn a_dark_tell_tale_beside_flashing_lamps_leads_to_the_relay() {
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
    assert!(lamps.len() == 2 && lamps.iter().all(|it| it.sign == TELL_TALE_ODD && !it.lit), "{lamps:?}");
    assert_eq!(are_causes(&app, &twin, &[TELL_TALE_ODD]), [BULB, RELAY]);
    app.accessible();

    app.find("link", "Every lamp against every switch").click();
    app.at("Cabin");
    let row = app.css("#check-electrics-lamp-table .opened");
    row.find("button", "Indicator tell-tale odd, all lamps outside working raised by the lamps");
    row.find("button", "Flashes too fast, too slowly or not at all").click();
    app.until("the relay leads", || app.reads(".causes > li").starts_with("Indicator relay ageing").then_some(()));
    let twin = app.twin();
    assert_eq!(are_causes(&app, &twin, &[TELL_TALE_ODD, FLASHES_WRONGLY])[0], RELAY);

    app.find("button", "confirmed: Indicator relay ageing").click();
    app.until("the relay is certain", || (app.reads(".causes .amount") == "100 %").then_some(()));
    are_causes(&app, &app.twin(), &[TELL_TALE_ODD, FLASHES_WRONGLY]);
    app.go("Worth");
    let job = app.reads(".jobs .job");
    assert!(
        job.starts_with("Renew a lamp switch or relay 100 % likely"),
        "the work that cures it leads the list: {job}"
    );
    app.clean();
}

/// The first causes on the screen are core's, with their chances; the ids of all of core's.
#[track_caller]
fn are_causes(app: &App, twin: &Twin, signs: &[&str]) -> Vec<String> {
    let signs: Vec<String> = signs.iter().map(ToString::to_string).collect();
    let causes = behind(&twin.sheet, &twin.appraisal, &signs);
    let name =
        |cause: &Behind| twin.sheet.fault(&cause.fault).map(|fault| fault.name.clone()).expect("the fault is known");
    let wanted: Vec<_> =
        causes.iter().take(4).map(|cause| vec![name(cause), twin.show.chance(cause.probability)]).collect();
    assert_eq!(app.table_of(".causes > li > .figure-line", "strong, .amount"), wanted);
    causes.into_iter().map(|cause| cause.fault).collect()
}
