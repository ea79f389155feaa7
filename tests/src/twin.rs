//! What core makes natively of what the browser stored: the other half of every comparison of figures. The app shows what
//! core makes of it in the browser; the two must agree to the last digit.

use kerbworth_core::appraise::{Appraisal, appraise};
use kerbworth_core::condition::{Condition, Score};
use kerbworth_core::hand_over::Case;
use kerbworth_core::market::range::Range;
use kerbworth_core::market::rates::Column;
use kerbworth_core::restore::{Restore, restore_value};
use kerbworth_core::sheet::{self, TypeSheet, demo, extend::extend, general};
use kerbworth_core::show::Show;
use kerbworth_core::units::Money;
use kerbworth_core::worksheet::{self, Worksheet};
use serde_json::Value;

use crate::app::App;
use crate::browser::Browser;

/// A stored worksheet, and what native core makes of it.
pub struct Twin {
    /// As it is stored.
    pub worksheet: Worksheet,
    /// Its type sheet with what that extends.
    pub sheet: TypeSheet,
    /// What core makes of the two.
    pub appraisal: Appraisal,
    /// How its figures are shown.
    pub show: Show,
}

impl Twin {
    /// That of the worksheet that is open.
    ///
    /// # Panics
    /// When none is, or it cannot be read in full.
    #[must_use]
    #[track_caller]
    pub fn of_open(browser: &Browser) -> Self {
        let shelf = body(browser, "kerbworth/shelf").expect("there is a shelf");
        let open = shelf.get("open").and_then(Value::as_str).unwrap_or_default().to_owned();
        Self::of(browser, &open)
    }

    /// That of the worksheet with an id.
    ///
    /// # Panics
    /// When there is none, or it cannot be read in full.
    #[must_use]
    #[track_caller]
    pub fn of(browser: &Browser, id: &str) -> Self {
        let stored = body(browser, &format!("kerbworth/worksheet/{id}"));
        let worksheet: Worksheet = read(&stored.expect("the worksheet is stored"), worksheet::FORMAT);
        let sheet = sheet_of(browser, &worksheet.type_sheet);
        let preferences = body(browser, "kerbworth/preferences").and_then(|body| body.get("show").cloned());
        let show: Show = preferences.map(|show| read(&show, 1)).unwrap_or_default();
        let show = show.in_currency(worksheet.settings.currency);
        let appraisal = appraise(&worksheet, &sheet);
        Self { worksheet, sheet, appraisal, show }
    }

    /// What documents are made from.
    #[must_use]
    pub fn case(&self) -> Case<'_> {
        Case { worksheet: &self.worksheet, sheet: &self.sheet, appraisal: &self.appraisal, show: &self.show }
    }

    /// An amount as the screens show it.
    #[must_use]
    pub fn money(&self, amount: Money) -> String {
        self.show.whole_money(amount)
    }

    /// Two amounts as the screens show a range.
    #[must_use]
    pub fn between(&self, low: Money, high: Money) -> String {
        format!("{}–{}", self.money(low), self.money(high))
    }

    /// Worth, cover and hold as the strip shows them.
    #[must_use]
    pub fn strip(&self) -> [String; 3] {
        let held = match self.appraisal.holds.len() {
            0 => "none".to_owned(),
            count => format!("unsafe {count}"),
        };
        [self.appraisal.worth_in_short(&self.show), self.show.share(self.appraisal.condition.overall.cover), held]
    }
}

/// The whole sheet with an id: the person's own, the demonstration's or the general one.
fn sheet_of(browser: &Browser, id: &str) -> TypeSheet {
    let general = general::general().expect("the general sheet can be read");
    if id == general::ID {
        return general;
    }
    let own: TypeSheet = match body(browser, &format!("kerbworth/type-sheet/{id}")) {
        Some(own) => read(&own, sheet::FORMAT),
        None => demo::curlew().expect("the demonstration's sheet can be read"),
    };
    assert_eq!(own.id, id, "the worksheet's type sheet is there");
    if own.extends.is_some() { extend(&general, &own) } else { own }
}

/// What lies in the envelope that is stored under a key.
#[track_caller]
fn body(browser: &Browser, key: &str) -> Option<Value> {
    let text = browser.stored(key)?;
    let sealed: Value = serde_json::from_str(&text).expect("what is stored is JSON");
    Some(sealed.get("body").cloned().expect("what is stored is in its envelope"))
}

#[track_caller]
fn read<T: Restore>(json: &Value, format: u32) -> T {
    let (it, unread) = restore_value(json, format).expect("what is stored can be read");
    assert!(unread.is_empty(), "what is stored can be read in full, but not: {unread:?}");
    it
}

