//! The worksheet: one car on one day, as plain data.
//!
//! Everything here is what a person recorded or chose; nothing is computed. What was typed and could not be
//! read is kept as it was typed ([`Entry::Unread`]), so that nothing typed is ever lost. A worksheet changes
//! in one way only: by an [`Edit`].

pub mod car;
pub mod check;
pub mod edit;
pub mod entry;
pub mod finding;
pub mod marking;
pub mod sale;
pub mod settings;

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

pub use car::{Car, Purpose, Visit};
pub use check::check;
pub use edit::Edit;
pub use entry::Entry;
pub use finding::{Door, Finding, Look, Photo, Ruling, Seen, WhyNot};
pub use sale::{Sale, SaleKind};
pub use settings::{PremiumStep, RateChoice, SaleFees, Settings};

use crate::readings::Reading;
use crate::restore::Unread;
use crate::restore::record;
use crate::units::{Currency, Date, Money};

/// The worksheet format this build writes. A worksheet with a higher number was made by a newer build.
pub const FORMAT: u32 = 1;

/// What the person decided about a job.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct JobChoice {
    /// Whether it is to be done before selling, or counted as done when weighing cost against worth.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub do_it: bool,
    /// Whether the job is left out of the reckoning altogether.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub leave_out: bool,
    /// The person's own lowest cost, in the worksheet's currency; with the other two it replaces the sheet's.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub low: Entry<Money>,
    /// The person's own likely cost.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub likely: Entry<Money>,
    /// The person's own highest cost.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub high: Entry<Money>,
}

record! { JobChoice { do_it, leave_out, low, likely, high } }

/// A receipt for work that was done.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Receipt {
    /// When.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub date: Entry<Date>,
    /// What was done, and by whom.
    pub what: String,
    /// What it cost, in the worksheet's currency.
    #[serde(skip_serializing_if = "Entry::is_empty")]
    pub cost: Entry<Money>,
    /// Id of the job that it was, if it is one of the sheet's.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub job: String,
}

record! { Receipt { date, what, cost, job } }

/// A moment of the drive, stamped by one tap; the note is filled in when parked.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct LogEntry {
    /// When, as local date and time.
    pub at: String,
    /// What it was.
    pub note: String,
}

record! { LogEntry { at, note } }

/// One car on one day.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Worksheet {
    /// Format of this data, [`FORMAT`].
    pub format: u32,
    /// Identifies the worksheet on its shelf.
    pub id: String,
    /// Id of the type sheet that it is filled in by.
    pub type_sheet: String,
    /// The car.
    pub car: Car,
    /// The occasion.
    pub visit: Visit,
    /// What was found, by check id.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub findings: BTreeMap<String, Finding>,
    /// Causes confirmed or ruled out, by fault id.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub rulings: BTreeMap<String, Ruling>,
    /// What was measured, by reading id.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub readings: BTreeMap<String, Reading>,
    /// Which lamps lit, by situation id and lamp id.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub lamps: BTreeMap<String, BTreeMap<String, bool>>,
    /// Departures there or not there, by departure id.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub departures: BTreeMap<String, bool>,
    /// Decisions about jobs, by job id.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub jobs: BTreeMap<String, JobChoice>,
    /// Comparable sales, in the person's order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sales: Vec<Sale>,
    /// Receipts for work done.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub receipts: Vec<Receipt>,
    /// The quick log of the drive.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub log: Vec<LogEntry>,
    /// Why the road test was opened although the gate was shut; empty if it was not.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub gate_passed_over: String,
    /// What the reckoning assumes.
    pub settings: Settings,
    /// What could not be read when this worksheet was opened, kept as it was.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unread: Vec<Unread>,
}

record! { Worksheet {
    format, id, type_sheet, car, visit, findings, rulings, readings, lamps, departures, jobs, sales, receipts, log,
    gate_passed_over, settings, unread,
} }

impl Default for Worksheet {
    fn default() -> Self {
        Self {
            format: FORMAT,
            id: String::new(),
            type_sheet: crate::sheet::general::ID.to_owned(),
            car: Car::default(),
            visit: Visit::default(),
            findings: BTreeMap::new(),
            rulings: BTreeMap::new(),
            readings: BTreeMap::new(),
            lamps: BTreeMap::new(),
            departures: BTreeMap::new(),
            jobs: BTreeMap::new(),
            sales: Vec::new(),
            receipts: Vec::new(),
            log: Vec::new(),
            gate_passed_over: String::new(),
            settings: Settings::default(),
            unread: Vec::new(),
        }
    }
}

impl Worksheet {
    /// What the car is called on the shelf and in a heading: year, maker and model as far as they are given.
    #[must_use]
    pub fn title(&self) -> String {
        let year = self.car.year.read().map(ToString::to_string).unwrap_or_default();
        let parts = [year.as_str(), self.car.maker.trim(), self.car.model.trim()];
        let named: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
        if named.is_empty() { "Unnamed car".to_owned() } else { named.join(" ") }
    }

    /// Currencies of sales other than the worksheet's own, by code.
    #[must_use]
    pub fn foreign_currencies(&self) -> Vec<Currency> {
        let all: BTreeSet<Currency> = self.sales.iter().map(|sale| sale.currency).collect();
        all.into_iter().filter(|currency| *currency != self.settings.currency).collect()
    }
}
