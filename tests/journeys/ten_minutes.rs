//! A buyer at a sale with ten minutes: a plan of what tells most, its checks made one after the other, the plan and the worth
//! after each as core has them.

use kerbworth_core::grade::Grade;
use kerbworth_core::worksheet::Worksheet;
use kerbworth_tests::app::{App, THREE_SALES, Typed};
use kerbworth_tests::browser::PHONE;
use kerbworth_tests::twin::Twin;

/// One more than the others have: a near one, which makes the worth surer.
const FOURTH: Typed =
    Typed { date: "2026-01-24", kind: "private", price: "10,100", mileage: "58,000", condition: "81" };

#[test]
fn ten_minutes_at_a_sale_make_the_worth_surer() {
    let app = App::open(PHONE);
    app.begin_dated();
    app.go("Sales");
    THREE_SALES.into_iter().chain([FOURTH]).for_each(|sale| app.add_sale(sale));

    app.beside_checks("Plan");
    app.shows("Say how many minutes there are");
    app.find("button", "10").click();
    app.find("heading", "What it leaves unseen");
    app.accessible();
    let first = app.twin();
    let mut plan = is_the_plan(&app, &first);
    let planned = first.appraisal.looking.plan.clone().expect("ten minutes make a plan");
    assert!(planned.minutes <= 10.0 && plan.len() > 1, "{planned:?}");

    // What it says of what is left changes with what was seen, so each time the first of the plan is made.
    let width_at_first = relative_width(&first);
    let (mut now, mut minutes) = (first, 0.0);
    while let Some(id) = plan.first().filter(|id| minutes + minutes_of(&now, id) <= 10.0).cloned() {
        minutes += minutes_of(&now, &id);
        make(&app, &now, &id);
        app.beside_checks("Plan");
        let after = app.twin();
        after.is_in_strip(&app);
        let next = is_the_plan(&app, &after);
        assert!(!next.contains(&id), "what is made leaves the plan");
        let cover = |twin: &Twin| twin.appraisal.condition.overall.cover;
        assert!(cover(&after) > cover(&now), "every check made raises the cover");
        (plan, now) = (next, after);
    }
    assert!(made(&now.worksheet) > 1, "ten minutes are enough for more than one check");
    let width = relative_width(&now);
    assert!(width < width_at_first, "the worth is surer: {width} of its middle, and was {width_at_first}");
    app.go("Worth");
    now.is_on_worth_screen(&app);
    app.clean();
}

/// The same with a fault found: what may stand behind it is told in its row, and deducted from the worth.
#[test]
fn a_sign_seen_at_a_planned_check_is_explained_and_deducted() {
    let app = App::open(PHONE);
    app.begin();
    app.field("Day").fill("2026-06-20");
    app.go("Sales");
    THREE_SALES.into_iter().chain([FOURTH]).for_each(|sale| app.add_sale(sale));
    app.beside_checks("Plan");
    app.find("button", "10").click();
    app.find("heading", "What it leaves unseen");
    let before = app.twin();
    let signs = |id: &String| before.sheet.check(id).map(|check| check.signs.clone()).unwrap_or_default();
    let bad = |id: &String| Some((id.clone(), signs(id).into_iter().find(|sign| sign.grade >= Grade::Serious)?));
    let (id, sign) = is_the_plan(&app, &before).iter().find_map(bad).expect("the plan looks for something serious");
    follow(&app, &before, &id);
    let row = app.css(&format!("#check-{id} .opened"));
    let button = if sign.is_unsafe { format!("{} unsafe", sign.name) } else { sign.name.clone() };
    row.find("button", &button).click();
    app.css(&format!("#check-{id} .causes"));
    let after = app.twin();
    after.is_in_strip(&app);
    let found = |twin: &Twin| twin.appraisal.repairs.found.middle;
    assert!(found(&after) > found(&before), "what was seen costs something to put right");
    let deduction = |twin: &Twin| twin.appraisal.worth.as_ref().map(|worth| worth.deduction);
    assert!(deduction(&after) > deduction(&before), "and the market takes something off for it");
    app.go("Worth");
    after.is_on_worth_screen(&app);
    app.clean();
}

/// How wide the worth's range is, as a share of its middle.
fn relative_width(twin: &Twin) -> f64 {
    let stands = &twin.appraisal.worth.as_ref().expect("four sales make a worth").stands;
    (stands.high - stands.low) / stands.middle
}

fn minutes_of(twin: &Twin, id: &str) -> f64 {
    twin.sheet.check(id).map(|check| check.minutes).expect("a planned check is there")
}

fn made(worksheet: &Worksheet) -> usize {
    worksheet.findings.values().filter(|finding| finding.grade().is_some()).count()
}

/// The plan on the screen is core's, in walking order; its ids.
#[track_caller]
fn is_the_plan(app: &App, twin: &Twin) -> Vec<String> {
    let plan = twin.appraisal.looking.plan.clone().expect("there is a plan");
    let name =
        |id: &String| vec![twin.sheet.check(id).map(|check| check.name.clone()).expect("a planned check is there")];
    let wanted: Vec<_> = plan.checks.iter().map(name).collect();
    assert_eq!(app.table_of("main > ol > li.figure-line", ".check-link"), wanted, "the plan");
    plan.checks
}

/// From the plan to the check, whose row is open with the focus at its name.
#[track_caller]
fn follow(app: &App, twin: &Twin, id: &str) {
    let check = twin.sheet.check(id).expect("a planned check is there");
    app.find("link", &check.name).click();
    app.at(check.stage.name());
    app.css(&format!("#check-{id} .opened"));
    let name = app.css(&format!("#check-{id}-name"));
    app.until("the focus is at its name", || name.has_focus().then_some(()));
}

#[track_caller]
fn make(app: &App, twin: &Twin, id: &str) {
    follow(app, twin, id);
    app.check(id).find("button", "right").click();
    app.until("it is marked", || {
        app.css(&format!("#check-{id} .grades [aria-pressed=true]")).text().contains("right").then_some(())
    });
}
