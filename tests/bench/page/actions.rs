//! What a person does, each step of it measured.

use std::thread;
use std::time::Duration;

use kerbworth_core::sheet::{Check, Stage};
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{Key, PHONE, Part};
use kerbworth_tests::scatter::Scatter;
use serde::Deserialize;
use serde_json::json;

use crate::load::{self, LEDGER};

/// From what a person did to the frame that shows it, in milliseconds.
#[derive(Debug, Clone, Copy, Deserialize)]
pub struct Step {
    /// What the page did for it: everything that hangs on the event, and the drawing of the frame.
    pub work: f64,
    /// From the event until it was painted, with the waits for the page to be free and for the next frame.
    pub paint: f64,
    /// Until it was said to be saved.
    pub saved: Option<f64>,
    /// The longest that the page was held up afterwards, from 50 ms on.
    pub held: f64,
}

/// An action and its steps.
pub struct Action {
    /// What is done.
    pub name: &'static str,
    /// Each time that it was done.
    pub steps: Vec<Step>,
    /// How long the processor was at work for the page for each step, in milliseconds: with all that came after it, and with
    /// what the measuring itself takes, which [`Bench::nothing`] tells. Other work on the machine is not in it.
    pub busy: f64,
}

/// A kind of step, and how it is seen that it was made.
#[derive(Clone, Copy)]
struct Kind<'a> {
    name: &'static str,
    event: &'static str,
    /// A selector, and a text in what it finds.
    shows: (&'a str, &'a str),
    saves: bool,
}

const KEY: Kind<'_> = Kind { name: "", event: "input", shows: ("main", ""), saves: true };
const TAP: Kind<'_> = Kind { event: "click", ..KEY };

/// The page under its load.
pub struct Bench {
    /// The page.
    pub app: App,
    steps: usize,
}

impl Bench {
    /// Opens the page, fills it, and opens it again.
    pub fn open(steps: usize, slower: u32) -> Self {
        let app = App::open(PHONE);
        app.before_each_page(crate::CLOCK);
        load::put_shelf(&app);
        app.slow_down(slower);
        app.reload();
        app.at("Shelf");
        Self { app, steps }
    }

    /// Every action, in an order in which each finds what it needs.
    pub fn run(&self) -> Vec<Action> {
        [self.nothing(), self.import(), self.checks(), self.sales(), self.departures(), self.shelf(), self.ledger()]
            .into_iter()
            .flatten()
            .collect()
    }

    /// What a step takes at which the page has nothing to do.
    fn nothing(&self) -> Vec<Action> {
        vec![self.each(Kind { name: "a tap on nothing", saves: false, ..TAP }, |_| self.app.css("h1"), click)]
    }

    fn import(&self) -> Vec<Action> {
        self.app.to("#/ledger", "Ledger");
        self.app.unfold("Paste from a spreadsheet, or open a CSV file");
        let button = format!("Add the good rows ({LEDGER})");
        let reading = Kind { name: "10,000 sales read", event: "change", shows: ("button", &button), saves: false };
        let table = load::table();
        let read = self.times(1, reading, |_| self.app.css("main"), |_, _| self.app.choose_file("sales.csv", &table));
        let listed = format!("{LEDGER} / {LEDGER}");
        let adding = Kind { name: "10,000 sales added", event: "click", shows: ("p", &listed), saves: false };
        let added = self.times(1, adding, |_| self.app.find("button", &button), click);
        self.app.until("the ledger is stored", || self.app.stored("kerbworth/ledger"));
        vec![read, added]
    }

    fn checks(&self) -> Vec<Action> {
        let sheet = load::sheet();
        let has_signs = |check: &&Check| check.stage == Stage::WalkRound && check.signs.len() > 2;
        let mut ids = sheet.checks.iter().filter(has_signs).map(|check| check.id.as_str());
        let (first, other) = (ids.next().expect("there are such checks"), ids.next().expect("there are several"));
        self.app.to("#/car", "Car");
        self.app.stage(Stage::WalkRound);
        let opened = format!("#check-{other} .opened");
        let opening = Kind { name: "a check opened", shows: (&opened, ""), saves: false, ..TAP };
        let shut = |_| {
            let there = |script: &str| self.app.run(script, &[json!(opened)]);
            there("document.querySelector(arguments[0])?.closest('li').querySelector('.name').click()");
            let gone = || there("return document.querySelector(arguments[0])").is_null().then_some(());
            self.app.until("the check is shut", gone);
            self.app.css(&format!("#check-{other}-name"))
        };
        let opening = self.each(opening, shut, click);
        self.app.open_check(first);
        let note = self.app.css(&format!("#check-{first} .field textarea"));
        let sign = |_| self.app.css(&format!("#check-{first} .sign .sign-name"));
        let grade = |step| self.app.css(&format!("#check-{first} .grades button:nth-child({})", 2 + step % 2));
        let done = vec![
            opening,
            self.each(Kind { name: "a key in a note", ..KEY }, |_| self.app.css("main"), |_, step| letter(&note, step)),
            self.each(Kind { name: "a grade tapped", ..TAP }, grade, click),
            self.each(Kind { name: "a sign tapped", ..TAP }, sign, click),
        ];
        // With half of the checks still to do, there is the more to say of what to look at next.
        self.open_card(load::HALF);
        self.app.stage(Stage::WalkRound);
        self.app.open_check(first);
        let half = self.each(Kind { name: "the same, half-way", ..TAP }, sign, click);
        self.open_card(load::FULL);
        done.into_iter().chain([half]).collect()
    }

