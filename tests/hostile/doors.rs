//! Every way in for what others wrote, with well-formed examples, and what must hold of all that it takes.

use kerbworth_core::bundle::{self, Bundle};
use kerbworth_core::ledger::Ledger;
use kerbworth_core::ledger::csv::{MOST_COLUMNS, MOST_IN_CELL};
use kerbworth_core::ledger::import::Plan;
use kerbworth_core::ledger::table::{MOST_BYTES, MOST_CELLS, MOST_ROWS, Table};
use kerbworth_core::link;
use kerbworth_core::parcel::Parcel;
use kerbworth_core::readings::chassis_number;
use kerbworth_core::readings::tyre::age::DateCode;
use kerbworth_core::readings::tyre::designation::Designation;
use kerbworth_core::readings::tyre::size;
use kerbworth_core::restore::{Restore, restore};
use kerbworth_core::sheet::{self, TypeSheet, demo};
use kerbworth_core::units::{Currency, Date, NumberStyle, number};
use kerbworth_core::worksheet::{self, Worksheet};
use serde::Serialize;

/// A way in.
pub struct Door {
    pub name: &'static str,
    pub seeds: Vec<Vec<u8>>,
    /// Whether it takes an input; it checks what must hold of it then.
    pub takes: fn(&[u8]) -> bool,
}

pub fn doors() -> Vec<Door> {
    let demo_worksheet = demo::worksheet().expect("the demonstration is whole");
    let demo_sheet = demo::curlew().expect("the demonstration's sheet is whole");
    let parcel = Parcel::new(&demo_worksheet, Some(&TypeSheet { id: "own".into(), ..demo_sheet.clone() }));
    let ledger = Ledger { sales: demo_worksheet.sales.clone(), ..Ledger::default() };
    let bundle = Bundle {
        worksheets: vec![demo_worksheet.clone()],
        type_sheets: vec![demo_sheet.clone()],
        ledger: Some(ledger.clone()),
        photos: [("p1".to_owned(), vec![0xFF, 0xD8, 0xFF, 0xD9])].into(),
    };
    let texts = |texts: &[&str]| texts.iter().map(|text| text.as_bytes().to_vec()).collect();
    let json = |text: serde_json::Result<String>| vec![text.expect("it is written as JSON").into_bytes()];
    let links = [
        include_str!("../../core/src/link/tests/golden/demo.txt"),
        include_str!("../../core/src/link/tests/golden/full.txt"),
        include_str!("../../core/src/link/tests/golden/own-sheet.txt"),
        include_str!("../../core/src/link/tests/golden/copied-sheet.txt"),
    ];
    vec![
        Door { name: "link", seeds: texts(&links.map(str::trim_end)), takes: takes_link },
        Door { name: "worksheet", seeds: json(serde_json::to_string(&demo_worksheet)), takes: takes_worksheet },
        Door { name: "type sheet", seeds: json(serde_json::to_string(&demo_sheet)), takes: takes_type_sheet },
        crate::appraised::door(),
        Door { name: "parcel", seeds: vec![parcel.to_file().into_bytes()], takes: takes_parcel },
        Door { name: "ledger", seeds: json(serde_json::to_string(&ledger)), takes: takes_ledger },
        Door { name: "bundle", seeds: vec![bundle::write(&bundle).expect("a bundle is written")], takes: takes_bundle },
        Door {
            name: "table",
            seeds: texts(&[
                "Date,Price,Mileage,Kind\n2025-11-08,\"9,250\",71000,private\n3/21/2026,$7900,88k mi,auction\n",
                "Datum;Preis;km\n08.11.2025;9.250,00 €;71.000\n",
                "date\tprice\nNov 2025\t£12,495\n",
                // As many rows as a megabyte holds, and as many cells.
                &"a,b\n".repeat(250_000),
                &",".repeat(1_000_000),
            ]),
            takes: takes_table,
        },
        Door {
            name: "tyre",
            seeds: texts(&[
                "195/65 R15 91H",
                "5.20-13",
                "165 SR 14",
                "P205/70R14 93S",
                "LT235/75R15 104/101S",
                "DOT 2319",
            ]),
            takes: takes_tyre,
        },
        Door {
            name: "number",
            seeds: texts(&["1,234.5", "1.234,5", "12.75", "61 240", "9250", "2026-10-04", "-0.003"]),
            takes: takes_number,
        },
        Door {
            name: "chassis",
            seeds: texts(&["1M8GDM9AXKP042788", "11111111111111111", "sajaa1234xyz56789"]),
            takes: takes_chassis,
        },
    ]
}

