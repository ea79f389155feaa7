//! Texts that would be elements, scripts or addresses of scripts if a screen took them for anything but texts: in every text of
//! a worksheet and a type sheet, in a table of sales, in a link. The page shows them as they are and makes nothing of them.

use std::collections::BTreeSet;

use kerbworth_core::ledger::csv::row;
use kerbworth_core::link;
use kerbworth_core::parcel::Parcel;
use kerbworth_core::restore::{Restore, Unread, restore_value};
use kerbworth_core::sheet::{self, Stage, TypeSheet, demo, general};
use kerbworth_core::units::Date;
use kerbworth_core::worksheet::{self, Entry, Sale, Worksheet};
use kerbworth_tests::app::{App, one_line};
use kerbworth_tests::browser::{Browser, PHONE};
use serde_json::{Map, Value};

use crate::harness::{complaint, page};
use crate::sights;

/// An element that runs as soon as it is one, and a script.
const MARKUP: &str = r#""><img src=x onerror="document.title='broken'"><script>document.title='broken'</script>"#;

/// Runs if it is where a link leads.
const ADDRESS: &str = "javascript:document.title='broken'//";

/// What is in the page that no text may put there, and all that can be read in it.
const LOOK: &str = r#"
    const told = [...document.querySelectorAll('*')].flatMap((element) => [...element.attributes]
        .filter(({ name, value }) => name.startsWith('on') || name === 'srcdoc'
            || ['href', 'src', 'action', 'formaction', 'xlink:href'].includes(name) && /^\s*javascript:|^x$/i.test(value))
        .map(({ name, value }) => `${element.localName} ${name}=${value}`));
    const scripts = [...document.scripts].filter((script) => !script.src.startsWith(location.origin));
    const fields = [...document.querySelectorAll('input, textarea')].map((field) => field.value);
    return [document.title, [...told, ...scripts.map((script) => script.outerHTML)],
        [document.body.innerText, ...fields].join('\n')]"#;

/// The sights in which the text could be read.
#[derive(Default)]
struct Seen(BTreeSet<String>);

impl Seen {
    /// Nothing came of the texts at this sight.
    #[track_caller]
    fn look(&mut self, browser: &Browser, sight: &str) {
        let (title, made, read): (String, Vec<String>, String) =
            serde_json::from_value(browser.run(LOOK, &[])).expect("the page tells what it has");
        assert_eq!(made, Vec::<String>::new(), "{sight}: the page made this of a text");
        assert!(title.ends_with("Kerbworth"), "{sight}: the title is {title}");
        if one_line(&read).contains(MARKUP) {
            self.0.insert(sight.to_owned());
        }
    }

    /// At each of these sights the text stands as it is.
    #[track_caller]
    fn at(&self, sights: &[&str]) {
        let missing: Vec<&&str> = sights.iter().filter(|sight| !self.0.contains(**sight)).collect();
        assert!(missing.is_empty(), "not shown at {missing:?}, but at {:?}", self.0);
    }
}

/// Ends a journey: nothing was asked for that a text named, of this host or another, and nobody complained.
#[track_caller]
fn ends(app: &App) {
    let asked: Vec<String> = app.requests().into_iter().filter(|address| address.ends_with("/x")).collect();
    assert!(asked.is_empty(), "{asked:?}");
    app.clean();
}

/// A page that takes the texts for more than texts is found out.
#[test]
fn what_becomes_of_a_text_is_seen() {
    let (host, browser) = page("");
    for (made, told) in [
        (MARKUP.to_owned(), "img src=x"),
        (format!("<a href=\"{ADDRESS}\">Sale</a>"), "a href=javascript:"),
        ("<p onclick=\"alert(1)\">Sale</p>".to_owned(), "p onclick="),
        ("<script>document.body.append('ran')</script>".to_owned(), "<script>"),
    ] {
        host.replace("/page.html", format!("<!doctype html><title>Kerbworth</title><body>{made}"));
        browser.visit("page.html");
        let said = complaint(|| Seen::default().look(&browser, "page"));
        assert!(said.contains(told), "{said}");
    }
}

