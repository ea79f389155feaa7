//! The page in another language and region: chosen once, there again without a network, and no wider than a phone.

use kerbworth_core::units::Money;
use kerbworth_core::worksheet::Entry;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::PHONE;

/// Screens with their headings in German.
const SCREENS: [(&str, &str); 12] = [
    ("#/car", "Wagen"),
    ("#/checks/walk-round", "Rundgang, kalt"),
    ("#/plan", "Plan"),
    ("#/lamps", "Leuchten"),
    ("#/departures", "Abweichungen"),
    ("#/sales", "Verkäufe"),
    ("#/worth", "Wert"),
    ("#/hand-over", "Übergabe"),
    ("#/ledger", "Verkaufsbuch"),
    ("#/compare", "Vergleichen"),
    ("#/sheets", "Typenblätter"),
    ("#/settings", "Einstellungen"),
];

#[test]
fn german_is_chosen_once_and_stays_without_a_network() {
    let mut app = App::open(PHONE);
    app.demo();
    app.to("#/settings", "Settings");
    app.find("button", "Deutsch").click();
    app.at("Einstellungen");
    app.css("html[lang=de]");
    app.css("html[data-offline=ready]");
    let mut wrong = Vec::new();
    for (address, heading) in SCREENS {
        app.to(address, heading);
        wrong.extend(app.wider_than(PHONE.width).into_iter().map(|it| format!("{heading}: {it}")));
        wrong.extend(app.too_small_for_a_thumb().into_iter().map(|it| format!("{heading}: {it}")));
        app.screenshot(&format!("german-{}", address.trim_start_matches("#/").replace('/', "-")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    app.cut_off();
    app.reload();
    app.at("Einstellungen");
    app.find("button", "English").click();
    app.at("Settings");
    app.css("html[lang=en]");
    app.clean();
}

#[test]
fn figures_are_written_and_read_as_the_region_does() {
    let app = App::open(PHONE);
    app.demo();
    app.to("#/settings", "Settings");
    app.field("Numbers, dates and money as in").choose("Germany");
    app.shows("1.234,5 ·");
    app.shows("1.234,50\u{a0}£");
    app.to("#/car", "Car");
    let asked = app.field("Price asked");
    asked.fill("12.345,60");
    app.saved();
    let worksheet = || app.twin().worksheet;
    assert_eq!(worksheet().car.asked, Entry::Read(Money(1_234_560)));
    // Neither another region nor another unit changes what is stored.
    let before = worksheet();
    app.to("#/settings", "Settings");
    app.field("Numbers, dates and money as in").choose("France");
    app.field("Distance driven").choose("km");
    app.field("Fuel consumption").choose("mpg (US)");
    app.to("#/car", "Car");
    assert_eq!(app.field("Price asked").value(), "12345,6");
    assert_eq!(worksheet(), before);
    // A point parts neither thousands nor decimals in France.
    app.field("Price asked").fill("1.250");
    app.until("the field says what it cannot tell", || {
        app.field("Price asked").described().contains("can be read in two ways").then_some(())
    });
    app.clean();
}
