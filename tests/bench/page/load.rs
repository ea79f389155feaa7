//! What the page is measured under: a shelf of 200 worksheets, one of them with 200 findings and 50 sales, and a ledger of
//! 10,000 sales; all of it the same each time.

use kerbworth_core::ledger::export;
use kerbworth_core::sheet::{TypeSheet, demo, extend::extend, general};
use kerbworth_core::show::Show;
use kerbworth_core::units::{Date, Length, Money};
use kerbworth_core::worksheet::{Entry, Sale, SaleKind, Worksheet};
use kerbworth_tests::browser::Browser;
use kerbworth_tests::envelope::sealed;
use kerbworth_tests::scatter::Scatter;
use kerbworth_tests::worksheets::full;
use serde::Serialize;
use serde_json::{Value, json};

/// The place on the shelf of the worksheet that is filled to the brim.
pub const FULL: usize = 0;

/// That of one that is half done.
pub const HALF: usize = 1;

/// Worksheets on the shelf.
const SHELF: usize = 200;

/// Sales in the ledger.
pub const LEDGER: usize = 10_000;

/// Puts the shelf into the page's storage, with the full worksheet as the one that was open last.
pub fn put_shelf(browser: &Browser) {
    let sheet = sheet();
    let mut cards = Vec::new();
    for number in 0..SHELF {
        let (findings, sales) = match number {
            FULL => (200, 50),
            HALF => (100, 50),
            // An ordinary car, of which what tells most was looked at.
            _ => (40, 9),
        };
        let mut worksheet = full(&sheet, findings, sales);
        worksheet.id = format!("w{number:03}");
        worksheet.car.model = format!("Curlew 1500 drophead, {number}");
        cards.push(card(&worksheet));
        put(browser, "worksheet", &format!("kerbworth/worksheet/{}", worksheet.id), &worksheet);
    }
    put(browser, "shelf", "kerbworth/shelf", &json!({ "cards": cards, "open": "w000" }));
}

/// The demonstration's whole sheet.
pub fn sheet() -> TypeSheet {
    let general = general::general().expect("the general sheet can be read");
    extend(&general, &demo::curlew().expect("the demonstration's sheet can be read"))
}

fn card(worksheet: &Worksheet) -> Value {
    json!({ "id": worksheet.id, "title": worksheet.title(), "place": worksheet.visit.place, "date": worksheet.visit.date.value() })
}

fn put(browser: &Browser, what: &str, key: &str, body: &impl Serialize) {
    let mut envelope = json!({
        "kerbworth": what, "envelope": 2, "revision": 1, "stored": "2026-06-20 10:00:00", "body": body,
    });
    browser.store(key, &sealed(&mut envelope));
}

/// The ledger as a spreadsheet has it.
pub fn table() -> String {
    let mut scatter = Scatter(26);
    let sales: Vec<Sale> = (0..LEDGER).map(|place| sale(place, &mut scatter)).collect();
    export::table(&sales, &Show::default())
}

fn sale(place: usize, scatter: &mut Scatter) -> Sale {
    const HOUSES: [&str; 6] = ["Harrowmere", "Penwick Quay", "Brackenford", "Ostley", "Thornwick", "Lower Marden"];
    let mut below = |end: usize| scatter.below(end);
    let month = u8::try_from(below(12)).unwrap_or_default() + 1;
    let day = u8::try_from(below(28)).unwrap_or_default() + 1;
    let year = 2010 + i32::try_from(below(16)).unwrap_or_default();
    Sale {
        id: format!("sale-{place:011}"),
        date: Date::new(year, month, day).into(),
        price: Entry::Read(Money::nearest(100.0 * (3000 + below(25_000)) as f64)),
        kind: SaleKind::ALL.into_iter().cycle().nth(below(SaleKind::ALL.len())).unwrap_or_default(),
        mileage: Entry::Read(Length(1609.344 * (10_000 + below(120_000)) as f64)),
        condition: Entry::Read(40.0 + below(60) as f64),
        source: format!("{} sale, lot {place}", HOUSES.get(below(HOUSES.len())).copied().unwrap_or_default()),
        ..Sale::default()
    }
}
