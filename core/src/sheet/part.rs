//! The parts of a sheet that a person edits, each as one: the head, and the entries of its lists.

use super::{
    Access, Check, Combination, Departure, Driving, Fault, Job, MarketShare, ReadingSpec, Spread, Stage, System, Tag,
    TypeSheet,
};
use crate::readings::Rule;
use crate::units::{Currency, Money};

/// The lists of a sheet that a person edits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)] // `name` says each in full
pub enum Section {
    Checks,
    Faults,
    Jobs,
    Access,
    Readings,
    Departures,
    Combinations,
}

impl Section {
    /// Every section, in the order in which a sheet is written.
    pub const ALL: [Self; 7] =
        [Self::Checks, Self::Faults, Self::Jobs, Self::Access, Self::Readings, Self::Departures, Self::Combinations];

    /// The section's name as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Checks => "Checks",
            Self::Faults => "Faults",
            Self::Jobs => "Jobs",
            Self::Access => "Access",
            Self::Readings => "Readings",
            Self::Departures => "Departures",
            Self::Combinations => "Combinations",
        }
    }

    /// The section's word in places, as [`lint`](super::lint) writes them.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Checks => "checks",
            Self::Faults => "faults",
            Self::Jobs => "jobs",
            Self::Access => "access",
            Self::Readings => "readings",
            Self::Departures => "departures",
            Self::Combinations => "combinations",
        }
    }

    /// Ids of the section's entries in a sheet, in their order.
    pub fn ids(self, sheet: &TypeSheet) -> Vec<&str> {
        match self {
            Self::Checks => sheet.checks.iter().map(|check| check.id.as_str()).collect(),
            Self::Faults => sheet.faults.iter().map(|fault| fault.id.as_str()).collect(),
            Self::Jobs => sheet.jobs.iter().map(|job| job.id.as_str()).collect(),
            Self::Access => sheet.access.iter().map(|access| access.id.as_str()).collect(),
            Self::Readings => sheet.readings.iter().map(|reading| reading.id.as_str()).collect(),
            Self::Departures => sheet.departures.iter().map(|departure| departure.id.as_str()).collect(),
            Self::Combinations => sheet.combinations.iter().map(|combination| combination.id.as_str()).collect(),
        }
    }
}

/// What a sheet says of itself, apart from its entries.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Head {
    /// As [`TypeSheet::name`].
    pub name: String,
    /// As [`TypeSheet::author`].
    pub author: String,
    /// As [`TypeSheet::extends`].
    pub extends: Option<String>,
    /// As [`TypeSheet::without`].
    pub without: Vec<String>,
    /// As [`TypeSheet::currency`].
    pub currency: Currency,
    /// As [`TypeSheet::labour_rate`].
    pub labour_rate: Money,
    /// As [`TypeSheet::tags`].
    pub tags: Vec<Tag>,
}

impl Head {
    /// The head of a sheet.
    #[must_use]
    pub fn of(sheet: &TypeSheet) -> Self {
        Self {
            name: sheet.name.clone(),
            author: sheet.author.clone(),
            extends: sheet.extends.clone(),
            without: sheet.without.clone(),
            currency: sheet.currency,
            labour_rate: sheet.labour_rate,
            tags: sheet.tags.clone(),
        }
    }

    /// Makes it the head of a sheet; gives the one that was.
    pub fn put_on(self, sheet: &mut TypeSheet) -> Self {
        let before = Self::of(sheet);
        let Self { name, author, extends, without, currency, labour_rate, tags } = self;
        (sheet.name, sheet.author, sheet.extends, sheet.without) = (name, author, extends, without);
        (sheet.currency, sheet.labour_rate, sheet.tags) = (currency, labour_rate, tags);
        before
    }
}

/// A part of a sheet that is edited as one: its head, or an entry of a section.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs)] // the types are documented where they are defined
pub enum Part {
    Head(Box<Head>),
    Check(Box<Check>),
    Fault(Box<Fault>),
    Job(Box<Job>),
    Access(Box<Access>),
    Reading(Box<ReadingSpec>),
    Departure(Box<Departure>),
    Combination(Box<Combination>),
}

