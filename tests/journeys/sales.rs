//! Sales copied from a spreadsheet: what is wrong in them is said row by row and mended in place, an outlier is left out for a
//! reason, and what was pasted before is noticed.

use kerbworth_core::appraise::comparison::LeftOut;
use kerbworth_core::ledger::import::Plan;
use kerbworth_core::ledger::table::Table;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{Key, PHONE};
use kerbworth_tests::twin::Twin;

/// As copied: parted by tabs, named by a head; row 4 is of a day that there is not, row 8 has a word for a price.
const COPIED: &str = "\
Sale date\tPrice (£)\tKind\tMileage\tCondition\tSource
2025-09-14\t8,450\tprivate\t83,000\t68\tclub magazine, autumn
2025-10-25\t9,900\tdealer\t61,500\t80\twindow card
2026-02-30\t8,800\thammer\t77,200\t72\tspring sale, lot 41
2025-12-06\t7,600\thammer\t95,000\t61\twinter sale, lot 12
2026-01-17\t10,750\tprivate\t54,300\t84\tclub magazine, winter
2026-02-28\t9,100\tprivate\t70,400\t75\tnotice board
2026-04-11\tabout ten\tdealer\t58,800\t82\twindow card, spring
2026-05-02\t8,950\thammer\t73,900\t74\tmay sale, lot 7
2026-05-30\t24,500\tdealer\t66,000\t78\tshow stand
";
const FOURTH: &str = "2026-02-28\t8,800\thammer\t77,200\t72\tspring sale, lot 41";
const EIGHTH: &str = "2026-04-11\t10,200\tdealer\t58,800\t82\twindow card, spring";

#[test]
fn nine_sales_are_pasted_mended_and_weighed() {
    let app = App::open(PHONE);
    app.begin_dated();
    app.go("Sales");
    app.unfold("Paste from a spreadsheet, or open a CSV file");
    paste(&app);
    app.shows("Rows: 9; can be read: 7; need mending: 2; look like a sale that is there: 0");
    let bad = core_reads();
    assert_eq!(bad.len(), 2);
    for (row, wrong) in &bad {
        assert_eq!(app.field(&format!("Row {row}")).described(), *wrong, "core's words beside row {row}");
    }
    app.accessible();
    mend(&app, "Row 4", FOURTH);
    app.shows("need mending: 1;");
    mend(&app, "Row 8", EIGHTH);
    app.shows("Rows: 9; can be read: 9; need mending: 0; look like a sale that is there: 0");
    app.find("button", "Add the good rows (9)").click();
    app.shows("Sales added: 9");

    let all = app.twin();
    assert_eq!(all.worksheet.sales.len(), 9);
    assert!(all.appraisal.problems.is_empty(), "{:?}", all.appraisal.problems);
    all.is_in_grid(&app);
    let warned = &all.appraisal.comparison.as_ref().expect("nine sales make a comparison").warnings;
    let odd = warned.iter().find(|warning| warning.sale() == Some(8)).expect("core is wary of the show stand's price");
    app.shows(&odd.to_string());

    leave_out_the_last(&app);
    let without = app.twin();
    assert_eq!(without.appraisal.sales_left_out, [(8, LeftOut::ByChoice)]);
    without.is_in_grid(&app);
    app.accessible();
    let middle = |twin: &Twin| twin.appraisal.comparison.as_ref().map(|it| it.range.middle).expect("a comparison");
    assert!(middle(&without) < middle(&all), "a dear one less, the middle falls");
    app.go("Worth");
    without.is_on_worth_screen(&app);

    app.go("Sales");
    app.unfold("Paste from a spreadsheet, or open a CSV file");
    paste(&app);
    app.shows("need mending: 2; look like a sale that is there: 7");
    app.shows("Row 2 – sale 1: the same date, price and kind");
    assert!(app.find("button", "Add the good rows (0)").attribute("disabled").is_some());
    app.clean();
}

/// The same as a file, as a spreadsheet saves it, into the ledger of all worksheets.
#[test]
fn a_csv_file_is_read_into_the_ledger() {
    let app = App::open(PHONE);
    app.to("#/ledger", "Ledger");
    app.unfold("Paste from a spreadsheet, or open a CSV file");
    let path = app.file("sales.csv", COPIED.replace(',', "").replace('\t', ";"));
    app.css("main input[type=file]").type_keys(path);
    app.shows("Rows: 9; can be read: 7; need mending: 2; look like a sale that is there: 0");
    app.find("button", "Add the good rows (7)").click();
    app.shows("Sales added: 7");
    app.until("the ledger lists them", || app.text().contains("7 / 7").then_some(()));
    app.clean();
}

