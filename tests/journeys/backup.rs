//! All that a device keeps, saved as one file and taken in on another: new, the same, and different.

use kerbworth_core::bundle::{self, Bundle};
use kerbworth_core::sheet::Stage;
use kerbworth_tests::app::{App, Typed};
use kerbworth_tests::browser::{DESK, PHONE};
use kerbworth_tests::photos::kept;
use kerbworth_tests::twin::Twin;

const DEMO: &str = "1967 Wexcombe Curlew 1500 drophead";
const OWN: &str = "1964 Halberd Plover saloon";
const SHEET: &str = "Halberd Plover, all years";
const PICTURE: &[u8] = include_bytes!("../data/photograph-on-its-side.jpg");

#[test]
fn all_that_is_kept_goes_to_another_device_as_one_file() {
    let old = App::open(DESK);
    fill(&old);
    let file = save(&old);
    let (saved, notes) = bundle::read(&file).expect("the file can be read");
    assert!(notes.is_empty(), "in full: {notes:?}");
    assert_eq!(titles(&saved), [OWN, DEMO]);
    assert_eq!(saved.type_sheets.iter().map(|sheet| &*sheet.name).collect::<Vec<_>>(), [SHEET]);
    assert_eq!(saved.ledger.as_ref().map(|ledger| ledger.sales.len()), Some(1));
    assert_eq!(saved.photos.into_iter().collect::<Vec<_>>(), kept(&old), "every photograph, as it is kept");

    let new = old.another_device(PHONE);
    new.choose_file("kerbworth.zip", &file);
    would_bring(&new, &[format!("{OWN}: new"), format!("{DEMO}: new"), format!("{SHEET}: new")]);
    new.shows(&format!("Photographs: {}. Sales for the ledger that are not there yet: 1.", kept(&old).len()));
    new.accessible();
    new.find("button", "Leave it").click();
    new.no_longer_shows("What this file would bring");
    new.find("button", "Open the demonstration");
    assert!(kept(&new).is_empty(), "what is left brings nothing");

    take_in(&new, &file);
    for worksheet in &saved.worksheets {
        let (there, here) = (Twin::of(&new, &worksheet.id), Twin::of(&old, &worksheet.id));
        assert_eq!(&there.worksheet, worksheet);
        assert_eq!(there.sheet, here.sheet, "by the same type sheet");
        assert_eq!(there.strip(), here.strip());
    }
    assert_eq!(kept(&new), kept(&old));
    new.to("#/ledger", "Ledger");
    new.shows("1 / 1");
    new.shows("£9,250");
    new.to_shelf();
    new.find("link", &format!("{OWN} 20 Jun 2026")).click();
    new.at("Car");
    new.stage(Stage::WalkRound);
    new.open_check("structure-sills");
    new.css("#check-structure-sills img.photo");
    new.clean();
    old.clean();
}

#[test]
fn what_is_here_already_stays_and_what_differs_comes_beside_it() {
    let app = App::open(PHONE);
    fill(&app);
    let file = save(&app);
    app.choose_file("kerbworth.zip", &file);
    let same = "already here, the same";
    would_bring(&app, &[format!("{OWN}: {same}"), format!("{DEMO}: {same}"), format!("{SHEET}: {same}")]);
    app.shows("Sales for the ledger that are not there yet: 0.");
    app.find("button", "Take in").click();
    app.no_longer_shows("What this file would bring");
    let [own, demo] = &shelf(&app)[..] else { panic!("the shelf is as it was: {:?}", shelf(&app)) };
    assert_eq!((&*own.1, &*demo.1), (OWN, DEMO));

    app.find("link", &format!("{OWN} 20 Jun 2026")).click();
    app.at("Car");
    app.field("Colour, outside and in").fill("grey");
    app.saved();
    app.to_shelf();
    app.choose_file("kerbworth.zip", &file);
    would_bring(
        &app,
        &[format!("{OWN}: already here, different"), format!("{DEMO}: {same}"), format!("{SHEET}: {same}")],
    );
    app.find("button", "Take in").click();
    app.no_longer_shows("What this file would bring");
    let all = shelf(&app);
    assert_eq!(all.iter().filter(|(_, title)| title == OWN).count(), 2, "{all:?}");
    assert_eq!(all.len(), 3);
    let mut colours: Vec<String> =
        all.iter().filter(|(_, title)| title == OWN).map(|(id, _)| Twin::of(&app, id).worksheet.car.colour).collect();
    colours.sort();
    assert_eq!(colours, ["", "grey"], "neither took the place of the other");
    app.clean();
}