#[test]
fn files_of_a_sheet_and_a_worksheet_stay_texts_on_every_screen() {
    let (app, mut seen) = (App::open(PHONE), Seen::default());
    let (sheet, worksheet) = hostile();
    open_sheet(&app, &mut seen, &sheet);
    app.to_shelf();
    app.open_worksheet(&worksheet);
    for walk in sights::OF_A_WORKSHEET {
        walk(&app, &mut |app, sight| seen.look(app, sight));
    }
    seen.at(&[
        "Type sheets",
        "editor",
        "Car",
        Stage::Underneath.name(),
        "Walk-round, with checks opened",
        "Plan of twenty minutes",
        "Worth",
        "Sales, with grid and plots",
        "Sales, with one opened",
        "Hand over, Report",
        "Hand over, Listing",
        "Hand over, Bargaining sheet",
        "shelf, full",
        "Compare",
    ]);
    ends(&app);
}

#[track_caller]
fn open_sheet(app: &App, seen: &mut Seen, sheet: &TypeSheet) {
    app.to("#/sheets", "Type sheets");
    app.choose_file("sheet.json", serde_json::to_string(sheet).expect("a sheet is written as JSON"));
    app.shows("Opened:");
    seen.look(app, "Type sheets");
    app.to(&format!("#/sheets/{}", sheet.id), &sheet.name);
    app.css(".sheet-section summary").click();
    app.css(".sheet-entry summary").click();
    seen.look(app, "editor");
}

#[test]
fn a_table_of_sales_and_the_name_of_a_file_stay_texts() {
    let (app, mut seen) = (App::open(PHONE), Seen::default());
    let misnamed = r#""><img src=x onerror="document.title='broken'">.json"#;
    app.choose_file(misnamed, MARKUP);
    app.shows(misnamed);
    seen.look(&app, "shelf");
    app.to("#/ledger", "Ledger");
    app.unfold("Paste from a spreadsheet, or open a CSV file");
    let lines = [
        ["Date", "Price", "Source", "Departures", MARKUP],
        ["2026-05-02", "9250", MARKUP, ADDRESS, ADDRESS],
        ["2026-05-09", "9400", ADDRESS, MARKUP, MARKUP],
        [MARKUP, ADDRESS, MARKUP, MARKUP, MARKUP],
    ];
    app.choose_file(&misnamed.replace("json", "csv"), lines.map(|cells| row(&cells, ',')).concat());
    app.shows("Rows: 3; can be read: 2; need mending: 1");
    seen.look(&app, "the table");
    app.shows(&format!("date “{MARKUP}”: is not a day"));
    app.find("button", "Add the good rows (2)").click();
    app.shows("Sales added: 2");
    app.until("the ledger lists them", || app.text().contains("2 / 2").then_some(()));
    seen.look(&app, "the ledger");
    seen.at(&["the table", "the ledger"]);
    ends(&app);
}

#[test]
fn a_link_stays_a_text() {
    let (app, mut seen) = (App::open(PHONE), Seen::default());
    let (sheet, mut worksheet) = hostile();
    // A link has room for a part of it.
    worksheet.findings.retain(|id, _| id.contains(MARKUP));
    let sheet = TypeSheet { faults: Vec::new(), jobs: Vec::new(), readings: Vec::new(), ..sheet };
    let letters = link::encode(&Parcel::new(&worksheet, Some(&sheet))).expect("it fits into a link");
    app.open(&format!("#/link/{letters}"));
    app.at("Read only");
    seen.look(&app, "Read only");
    app.find("button", "Copy to my shelf").click();
    app.at("Car");
    seen.look(&app, "Car");
    app.stage(Stage::Underneath);
    seen.look(&app, "Underneath");
    seen.at(&["Read only", "Car", "Underneath"]);
    // What is no link, and what is no address at all.
    for (address, heading) in [
        (format!("#/link/{MARKUP}"), "This link cannot be opened"),
        (format!("#/link/{ADDRESS}"), "This link cannot be opened"),
        (format!("#{ADDRESS}"), "Shelf"),
        (format!("#/{MARKUP}"), "Shelf"),
    ] {
        app.to(&address, heading);
        seen.look(&app, &address);
    }
    ends(&app);
}

