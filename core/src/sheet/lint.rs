//! What is wrong in a type sheet: what the editor shows beside a field, and what a test refuses in the
//! shipped sheets.

use crate::phrase;
use crate::phrase::{Phrase, Say, display, key};
use std::collections::{BTreeMap, BTreeSet};

use super::{Check, Fault, Job, MOST_ENTRIES, Spread, Stage, System, TypeSheet};

/// What is wrong.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    /// A text that must be there is blank.
    Blank(&'static str),
    /// An id with something other than lower-case letters, digits and hyphens.
    BadId,
    /// Two entries of one kind have this id.
    SameId,
    /// Nothing has this id.
    Dangling(&'static str, String),
    /// A probability outside (0, 1).
    Probability(&'static str, f64),
    /// A number outside what it can be.
    Outside(&'static str, f64, f64),
    /// No fault shows this sign, so that seeing it leads nowhere.
    Unreachable,
    /// A check without signs.
    NoSigns,
    /// A fault without links, so that nothing points to it.
    NoLinks,
    /// A fault that is not normal for the type and that no job cures.
    NoJob,
    /// A fault that is normal for the type and costs something.
    NormalCosts,
    /// A sign with more faults behind it than can be reasoned about quickly.
    TooManyFaults(usize),
    /// A bad combination of no departures, which would be there on every car.
    NoCombination,
    /// More entries than are reasoned with.
    TooMany(&'static str),
    /// Low, likely and high do not rise.
    NotRising(&'static str),
    /// The same text stands elsewhere too.
    SameText(&'static str, String),
    /// A stage or system has no entries.
    Empty(&'static str),
}

display!(Kind);

impl Say for Kind {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Blank(what) => phrase!("say {0}", what),
            Self::BadId => phrase!("an id is lower-case letters, digits and hyphens, as in brakes-pedal-sinks"),
            Self::SameId => phrase!("another entry has this id; give it one of its own"),
            Self::Dangling(what, id) => phrase!("there is no {0} “{1}”; add it or take this out", what, id),
            Self::Probability(what, _) => phrase!("{0} lies between 0 and 1, both excluded, as in 0.05", what),
            Self::Outside(what, low, high) => {
                phrase!("{0} lies between {1} and {2}", what, low.to_string(), high.to_string())
            }
            Self::Unreachable => phrase!("no fault shows this sign; link one, or it leads nowhere"),
            Self::NoSigns => phrase!("add at least one sign that may be noticed here"),
            Self::NoLinks => phrase!("link at least one sign, or nothing points to this fault"),
            Self::NoJob => phrase!("name a job that cures it, or mark it as normal for the type"),
            Self::NormalCosts => phrase!("what is normal for the type needs no job"),
            Self::NoCombination => phrase!("name the departures that combine badly"),
            Self::TooMany(what) => {
                phrase!("a sheet has at most {0} {1}; those after are passed over", MOST_ENTRIES, what)
            }
            Self::TooManyFaults(most) => {
                phrase!("more than {0} faults show this sign; split it by what tells them apart", most)
            }
            Self::NotRising(what) => phrase!("low, likely and high of {0} rise", what),
            Self::SameText(what, other) => phrase!("{0} is the same as that of “{1}”", what, other),
            Self::Empty(what) => phrase!("nothing belongs to {0}", what),
        }
    }
}

/// Something wrong in a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Slip {
    /// Where, as in `checks.brakes-pedal.minutes`.
    pub place: String,
    /// What.
    pub kind: Kind,
}

display!(Slip);

impl Say for Slip {
    fn phrase(&self) -> Phrase {
        phrase!("{0}: {1}", self.place, self.kind)
    }
}

/// Most faults that may stand behind one sign: the table of a sign doubles with each.
pub const MOST_FAULTS: usize = 10;

/// Everything wrong in a whole sheet ([`super::extend`] a sheet first), in the order of its lists.
#[must_use]
pub fn lint(sheet: &TypeSheet) -> Vec<Slip> {
    let mut found = Slips(Vec::new());
    found.ids("checks", sheet.checks.iter().map(|check| check.id.as_str()));
    found.ids("signs", sheet.checks.iter().flat_map(|check| check.signs.iter().map(|sign| sign.id.as_str())));
    found.ids("faults", sheet.faults.iter().map(|fault| fault.id.as_str()));
    found.ids("jobs", sheet.jobs.iter().map(|job| job.id.as_str()));
    found.ids("access", sheet.access.iter().map(|access| access.id.as_str()));
    found.ids("readings", sheet.readings.iter().map(|reading| reading.id.as_str()));
    found.ids("departures", sheet.departures.iter().map(|departure| departure.id.as_str()));
    found.ids("combinations", sheet.combinations.iter().map(|combination| combination.id.as_str()));
    for (list, entries) in [("faults", sheet.faults.len()), ("jobs", sheet.jobs.len())] {
        if entries > MOST_ENTRIES {
            found.add(list.to_owned(), Kind::TooMany(list));
        }
    }
    let known = Known::of(sheet);
    for check in &sheet.checks {
        check_slips(&mut found, check, &known);
    }
    for fault in &sheet.faults {
        fault_slips(&mut found, fault, &known);
    }
    for job in &sheet.jobs {
        job_slips(&mut found, job, &known);
    }
    for access in &sheet.access {
        found.rising(&format!("access.{}.hours", access.id), "the hours", access.hours, 0.0, 1000.0);
    }
    for reading in &sheet.readings {
        let place = format!("readings.{}", reading.id);
        found.points(&place, key("check"), &known.checks, &reading.check);
        for sign in reading.limits.iter().flat_map(|limit| limit.below.iter().chain(&limit.above)) {
            found.points(&place, key("sign"), &known.signs, sign);
        }
    }
    lamp_slips(&mut found, sheet, &known);
    for combination in &sheet.combinations {
        let place = format!("combinations.{}", combination.id);
        for id in &combination.all {
            found.points(&place, key("departure"), &known.departures, id);
        }
        found.said(&place, "what the combination does", &combination.effect);
        if combination.all.is_empty() {
            found.add(place, Kind::NoCombination);
        }
    }
    same_texts(&mut found, sheet);
    found.0
}

/// Stages and systems that have no entries: asked of the general sheet, not of a club's addition.
#[must_use]
pub fn gaps(sheet: &TypeSheet) -> Vec<Slip> {
    let mut found = Slips(Vec::new());
    for stage in Stage::ALL.into_iter().filter(|stage| !sheet.checks.iter().any(|check| check.stage == *stage)) {
        found.add("checks".to_owned(), Kind::Empty(stage.name()));
    }
    for system in System::ALL {
        if !sheet.checks.iter().any(|check| check.system == system) {
            found.add("checks".to_owned(), Kind::Empty(system.name()));
        }
        if !sheet.faults.iter().any(|fault| fault.system == system) {
            found.add("faults".to_owned(), Kind::Empty(system.name()));
        }
    }
    found.0
}

/// Ids that may be pointed at.
struct Known<'a> {
    checks: BTreeSet<&'a str>,
    signs: BTreeSet<&'a str>,
    jobs: BTreeSet<&'a str>,
    access: BTreeSet<&'a str>,
    departures: BTreeSet<&'a str>,
    /// How many faults show a sign.
    shown: BTreeMap<&'a str, usize>,
}

impl<'a> Known<'a> {
    fn of(sheet: &'a TypeSheet) -> Self {
        let mut shown = BTreeMap::new();
        for link in sheet.faults.iter().flat_map(|fault| &fault.links) {
            *shown.entry(link.sign.as_str()).or_default() += 1;
        }
        Self {
            checks: sheet.checks.iter().map(|check| check.id.as_str()).collect(),
            signs: sheet.checks.iter().flat_map(|check| check.signs.iter().map(|sign| sign.id.as_str())).collect(),
            jobs: sheet.jobs.iter().map(|job| job.id.as_str()).collect(),
            access: sheet.access.iter().map(|access| access.id.as_str()).collect(),
            departures: sheet.departures.iter().map(|departure| departure.id.as_str()).collect(),
            shown,
        }
    }
}

/// What was found so far.
struct Slips(Vec<Slip>);

impl Slips {
    fn add(&mut self, place: String, kind: Kind) {
        self.0.push(Slip { place, kind });
    }

    fn ids<'a>(&mut self, list: &str, ids: impl Iterator<Item = &'a str>) {
        let mut met = BTreeSet::new();
        for id in ids {
            let plain = |sign: char| sign.is_ascii_lowercase() || sign.is_ascii_digit() || sign == '-';
            if id.is_empty() || !id.chars().all(plain) {
                self.add(format!("{list}.{id}.id"), Kind::BadId);
            }
            if !met.insert(id) {
                self.add(format!("{list}.{id}.id"), Kind::SameId);
            }
        }
    }

    fn said(&mut self, place: &str, what: &'static str, text: &str) {
        if text.trim().is_empty() {
            self.add(place.to_owned(), Kind::Blank(what));
        }
    }

    fn points(&mut self, place: &str, what: &'static str, known: &BTreeSet<&str>, id: &str) {
        if !known.contains(id) {
            self.add(place.to_owned(), Kind::Dangling(what, id.to_owned()));
        }
    }

    fn probability(&mut self, place: String, what: &'static str, value: f64) {
        if !(value > 0.0 && value < 1.0) {
            self.add(place, Kind::Probability(what, value));
        }
    }

    fn outside(&mut self, place: String, what: &'static str, value: f64, low: f64, high: f64) {
        if !(low..=high).contains(&value) {
            self.add(place, Kind::Outside(what, low, high));
        }
    }

    fn rising(&mut self, place: &str, what: &'static str, spread: Spread<f64>, low: f64, high: f64) {
        let Spread(least, likely, most) = spread;
        if !(least <= likely && likely <= most) {
            self.add(place.to_owned(), Kind::NotRising(what));
        }
        for value in [least, likely, most] {
            self.outside(place.to_owned(), what, value, low, high);
        }
    }
}

fn check_slips(found: &mut Slips, check: &Check, known: &Known) {
    let place = |field: &str| format!("checks.{}.{field}", check.id);
    found.said(&place("name"), "what the check is", &check.name);
    found.said(&place("how"), "how to do it", &check.how);
    found.said(&place("right"), "what is right", &check.right);
    found.said(&place("source"), "where it comes from", &check.source);
    found.outside(place("minutes"), "a check's minutes", check.minutes, 0.1, 240.0);
    found.outside(place("weight"), "a check's weight", f64::from(check.weight), 1.0, 10.0);
    if check.signs.is_empty() {
        found.add(place("signs"), Kind::NoSigns);
    }
    for sign in &check.signs {
        let at = |field: &str| format!("signs.{}.{field}", sign.id);
        found.said(&at("name"), "what is noticed", &sign.name);
        found.probability(at("leak"), "the chance of noticing it with no fault there", sign.leak);
        match known.shown.get(sign.id.as_str()) {
            None => found.add(at("id"), Kind::Unreachable),
            Some(faults) if *faults > MOST_FAULTS => found.add(at("id"), Kind::TooManyFaults(MOST_FAULTS)),
            Some(_) => {}
        }
    }
}

fn fault_slips(found: &mut Slips, fault: &Fault, known: &Known) {
    let place = |field: &str| format!("faults.{}.{field}", fault.id);
    found.said(&place("name"), "what the fault is", &fault.name);
    found.said(&place("tell"), "how to tell it from its neighbours", &fault.tell);
    found.said(&place("source"), "where it comes from", &fault.source);
    found.probability(place("prior"), "the share of such cars that have it", fault.prior);
    if fault.links.is_empty() {
        found.add(place("links"), Kind::NoLinks);
    }
    for link in &fault.links {
        found.points(&place("links"), key("sign"), &known.signs, &link.sign);
        found.probability(place("links"), "the chance that it shows the sign", link.strength);
    }
    for job in &fault.jobs {
        found.points(&place("jobs"), key("job"), &known.jobs, job);
    }
    match (fault.normal, fault.jobs.is_empty()) {
        (false, true) => found.add(place("jobs"), Kind::NoJob),
        (true, false) => found.add(place("jobs"), Kind::NormalCosts),
        _ => {}
    }
}

fn job_slips(found: &mut Slips, job: &Job, known: &Known) {
    found.said(&format!("jobs.{}.name", job.id), "what is done", &job.name);
    found.rising(&format!("jobs.{}.hours", job.id), "the hours", job.hours, 0.0, 1000.0);
    let Spread(low, likely, high) = job.parts;
    let parts = Spread(low.minor(), likely.minor(), high.minor());
    found.rising(&format!("jobs.{}.parts", job.id), "the parts", parts, 0.0, 1e9);
    if let Some(access) = &job.access {
        found.points(&format!("jobs.{}.access", job.id), key("access"), &known.access, access);
    }
}

fn lamp_slips(found: &mut Slips, sheet: &TypeSheet, known: &Known) {
    let table = &sheet.lamps;
    if table.lamps.is_empty() {
        return;
    }
    let lamps: BTreeSet<&str> = table.lamps.iter().map(|lamp| lamp.id.as_str()).collect();
    let situations: BTreeSet<&str> = table.situations.iter().map(|situation| situation.id.as_str()).collect();
    found.points("lamps.check", key("check"), &known.checks, &table.check);
    for situation in &table.situations {
        for lamp in situation.lit.iter().chain(&situation.either) {
            found.points(&format!("lamps.{}", situation.id), key("lamp"), &lamps, lamp);
        }
    }
    for pattern in &table.patterns {
        found.points("lamps.patterns", key("sign"), &known.signs, &pattern.sign);
        for state in &pattern.seen {
            found.points("lamps.patterns", "situation", &situations, &state.situation);
            found.points("lamps.patterns", key("lamp"), &lamps, &state.lamp);
        }
    }
    for sign in [&table.dark, &table.stray] {
        found.points("lamps", key("sign"), &known.signs, sign);
    }
}

/// Texts that should tell entries apart, and do not.
fn same_texts(found: &mut Slips, sheet: &TypeSheet) {
    let mut met: BTreeMap<(&'static str, &str), &str> = BTreeMap::new();
    let checks = sheet.checks.iter().flat_map(|check| {
        let id = check.id.as_str();
        [("checks", id, "a check's name", &check.name), ("checks", id, "how to do it", &check.how)]
    });
    let signs = sheet
        .checks
        .iter()
        .flat_map(|check| check.signs.iter().map(|sign| ("signs", sign.id.as_str(), "what is noticed", &sign.name)));
    let faults = sheet.faults.iter().flat_map(|fault| {
        let id = fault.id.as_str();
        [("faults", id, "a fault's name", &fault.name), ("faults", id, "how to tell it", &fault.tell)]
    });
    let jobs = sheet.jobs.iter().map(|job| ("jobs", job.id.as_str(), "what is done", &job.name));
    for (list, id, what, text) in checks.chain(signs).chain(faults).chain(jobs) {
        if text.trim().is_empty() {
            continue;
        }
        if let Some(other) = met.insert((what, text.trim()), id)
            && other != id
        {
            found.add(format!("{list}.{id}"), Kind::SameText(what, other.to_owned()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Driving, Link, Sign};
    use super::*;
    use crate::grade::Grade;
    use crate::sheet::{Combination, MarketShare};
    use crate::units::Money;

    /// A sheet with one of everything and nothing wrong.
    fn sound() -> TypeSheet {
        TypeSheet {
            checks: vec![Check {
                id: "pedal".into(),
                stage: Stage::Cabin,
                system: System::Brakes,
                name: "Pedal".into(),
                how: "Press it".into(),
                right: "Firm".into(),
                minutes: 1.0,
                needs: Vec::new(),
                weight: 5,
                cautions: Vec::new(),
                when: Vec::new(),
                before_driving: true,
                signs: vec![Sign {
                    id: "sinks".into(),
                    name: "Sinks".into(),
                    leak: 0.01,
                    grade: Grade::Failed,
                    is_unsafe: true,
                }],
                source: "common practice, no source".into(),
            }],
            faults: vec![Fault {
                id: "master".into(),
                system: System::Brakes,
                name: "Worn master cylinder".into(),
                prior: 0.1,
                tell: "No leak outside".into(),
                drive: Driving::No,
                normal: false,
                visible: false,
                links: vec![Link { sign: "sinks".into(), strength: 0.8 }],
                jobs: vec!["renew".into()],
                when: Vec::new(),
                source: "common practice, no source".into(),
            }],
            jobs: vec![Job {
                id: "renew".into(),
                system: System::Brakes,
                name: "Renew it".into(),
                hours: Spread(1.0, 2.0, 3.0),
                parts: Spread(Money(1), Money(2), Money(3)),
                access: None,
                market: MarketShare::Safety,
            }],
            ..TypeSheet::default()
        }
    }

    #[track_caller]
    fn says(spoil: impl FnOnce(&mut TypeSheet), want: &str) {
        let mut sheet = sound();
        assert_eq!(lint(&sheet), []);
        spoil(&mut sheet);
        let said: Vec<String> = lint(&sheet).iter().map(ToString::to_string).collect();
        assert!(said.iter().any(|slip| slip == want), "{said:#?}");
    }

    #[test]
    fn each_slip_is_found_and_says_how_to_mend_it() {
        says(|sheet| sheet.checks[0].how.clear(), "checks.pedal.how: say how to do it");
        says(
            |sheet| sheet.checks[0].id = "Pedal!".into(),
            "checks.Pedal!.id: an id is lower-case letters, digits and hyphens, as in brakes-pedal-sinks",
        );
        says(
            |sheet| sheet.faults.push(sheet.faults[0].clone()),
            "faults.master.id: another entry has this id; give it one of its own",
        );
        says(
            |sheet| sheet.faults[0].links[0].sign = "gone".into(),
            "faults.master.links: there is no sign “gone”; add it or take this out",
        );
        says(
            |sheet| sheet.faults[0].links.clear(),
            "signs.sinks.id: no fault shows this sign; link one, or it leads nowhere",
        );
        says(
            |sheet| sheet.faults[0].prior = 1.0,
            "faults.master.prior: the share of such cars that have it lies between 0 and 1, both excluded, as in 0.05",
        );
        says(
            |sheet| sheet.checks[0].signs[0].leak = f64::NAN,
            "signs.sinks.leak: the chance of noticing it with no fault there lies between 0 and 1, both excluded, as in 0.05",
        );
        says(
            |sheet| sheet.faults[0].jobs.clear(),
            "faults.master.jobs: name a job that cures it, or mark it as normal for the type",
        );
        says(|sheet| sheet.faults[0].normal = true, "faults.master.jobs: what is normal for the type needs no job");
        says(
            |sheet| sheet.jobs[0].hours = Spread(2.0, 1.0, 3.0),
            "jobs.renew.hours: low, likely and high of the hours rise",
        );
        says(
            |sheet| sheet.jobs[0].access = Some("pit".into()),
            "jobs.renew.access: there is no access “pit”; add it or take this out",
        );
        says(|sheet| sheet.checks[0].minutes = 0.0, "checks.pedal.minutes: a check's minutes lies between 0.1 and 240");
        says(
            |sheet| {
                let mut twin = sheet.faults[0].clone();
                twin.id = "twin".into();
                twin.name = "Other".into();
                sheet.faults.push(twin);
            },
            "faults.twin: how to tell it is the same as that of “master”",
        );
    }

    #[test]
    fn a_combination_names_its_departures() {
        let (effect, source) = ("Odd.".to_owned(), String::new());
        let combination = Combination { id: "odd".into(), all: Vec::new(), effect, hold: false, source };
        says(|sheet| sheet.combinations.push(combination), "combinations.odd: name the departures that combine badly");
    }

    #[test]
    fn a_sign_has_a_bounded_number_of_faults() {
        says(
            |sheet| {
                for more in 0..MOST_FAULTS {
                    let mut fault = sheet.faults[0].clone();
                    fault.id = format!("more-{more}");
                    fault.name = format!("Other {more}");
                    fault.tell = format!("Told {more}");
                    sheet.faults.push(fault);
                }
            },
            "signs.sinks.id: more than 10 faults show this sign; split it by what tells them apart",
        );
    }

    #[test]
    fn gaps_are_named() {
        assert_eq!(gaps(&sound()).len(), Stage::ALL.len() - 1 + 2 * (System::ALL.len() - 1));
    }
}