    /// Opens the worksheet at a place of the shelf.
    fn open_card(&self, place: usize) {
        self.app.to("#/", "Shelf");
        self.app.run("document.querySelectorAll('.card a')[arguments[0]].click()", &[json!(place)]);
        self.app.at("Car");
    }

    fn sales(&self) -> Vec<Action> {
        self.app.go("Sales");
        let row = self.app.css("ol.sales > li:nth-child(2)");
        self.app.css("ol.sales > li:nth-child(2) summary").click();
        vec![self.each(Kind { name: "a digit in a price", ..KEY }, |_| row.field("Price"), digit)]
    }

    fn departures(&self) -> Vec<Action> {
        self.app.beside_checks("Departures");
        let button = |step| self.app.css(&format!(".departure:nth-child(2) button:nth-of-type({})", 1 + step % 2));
        vec![self.each(Kind { name: "a departure tapped", ..TAP }, button, click)]
    }

    fn shelf(&self) -> Vec<Action> {
        let opening = Kind { name: "the shelf opened", shows: ("h1", "Shelf"), saves: false, ..TAP };
        let away = |_| {
            self.app.to("#/car", "Car");
            self.app.css(".head a")
        };
        vec![self.each(opening, away, click)]
    }

    fn ledger(&self) -> Vec<Action> {
        let listed = Kind { shows: (".window li", ""), saves: false, ..TAP };
        let link = || self.app.find("link", "Ledger of sales");
        let anew = |_| {
            self.app.open("#/");
            self.app.reload();
            link()
        };
        let back = |_| {
            self.app.to("#/", "Shelf");
            link()
        };
        let first = self.times(3, Kind { name: "the ledger opened first", ..listed }, anew, click);
        let again = self.each(Kind { name: "the ledger opened again", ..listed }, back, click);
        let field = self.app.field("Search: date, source, kind, departures");
        let search = Kind { name: "a key in the search", saves: false, ..KEY };
        let search = self.each(search, |_| self.app.css("main"), |_, step| word(&field, step));
        self.app.find("button", "Add a sale").click();
        let price = self.app.css("dialog[open]").field("Price");
        let typing = Kind { name: "a digit in the ledger", saves: false, ..KEY };
        let typing = self.each(typing, |_| self.app.css("dialog[open]"), |_, step| digit(&price, step));
        self.app.find("button", "Delete this sale").click();
        vec![first, again, search, typing]
    }

    /// Steps of a kind, as many as are wanted.
    fn each<'a>(&self, kind: Kind<'_>, find: impl Fn(usize) -> Part<'a>, act: impl Fn(&Part<'_>, usize)) -> Action {
        self.times(self.steps, kind, find, act)
    }

    /// Finds a part for each step, lets the page come to rest or not quite, and acts on it.
    fn times<'a>(
        &self,
        steps: usize,
        kind: Kind<'_>,
        find: impl Fn(usize) -> Part<'a>,
        act: impl Fn(&Part<'_>, usize),
    ) -> Action {
        let mut scatter = Scatter(5);
        let before = self.app.measure("TaskDuration");
        let made = (0..steps).map(|step| {
            let part = find(step);
            let (selector, text) = kind.shows;
            self.app.run("kerbworthClock.arm(...arguments)", &[json!(kind.event), json!(selector), json!(text)]);
            act(&part, step);
            // As a person acts: sometimes before what is put off is done, sometimes long after.
            let rest = 100 + scatter.below(700);
            let made = self.app.run("return kerbworthClock.step(...arguments)", &[json!(kind.saves), json!(rest)]);
            serde_json::from_value(made).expect("the clock tells of a step")
        });
        let steps: Vec<Step> = made.collect();
        thread::sleep(Duration::from_secs(1));
        let busy = (self.app.measure("TaskDuration") - before) * 1000.0 / steps.len() as f64;
        Action { name: kind.name, steps, busy }
    }
}

fn click(part: &Part<'_>, _: usize) {
    part.click();
}

fn letter(part: &Part<'_>, step: usize) {
    part.type_keys(["r", "u", "s", "t", " "].get(step % 5).copied().unwrap_or_default());
}

/// A digit more and a digit less.
fn digit(part: &Part<'_>, step: usize) {
    if step.is_multiple_of(2) { part.type_keys("5") } else { part.type_keys(Key::Backspace) }
}

/// A search that is typed, and taken back letter by letter.
fn word(part: &Part<'_>, step: usize) {
    const WORDS: [&str; 12] = ["h", "a", "r", "r", "o", "w", " ", "2", "0", "1", "9", " "];
    match WORDS.get(step % (2 * WORDS.len())) {
        Some(letter) => part.type_keys(*letter),
        None => part.type_keys(Key::Backspace),
    }
}
