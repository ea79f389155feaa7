//! What is known at each check, gathered once for all documents.

use super::Case;
use super::words::sentence;
use crate::appraise::Cause;
use crate::appraise::driving::is_held;
use crate::appraise::evidence::Origin;
use crate::condition::{Curable, applicable};
use crate::grade::Grade;
use crate::ordered;
use crate::say;
use crate::sheet::{Check, Combination, Fault, Sign, System};
use crate::worksheet::{Door, Finding, Look, Photo, Ruling, Seen, WhyNot};

/// Causes named at one check, at most.
const MOST_CAUSES: usize = 3;

/// A cause less likely than this is not named at a check. Judgement: below it a list of causes says nothing.
const LEAST_LIKELY: f64 = 0.05;

/// A cause at least this likely is spoken of as the likely one.
const LIKELY: f64 = 0.5;

/// What is known at one check.
#[derive(Debug)]
pub struct Found<'a> {
    /// The check.
    pub check: &'a Check,
    /// What was recorded.
    pub finding: Option<&'a Finding>,
    /// Whether it is not to be driven with.
    pub is_unsafe: bool,
    /// Signs that are there, and how that is known.
    pub seen: Vec<(&'a Sign, Origin)>,
    /// Signs that could not be told.
    pub unsure: Vec<&'a Sign>,
    /// Faults behind the seen signs that the person confirmed.
    pub confirmed: Vec<&'a Fault>,
    /// Faults behind the seen signs that the person ruled out.
    pub ruled_out: Vec<&'a Fault>,
    /// Other faults that may stand behind them, likeliest first.
    pub likely: Vec<(&'a Fault, &'a Cause)>,
    /// Through which door it enters the worth.
    pub door: Door,
}

impl Found<'_> {
    /// Its grade.
    pub fn grade(&self) -> Option<Grade> {
        self.finding.and_then(Finding::grade)
    }

    /// Why it was not looked at, if that was said.
    pub fn why_not(&self) -> Option<WhyNot> {
        match self.finding?.look? {
            Look::NotLooked(why) => Some(why),
            Look::Grade(_) => None,
        }
    }

    /// Photographs of it.
    pub fn photos(&self) -> &[Photo] {
        self.finding.map_or(&[], |finding| &finding.photos)
    }

    /// The person's note, as a sentence.
    pub fn note(&self) -> String {
        self.finding.map(|finding| sentence(&finding.note)).unwrap_or_default()
    }

    /// Whether something is wrong here: a grade below right, a sign, or unsafe.
    pub fn is_wrong(&self) -> bool {
        self.is_unsafe || !self.seen.is_empty() || self.grade().is_some_and(|grade| grade > Grade::Right)
    }

    /// Whether it was made, and nothing is wrong.
    pub fn is_right(&self) -> bool {
        self.grade() == Some(Grade::Right) && !self.is_wrong()
    }

    /// Whether it was not made, and no sign tells of it either.
    pub fn is_unseen(&self) -> bool {
        self.grade().is_none() && self.why_not() != Some(WhyNot::NotFitted) && !self.is_wrong()
    }

    /// The grade as a word, or that there is none.
    pub fn grade_word(&self) -> &'static str {
        self.grade().map_or("not graded", Grade::word)
    }

    /// Names of the signs that are there, with how that is known where it is not by eye.
    pub fn signs(&self, case: Case<'_>) -> String {
        let named = self.seen.iter().map(|(sign, origin)| match origin {
            Origin::Reading => say!(case.show, "{0} (measured)", sign.name),
            Origin::Lamps => say!(case.show, "{0} (lamp table)", sign.name),
            Origin::Marked | Origin::Cleared => sign.name.clone(),
        });
        named.collect::<Vec<_>>().join("; ")
    }

    /// What the likeliest cause is, in a few words; blank if none is likelier than not.
    pub fn likely_in_short(&self, case: Case<'_>) -> String {
        if !self.confirmed.is_empty() {
            return say!(case.show, "Confirmed: {0}", names(&self.confirmed));
        }
        let Some((fault, cause)) = self.likely.first().filter(|(_, cause)| cause.probability >= LIKELY) else {
            return String::new();
        };
        let chance = chance(case, cause.probability);
        let word = if fault.normal { "Probably no defect" } else { "Likely cause" };
        format!("{}: {} ({chance})", case.show.word(word), fault.name)
    }
}

/// Names of faults, one after another.
pub fn names(faults: &[&Fault]) -> String {
    faults.iter().map(|fault| fault.name.as_str()).collect::<Vec<_>>().join("; ")
}

