//! The demo's documents as text, held against files that were read as prose. After a change that is meant, write them
//! anew with `KERBWORTH_WRITE_SNAPSHOTS=1 cargo test -p kerbworth-core hand_over`, and read what changed.

use std::path::Path;

use super::{Case, Document, Kind, Length, document, text};
use crate::appraise::appraise;
use crate::sheet::{demo, extend::extend, general::general};
use crate::show::Show;
use crate::worksheet::{Purpose, Ruling, Worksheet};

/// Hands over the demo, after a change.
pub fn with(change: impl FnOnce(&mut Worksheet), then: impl FnOnce(Case<'_>)) {
    let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
    let mut worksheet = demo::worksheet().unwrap();
    change(&mut worksheet);
    let appraisal = appraise(&worksheet, &sheet);
    let show = Show::default().in_currency(worksheet.settings.currency);
    then(Case { worksheet: &worksheet, sheet: &sheet, appraisal: &appraisal, show: &show });
}

fn with_demo(then: impl FnOnce(Case<'_>)) {
    with(|_| {}, then);
}

#[track_caller]
fn holds(name: &str, case: Case<'_>, document: &Document) {
    let found = text::text(document, case.show);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/hand_over/snapshots").join(name);
    if std::env::var_os("KERBWORTH_WRITE_SNAPSHOTS").is_some() {
        std::fs::write(&path, &found).unwrap();
    }
    let expected = std::fs::read_to_string(&path).unwrap_or_default();
    let differs = found.lines().zip(expected.lines()).find(|(found, expected)| found != expected);
    assert!(found == expected, "{name} differs, first at: {differs:#?}");
}

#[test]
fn the_report() {
    with_demo(|case| holds("report.txt", case, &document(case, Kind::Report, Length::Full)));
}

#[test]
fn the_listings() {
    let selling = |worksheet: &mut Worksheet| worksheet.visit.purpose = Purpose::Selling;
    with(selling, |case| {
        holds("listing-full.txt", case, &document(case, Kind::Listing, Length::Full));
        holds("listing-short.txt", case, &document(case, Kind::Listing, Length::Short));
    });
}

#[test]
fn the_bargaining_sheet() {
    with_demo(|case| holds("bargaining.txt", case, &document(case, Kind::Bargaining, Length::Full)));
}

/// A worksheet with nothing in it must still say so in whole sentences.
#[test]
fn an_empty_worksheet() {
    let empty = |worksheet: &mut Worksheet| *worksheet = Worksheet::default();
    with(empty, |case| {
        holds("empty-report.txt", case, &document(case, Kind::Report, Length::Full));
        holds("empty-listing.txt", case, &document(case, Kind::Listing, Length::Full));
        holds("empty-bargaining.txt", case, &document(case, Kind::Bargaining, Length::Full));
    });
}

/// What the brief asks of every report, whatever is in it.
#[test]
fn the_report_says_what_it_is() {
    with_demo(|case| {
        let said = text::text(&document(case, Kind::Report, Length::Full), case.show);
        for wanted in ["not a certificate", "local law", "claims compliance with none", "Signature: ____", "80 % range"]
        {
            assert!(said.to_lowercase().contains(&wanted.to_lowercase()), "{wanted}");
        }
    });
}

/// The reason for passing over the gate stands in the report, word for word.
#[test]
fn a_gate_passed_over_is_told() {
    let passed = |worksheet: &mut Worksheet| worksheet.gate_passed_over = "Only round the yard, at a walk".into();
    with(passed, |case| {
        let said = text::text(&document(case, Kind::Report, Length::Full), case.show);
        assert!(said.contains("The reason given: “Only round the yard, at a walk”."), "{said}");
    });
}

/// A range that two sales leave to assumption is called so where it is stated first.
#[test]
fn a_worth_from_few_sales_says_so_at_once() {
    with(
        |worksheet| worksheet.sales.truncate(2),
        |case| {
            let said = text::text(&document(case, Kind::Report, Length::Full), case.show);
            let short = said.split("Whether it may be driven").next().unwrap();
            assert!(short.contains("Care with the worth: prior-driven"), "{short}");
        },
    );
}

/// Without a price of the seller's own, the listing asks what the sales support.
#[test]
fn a_listing_without_a_price_asks_what_the_sales_support() {
    let unpriced = |worksheet: &mut Worksheet| worksheet.car.asked = crate::worksheet::Entry::Empty;
    with(unpriced, |case| {
        let asking = crate::appraise::asking::asking(case.appraisal, case.show).unwrap();
        let said = text::text(&document(case, Kind::Listing, Length::Short), case.show);
        assert!(said.contains(&format!("Asking {}.", case.show.whole_money(asking.price))), "{said}");
    });
}

/// No fault that is known is missing from a listing, however short: no check found wrong, no sign that was seen, no
/// cause that was confirmed.
#[test]
fn every_known_fault_is_declared() {
    with_demo(|case| {
        for length in Length::ALL {
            let said = text::text(&document(case, Kind::Listing, length), case.show);
            for found in super::found::found(case).iter().filter(|found| found.is_wrong()) {
                assert!(said.contains(&found.check.name), "{length:?}: {}", found.check.name);
                for (sign, _) in &found.seen {
                    assert!(said.contains(&sign.name), "{length:?}: {}", sign.name);
                }
            }
            let confirmed = case.worksheet.rulings.iter().filter(|(_, ruling)| **ruling == Ruling::Confirmed);
            let faults = confirmed.filter_map(|(id, _)| case.sheet.fault(id)).filter(|fault| !fault.normal);
            for fault in faults {
                assert!(said.contains(&fault.name), "{length:?}: {}", fault.name);
            }
        }
    });
}