/// The demonstration's sheet and worksheet with hostile words in every text, ids of the sheet's own included; and a sale of
/// which nothing can be read.
fn hostile() -> (TypeSheet, Worksheet) {
    let general = json(&general::general().expect("the general sheet can be read"));
    let own = json(&demo::curlew().expect("the demonstration's sheet can be read"));
    let (mut shared, mut ids) = (BTreeSet::from([general::ID.to_owned()]), BTreeSet::new());
    ids_in(&general, &mut shared);
    // The address of the editor names the sheet, and takes plain ids alone.
    shared.extend(own.get("id").and_then(Value::as_str).map(ToOwned::to_owned));
    ids_in(&own, &mut ids);
    let ids = Ids { own: &ids - &shared, shared };
    let sheet = ids.spoiled::<TypeSheet>(&own, sheet::FORMAT);
    let worksheet = json(&demo::worksheet().expect("the demonstration can be read"));
    let mut worksheet = ids.spoiled::<Worksheet>(&worksheet, worksheet::FORMAT);
    let nothing = || MARKUP.to_owned();
    worksheet.sales.push(Sale {
        id: "s-hostile".into(),
        date: Entry::Unread(nothing()),
        price: Entry::Unread(nothing()),
        mileage: Entry::Unread(nothing()),
        condition: Entry::Unread(nothing()),
        departures: nothing(),
        source: nothing(),
        left_out: true,
        reason: nothing(),
        ..Sale::default()
    });
    assert!(worksheet.findings.keys().any(|id| id.contains(MARKUP)), "findings are of the sheet's own checks");
    (sheet, worksheet)
}

fn json(it: &impl serde::Serialize) -> Value {
    serde_json::to_value(it).expect("it is written as JSON")
}

/// Every id of an entry.
fn ids_in(json: &Value, ids: &mut BTreeSet<String>) {
    match json {
        Value::Object(fields) => {
            ids.extend(fields.get("id").and_then(Value::as_str).map(ToOwned::to_owned));
            fields.values().for_each(|value| ids_in(value, ids));
        }
        Value::Array(list) => list.iter().for_each(|value| ids_in(value, ids)),
        _ => {}
    }
}

/// The ids that texts may be: those of the general sheet stay, or nothing would hang together.
struct Ids {
    own: BTreeSet<String>,
    shared: BTreeSet<String>,
}

impl Ids {
    /// The same with every text hostile that may be any text: what cannot be read so, a word of a few, is left alone.
    fn spoiled<T: Restore>(&self, json: &Value, format: u32) -> T {
        let mut words = BTreeSet::new();
        loop {
            let (read, unread) = restore_value(&self.spoil(json, &words), format).expect("it is still an object");
            if unread.is_empty() {
                return read;
            }
            let before = words.len();
            unread.iter().for_each(|unread| words_in(unread, &mut words));
            assert!(words.len() > before, "left alone, it can still not be read: {unread:?}");
        }
    }

    fn spoil(&self, json: &Value, words: &BTreeSet<String>) -> Value {
        match json {
            Value::String(text) if words.contains(text) || self.stays(text) => Value::String(text.clone()),
            Value::String(text) if self.own.contains(text) => Value::String(format!("{text}{MARKUP}")),
            Value::String(text) if text.len() % 2 == 0 => Value::String(format!("{ADDRESS}{text}{MARKUP}")),
            Value::String(text) => Value::String(format!("{text} {MARKUP}")),
            Value::Array(list) => list.iter().map(|value| self.spoil(value, words)).collect(),
            Value::Object(fields) => {
                let spoiled = fields.iter().map(|(key, value)| {
                    let spoiled = if self.own.contains(key) { format!("{key}{MARKUP}") } else { key.clone() };
                    (spoiled, self.spoil(value, words))
                });
                Value::Object(spoiled.collect::<Map<_, _>>())
            }
            other => other.clone(),
        }
    }

    fn stays(&self, text: &str) -> bool {
        self.shared.contains(text) || Date::parse(text).is_some()
    }
}

/// The texts of what could not be read, as they were before.
fn words_in(unread: &Unread, words: &mut BTreeSet<String>) {
    let mut found = vec![serde_json::from_str(&unread.text).unwrap_or_default()];
    while let Some(json) = found.pop() {
        match json {
            Value::String(text) => {
                let text = text.strip_prefix(ADDRESS).unwrap_or(&text);
                words.insert(text.strip_suffix(MARKUP).unwrap_or(text).trim_end().to_owned());
            }
            Value::Array(list) => found.extend(list),
            Value::Object(fields) => found.extend(fields.into_iter().map(|(_, value)| value)),
            _ => {}
        }
    }
}