/// A probability that is reasoned, not known: never shown as none or all.
pub fn chance(case: Case<'_>, probability: f64) -> String {
    case.show.chance(probability)
}

/// Every check that applies to the car, with what is known there, in the order of the sheet.
pub fn found(case: Case<'_>) -> Vec<Found<'_>> {
    let curable = Curable::of(case.sheet, case.worksheet).raised(case.appraisal.raised());
    applicable(case.sheet, &case.appraisal.tags).map(|check| at(case, check, &curable)).collect()
}

fn at<'a>(case: Case<'a>, check: &'a Check, curable: &Curable<'_>) -> Found<'a> {
    let finding = case.worksheet.findings.get(&check.id);
    let marked = |sign: &Sign| finding.and_then(|finding| finding.signs.get(&sign.id)).copied();
    // A sign that counts as wear is no evidence for a cause, so the appraisal does not hold it; it was seen all the same.
    let origin = |sign: &Sign| match case.appraisal.signs.get(&sign.id) {
        Some(known) => known.seen.then_some(known.origin),
        None => (marked(sign) == Some(Seen::Yes)).then_some(Origin::Marked),
    };
    let seen: Vec<(&Sign, Origin)> =
        check.signs.iter().filter_map(|sign| origin(sign).map(|origin| (sign, origin))).collect();
    let unsure =
        check.signs.iter().filter(|sign| origin(sign).is_none() && marked(sign) == Some(Seen::Unsure)).collect();
    let behind: Vec<&Fault> = case
        .sheet
        .faults
        .iter()
        .filter(|fault| fault.links.iter().any(|link| seen.iter().any(|(sign, _)| sign.id == link.sign)))
        .collect();
    let ruled = |ruling| {
        let ruled = |fault: &&&Fault| case.worksheet.rulings.get(&fault.id) == Some(&ruling);
        behind.iter().filter(ruled).copied().collect::<Vec<_>>()
    };
    let door = finding.map_or(Door::Itemised, |finding| curable.door(check, finding));
    Found {
        check,
        finding,
        is_unsafe: is_held(check, finding, &case.appraisal.signs),
        unsure,
        confirmed: ruled(Ruling::Confirmed),
        ruled_out: ruled(Ruling::RuledOut),
        likely: likely(case, &behind, &seen),
        seen,
        door,
    }
}

/// Faults that nobody ruled on and that a sign seen here raised, likeliest first.
fn likely<'a>(case: Case<'a>, behind: &[&'a Fault], seen: &[(&'a Sign, Origin)]) -> Vec<(&'a Fault, &'a Cause)> {
    let open = behind.iter().filter(|fault| !case.worksheet.rulings.contains_key(&fault.id));
    let mut likely: Vec<(&Fault, &Cause)> = open
        .filter_map(|fault| {
            let cause = case.appraisal.causes.iter().find(|cause| cause.fault == fault.id)?;
            let here = cause.because.iter().any(|because| seen.iter().any(|(sign, _)| sign.id == *because));
            (here && cause.probability >= LEAST_LIKELY).then_some((*fault, cause))
        })
        .collect();
    ordered::sort(&mut likely, |(_, a), (_, b)| Cause::likeliest_first(a, b));
    likely.truncate(MOST_CAUSES);
    likely
}

/// Names of signs by their ids, one after another.
pub fn sign_names(case: Case<'_>, ids: &[String]) -> String {
    let named = ids.iter().filter_map(|id| case.sheet.sign(id)).map(|(_, sign)| sign.name.as_str());
    named.collect::<Vec<_>>().join("; ")
}

/// Names of the departures that combine badly.
pub fn combined(case: Case<'_>, bad: &Combination) -> String {
    let name = |id: &String| case.sheet.departures.iter().find(|departure| departure.id == *id);
    bad.all.iter().filter_map(name).map(|departure| departure.name.as_str()).collect::<Vec<_>>().join(" + ")
}

/// What was found, system by system; systems with nothing for `keep` left out.
pub fn by_system<'f, 'a>(all: &'f [Found<'a>], keep: impl Fn(&Found<'a>) -> bool) -> Vec<(System, Vec<&'f Found<'a>>)> {
    System::ALL
        .into_iter()
        .map(|system| (system, all.iter().filter(|found| found.check.system == system && keep(found)).collect()))
        .filter(|(_, of): &(System, Vec<_>)| !of.is_empty())
        .collect()
}
