//! Two tabs: what each of them changes is in both, and what both changed differently is shown.

use kerbworth_core::ledger::Ledger;
use kerbworth_core::restore::restore;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::DESK;
use kerbworth_tests::envelope::sealed;
use serde_json::{Value, json};

use crate::storage::stored_worksheet;

const AUTHOR: &str = "Written by, and when";
const REGION: &str = "Numbers, dates and money as in";

#[test]
fn two_tabs_on_different_fields_keep_both() {
    let app = App::open(DESK);
    app.begin();
    app.field("Maker").fill("Halberd");
    app.saved();
    let first = app.tab();
    let second = app.new_tab();
    app.open("#/car");
    app.at("Car");
    assert_eq!(app.field("Maker").value(), "Halberd");
    app.field("Model and body").fill("Plover");
    app.saved();

    app.to_tab(&first);
    // What the other tab stored has come by itself.
    app.until("the model is here", || (app.field("Model and body").value() == "Plover").then_some(()));
    app.field("Year made").fill("1964");
    app.saved();
    app.to_tab(&second);
    app.until("the year is there", || (app.field("Year made").value() == "1964").then_some(()));
    app.field("Colour, outside and in").fill("grey");

    let both = app.twin().worksheet;
    assert_eq!((both.title().as_str(), both.car.colour.as_str()), ("1964 Halberd Plover", "grey"));
    assert_eq!(app.names("alert").len(), 0);
    app.clean();
}

#[test]
fn the_same_field_in_two_tabs_shows_both_and_asks() {
    let app = App::open(DESK);
    app.begin();
    app.field("Maker").fill("Halberd");
    app.saved();
    let first = app.tab();
    app.new_tab();
    app.open("#/car");
    app.at("Car");
    for (other, ours, button, want) in
        [("Plover", "Dotterel", "Take the other tab’s", "Plover"), ("Curlew", "Avocet", "Keep this one", "Avocet")]
    {
        conflict(&app, other, ours);
        for text in ["car · model", other, ours] {
            app.shows(text);
        }
        app.accessible();
        assert_eq!(app.field("Model and body").value(), ours);
        app.find("button", button).click();
        app.no_longer_shows("This was changed here and in another tab");
        assert_eq!(app.field("Model and body").value(), want);
        assert_eq!(app.twin().worksheet.car.model, want);
        assert_eq!(app.twin().worksheet.car.maker, "Halberd");
    }
    app.to_tab(&first);
    app.until("the first tab has it", || (app.field("Model and body").value() == "Avocet").then_some(()));
    app.clean();
}

/// Types into the model here and stores, in the same moment and as another tab would, another text for it.
#[track_caller]
fn conflict(app: &App, other: &str, ours: &str) {
    app.saved();
    let (key, _) = stored_worksheet(app);
    at_once(app, &key, |worksheet| worksheet["car"]["model"] = json!(other), ("Model and body", ours));
    app.saved();
}

/// Types into a field here and stores, in the same moment and as another tab would, what a change makes of what is stored.
#[track_caller]
fn at_once(app: &App, key: &str, change: impl FnOnce(&mut Value), (label, ours): (&str, &str)) {
    let text = app.stored(key).expect("it is stored");
    let mut envelope: Value = serde_json::from_str(&text).expect("an envelope is JSON");
    envelope["revision"] = json!(envelope["revision"].as_u64().expect("a revision") + 1);
    change(&mut envelope["body"]);
    let script = "const [key, text, label, ours] = arguments;
        const labelled = (one) => one.labels?.[0]?.innerText.startsWith(label) && one.checkVisibility();
        const field = [...document.querySelectorAll('input, textarea')].find(labelled);
        field.focus();
        field.value = ours;
        field.dispatchEvent(new Event('input', { bubbles: true }));
        localStorage.setItem(key, text);";
    app.run(script, &[key.into(), sealed(&mut envelope).into(), label.into(), ours.into()]);
}