impl Part {
    /// The first entry of a section with an id, as it stands in a sheet.
    #[must_use]
    pub fn of(sheet: &TypeSheet, section: Section, id: &str) -> Option<Self> {
        let place = section.ids(sheet).iter().position(|known| *known == id)?;
        Some(match section {
            Section::Checks => Self::Check(Box::new(sheet.checks.get(place)?.clone())),
            Section::Faults => Self::Fault(Box::new(sheet.faults.get(place)?.clone())),
            Section::Jobs => Self::Job(Box::new(sheet.jobs.get(place)?.clone())),
            Section::Access => Self::Access(Box::new(sheet.access.get(place)?.clone())),
            Section::Readings => Self::Reading(Box::new(sheet.readings.get(place)?.clone())),
            Section::Departures => Self::Departure(Box::new(sheet.departures.get(place)?.clone())),
            Section::Combinations => Self::Combination(Box::new(sheet.combinations.get(place)?.clone())),
        })
    }

    /// A new entry of a section: what a person would most likely write is filled in, what only they can know is
    /// blank and waits for them.
    #[must_use]
    pub fn new(section: Section, id: String, name: String) -> Self {
        let (stage, system) = (Stage::WalkRound, System::BodyAndPaint);
        let (tell, effect, source) = (String::new(), String::new(), String::new());
        let (hours, when) = (Spread(1.0, 2.0, 3.0), Vec::new());
        match section {
            Section::Checks => Self::Check(Box::new(Check {
                id,
                stage,
                system,
                name,
                how: String::new(),
                right: String::new(),
                minutes: 2.0,
                needs: Vec::new(),
                weight: 5,
                cautions: Vec::new(),
                when,
                before_driving: false,
                signs: Vec::new(),
                source,
            })),
            Section::Faults => Self::Fault(Box::new(Fault {
                id,
                system,
                name,
                prior: 0.05,
                tell,
                drive: Driving::Yes,
                normal: false,
                visible: false,
                links: Vec::new(),
                jobs: Vec::new(),
                when,
                source,
            })),
            Section::Jobs => {
                let parts = Spread(Money::ZERO, Money::ZERO, Money::ZERO);
                let market = MarketShare::Mechanical;
                Self::Job(Box::new(Job { id, system, name, hours, parts, access: None, market }))
            }
            Section::Access => Self::Access(Box::new(Access { id, name, hours })),
            Section::Readings => Self::Reading(Box::new(ReadingSpec {
                id,
                check: String::new(),
                name,
                rule: Rule::Plain,
                quantity: None,
                limits: Vec::new(),
                when,
                source,
            })),
            Section::Departures => Self::Departure(Box::new(Departure { id, name, tell, effect })),
            Section::Combinations => {
                Self::Combination(Box::new(Combination { id, all: Vec::new(), effect, hold: false, source }))
            }
        }
    }

    /// The section that it is an entry of; none for the head.
    #[must_use]
    pub const fn section(&self) -> Option<Section> {
        Some(match self {
            Self::Head(_) => return None,
            Self::Check(_) => Section::Checks,
            Self::Fault(_) => Section::Faults,
            Self::Job(_) => Section::Jobs,
            Self::Access(_) => Section::Access,
            Self::Reading(_) => Section::Readings,
            Self::Departure(_) => Section::Departures,
            Self::Combination(_) => Section::Combinations,
        })
    }

    /// Its id; blank for the head, of which there is one.
    #[must_use]
    pub fn id(&self) -> &str {
        match self {
            Self::Head(_) => "",
            Self::Check(check) => &check.id,
            Self::Fault(fault) => &fault.id,
            Self::Job(job) => &job.id,
            Self::Access(access) => &access.id,
            Self::Reading(reading) => &reading.id,
            Self::Departure(departure) => &departure.id,
            Self::Combination(combination) => &combination.id,
        }
    }

    /// What it is called; a combination, which has no name, by what it does.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::Head(head) => &head.name,
            Self::Check(check) => &check.name,
            Self::Fault(fault) => &fault.name,
            Self::Job(job) => &job.name,
            Self::Access(access) => &access.name,
            Self::Reading(reading) => &reading.name,
            Self::Departure(departure) => &departure.name,
            Self::Combination(combination) => &combination.effect,
        }
    }
}
