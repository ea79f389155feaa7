//! Every screen, empty and full, closed and opened: axe-core finds nothing in light and in dark, a phone held upright does not
//! scroll it sideways, and a thumb hits all that is to be pressed.

use kerbworth_core::hand_over::Kind;
use kerbworth_core::sheet::Stage;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{DARK, LIGHT, PHONE};

/// What was found wrong on the screens that were looked at.
struct Looked<'a> {
    app: &'a App,
    wrong: Vec<String>,
}

impl<'a> Looked<'a> {
    fn over(app: &'a App) -> Self {
        Self { app, wrong: Vec::new() }
    }

    /// Looks at what is on the screen now.
    fn at(&mut self, screen: &str) {
        self.app.prefer(LIGHT);
        let mut wrong: Vec<String> = self.app.violations().iter().map(ToString::to_string).collect();
        // Nothing but the colours changes with the scheme.
        self.app.prefer(DARK);
        wrong.extend(self.app.violations_of(&["color-contrast"]).iter().map(|it| format!("in the dark: {it}")));
        wrong.extend(self.app.wider_than(PHONE.width));
        wrong.extend(self.app.too_small_for_a_thumb());
        self.wrong.extend(wrong.into_iter().map(|wrong| format!("{screen}: {wrong}")));
        self.app.screenshot(&format!("screen-{}", screen.replace([' ', ',', ':'], "-")));
    }

    /// Nothing was wrong, and nothing was said in the console or asked for elsewhere.
    #[track_caller]
    fn well(self) {
        assert!(self.wrong.is_empty(), "{}", self.wrong.join("\n"));
        self.app.clean();
    }
}

#[test]
fn those_before_any_worksheet() {
    let app = App::open(PHONE);
    let mut looked = Looked::over(&app);
    looked.at("shelf, empty");
    for (address, heading) in [("#/compare", "Compare"), ("#/ledger", "Ledger"), ("#/settings", "Settings")] {
        app.to(address, heading);
        looked.at(&format!("{heading}, with nothing on the shelf"));
    }
    app.find("button", "full sun").click();
    looked.at("Settings, in full sun");
    app.to("#/", "Shelf");
    app.begin();
    looked.at("Car, blank");
    for (place, heading) in [("Sales", "Sales"), ("Worth", "Worth"), ("Hand over", "Hand over")] {
        app.go(place);
        looked.at(&format!("{heading}, of a blank worksheet"));
    }
    app.to("#/plan", "Plan");
    looked.at("Plan, without minutes");
    looked.well();
}

#[test]
fn those_of_the_walk() {
    let app = App::open(PHONE);
    app.demo();
    let mut looked = Looked::over(&app);
    app.go("Car");
    looked.at("Car");
    for stage in Stage::ALL {
        app.stage(stage);
        looked.at(stage.name());
    }
    // One that is measured, one at which something was found and causes are weighed.
    app.stage(Stage::WalkRound);
    for check in ["body-paint-film", "structure-sills"] {
        app.open_check(check);
    }
    looked.at("Walk-round, with checks opened");
    app.stage(Stage::Cabin);
    app.open_check("brakes-pedal-hold")
        .find("button", "Pedal sinks under a steady foot, heavy or light unsafe")
        .click();
    app.stage(Stage::RoadTest);
    app.css("#field-gate-passed-over").fill("driven on the owner's own drive only");
    app.find("button", "Stamp the time").click();
    looked.at("Road test, held, passed over and logged");
    looked.well();
}

#[test]
fn those_beside_the_walk() {
    let app = App::open(PHONE);
    app.demo();
    let mut looked = Looked::over(&app);
    app.to("#/plan", "Plan");
    app.find("button", "20").click();
    app.find("heading", "What it leaves unseen");
    looked.at("Plan of twenty minutes");
    app.to("#/lamps", "Lamps");
    app.css(".situation summary").click();
    app.find("button", "Left side lamp dark");
    looked.at("Lamps, with a position opened");
    app.to("#/departures", "Departures");
    looked.at("Departures");
    looked.well();
}

#[test]
fn those_of_the_figures() {
    let app = App::open(PHONE);
    app.demo();
    let mut looked = Looked::over(&app);
    looked.at("Worth");
    app.css(".job summary").click();
    app.css(".job details[open] dl");
    looked.at("Worth, with a job unfolded");
    app.go("Sales");
    looked.at("Sales, with grid and plots");
    app.css("ol.sales summary").click();
    app.css("ol.sales .opened");
    app.css("table.grid button").click();
    app.css("table.grid .inside");
    looked.at("Sales, with one opened");
    app.unfold("Paste from a spreadsheet, or open a CSV file");
    app.field("Rows copied from a spreadsheet, or the text of a CSV file").type_keys("Date,Price\n2026-02-30,9000\n");
    app.find("heading", "The rows");
    looked.at("Sales, with a table pasted");
    looked.well();
}

#[test]
fn those_handed_over_compared_and_kept() {
    let app = App::open(PHONE);
    app.demo();
    let mut looked = Looked::over(&app);
    app.go("Hand over");
    for kind in Kind::ALL {
        app.css(".no-print fieldset").find("button", kind.name()).click();
        app.css("article.document h2");
        looked.at(&format!("Hand over, {}", kind.name()));
    }
    app.unfold("Save as a file");
    looked.at("Hand over, the files");
    app.to_shelf();
    app.begin();
    app.to_shelf();
    app.find("button", "New worksheet");
    looked.at("shelf, full");
    app.to("#/compare", "Compare");
    looked.at("Compare");
    app.to("#/ledger", "Ledger");
    app.find("button", "Add a sale").click();
    app.field("Price").fill("9250");
    looked.at("Ledger, with a sale opened");
    app.find("button", "Done").click();
    looked.at("Ledger, with a sale");
    looked.well();
}

#[test]
fn those_of_the_type_sheets() {
    let app = App::open(PHONE);
    app.to("#/sheets", "Type sheets");
    let mut looked = Looked::over(&app);
    looked.at("Type sheets");
    app.field("Kind of car").fill("Halberd Plover");
    app.find("button", "New sheet that extends the general one").click();
    app.at("Halberd Plover");
    looked.at("editor");
    let section = app.css(".sheet-section");
    section.find("DisclosureTriangle", "Checks 0 own, 187 general").click();
    looked.at("editor, with a section opened");
    app.css(".sheet-entry summary").click();
    app.find("button", "Change here").click();
    app.find("button", "Back to the general one");
    looked.at("editor, with an entry opened");
    looked.well();
}
