//! A seller prepares an honest listing: goes over the car, measures, notes receipts, pastes sales, decides what to put right, and
//! hands out a text that declares every known fault, what was not checked, and a price with its reasons.

use kerbworth_core::appraise::asking::{AskingPrice, asking};
use kerbworth_core::grade::Grade;
use kerbworth_core::hand_over::file::file_name;
use kerbworth_core::hand_over::{Document, Kind, Length, document, text::text};
use kerbworth_core::sheet::Stage;
use kerbworth_core::worksheet::{Look, WhyNot};
use kerbworth_tests::app::App;
use kerbworth_tests::browser::PHONE;
use kerbworth_tests::document::is_on_page;
use kerbworth_tests::twin::Twin;

const CAR: [(&str, &str); 8] = [
    ("Maker", "Halberd"),
    ("Model and body", "Plover saloon"),
    ("Year made", "1964"),
    ("Registration mark", "PLV 88B"),
    ("Chassis number, as stamped", "HP4 70113"),
    ("Mileage, as you believe it", "64,200"),
    ("Day", "2026-06-20"),
    ("Looked at by", "Ned Fallowfield"),
];

/// Date, cost, and what was done.
const RECEIPTS: [(&str, &str, &str); 2] = [
    ("2024-03-08", "412.50", "New exhaust from the manifold back, Marsh Lane Garage"),
    ("2019-10-30", "186", "Front brake pipes renewed in copper alloy"),
];

/// As copied from a spreadsheet.
const SALES: &str = "\
Sale date\tPrice (£)\tKind\tMileage\tCondition\tSource
2025-09-14\t8,450\tprivate\t83,000\t68\tclub magazine, autumn
2025-10-25\t9,900\tdealer\t61,500\t80\twindow card
2026-01-17\t10,750\tprivate\t54,300\t84\tclub magazine, winter
2026-02-28\t9,100\tprivate\t70,400\t75\tnotice board
2026-05-02\t8,950\thammer\t73,900\t74\tmay sale, lot 7
";

const NOTE: &str = "Left sill only, a finger long, under the step.";

#[test]
fn an_honest_listing_is_made_from_what_was_recorded() {
    let app = App::open(PHONE);
    app.begin();
    describe(&app);
    go_over(&app);
    app.go("Sales");
    app.unfold("Paste from a spreadsheet, or open a CSV file");
    app.field("Rows copied from a spreadsheet, or the text of a CSV file").paste(SALES);
    app.find("button", "Add the good rows (5)").click();
    app.shows("Sales added: 5");
    let price = decide(&app);

    app.go("Hand over");
    assert_eq!(app.reads(".no-print fieldset [aria-pressed=true]"), "Listing", "a seller's document is there at once");
    let twin = app.twin();
    twin.is_in_strip(&app);
    for length in [Length::Short, Length::Full] {
        app.find("button", length.name()).click();
        let listing = document(twin.case(), Kind::Listing, length);
        is_on_page(&app, &listing, &twin.show);
        let told = text(&listing, &twin.show);
        declares_every_fault(&twin, &told);
        for (_, _, what) in RECEIPTS {
            assert!(told.contains(what), "the receipt “{what}” is told of");
        }
        assert!(told.contains(&format!("Asking {}.", twin.money(price.price))), "the price is named");
        assert!(told.contains("The price goes by 5 sales of comparable cars"), "with its reasons");
        assert!(told.contains("What was not checked may hide faults."));
        assert!(!told.contains("HP4 70113"), "a number that anyone could take is left out");
    }
    let listing = document(twin.case(), Kind::Listing, Length::Full);
    let told = text(&listing, &twin.show);
    assert!(told.contains(NOTE), "in full, with the note");
    assert!(names_what_was_not_reached(&twin, &told), "{told}");
    app.accessible();
    is_handed_out(&app, &twin, &listing);
    app.clean();
}

/// A receipt put in by mistake goes, and comes back by undoing.
#[test]
fn a_receipt_is_taken_away_and_what_is_wrong_in_one_is_said() {
    let app = App::open(PHONE);
    app.begin();
    for (place, receipt) in RECEIPTS.into_iter().enumerate() {
        add_receipt(&app, place + 1, receipt);
    }
    let both = app.twin().worksheet;
    let cost = app.find("group", "Receipt 2").field("Cost");
    cost.fill("plenty");
    app.until("it is said beside the field", || cost.described().contains("write an amount of money").then_some(()));
    app.accessible();
    cost.fill("186");
    app.until("nothing is said any more", || cost.described().is_empty().then_some(()));
    app.find("button", "Take away Receipt 1").click();
    app.until("one is left", || (app.twin().worksheet.receipts.len() == 1).then_some(()));
    assert_eq!(app.find("group", "Receipt 1").field("What was done, and by whom").value(), RECEIPTS[1].2);
    app.find("button", "Undo").click();
    app.until("both are there", || (app.twin().worksheet == both).then_some(()));
    app.find("group", "Receipt 2");
    app.clean();
}

#[track_caller]
fn describe(app: &App) {
    for (label, typed) in CAR {
        app.field(label).fill(typed);
    }
    app.find("button", "Selling").click();
    for (place, receipt) in RECEIPTS.into_iter().enumerate() {
        add_receipt(app, place + 1, receipt);
    }
    app.accessible();
}

