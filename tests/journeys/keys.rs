//! At a desk with nothing but a keyboard: single keys, the focus that is always seen and comes back, the order of headings, and
//! what a screen reader is told of worth and storing, once they have come to rest.

use kerbworth_core::grade::Grade;
use kerbworth_core::sheet::Stage;
use kerbworth_core::worksheet::{Look, WhyNot};
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{DESK, Key};

/// The check whose row has the focus.
#[track_caller]
fn here(app: &App) -> String {
    let script = "return document.activeElement?.closest('.check')?.id ?? ''";
    app.run(script, &[]).as_str().unwrap_or_default().trim_start_matches("check-").to_owned()
}

#[test]
fn a_stage_is_walked_and_graded_by_keys_alone() {
    let app = App::open(DESK);
    app.begin();
    app.stage(Stage::WalkRound);
    app.press("j");
    let first = app.until("a check has the focus", || Some(here(&app)).filter(|id| !id.is_empty()));
    app.press("0");
    app.press("j");
    let second = app.until("the next check has it", || Some(here(&app)).filter(|id| *id != first));
    app.press("k");
    app.until("the one before has it again", || (here(&app) == first).then_some(()));
    app.press("j");
    app.press("3");
    app.css(&format!("#check-{second} .opened"));
    app.press("u");
    app.css(&format!("#check-{second} .unsafe[aria-pressed=true]"));
    app.press("n");
    let note = app.css(&format!("#check-{second} textarea"));
    app.until("the note has the focus", || note.has_focus().then_some(()));
    // In a field, a letter is a letter.
    note.type_keys("0 just wet");
    app.run("document.querySelector(arguments[0]).focus()", &[format!("#check-{second}-name").into()]);
    app.press("j");
    let third = app.until("the third has it", || Some(here(&app)).filter(|id| *id != second && !id.is_empty()));
    app.press("x");
    let why = app.css(&format!("#check-{third} select"));
    app.until("the reason has the focus", || why.has_focus().then_some(()));
    why.choose(WhyNot::NoTime.name());
    let worksheet = app.twin().worksheet;
    let look = |id: &str| worksheet.findings.get(id).and_then(|finding| finding.look);
    assert_eq!(look(&first), Some(Look::Grade(Grade::Right)));
    assert_eq!(look(&second), Some(Look::Grade(Grade::Serious)));
    assert_eq!(worksheet.findings.get(&second).map(|finding| finding.note.as_str()), Some("0 just wet"));
    assert_eq!(look(&third), Some(Look::NotLooked(WhyNot::NoTime)));

    app.run("document.activeElement.blur()", &[]);
    app.press("z");
    app.until("the last is undone", || {
        app.twin().worksheet.findings.get(&third).is_none_or(|it| it.look.is_none()).then_some(())
    });
    app.press("y");
    app.until("and made again", || app.twin().worksheet.findings.get(&third).and_then(|it| it.look).map(|_| ()));
    for (key, heading) in
        [("w", "Worth"), ("s", "Sales"), ("p", "Plan"), ("h", "Hand over"), ("c", Stage::Papers.name())]
    {
        app.press(key);
        app.at(heading);
    }
    app.press("/");
    let search = app.css("#field-search");
    app.until("the search has the focus", || search.has_focus().then_some(()));
    app.clean();
}

#[test]
fn the_list_of_keys_opens_closes_and_switches_them_off() {
    let app = App::open(DESK);
    app.demo();
    app.go("Checks");
    let undo = app.css("#stages a");
    app.run("document.querySelector('#stages a').focus()", &[]);
    app.press("?");
    app.find("dialog", "Keys");
    // Behind the dialog nothing is pressed.
    app.press("w");
    app.field("Single keys do something, outside of fields").click();
    app.press(Key::Escape);
    app.until("the dialog is gone", || (!app.has("dialog", "Keys")).then_some(()));
    app.until("the focus is back", || undo.has_focus().then_some(()));
    app.press("w");
    app.press("?");
    app.find("dialog", "Keys");
    assert_eq!(app.reads("h1"), Stage::Papers.name(), "a key that is switched off does nothing");
    app.field("Single keys do something, outside of fields").click();
    app.find("button", "Close").click();
    app.press("w");
    app.at("Worth");
    app.clean();
}

