//! A new version comes while somebody types: it is offered and waits, nothing typed is lost, and no page is ever put together
//! of two builds, however badly the new one was put on its host.

use std::fs;

use kerbworth_tests::app::App;
use kerbworth_tests::browser::DESK;
use kerbworth_tests::dist::{dist, files};
use kerbworth_tests::newer::Newer;

/// Types line after line; the session remembers how many.
const TYPE_ON: &str = "
    const note = document.querySelector('textarea');
    let line = 0;
    setInterval(() => {
        note.value += `line ${line++}\\n`;
        note.dispatchEvent(new Event('input', { bubbles: true }));
        sessionStorage.setItem('typed', line);
    }, 200)";

/// The browser looks for a new version, as it does when its person comes back to the tab; gives whether one waits.
const LOOK: &str = "
    return navigator.serviceWorker.getRegistration().then(async (registration) => {
        const found = new Promise((done) => registration.addEventListener('updatefound', () => done(registration.installing)));
        await registration.update();
        const worker = registration.installing ?? registration.waiting ?? await Promise.race([found, new Promise((done) => setTimeout(done, 1000))]);
        while (worker && worker.state === 'installing') await new Promise((done) => setTimeout(done, 10));
        return Boolean(registration.waiting);
    })";

#[test]
fn it_is_offered_while_typing_and_everything_typed_is_there_after_it() {
    let (mut app, newer) = typing();
    app.host().change_to(&newer.folder);
    app.run(TYPE_ON, &[]);
    app.run("document.dispatchEvent(new Event('visibilitychange'))", &[]);
    app.shows("A new version of Kerbworth is ready.");
    assert_eq!(build(&app, &newer), "old");
    let waits =
        "return navigator.serviceWorker.getRegistration().then((registration) => Boolean(registration.waiting))";
    assert_eq!(app.run(waits, &[]), true, "it waits to be asked");
    app.find("button", "Change to it").click();
    app.until("the new version is there", || (is_marked(&app)).then_some(()));
    app.at("Car");
    assert_eq!(build(&app, &newer), "new");
    let typed = app.run("return Number(sessionStorage.getItem('typed'))", &[]).as_u64().unwrap_or_default();
    let note = app.field("Note").value();
    let want: Vec<String> = (0..typed).map(|line| format!("line {line}")).collect();
    assert!(typed > 0);
    assert_eq!(note.lines().collect::<Vec<_>>(), want);
    assert_eq!(app.twin().worksheet.car.maker, "Halberd");
    app.host().cut();
    app.reload();
    app.at("Car");
    assert_eq!(build(&app, &newer), "new");
}

#[test]
fn another_tab_goes_on_with_the_version_that_it_has() {
    let (mut app, newer) = typing();
    app.host().change_to(&newer.folder);
    let first = app.tab();
    app.new_tab();
    app.open("#/car");
    app.at("Car");
    app.css("html[data-update=ready]");
    app.find("button", "Change to it").click();
    app.until("the new version is there", || (is_marked(&app)).then_some(()));
    app.at("Car");
    app.to_tab(&first);
    assert!(!is_marked(&app));
    app.field("Place").fill("Lower Penwick");
    app.saved();
    app.reload();
    app.at("Car");
    assert_eq!(build(&app, &newer), "new");
    assert_eq!(app.field("Place").value(), "Lower Penwick");
}

#[test]
fn what_is_half_there_or_not_as_it_was_built_is_not_taken() {
    let (mut app, newer) = typing();
    let wasm = newer.paths().into_iter().find(|path| path.ends_with(".wasm")).expect("a build has a program");
    let file = newer.folder.join(wasm.trim_start_matches('/'));
    let whole = fs::read(&file).expect("it is there");
    app.host().change_to(&newer.folder);

    fs::remove_file(&file).expect("it can be taken away");
    stays(&app, &newer, "a file is missing");
    fs::write(&file, &whole[..whole.len() / 2]).expect("it can be written");
    stays(&app, &newer, "a file is cut short");
    let mut other = whole.clone();
    other[whole.len() / 2] ^= 1;
    fs::write(&file, &other).expect("it can be written");
    stays(&app, &newer, "a file is not the one that was built");

    fs::write(&file, &whole).expect("it can be written");
    app.host().break_off(&wasm, true);
    stays(&app, &newer, "the network breaks off in the middle of a file");
    app.host().cut();
    stays(&app, &newer, "the network is gone");

    app.host().mend();
    app.host().break_off(&wasm, false);
    assert_eq!(app.run(LOOK, &[]), true, "all is there");
    app.css("html[data-update=ready]");
    app.find("button", "Change to it").click();
    app.until("the new version is there", || is_marked(&app).then_some(()));
    app.at("Car");
    assert_eq!(build(&app, &newer), "new");
    assert_eq!(app.field("Note").value(), "typed while the network is gone");
}

/// A worksheet that is being written, with the program stored, and a later build.
#[track_caller]
fn typing() -> (App, Newer) {
    let app = App::open(DESK);
    app.begin();
    app.field("Maker").fill("Halberd");
    app.css("html[data-offline=ready]");
    app.saved();
    // What the browser itself says of files that do not come is what this is about.
    app.expects_errors();
    (app, Newer::build())
}

/// The page stays with the old build, offers nothing, and keeps what is typed.
#[track_caller]
fn stays(app: &App, newer: &Newer, why: &str) {
    let typed = format!("typed while {why}");
    app.field("Note").fill(&typed);
    app.saved();
    // Without a network the browser says so at once.
    let look = format!("{} .catch(() => false)", LOOK.trim_end().trim_end_matches(';'));
    assert_eq!(app.run(&look, &[]), false, "{why}");
    app.reload();
    app.at("Car");
    assert_eq!(build(app, newer), "old", "{why}");
    assert_eq!(app.field("Note").value(), typed, "{why}");
    assert!(!app.text().contains("A new version of Kerbworth"), "{why}");
}

fn is_marked(app: &App) -> bool {
    app.run("return Boolean(document.querySelector('meta[name=build-of-test]'))", &[]) == true
}

/// From which build the page and all that it loaded are.
#[track_caller]
fn build(app: &App, newer: &Newer) -> &'static str {
    let script = "return performance.getEntriesByType('resource').map((one) => new URL(one.name).pathname)";
    let loaded: Vec<String> = serde_json::from_value(app.run(script, &[])).expect("paths");
    let older: Vec<String> = files(&dist())
        .iter()
        .filter_map(|file| Some(format!("/{}", file.strip_prefix(dist()).ok()?.display())))
        .collect();
    assert!(loaded.iter().any(|path| path.ends_with(".wasm")), "{loaded:?}");
    let of = |build: &[String]| loaded.iter().all(|path| build.contains(path));
    match (of(&older), of(&newer.paths()), is_marked(app)) {
        (true, false, false) => "old",
        (false, true, true) => "new",
        (_, _, page) => panic!("a page of two builds: {loaded:?}, the page itself is the newer: {page}"),
    }
}
