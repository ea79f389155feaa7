//! Kerbworth as a person uses it: from screen to screen, from field to field.

use std::ops::Deref;

use kerbworth_core::hand_over::Kind;
use kerbworth_core::sheet::Stage;
use kerbworth_core::worksheet::Worksheet;

use crate::browser::{Browser, Part, Screen};
use crate::host::Host;
use crate::twin::Twin;

/// The app, open in a browser of its own.
pub struct App {
    // Dropped in this order: the browser is closed before its host.
    browser: Browser,
    // None if it is the guest of another's host.
    host: Option<Host>,
    screen: Screen,
}

impl Deref for App {
    type Target = Browser;

    fn deref(&self) -> &Browser {
        &self.browser
    }
}

/// A sale as it is typed; what is blank is left as it is.
#[derive(Debug, Clone, Copy, Default)]
pub struct Typed<'a> {
    /// Year, month, day.
    pub date: &'a str,
    /// How the price came about, as the choice reads.
    pub kind: &'a str,
    /// In the worksheet's currency.
    pub price: &'a str,
    /// In miles.
    pub mileage: &'a str,
    /// From 0 to 100.
    pub condition: &'a str,
}

/// Three sales of cars like that of [`App::begin_dated`].
pub const THREE_SALES: [Typed<'static>; 3] = [
    Typed { date: "2025-11-08", kind: "private", price: "9,250", mileage: "71,000", condition: "78" },
    Typed { date: "2026-03-21", kind: "auction, hammer price", price: "7,900", mileage: "88,400", condition: "70" },
    Typed { date: "2026-06-13", kind: "dealer", price: "12,495", mileage: "52,300", condition: "88" },
];

impl App {
    /// Opens it for the first time.
    ///
    /// # Panics
    /// When it does not open.
    #[must_use]
    #[track_caller]
    pub fn open(screen: Screen) -> Self {
        let host = Host::of_dist();
        let browser = Browser::start(&host);
        let app = Self { browser, host: Some(host), screen };
        app.come_in();
        app
    }

    /// Opens it in a browser with a profile of its own, from the same host: another device, which ends before this one.
    ///
    /// # Panics
    /// When it does not open, or this is a guest itself.
    #[must_use]
    #[track_caller]
    pub fn another_device(&self, screen: Screen) -> Self {
        let browser = Browser::start(self.host.as_ref().expect("another device is asked for beside the first one"));
        let app = Self { browser, host: None, screen };
        app.come_in();
        app
    }

    /// Closes the browser and opens it and the app again, as on another day.
    ///
    /// # Panics
    /// When it does not open.
    #[track_caller]
    pub fn another_day(&mut self) {
        self.browser.restart();
        self.come_in();
    }

    /// Kills the browser with everything that runs in it, and opens it and the app again at an address.
    ///
    /// # Panics
    /// When it does not open.
    #[track_caller]
    pub fn kill_and_open(&mut self, address: &str) {
        self.browser.kill();
        self.browser.restart();
        self.browser.screen(self.screen);
        self.browser.open(address);
    }

    #[track_caller]
    fn come_in(&self) {
        self.browser.screen(self.screen);
        self.browser.open("");
        self.at("Shelf");
    }

    /// Its host.
    ///
    /// # Panics
    /// When this is another's guest.
    #[must_use]
    #[track_caller]
    pub fn host(&mut self) -> &mut Host {
        self.host.as_mut().expect("only the first device has a host of its own")
    }

    /// Takes its host away: from now on there is no network to it.
    ///
    /// # Panics
    /// When the host does not stop, or this is another's guest.
    pub fn cut_off(&mut self) {
        self.host().cut();
    }

    /// Waits until the screen with this heading is there.
    ///
    /// # Panics
    /// When it does not come.
    #[track_caller]
    pub fn at(&self, heading: &str) {
        let script = "return document.querySelector('h1')?.innerText ?? ''";
        self.until(&format!("the screen “{heading}” is there"), || {
            (self.run(script, &[]) == heading).then_some(())
        });
    }

    /// Goes to a screen by its address, such as `#/lamps`, and waits for its heading.
    ///
    /// # Panics
    /// When it does not come.
    #[track_caller]
    pub fn to(&self, address: &str, heading: &str) {
        self.run("location.hash = arguments[0]", &[address.into()]);
        self.at(heading);
    }