/// What the screens show, held against what native core makes of it.
impl Twin {
    /// Worth, cover and hold in the strip.
    ///
    /// # Panics
    /// When they are not the same to the last digit.
    #[track_caller]
    pub fn is_in_strip(&self, app: &App) {
        assert_eq!(app.strip(), self.strip(), "worth, cover and hold in the strip");
    }

    /// The screen of the worth: the range with its middle, every score, what putting right costs, and the steps from the
    /// market.
    ///
    /// # Panics
    /// When a figure is not the same to the last digit, or there is no worth.
    #[track_caller]
    pub fn is_on_worth_screen(&self, app: &App) {
        self.is_in_strip(app);
        let worth = self.appraisal.worth.as_ref().expect("there is a worth");
        let (rounded, inner) = (&worth.rounded, worth.inner_rounded());
        assert_eq!(app.reads("#worth-range"), self.between(rounded.low, rounded.high));
        assert_eq!(app.reads(".worth-middle strong"), self.money(rounded.middle));
        app.shows(&format!("Half of them fetch {}.", self.between(inner.low, inner.high)));
        app.shows(&format!("Rounded to {}:", self.money(rounded.step)));
        self.has_its_scores_shown(app);
        let repairs = &self.appraisal.repairs;
        let estimates = app.table_of(".estimate", ".amount > *");
        assert_eq!(
            estimates,
            [repairs.found, repairs.unseen].map(|it| [self.money(it.middle), self.between(it.low, it.high)])
        );
        let market = &self.appraisal.comparison.as_ref().expect("a worth needs a comparison").range;
        let steps = app.table("table.amounts");
        assert_eq!(
            steps.get(1..),
            Some(
                &[
                    self.line_of_range("Market, at the base score", market),
                    ["Taken off for faults".to_owned(), String::new(), self.money(-worth.deduction), String::new()]
                        .to_vec(),
                    self.line_of_range("As it stands", &worth.stands),
                    self.line_of_range("Counting confirmed faults only", &worth.confirmed_only),
                ][..]
            )
        );
    }

    /// The table of scores.
    #[track_caller]
    fn has_its_scores_shown(&self, app: &App) {
        let Condition { systems, overall, .. } = &*self.appraisal.condition;
        let line = |name: &str, score: &Score| {
            let value = score.value.map_or("—".to_owned(), |value| self.show.number(value, 0));
            let band = format!("{}–{}", self.show.number(score.low, 0), self.show.number(score.high, 0));
            vec![name.to_owned(), value, self.show.share(score.cover), band]
        };
        let systems = systems.iter().map(|system| line(system.system.name(), &system.score));
        let wanted: Vec<_> = systems.chain([line("Whole car", overall)]).collect();
        assert_eq!(app.table("table.scores").get(1..), Some(&wanted[..]), "the table of scores");
    }

    fn line_of_range(&self, name: &str, range: &Range) -> Vec<String> {
        let ends = [range.low, range.middle, range.high].map(|minor| self.money(Money::nearest(minor)));
        std::iter::once(name.to_owned()).chain(ends).collect()
    }

    /// The grid of the sales.
    ///
    /// # Panics
    /// When a figure is not the same to the last digit.
    #[track_caller]
    pub fn is_in_grid(&self, app: &App) {
        let compared = self.appraisal.comparison.as_ref().expect("there is a comparison");
        let wanted = compared.rows.iter().map(|row| {
            let adjustments = Column::ALL.iter().zip(&row.line.adjustments).map(|(column, adjustment)| {
                let amount = Money::nearest(adjustment.amount);
                let shown = if amount == Money::ZERO { "–".to_owned() } else { self.money(amount) };
                let filled_in = match column {
                    Column::ThousandMiles => row.mileage_filled_in,
                    Column::Score => row.condition_filled_in,
                    _ => false,
                };
                if filled_in { format!("{shown} filled in") } else { shown }
            });
            let ends = [self.money(Money::nearest(row.line.adjusted)), self.show.share(row.line.share)];
            let name = [format!("Sale {}", row.sale + 1), self.money(row.price)];
            name.into_iter().chain(adjustments).chain(ends).collect::<Vec<_>>()
        });
        let wanted: Vec<Vec<String>> = wanted.collect();
        let middle = self.money(Money::nearest(compared.range.middle));
        // It is drawn anew only once nothing has changed for a while, a little after it is stored.
        app.until(&format!("the grid's lines are {wanted:?}, and this car's ends in {middle}"), || {
            let shown = app.table("table.grid");
            let this_car = shown.last().and_then(|row| row.iter().rev().nth(1));
            (shown.get(1..=wanted.len()) == Some(&wanted[..]) && this_car == Some(&middle)).then_some(())
        });
    }
}
