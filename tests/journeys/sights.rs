//! Every screen and dialog, empty and full, closed and opened: one walk through all of them, for whoever looks at them
//! (`screens.rs`) or takes their picture (`pictures.rs`).

use kerbworth_core::hand_over::Kind;
use kerbworth_core::sheet::Stage;
use kerbworth_tests::app::App;

/// Called at each sight with its name.
pub type At<'a> = &'a mut dyn FnMut(&App, &str);

/// A walk through some of the sights.
pub type Walk = fn(&App, At<'_>);

/// All of them, from an app that was just opened.
pub const ALL: [(&str, Walk); 6] = [
    ("before any worksheet", before_any_worksheet),
    ("of the walk", |app, at| of_the_demo(app, of_the_walk, at)),
    ("beside the walk", |app, at| of_the_demo(app, beside_the_walk, at)),
    ("of the figures", |app, at| of_the_demo(app, of_the_figures, at)),
    ("handed over, compared and kept", |app, at| of_the_demo(app, handed_over_compared_and_kept, at)),
    ("of the type sheets", of_the_type_sheets),
];

/// Those of a worksheet as full as the demonstration, which is open.
pub const OF_A_WORKSHEET: [Walk; 4] = [of_the_walk, beside_the_walk, of_the_figures, handed_over_compared_and_kept];

/// A walk through sights of a worksheet, with the demonstration.
pub fn of_the_demo(app: &App, walk: Walk, at: At<'_>) {
    app.demo();
    walk(app, at);
}

pub fn before_any_worksheet(app: &App, at: At<'_>) {
    at(app, "shelf, empty");
    for (address, heading) in [("#/compare", "Compare"), ("#/ledger", "Ledger"), ("#/settings", "Settings")] {
        app.to(address, heading);
        at(app, &format!("{heading}, with nothing on the shelf"));
    }
    app.find("button", "Show the first steps again").click();
    app.at("Shelf");
    for step in 2..=4 {
        app.find("button", "Next step").click();
        at(app, &format!("shelf, the first steps: {step}"));
    }
    app.find("button", "Begin").click();
    app.to("#/", "Shelf");
    app.begin();
    at(app, "Car, blank");
    for (place, heading) in [("Sales", "Sales"), ("Worth", "Worth"), ("Hand over", "Hand over")] {
        app.go(place);
        at(app, &format!("{heading}, of a blank worksheet"));
    }
    app.to("#/plan", "Plan");
    at(app, "Plan, without minutes");
    app.stage(Stage::Papers);
    for part in ["found", "unsafe", "dear"] {
        app.find("button", part).click();
        at(app, &format!("Papers, {part}, of a blank worksheet"));
    }
}

pub fn of_the_walk(app: &App, at: At<'_>) {
    app.go("Car");
    at(app, "Car");
    for stage in Stage::ALL {
        app.stage(stage);
        at(app, stage.name());
    }
    // One that is measured, one at which something was found and causes are weighed.
    app.stage(Stage::WalkRound);
    for check in ["body-paint-film", "structure-sills"] {
        app.open_check(check);
    }
    at(app, "Walk-round, with checks opened");
    for part in ["unsafe", "dear"] {
        app.find("button", part).click();
        at(app, &format!("Walk-round, {part}"));
    }
    app.field("Find a check, sign, fault or note").fill("noise");
    at(app, "Walk-round, searched");
    app.run("document.getElementById('keys').click()", &[]);
    app.find("dialog", "Keys");
    at(app, "the keys");
    app.find("button", "Close").click();
    app.stage(Stage::Cabin);
    app.open_check("brakes-pedal-hold")
        .find("button", "Pedal sinks under a steady foot, heavy or light unsafe")
        .click();
    app.stage(Stage::RoadTest);
    app.css("#field-gate-passed-over").fill("driven on the owner's own drive only");
    app.find("button", "Stamp the time").click();
    at(app, "Road test, held, passed over and logged");
}

pub fn beside_the_walk(app: &App, at: At<'_>) {
    app.to("#/plan", "Plan");
    app.find("button", "20").click();
    app.find("heading", "What it leaves unseen");
    at(app, "Plan of twenty minutes");
    app.to("#/lamps", "Lamps");
    app.css(".situation summary").click();
    app.find("button", "Left side lamp dark");
    at(app, "Lamps, with a position opened");
    app.to("#/departures", "Departures");
    at(app, "Departures");
    app.to("#/on-paper", "On paper");
    at(app, "the blank sheet");
}

pub fn of_the_figures(app: &App, at: At<'_>) {
    app.go("Worth");
    at(app, "Worth");
    app.css(".job summary").click();
    app.css(".job details[open] dl");
    at(app, "Worth, with a job unfolded");
    app.go("Sales");
    at(app, "Sales, with grid and plots");
    app.css("ol.sales summary").click();
    app.css("ol.sales .opened");
    app.css("table.grid button").click();
    app.css("table.grid .inside");
    at(app, "Sales, with one opened");
    app.unfold("Paste from a spreadsheet, or open a CSV file");
    app.field("Rows copied from a spreadsheet, or the text of a CSV file").type_keys("Date,Price\n2026-02-30,9000\n");
    app.find("heading", "The rows");
    at(app, "Sales, with a table pasted");
}

pub fn handed_over_compared_and_kept(app: &App, at: At<'_>) {
    app.go("Hand over");
    for kind in Kind::ALL {
        app.document(kind);
        app.css("article.document h2");
        at(app, &format!("Hand over, {}", kind.name()));
    }
    app.unfold("Save as a file");
    at(app, "Hand over, the files");
    app.to_shelf();
    app.begin();
    app.to_shelf();
    app.find("button", "New worksheet");
    at(app, "shelf, full");
    app.to("#/compare", "Compare");
    at(app, "Compare");
    app.to("#/ledger", "Ledger");
    app.find("button", "Add a sale").click();
    app.field("Price").fill("9250");
    at(app, "Ledger, with a sale opened");
    app.find("button", "Done").click();
    at(app, "Ledger, with a sale");
}

pub fn of_the_type_sheets(app: &App, at: At<'_>) {
    app.to("#/sheets", "Type sheets");
    at(app, "Type sheets");
    app.field("Kind of car").fill("Halberd Plover");
    app.find("button", "New sheet that extends the general one").click();
    app.at("Halberd Plover");
    at(app, "editor");
    let section = app.css(".sheet-section");
    section.find("DisclosureTriangle", "Checks 0 own, 187 general").click();
    at(app, "editor, with a section opened");
    app.css(".sheet-entry summary").click();
    app.find("button", "Change here").click();
    app.find("button", "Back to the general one");
    at(app, "editor, with an entry opened");
}