    /// Begins a worksheet.
    ///
    /// # Panics
    /// When it does not begin.
    #[track_caller]
    pub fn begin(&self) {
        self.find("button", "New worksheet").click();
        self.at("Car");
    }

    /// Begins a worksheet with what a comparison asks of the car and the day.
    ///
    /// # Panics
    /// When it does not begin.
    #[track_caller]
    pub fn begin_dated(&self) {
        self.begin();
        for (label, text) in [("Year made", "1964"), ("Mileage, as you believe it", "64,200"), ("Day", "2026-06-20")] {
            self.field(label).fill(text);
        }
    }

    /// Chooses what is handed over.
    ///
    /// # Panics
    /// When it is not there to be chosen.
    #[track_caller]
    pub fn document(&self, kind: Kind) {
        self.css(".no-print fieldset").find("button", kind.name()).click();
    }

    /// Loads the demonstration on an empty shelf.
    ///
    /// # Panics
    /// When it does not open.
    #[track_caller]
    pub fn demo(&self) {
        self.find("button", "Open the demonstration").click();
        self.at("Worth");
    }

    /// Opens a worksheet from a file, on the shelf.
    ///
    /// # Panics
    /// When it does not open.
    #[track_caller]
    pub fn open_worksheet(&self, worksheet: &Worksheet) {
        let json = serde_json::to_string(worksheet).expect("a worksheet is written as JSON");
        self.choose_file("worksheet.json", json);
        self.at("Car");
    }

    /// Goes to one of the five places below the strip.
    ///
    /// # Panics
    /// When it is not there.
    #[track_caller]
    pub fn go(&self, place: &str) {
        self.css(".places").find("link", place).click();
        self.at(if place == "Checks" { Stage::Papers.name() } else { place });
    }

    /// Goes to the shelf.
    ///
    /// # Panics
    /// When it is not there.
    #[track_caller]
    pub fn to_shelf(&self) {
        self.css(".head").find("link", "Shelf").click();
        self.at("Shelf");
    }

    /// Goes to the checks of a stage.
    ///
    /// # Panics
    /// When they are not there.
    #[track_caller]
    pub fn stage(&self, stage: Stage) {
        self.go("Checks");
        let name = stage.name();
        let script = "return [...document.querySelectorAll('#stages a')].find((a) => a.innerText.startsWith(arguments[0]))?.click() ?? 0";
        self.run(script, &[name.into()]);
        self.at(name);
    }

    /// Goes to a screen that belongs to the walk: the plan, the lamps, the departures.
    ///
    /// # Panics
    /// When it is not there.
    #[track_caller]
    pub fn beside_checks(&self, name: &str) {
        self.go("Checks");
        self.find("link", name).click();
        self.at(name);
    }