/// Each screen has one first heading, none skips a level, and the landmarks are there: one main part, and bars with names.
#[test]
fn headings_are_in_order_and_landmarks_have_names() {
    let app = App::open(DESK);
    app.demo();
    let levels = "return [...document.querySelectorAll('h1, h2, h3, h4, h5, h6')].filter((it) => it.checkVisibility())
        .map((it) => Number(it.localName[1]))";
    let unnamed = "return [...document.querySelectorAll('nav, section[aria-label], [role=region]')]
        .filter((it) => !it.getAttribute('aria-label') && !it.getAttribute('aria-labelledby')).map((it) => it.outerHTML.slice(0, 90))";
    for address in [
        "#/",
        "#/car",
        "#/checks/walk-round",
        "#/checks/road-test",
        "#/plan",
        "#/lamps",
        "#/departures",
        "#/sales",
        "#/worth",
        "#/hand-over",
        "#/on-paper",
        "#/compare",
        "#/ledger",
        "#/sheets",
        "#/settings",
    ] {
        let go = "const drawn = new Promise((done) => addEventListener('hashchange', () => setTimeout(done, 100), { once: true }));
            location.hash = arguments[0];
            return drawn";
        app.run(go, &[address.into()]);
        let levels: Vec<u64> = serde_json::from_value(app.run(levels, &[])).expect("levels are numbers");
        assert_eq!(levels.iter().filter(|level| **level == 1).count(), 1, "{address}: one first heading: {levels:?}");
        assert!(levels.windows(2).all(|pair| pair[1] <= pair[0] + 1), "{address}: a level is skipped: {levels:?}");
        assert_eq!(app.run("return document.querySelectorAll('main').length", &[]), 1, "{address}: one main part");
        assert_eq!(app.run(unnamed, &[]), serde_json::json!([]), "{address}: a landmark without a name");
    }
}

/// Ten letters typed in a row are told once, at rest, with the worth.
#[test]
fn what_is_told_does_not_chatter() {
    let app = App::open(DESK);
    app.demo();
    app.go("Car");
    let told = |app: &App| app.reads("#rest");
    app.until("it is told how things stand", || told(&app).starts_with("Saved. Worth £").then_some(()));
    assert_eq!(app.css("#rest").attribute("role").as_deref(), Some("status"));
    app.run(
        "window.told = 0; new MutationObserver(() => { window.told += 1 })
            .observe(document.getElementById('rest'), { childList: true, characterData: true, subtree: true })",
        &[],
    );
    let before = told(&app);
    app.field("Mileage, as you believe it").fill("4021234567");
    app.until("it is told anew", || (told(&app) != before).then_some(()));
    app.saved();
    let times = app.run("return window.told", &[]).as_u64().unwrap_or_default();
    assert!((1..=3).contains(&times), "ten keystrokes were told {times} times");
    let noisy = "return [...document.querySelectorAll('header [role=status], header [aria-live], .foot [role=status], .foot [aria-live]')].length";
    assert_eq!(app.run(noisy, &[]), 0, "the bars themselves are quiet");
}

/// By the skip link past the bars, in a visible way.
#[test]
fn the_skip_link_is_seen_and_skips() {
    let app = App::open(DESK);
    app.demo();
    app.reload();
    app.at("Worth");
    app.tab_to("link", "Skip to the worksheet");
    let seen = "const { left, top } = document.activeElement.getBoundingClientRect(); return left >= 0 && top >= 0";
    assert_eq!(app.run(seen, &[]), true);
    app.press(Key::Enter);
    app.until("the main part has the focus", || {
        (app.run("return document.activeElement.id", &[]) == "main").then_some(())
    });
}