#[track_caller]
fn add_receipt(app: &App, number: usize, (date, cost, what): (&str, &str, &str)) {
    app.find("button", "Add a receipt").click();
    let receipt = app.find("group", &format!("Receipt {number}"));
    receipt.field("Date").fill(date);
    receipt.field("Cost").fill(cost);
    receipt.field("What was done, and by whom").fill(what);
}

/// Right, worn, rusted, unsafe, measured, and out of reach.
#[track_caller]
fn go_over(app: &App) {
    app.go("Checks");
    for id in ["papers-seller", "papers-keys"] {
        app.css(&format!("#check-{id} .grades button")).click();
    }
    app.stage(Stage::WalkRound);
    let sills = app.open_check("structure-sills");
    sills.find("button", "Hole or burst seam in the sill").click();
    sills.field("Note").fill(NOTE);
    app.open_check("wheels-tread");
    for (wheel, depth) in [("Front left", "6.1"), ("Front right", "6"), ("Rear left", "1.2"), ("Rear right", "5.8")] {
        app.field(wheel).fill(depth);
    }
    app.stage(Stage::Cabin);
    app.open_check("brakes-pedal-hold")
        .find("button", "Pedal sinks under a steady foot, heavy or light unsafe")
        .click();
    app.stage(Stage::Underneath);
    let first = app.css("[id^=check-][id$=-name]").attribute("id").expect("a check has a name");
    let id = first.trim_start_matches("check-").trim_end_matches("-name");
    app.open_check(id).field("Not looked at, because").choose(WhyNot::NoAccess.name());
}

/// Chooses the first job to be done before the sale; the asking price is core's.
#[track_caller]
fn decide(app: &App) -> AskingPrice {
    app.go("Worth");
    let before = app.twin();
    before.is_on_worth_screen(app);
    let price = asking(&before.appraisal, &before.show).expect("five sales make a price");
    assert_eq!(app.reads("#asking-price"), before.money(price.price));
    assert_eq!(price.when_done, None, "nothing is chosen yet");
    let job = app.names("button").into_iter().find(|name| name.starts_with("Do it: ")).expect("there is a job to do");
    app.find("button", &job).click();
    app.shows("Once the chosen work is done, ask");
    let after = app.twin();
    // With it goes the strip-down that it needs.
    let chosen = |name: &str| after.appraisal.repairs.items.iter().any(|it| it.chosen && it.name == name);
    assert!(chosen(job.trim_start_matches("Do it: ")), "{job}");
    let price = asking(&after.appraisal, &after.show).expect("there is still a price");
    app.shows(&after.money(price.when_done.expect("there is a price once it is done")));
    app.accessible();
    price
}

/// Whatever was graded worse than right, by its check, and each sign that was seen.
#[track_caller]
fn declares_every_fault(twin: &Twin, told: &str) {
    let wrong: Vec<_> = twin
        .worksheet
        .findings
        .iter()
        .filter(|(_, finding)| finding.grade().is_some_and(|grade| grade > Grade::Right))
        .collect();
    assert!(wrong.len() >= 2, "{wrong:?}");
    let known = twin.appraisal.signs.iter().filter(|(_, known)| known.seen).map(|(id, _)| id);
    let mut named = 0;
    for sign in known {
        let found = twin.sheet.checks.iter().flat_map(|check| &check.signs).find(|it| it.id == *sign);
        let name = &found.expect("a sign is of the sheet").name;
        assert!(told.contains(&**name), "“{name}” is declared:\n{told}");
        named += 1;
    }
    assert!(named >= 3, "the measured tread is among the signs");
    for (id, _) in wrong {
        let name = &twin.sheet.check(id).expect("a check is of the sheet").name;
        assert!(told.contains(&**name), "“{name}” is declared");
    }
    assert!(told.contains("This car is not to be driven until it is put right"), "and that it is unsafe");
}

/// The check that was out of reach, with the reason.
fn names_what_was_not_reached(twin: &Twin, told: &str) -> bool {
    let out = |(id, finding): (&String, &kerbworth_core::worksheet::Finding)| {
        (finding.look == Some(Look::NotLooked(WhyNot::NoAccess))).then(|| twin.sheet.check(id)).flatten()
    };
    let names: Vec<_> = twin.worksheet.findings.iter().filter_map(out).collect();
    names.len() == 1 && names.iter().all(|it| told.contains(&format!("{} ({})", it.name, WhyNot::NoAccess.name())))
}

/// Copied and saved, letter for letter as core writes it.
#[track_caller]
fn is_handed_out(app: &App, twin: &Twin, listing: &Document) {
    let told = text(listing, &twin.show);
    app.allow_clipboard();
    app.find("button", "Copy as text").click();
    app.shows("Copied.");
    assert_eq!(app.copied(), told);
    app.find("button", "Save as text").click();
    app.shows("Handed to the browser as a file.");
    let saved = app.downloaded(&file_name(&twin.worksheet, Kind::Listing.file_word(), "txt"));
    assert_eq!(String::from_utf8(saved).expect("a listing is text"), told);
}