    /// The row of a check on its stage's screen.
    ///
    /// # Panics
    /// When it is not there.
    #[track_caller]
    pub fn check(&self, id: &str) -> Part<'_> {
        self.css(&format!("#check-{id}"))
    }

    /// Opens the row of a check.
    ///
    /// # Panics
    /// When it does not open.
    #[track_caller]
    pub fn open_check(&self, id: &str) -> Part<'_> {
        self.css(&format!("#check-{id}-name")).click();
        self.css(&format!("#check-{id} .opened"));
        self.check(id)
    }

    /// Opens the fold with this summary.
    ///
    /// # Panics
    /// When it is not there.
    #[track_caller]
    pub fn unfold(&self, summary: &str) {
        self.find("DisclosureTriangle", summary).click();
    }

    /// Adds a sale to the worksheet, on the screen of the sales.
    ///
    /// # Panics
    /// When it cannot be typed in.
    #[track_caller]
    pub fn add_sale(&self, sale: Typed<'_>) {
        let before = self.run("return document.querySelectorAll('ol.sales > li').length", &[]).as_u64().unwrap_or(0);
        self.find("button", "Add a sale").click();
        let row = self.css(&format!("ol.sales > li:nth-child({})", before + 1));
        if !sale.kind.is_empty() {
            row.field("How the price came about").choose(sale.kind);
        }
        let Typed { date, price, mileage, condition, .. } = sale;
        let fields = [("Date", date), ("Price", price), ("Mileage", mileage), ("Condition, 0 to 100", condition)];
        for (label, text) in fields.into_iter().filter(|(_, text)| !text.is_empty()) {
            row.field(label).fill(text);
        }
    }

    /// Goes to an address of its own host as a person who was sent it does, and waits for the heading.
    ///
    /// # Panics
    /// When the address is of another host, or the screen does not come.
    #[track_caller]
    pub fn follow(&self, link: &str, heading: &str) {
        let here = self.run("return location.origin", &[]);
        let here = here.as_str().unwrap_or_default();
        let below = link.strip_prefix(here).unwrap_or_else(|| panic!("{link} does not lead to {here}"));
        self.open(below.trim_start_matches('/'));
        self.at(heading);
    }

    /// Puts a file into the field that takes one on the screen.
    ///
    /// # Panics
    /// When there is none.
    #[track_caller]
    pub fn choose_file(&self, name: &str, content: impl AsRef<[u8]>) {
        let path = self.browser.file(name, content);
        self.css("main input[type=file]").type_keys(path);
    }

    /// Waits until everything typed is stored.
    ///
    /// # Panics
    /// When it is not.
    #[track_caller]
    pub fn saved(&self) {
        let script = "return document.getElementById('saved')?.innerText ?? ''";
        self.until("everything is saved", || (self.run(script, &[]) == "saved").then_some(()));
    }

    /// Waits until the steps to undo are stored as well, with what is stored.
    ///
    /// # Panics
    /// When they are not.
    #[track_caller]
    pub fn stepped(&self) {
        let script = "const revision = (text) => /\"revision\":(\\d+)/.exec(text ?? '')?.[1];
            const { open } = JSON.parse(localStorage.getItem('kerbworth/shelf')).body;
            const [worksheet, steps] = ['worksheet', 'steps'].map((what) => localStorage.getItem(`kerbworth/${what}/${open}`));
            return revision(worksheet) === revision(steps)";
        self.saved();
        self.until("the steps are stored", || (self.run(script, &[]) == true).then_some(()));
    }

    /// What native core makes of the worksheet that is open, as it is stored.
    ///
    /// # Panics
    /// When it is not stored, or cannot be read.
    #[must_use]
    #[track_caller]
    pub fn twin(&self) -> Twin {
        self.saved();
        Twin::of_open(&self.browser)
    }

    /// The text of the first element that a CSS selector finds, on one line.
    ///
    /// # Panics
    /// When it does not come.
    #[must_use]
    #[track_caller]
    pub fn reads(&self, selector: &str) -> String {
        one_line(&self.css(selector).text())
    }

    /// The texts of the cells of a table, row by row, each on one line.
    ///
    /// # Panics
    /// When the table does not come.
    #[must_use]
    #[track_caller]
    pub fn table(&self, selector: &str) -> Vec<Vec<String>> {
        self.css(selector);
        let script = "return [...document.querySelector(arguments[0]).rows].map(
            (row) => [...row.cells].map((cell) => cell.innerText))";
        let rows: Vec<Vec<String>> =
            serde_json::from_value(self.run(script, &[selector.into()])).expect("a table has rows of cells");
        rows.into_iter().map(|row| row.iter().map(|cell| one_line(cell)).collect()).collect()
    }

    /// The texts of the parts of each of several like elements, each on one line.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn table_of(&self, each: &str, parts: &str) -> Vec<Vec<String>> {
        let script = "const [each, parts] = arguments;
            return [...document.querySelectorAll(each)].map(
                (one) => [...one.querySelectorAll(parts)].map((part) => part.innerText))";
        let rows: Vec<Vec<String>> =
            serde_json::from_value(self.run(script, &[each.into(), parts.into()])).expect("texts of parts");
        rows.into_iter().map(|row| row.iter().map(|text| one_line(text)).collect()).collect()
    }

    /// Worth, cover and hold as the strip shows them.
    ///
    /// # Panics
    /// When there is no strip.
    #[must_use]
    #[track_caller]
    pub fn strip(&self) -> [String; 3] {
        ["#strip-worth", "#strip-cover", "#strip-hold"].map(|part| self.reads(part))
    }
}

/// A text with each run of white space as one space.
#[must_use]
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
