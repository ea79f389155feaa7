//! A field without a signal: once it was opened, the worksheet needs its host no more.

use kerbworth_core::hand_over::{Kind, Length, document};
use kerbworth_core::sheet::Stage;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::PHONE;

#[test]
fn everything_is_there_on_another_day_without_the_host() {
    let mut app = App::open(PHONE);
    app.demo();
    let before = app.twin();
    app.css("html[data-offline=ready]");
    app.to("#/settings", "Settings");
    app.shows("Opens without a network.");
    app.cut_off();
    app.another_day();

    app.css("li.card > a").click();
    app.at("Car");
    app.go("Worth");
    before.is_on_worth_screen(&app);
    app.stage(Stage::WalkRound);
    app.css("#check-body-magnet .grades button").click();
    let after = app.twin();
    assert_ne!(after.worksheet.findings, before.worksheet.findings, "what is found out there is kept");
    app.go("Hand over");
    app.document(Kind::Report);
    let title = document(after.case(), Kind::Report, Length::Full).title;
    app.until("the report is there", || (app.reads("article.document h2") == title).then_some(()));
    app.reload();
    app.at("Hand over");
    assert_eq!(app.twin().worksheet, after.worksheet);
    app.clean();
}