/// A list that is scrolled to its end and loses its last rows still has rows where it is looked at.
#[test]
fn the_ledger_shows_its_end_after_a_sale_there_is_deleted() {
    const SALES: usize = 60;
    let app = App::open(PHONE);
    app.to("#/ledger", "Ledger");
    app.unfold("Paste from a spreadsheet, or open a CSV file");
    let rows = (1..=SALES).map(|sale| format!("2026-05-02;{};private;{};70;lot {sale}\n", 5000 + sale, 50_000 + sale));
    let path = app.file("sales.csv", format!("Date;Price;Kind;Mileage;Condition;Source\n{}", rows.collect::<String>()));
    app.css("main input[type=file]").type_keys(path);
    app.find("button", &format!("Add the good rows ({SALES})")).click();
    app.shows(&format!("{SALES} / {SALES}"));
    let to_the_end = "const list = document.querySelector('.window');
        list.scrollIntoView();
        list.scrollTop = list.scrollHeight";
    let last = "const list = document.querySelector('.window').getBoundingClientRect();
        const rows = [...document.querySelectorAll('.window li')];
        const seen = rows.filter((row) => row.getBoundingClientRect().bottom <= list.bottom + 1);
        return Math.max(...seen.map((row) => Number(row.ariaPosInSet ?? row.getAttribute('aria-posinset'))))";
    for left in [SALES - 1, SALES - 2] {
        app.run(to_the_end, &[]);
        app.css(&format!(".window li[aria-posinset='{}'] .entry", left + 1)).click();
        app.find("button", "Delete this sale").click();
        app.shows(&format!("{left} / {left}"));
        app.until("the new last row is in sight", || (app.run(last, &[]) == left).then_some(()));
    }
    app.find("button", "Bring it back").click();
    app.shows(&format!("{} / {}", SALES - 1, SALES - 1));
    app.clean();
}

/// Of the first two, one is a slip of the hand: typed in twice.
#[test]
fn a_sale_typed_twice_is_noticed() {
    let app = App::open(PHONE);
    app.begin();
    app.go("Sales");
    let sale = kerbworth_tests::app::Typed { date: "2026-05-02", price: "8,950", ..Default::default() };
    app.add_sale(sale);
    app.add_sale(sale);
    app.shows("Looks like sale 1: the same date, price and kind. Delete one if they are the same sale.");
    app.css("ol.sales > li:nth-child(2)").find("button", "Delete this sale").click();
    app.no_longer_shows("Looks like sale 1");
    assert_eq!(app.twin().worksheet.sales.len(), 1);
    app.find("button", "Bring it back").click();
    app.until("it is back", || (app.twin().worksheet.sales.len() == 2).then_some(()));
    app.clean();
}

#[track_caller]
fn paste(app: &App) {
    app.field("Rows copied from a spreadsheet, or the text of a CSV file").paste(COPIED);
    app.find("heading", "The rows");
}

#[track_caller]
fn mend(app: &App, row: &str, text: &str) {
    app.field(row).paste(text);
    app.press(Key::Tab);
}

/// The rows that core cannot read, with what it says of each.
fn core_reads() -> Vec<(usize, String)> {
    let table = Table::read(COPIED);
    let rows = Plan::guess(&table, &Plan::default()).read(&table, &[]);
    let wrong = |row: &kerbworth_core::ledger::import::Row| {
        let wrong = row.sale.as_ref().err()?.iter().map(ToString::to_string).collect::<Vec<_>>();
        Some((row.row, wrong.join("\n")))
    };
    rows.iter().filter_map(wrong).collect()
}

#[track_caller]
fn leave_out_the_last(app: &App) {
    app.css("ol.sales > li:nth-child(9) summary").click();
    let last = app.css("ol.sales > li:nth-child(9)");
    last.find("button", "Leave it out").click();
    let reason = last.field("Why it is left out");
    app.until("the focus is in the reason", || reason.has_focus().then_some(()));
    assert_eq!(reason.described(), "say why this sale is left out; the report shows it");
    app.press("a price on a stand, with a tent and a trailer in it");
    app.until("the reason is enough", || reason.described().is_empty().then_some(()));
}