#[test]
fn sales_added_in_each_of_two_tabs_are_in_both() {
    let app = App::open(DESK);
    app.to("#/ledger", "Ledger");
    let first = app.tab();
    let second = app.new_tab();
    app.open("#/ledger");
    app.at("Ledger");
    add_sale(&app, "9250");
    app.to_tab(&first);
    app.shows("1 / 1");
    add_sale(&app, "8100");
    app.to_tab(&second);
    app.shows("2 / 2");

    // And in one moment: this tab adds one while another stores a third.
    app.find("button", "Add a sale").click();
    let third = |ledger: &mut Value| {
        let mut sale = ledger["sales"][0].clone();
        (sale["id"], sale["source"]) = (json!("third"), json!("notice board"));
        ledger["sales"].as_array_mut().expect("sales").push(sale);
    };
    at_once(&app, "kerbworth/ledger", third, ("Price", "7600"));
    // Behind the sale that is open the list waits.
    app.shows(" / 4");
    app.find("button", "Done").click();
    app.shows("4 / 4");
    app.to_tab(&first);
    app.shows("4 / 4");
    let ledger = app.until("all are stored", || {
        let stored: Value = serde_json::from_str(&app.stored("kerbworth/ledger")?).ok()?;
        let ledger: Ledger = restore(&stored["body"].to_string(), 1).ok()?.0;
        let price = ledger.sales.iter().any(|sale| sale.price.value().is_some_and(|price| price.0 == 760_000));
        (ledger.sales.len() == 4 && price).then_some(ledger)
    });
    assert!(ledger.sale("third").is_some());
    assert_eq!(app.names("alert").len(), 0);
    app.clean();
}

fn add_sale(app: &App, price: &str) {
    app.find("button", "Add a sale").click();
    app.field("Price").fill(price);
    app.find("button", "Done").click();
}

#[test]
fn a_sheet_written_in_two_tabs_keeps_what_both_wrote_and_shows_what_differs() {
    let app = App::open(DESK);
    app.to("#/sheets", "Type sheets");
    app.field("Kind of car").fill("Halberd Plover");
    app.find("button", "New sheet that extends the general one").click();
    app.at("Halberd Plover");
    app.saved();
    let first = app.tab();
    let address = app.run("return location.hash", &[]);
    let address = address.as_str().expect("an address").to_owned();
    app.new_tab();
    app.open(&address);
    app.at("Halberd Plover");
    app.field(AUTHOR).fill("A. Penn, spring");
    app.saved();
    app.to_tab(&first);
    app.until("what the other tab wrote is here", || (app.field(AUTHOR).value() == "A. Penn, spring").then_some(()));

    let key = format!("kerbworth/type-sheet/{}", address.trim_start_matches("#/sheets/"));
    let name = |sheet: &mut Value| sheet["name"] = json!("Halberd Plover saloon");
    at_once(&app, &key, name, (AUTHOR, "A. Penn, autumn"));
    app.at("Halberd Plover saloon");
    app.saved();
    assert_eq!(app.field(AUTHOR).value(), "A. Penn, autumn");
    assert_eq!(app.names("alert").len(), 0);

    at_once(&app, &key, |sheet| sheet["author"] = json!("B. Reed"), (AUTHOR, "C. Holt"));
    app.shows("This was changed here and in another tab");
    for text in ["author", "B. Reed", "C. Holt"] {
        app.shows(text);
    }
    app.find("button", "Take the other tab’s").click();
    app.until("the other tab's word is here", || (app.field(AUTHOR).value() == "B. Reed").then_some(()));
    app.saved();
    app.reload();
    app.at("Halberd Plover saloon");
    assert_eq!(app.field(AUTHOR).value(), "B. Reed");
    app.clean();
}

#[test]
fn preferences_of_two_tabs_are_kept_field_by_field() {
    let app = App::open(DESK);
    app.to("#/settings", "Settings");
    let first = app.tab();
    let second = app.new_tab();
    app.open("#/settings");
    app.at("Settings");
    app.find("button", "full sun").click();
    app.to_tab(&first);
    app.css("html[data-theme=sun]");
    app.field(REGION).choose("Germany");
    app.to_tab(&second);
    let region = || app.field(REGION).value();
    app.until("the region is here", || (region() == "de-DE").then_some(()));
    app.reload();
    app.at("Settings");
    app.css("html[data-theme=sun]");
    assert_eq!(region(), "de-DE");
    app.clean();
}