#[test]
fn a_damaged_file_and_one_of_something_else_are_refused() {
    let app = App::open(PHONE);
    fill(&app);
    let file = save(&app);
    let before = (shelf(&app), kept(&app));
    let cut = file.get(..file.len() / 2).expect("half of it is there");
    // A zip file with nothing in it: its end alone.
    let empty = [&b"PK\x05\x06"[..], &[0; 18]].concat();
    let refused = [("cut.zip", cut), ("photo.zip", PICTURE), ("empty.zip", &*empty), ("kerbworth.json", PICTURE)];
    for (name, content) in refused {
        app.choose_file(name, content);
        let why = bundle::read(content).expect_err("core refuses it too").to_string();
        let said = app.until(&format!("{name} is refused"), || {
            Some(app.reads("main [role=alert]")).filter(|said| said.starts_with(name))
        });
        // What is no zip file by its name is not read as one.
        assert!(name.ends_with(".json") || said == format!("{name}: {why}"), "{said}");
    }
    app.accessible();

    // A letter of a note changed after it was saved: that part is named and left out, and the rest can come.
    let place = file.windows(6).position(|part| part == b"Plover").expect("the car's name is in the file");
    let mut damaged = file.clone();
    damaged.get_mut(place..place + 6).expect("it is there").copy_from_slice(b"Clover");
    app.choose_file("damaged.zip", &damaged);
    app.shows("Not all of it can be read:");
    let (_, notes) = bundle::read(&damaged).expect("the rest can be read");
    assert_eq!(notes.len(), 1, "{notes:?}");
    notes.iter().for_each(|note| app.shows(&note.to_string()));
    app.accessible();
    app.find("button", "Leave it").click();
    assert_eq!((shelf(&app), kept(&app)), before, "nothing of all this was taken in");
    app.clean();
}

/// The demonstration, a worksheet with a photograph by a type sheet of one's own, and a sale in the ledger.
#[track_caller]
fn fill(app: &App) {
    app.demo();
    app.to("#/sheets", "Type sheets");
    app.field("Kind of car").fill(SHEET);
    app.find("button", "New sheet that extends the general one").click();
    app.at(SHEET);
    app.to_shelf();
    app.begin();
    for (label, text) in
        [("Maker", "Halberd"), ("Model and body", "Plover saloon"), ("Year made", "1964"), ("Day", "2026-06-20")]
    {
        app.field(label).fill(text);
    }
    app.field("Type sheet").choose(SHEET);
    app.stage(Stage::WalkRound);
    app.open_check("structure-sills").find("button", "serious").click();
    let path = app.file("sill.jpg", PICTURE);
    app.css("#check-structure-sills input[type=file]").type_keys(path);
    app.css("#check-structure-sills img.photo");
    app.saved();
    app.to("#/ledger", "Ledger");
    app.find("button", "Add a sale").click();
    let Typed { date, price, .. } = Typed { date: "2025-11-08", price: "9,250", ..Typed::default() };
    app.field("Date").fill(date);
    app.field("Price").fill(price);
    app.find("button", "Done").click();
    app.shows("1 / 1");
    app.to_shelf();
}

/// Everything as one file.
#[track_caller]
fn save(app: &App) -> Vec<u8> {
    app.find("button", "Save everything as one file").click();
    app.shows("Handed to the browser as a file.");
    app.downloaded("kerbworth-")
}

#[track_caller]
fn take_in(app: &App, file: &[u8]) {
    app.choose_file("kerbworth.zip", file);
    app.find("heading", "What this file would bring");
    app.find("button", "Take in").click();
    app.no_longer_shows("What this file would bring");
}

/// The preview names these, in this order.
#[track_caller]
fn would_bring(app: &App, lines: &[String]) {
    app.find("heading", "What this file would bring");
    let shown: Vec<String> = app.table_of("section.notice li", "label").into_iter().flatten().collect();
    assert_eq!(shown, lines);
}

/// Ids and names of the worksheets on the shelf.
#[track_caller]
fn shelf(app: &App) -> Vec<(String, String)> {
    let stored = app.stored("kerbworth/shelf").expect("there is a shelf");
    let stored: serde_json::Value = serde_json::from_str(&stored).expect("it is JSON");
    let cards = stored.pointer("/body/cards").and_then(|cards| cards.as_array()).cloned().unwrap_or_default();
    let text = |card: &serde_json::Value, name: &str| {
        card.get(name).and_then(|text| text.as_str()).unwrap_or_default().to_owned()
    };
    cards.iter().map(|card| (text(card, "id"), text(card, "title"))).collect()
}

fn titles(bundle: &Bundle) -> Vec<String> {
    bundle.worksheets.iter().map(kerbworth_core::worksheet::Worksheet::title).collect()
}