fn text(input: &[u8]) -> String {
    String::from_utf8_lossy(input).into_owned()
}

/// What was read is written, and read again as the same.
fn lasts<T: Restore + Serialize + PartialEq + std::fmt::Debug>(read: &T, known: u32) {
    let written = serde_json::to_string(read).expect("what was read can be written");
    let (again, unread) = restore::<T>(&written, known).expect("what was written can be read");
    assert_eq!(unread, []);
    let (again, read) = (format!("{again:?}"), format!("{read:?}"));
    if let Some(at) = again.bytes().zip(read.bytes()).position(|(one, other)| one != other) {
        let around = |text: &str| text.chars().skip(at.saturating_sub(60)).take(120).collect::<String>();
        panic!("written again it is another: {}\n{}", around(&read), around(&again));
    }
}

fn takes_worksheet(input: &[u8]) -> bool {
    let Ok((read, _)) = restore::<Worksheet>(&text(input), worksheet::FORMAT) else { return false };
    lasts(&read, worksheet::FORMAT);
    true
}

fn takes_type_sheet(input: &[u8]) -> bool {
    let Ok((read, _)) = restore::<TypeSheet>(&text(input), sheet::FORMAT) else { return false };
    lasts(&read, sheet::FORMAT);
    true
}

fn takes_ledger(input: &[u8]) -> bool {
    let Ok((read, _)) = restore::<Ledger>(&text(input), kerbworth_core::ledger::FORMAT) else { return false };
    lasts(&read, kerbworth_core::ledger::FORMAT);
    true
}

fn takes_link(input: &[u8]) -> bool {
    let Ok(opened) = link::decode(&text(input)) else { return false };
    lasts(&opened.parcel, kerbworth_core::parcel::FORMAT);
    true
}

fn takes_parcel(input: &[u8]) -> bool {
    let text = text(input);
    // What the shelf asks before it takes a file for a worksheet.
    let _ = Parcel::is_file(&text);
    let Ok(opened) = Parcel::of_file(&text) else { return false };
    lasts(&opened.parcel, kerbworth_core::parcel::FORMAT);
    true
}

fn takes_bundle(input: &[u8]) -> bool {
    bundle::read(input).is_ok_and(|(bundle, _)| !bundle.worksheets.is_empty())
}

fn takes_table(input: &[u8]) -> bool {
    let text = text(input);
    let table = Table::read(&text);
    let all = || table.rows.iter().flat_map(|row| &row.cells);
    assert!(table.rows.len() <= MOST_ROWS && table.width() <= MOST_COLUMNS);
    assert!(
        all().count() < MOST_CELLS + MOST_COLUMNS && all().all(|cell| cell.len() < MOST_IN_CELL + char::MAX_LEN_UTF8)
    );
    assert!(table.rows.iter().map(|row| row.text.len()).sum::<usize>() <= MOST_BYTES.min(text.len()));
    let plan = Plan::guess(&table, &Plan::default());
    let rows = plan.read(&table, &[]);
    assert!(rows.len() <= table.rows.len());
    !rows.is_empty()
}

fn takes_tyre(input: &[u8]) -> bool {
    let text = text(input);
    let code = DateCode::parse(&text).is_ok_and(|code| !code.years().is_empty());
    let tyre = Designation::parse(&text).is_ok_and(|tyre| {
        if let Ok(size) = size::size(&tyre) {
            assert!(size.circumference().0.is_finite());
        }
        true
    });
    code || tyre
}

fn takes_number(input: &[u8]) -> bool {
    let text = text(input);
    let mut taken = Date::parse(&text).is_some();
    for style in [NumberStyle::POINT, NumberStyle::COMMA] {
        if let Ok(read) = number::parse(&text, style) {
            assert!(read.is_finite(), "{text} is {read}");
            taken = true;
        }
        taken |= number::parse_scaled(&text, 2, style).is_ok();
        taken |= Currency::default().read(&text, style).is_ok();
    }
    taken
}

fn takes_chassis(input: &[u8]) -> bool {
    let text = text(input);
    let tidied = chassis_number::tidy(&text);
    chassis_number::judge(&text).is_ok() || tidied.is_ok()
}
