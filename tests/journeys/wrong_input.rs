//! What cannot be read: it is said beside the field, kept as it was typed, there again after the page was loaded anew, and the
//! words go when it is mended.

use kerbworth_core::sheet::Stage;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{Key, PHONE};

/// A field, what is typed into it, what is said of that, and what mends it.
#[derive(Clone, Copy)]
struct Slip {
    label: &'static str,
    typed: &'static str,
    said: &'static str,
    mended: &'static str,
}

const CAR: [Slip; 4] = [
    Slip {
        label: "Year made", typed: "19x7", said: "“19x7” cannot be read; write a year, as in 1967", mended: "1967"
    },
    Slip {
        label: "Mileage, as you believe it",
        typed: "some",
        said: "“some” cannot be read; write a distance, as in 62000",
        mended: "64,200",
    },
    Slip {
        label: "Price asked",
        typed: "£9k-ish",
        said: "“£9k-ish” cannot be read; write an amount of money, as in 1250.50",
        mended: "9,000",
    },
    Slip {
        label: "Day",
        typed: "30.2.2026",
        said: "“30.2.2026” cannot be read; write a date, as in 2026-10-04",
        mended: "2026-06-20",
    },
];

const SALE: [Slip; 4] = [
    Slip {
        label: "Date",
        typed: "last May",
        said: "“last May” cannot be read; write a date, as in 2026-10-04",
        mended: "2026-05-02",
    },
    Slip {
        label: "Price",
        typed: "8950 or so",
        said: "“8950 or so” cannot be read; write an amount of money, as in 1250.50",
        mended: "8,950",
    },
    Slip { label: "Mileage", typed: "-4", said: "should lie between 0 and 3000000 km", mended: "73,900" },
    Slip { label: "Condition, 0 to 100", typed: "140", said: "should lie between 0 and 100", mended: "74" },
];

const FEES: [Slip; 4] = [
    Slip { label: "Tax on the premium", typed: "120", said: "should lie between 0 % and 100 %", mended: "20" },
    Slip {
        label: "Charges of the sale",
        typed: "ask",
        said: "“ask” cannot be read; write an amount of money, as in 1250.50",
        mended: "95",
    },
    Slip {
        label: "Getting the car home",
        typed: "-10",
        said: "should lie between 0 and 100 million GBP",
        mended: "180",
    },
    Slip {
        label: "Margin; empty: 50 %",
        typed: "half",
        said: "“half” cannot be read; write a share from 0 to 100 %",
        mended: "40",
    },
];

const TREAD: [Slip; 2] = [
    Slip {
        label: "Front left",
        typed: "worn",
        said: "“worn” cannot be read; write a number, as in 12.5",
        mended: "3.4",
    },
    Slip {
        label: "Front right",
        typed: "2,4,1",
        said: "“2,4,1” cannot be read; write a number, as in 12.5",
        mended: "3.1",
    },
];

#[test]
fn of_the_car() {
    let app = App::open(PHONE);
    app.begin();
    all_the_way(&app, "Car", &CAR);
    assert_eq!(app.twin().worksheet.title(), "1967");
}

#[test]
fn of_a_sale_and_of_the_fees() {
    let app = App::open(PHONE);
    app.begin();
    app.go("Sales");
    app.find("button", "Add a sale").click();
    app.css("ol.sales .opened");
    type_in(&app, &SALE);
    app.accessible();
    app.saved();
    app.reload();
    app.at("Sales");
    app.css("ol.sales summary").click();
    is_said(&app, &SALE);
    mend(&app, &SALE);
    app.go("Worth");
    all_the_way(&app, "Worth", &FEES);
}

/// A currency is a choice more than an entry: the one in force stays until another is given in full.
#[test]
fn of_a_currency() {
    let app = App::open(PHONE);
    let slip = [Slip {
        label: "Currency of new worksheets, by its three letters",
        typed: "quid",
        said: "A currency is a code of three letters, such as GBP or EUR.",
        mended: "eur",
    }];
    app.to("#/settings", "Settings");
    type_in(&app, &slip);
    app.press(Key::Tab);
    is_said(&app, &slip);
    app.accessible();
    mend_fields(&app, &slip);
    app.to("#/", "Shelf");
    app.begin();
    assert_eq!(app.twin().worksheet.settings.currency.code(), "EUR");
    app.go("Sales");
    app.find("button", "Add a sale").click();
    let sale = [Slip { label: "Currency, by its three letters", mended: "gbp", ..slip[0] }];
    type_in(&app, &sale);
    app.press(Key::Tab);
    is_said(&app, &sale);
    assert_eq!(app.twin().worksheet.sales[0].currency.code(), "EUR", "“qui” on the way to “quid” is no choice");
    app.field(sale[0].label).fill("gbp");
    let rate = "give the rate of exchange for GBP in the settings";
    app.until("the rate is asked for", || (app.field(sale[0].label).described() == rate).then_some(()));
    app.clean();
}

#[test]
fn of_a_reading() {
    let app = App::open(PHONE);
    app.begin();
    app.stage(Stage::WalkRound);
    app.open_check("wheels-tread");
    type_in(&app, &TREAD);
    app.accessible();
    app.saved();
    app.reload();
    app.at("Walk-round, cold");
    app.open_check("wheels-tread");
    is_said(&app, &TREAD);
    mend(&app, &TREAD);
    app.css("#check-wheels-tread output");
    let twin = app.twin();
    assert_eq!(twin.worksheet.readings.len(), 1);
    app.clean();
}

/// Typed, loaded anew and mended on a screen whose fields are all in sight.
#[track_caller]
fn all_the_way(app: &App, heading: &str, slips: &[Slip]) {
    type_in(app, slips);
    app.accessible();
    app.saved();
    app.reload();
    app.at(heading);
    is_said(app, slips);
    mend(app, slips);
    app.clean();
}

#[track_caller]
fn type_in(app: &App, slips: &[Slip]) {
    for slip in slips {
        app.field(slip.label).fill(slip.typed);
    }
    is_said(app, slips);
}

#[track_caller]
fn is_said(app: &App, slips: &[Slip]) {
    for Slip { label, typed, said, .. } in slips {
        let field = app.field(label);
        app.until(&format!("“{said}” is said at {label}, which says “{}”", field.described()), || {
            (field.described() == *said).then_some(())
        });
        assert_eq!(field.value(), *typed, "{label} keeps what was typed");
        assert_eq!(field.attribute("aria-invalid").as_deref(), Some("true"), "{label}");
    }
}

#[track_caller]
fn mend(app: &App, slips: &[Slip]) {
    mend_fields(app, slips);
    let problems = app.twin().appraisal.problems;
    assert!(problems.is_empty(), "{problems:?}");
}

#[track_caller]
fn mend_fields(app: &App, slips: &[Slip]) {
    for Slip { label, mended, .. } in slips {
        let field = app.field(label);
        field.fill(mended);
        app.until(&format!("nothing is said at {label}"), || field.described().is_empty().then_some(()));
        assert_eq!(field.attribute("aria-invalid"), None, "{label}");
    }
}
