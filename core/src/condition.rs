//! Score, cover, and the band that the unseen leaves open.
//!
//! A system's score is the weighted mean of the points of its grades ([`Grade::points`]) over what was looked
//! at; the overall score is the same over the whole car. Cover is the share of the weight looked at. The band
//! runs from what the score would be if everything unseen had failed to what it would be if it were all right.
//!
//! The base score is the score with every itemised finding counted as right: "as if those jobs were done to
//! serviceable standard" (method, section 4). The grid runs at the base score, and the jobs are deducted in
//! money, so that no defect is taken off twice.

use crate::phrase;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use crate::figure::{Amount, Figure};
use crate::grade::Grade;
use crate::ordered;
use crate::sheet::{Check, Fault, MarketShare, Sign, System, Tag, TypeSheet, car_tags};
use crate::worksheet::{Door, Finding, Look, Ruling, Seen, WhyNot, Worksheet};

/// Score of a system or of the car.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Score {
    /// Weighted mean of the points, 0 to 100; nothing if nothing was looked at.
    pub value: Option<f64>,
    /// Share of the weight that was looked at, 0 to 1.
    pub cover: f64,
    /// Score if everything unseen had failed.
    pub low: f64,
    /// Score if everything unseen were right.
    pub high: f64,
    /// Checks made.
    pub made: usize,
    /// Checks that apply to the car.
    pub of: usize,
}

/// Score of one system.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SystemScore {
    /// Which.
    pub system: System,
    /// Its score.
    pub score: Score,
}

/// Condition of the car.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Condition {
    /// The whole car.
    pub overall: Score,
    /// Each system that has checks for this car.
    pub systems: Vec<SystemScore>,
    /// Score with itemised findings counted as right; nothing if nothing was looked at.
    pub base: Option<f64>,
    /// How the overall score came about.
    pub working: Figure,
    /// How the base score came about: what was given back.
    pub base_working: Figure,
}

/// Weight and points gathered over checks.
#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    all: f64,
    seen: f64,
    points: f64,
    made: usize,
    of: usize,
}

impl Tally {
    fn add(&mut self, check: &Check, finding: Option<&Finding>) {
        if matches!(finding.and_then(|finding| finding.look), Some(Look::NotLooked(WhyNot::NotFitted))) {
            return;
        }
        let weight = f64::from(check.weight);
        self.all += weight;
        self.of += 1;
        if let Some(grade) = finding.and_then(Finding::grade) {
            self.seen += weight;
            self.points += weight * grade.points();
            self.made += 1;
        }
    }

    fn score(self) -> Score {
        let all = if self.all > 0.0 { self.all } else { 1.0 };
        Score {
            value: (self.seen > 0.0).then(|| self.points / self.seen),
            cover: self.seen / all,
            low: self.points / all,
            high: (self.points + 100.0 * (self.all - self.seen)) / all,
            made: self.made,
            of: self.of,
        }
    }
}

/// Tags of the car: those of its type and its own; its own win within a group.
#[must_use]
pub fn tags(sheet: &TypeSheet, worksheet: &Worksheet) -> Vec<Tag> {
    let own = &worksheet.car.tags;
    let inherited = sheet.tags.iter().filter(|tag| !own.iter().any(|mine| mine.group() == tag.group()));
    inherited.chain(own).copied().collect()
}

/// The checks that apply to a car so tagged.
pub fn applicable<'a>(sheet: &'a TypeSheet, tags: &'a [Tag]) -> impl Iterator<Item = &'a Check> {
    sheet.checks.iter().filter(move |check| car_tags::applies(&check.when, tags))
}

/// What jobs cure, as the sheet alone says it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Cured {
    /// Signs shown by a fault that has a job, with the gravest class of such a job.
    signs: BTreeMap<String, MarketShare>,
    /// Places of the faults that have a job.
    faults: Vec<usize>,
}

impl Cured {
    /// What the jobs of a sheet cure.
    #[must_use]
    pub fn of(sheet: &TypeSheet) -> Self {
        let classes = ordered::map(sheet.jobs.iter().map(|job| (job.id.as_str(), job.market)));
        let mut cured = Self::default();
        for (place, fault) in sheet.faults.iter().enumerate() {
            let Some(gravest) = fault.jobs.iter().filter_map(|job| classes.get(job.as_str())).min() else { continue };
            cured.faults.push(place);
            for link in &fault.links {
                let class = cured.signs.entry(link.sign.clone()).or_insert(*gravest);
                *class = (*class).min(*gravest);
            }
        }
        cured
    }
}

/// The signs behind which something stands that a job cures.
#[derive(Debug)]
pub struct Curable<'a> {
    cured: Cow<'a, Cured>,
    /// Signs shown by a fault that has a job and is confirmed.
    confirmed: BTreeSet<&'a str>,
    /// Signs that a reading or a lamp raised, as good as seen.
    raised: BTreeSet<String>,
}

impl<'a> Curable<'a> {
    /// The curable signs of a sheet, given what the worksheet says of the faults.
    #[must_use]
    pub fn of(sheet: &'a TypeSheet, worksheet: &Worksheet) -> Self {
        Self::with(Cow::Owned(Cured::of(sheet)), sheet, worksheet)
    }

    /// The same, what jobs cure being known.
    #[must_use]
    pub fn with(cured: Cow<'a, Cured>, sheet: &'a TypeSheet, worksheet: &Worksheet) -> Self {
        let is_confirmed = |fault: &&Fault| worksheet.rulings.get(&fault.id) == Some(&Ruling::Confirmed);
        let faults = cured.faults.iter().filter_map(|place| sheet.faults.get(*place)).filter(is_confirmed);
        let mut confirmed = BTreeSet::new();
        faults.flat_map(|fault| &fault.links).for_each(|link| {
            confirmed.insert(link.sign.as_str());
        });
        Self { cured, confirmed, raised: BTreeSet::new() }
    }

    /// The same, knowing what readings and lamps raised.
    #[must_use]
    pub fn raised<'s>(mut self, signs: impl Iterator<Item = &'s str>) -> Self {
        signs.for_each(|sign| {
            self.raised.insert(sign.to_owned());
        });
        self
    }

    /// Through which door a finding enters the worth. The person's own choice, else:
    ///
    /// - itemised if one of the check's signs was seen or raised by a reading or a lamp, or a fault that shows one is
    ///   confirmed, that a job cures;
    /// - but through the score if only trim or finish is at stake and the grade is slight or moderate: that is the
    ///   wear which the comparable cars have as well, and nobody prices it as a job.
    #[must_use]
    pub fn door(&self, check: &Check, finding: &Finding) -> Door {
        if let Some(door) = finding.door {
            return door;
        }
        if check.signs.iter().any(|sign| self.confirmed.contains(sign.id.as_str())) {
            return Door::Itemised;
        }
        let seen = |sign: &&Sign| match finding.signs.get(&sign.id) {
            Some(seen) => *seen == Seen::Yes,
            None => self.raised.contains(&sign.id),
        };
        let gravest = check.signs.iter().filter(seen).filter_map(|sign| self.cured.signs.get(sign.id.as_str())).min();
        let wear = finding.grade().is_some_and(|grade| grade <= Grade::Moderate);
        match gravest {
            None => Door::Score,
            Some(MarketShare::Trim) if wear => Door::Score,
            Some(_) => Door::Itemised,
        }
    }
}

/// The car's condition.
#[must_use]
pub fn condition(sheet: &TypeSheet, worksheet: &Worksheet, tags: &[Tag], curable: &Curable<'_>) -> Condition {
    let mut overall = Tally::default();
    let mut base = Tally::default();
    let mut systems: Vec<(System, Tally, Vec<Figure>)> =
        System::ALL.into_iter().map(|system| (system, Tally::default(), Vec::new())).collect();
    let mut given_back = Vec::new();
    for check in applicable(sheet, tags) {
        let finding = worksheet.findings.get(&check.id);
        overall.add(check, finding);
        let itemised = finding
            .filter(|finding| finding.grade().is_some_and(|grade| grade != Grade::Right))
            .filter(|finding| curable.door(check, finding) == Door::Itemised);
        match itemised {
            Some(finding) => {
                let lost = finding.grade().map_or(0.0, |grade| 100.0 - grade.points()) * f64::from(check.weight);
                given_back.push((check.name.clone(), lost));
                base.add(check, Some(&Finding { look: Some(Look::Grade(Grade::Right)), ..Finding::default() }));
            }
            None => base.add(check, finding),
        }
        if let Some((_, tally, lines)) = systems.iter_mut().find(|(system, ..)| *system == check.system) {
            tally.add(check, finding);
            if let Some(grade) = finding.and_then(Finding::grade) {
                let line = Figure::new(check.name.clone(), Amount::Score(grade.points()));
                lines.push(line.noted(phrase!("{0}, weight {1}", grade.word(), check.weight)));
            }
        }
    }
    let base_score = base.score();
    Condition {
        overall: overall.score(),
        base: base_score.value,
        systems: systems
            .iter()
            .filter(|(_, tally, _)| tally.of > 0)
            .map(|(system, tally, _)| SystemScore { system: *system, score: tally.score() })
            .collect(),
        working: working(overall, systems),
        base_working: base_working(overall, base, given_back),
    }
}

fn working(overall: Tally, systems: Vec<(System, Tally, Vec<Figure>)>) -> Figure {
    let parts = systems
        .into_iter()
        .filter(|(_, tally, _)| tally.made > 0)
        .map(|(system, tally, lines)| {
            let score = tally.score();
            Figure::new(system.name(), score.value.map_or(Amount::None, Amount::Score))
                .noted(phrase!(
                    "{0} of {1} checks made, weight {2} of {3}",
                    tally.made,
                    tally.of,
                    Amount::Number(tally.seen, 0),
                    Amount::Number(tally.all, 0)
                ))
                .from_parts(lines)
        })
        .collect();
    let score = overall.score();
    Figure::new("Score", score.value.map_or(Amount::None, Amount::Score))
        .noted("Weighted mean of the points of the grades, over the checks made")
        .from_parts(parts)
}

fn base_working(overall: Tally, base: Tally, given_back: Vec<(String, f64)>) -> Figure {
    let weight = if overall.seen > 0.0 { overall.seen } else { 1.0 };
    let seen = Figure::new("Score as seen", overall.score().value.map_or(Amount::None, Amount::Score));
    let back = given_back.into_iter().map(|(name, lost)| Figure::new(name, Amount::Number(lost / weight, 2)));
    Figure::new("Base score", base.score().value.map_or(Amount::None, Amount::Score))
        .noted("Points given back for each finding whose cure is deducted in money, so that it counts once")
        .from_parts(core::iter::once(seen).chain(back).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::{Driving, Job, Link, Sign, Spread, Stage};
    use crate::units::Money;
    use proptest::prelude::*;
    use std::collections::BTreeMap;

    fn check(id: &str, system: System, weight: u8) -> Check {
        let sign =
            Sign { id: format!("{id}-sign"), name: id.into(), leak: 0.01, grade: Grade::Slight, is_unsafe: false };
        Check {
            id: id.into(),
            stage: Stage::WalkRound,
            system,
            name: id.into(),
            how: String::new(),
            right: String::new(),
            minutes: 1.0,
            needs: Vec::new(),
            weight,
            cautions: Vec::new(),
            when: Vec::new(),
            before_driving: false,
            signs: vec![sign],
            source: String::new(),
        }
    }

    fn job(id: &str, market: MarketShare) -> Job {
        Job {
            id: id.into(),
            system: System::Structure,
            name: id.into(),
            hours: Spread(1.0, 2.0, 3.0),
            parts: Spread(Money(1), Money(2), Money(3)),
            access: None,
            market,
        }
    }

    fn whole(sheet: &TypeSheet, worksheet: &Worksheet) -> Condition {
        condition(sheet, worksheet, &[], &Curable::of(sheet, worksheet))
    }

    fn graded(grade: Grade) -> Finding {
        Finding { look: Some(Look::Grade(grade)), ..Finding::default() }
    }

    fn sheet() -> TypeSheet {
        TypeSheet {
            checks: vec![
                check("sills", System::Structure, 10),
                check("floor", System::Structure, 5),
                check("hood", System::BodyAndPaint, 5),
            ],
            faults: vec![Fault {
                id: "rot".into(),
                system: System::Structure,
                name: "Rot".into(),
                prior: 0.1,
                tell: String::new(),
                drive: Driving::Yes,
                normal: false,
                visible: true,
                links: vec![Link { sign: "sills-sign".into(), strength: 0.9 }],
                jobs: vec!["sills".into()],
                when: Vec::new(),
                source: String::new(),
            }],
            jobs: vec![job("sills", MarketShare::Safety)],
            ..TypeSheet::default()
        }
    }

    #[test]
    fn nothing_looked_at_leaves_everything_open() {
        let score = whole(&sheet(), &Worksheet::default()).overall;
        assert_eq!((score.value, score.cover, score.low, score.high), (None, 0.0, 0.0, 100.0));
    }

    #[test]
    fn weighs_what_was_looked_at_and_leaves_the_rest_open() {
        let mut worksheet = Worksheet::default();
        worksheet.findings.insert("sills".into(), graded(Grade::Moderate));
        worksheet.findings.insert("hood".into(), graded(Grade::Right));
        let condition = whole(&sheet(), &worksheet);
        // (10 × 60 + 5 × 100) / 15; unseen weight 5 of 20.
        assert_eq!(condition.overall.value, Some(1100.0 / 15.0));
        assert_eq!(condition.overall.cover, 0.75);
        assert_eq!((condition.overall.low, condition.overall.high), (55.0, 80.0));
        assert_eq!(condition.systems[0].score.value, Some(60.0));
        assert_eq!(condition.working.parts.len(), 2);
    }

    #[test]
    fn what_the_car_does_not_have_is_not_counted() {
        let mut worksheet = Worksheet::default();
        let none = Finding { look: Some(Look::NotLooked(WhyNot::NotFitted)), ..Finding::default() };
        worksheet.findings.insert("hood".into(), none);
        worksheet.findings.insert("sills".into(), graded(Grade::Right));
        worksheet.findings.insert("floor".into(), graded(Grade::Right));
        assert_eq!(whole(&sheet(), &worksheet).overall.cover, 1.0);
    }

    #[test]
    fn an_itemised_finding_gets_its_points_back_and_wear_does_not() {
        let mut worksheet = Worksheet::default();
        let signs = BTreeMap::from([("sills-sign".to_owned(), Seen::Yes)]);
        worksheet.findings.insert("sills".into(), Finding { signs, ..graded(Grade::Serious) });
        worksheet.findings.insert("hood".into(), graded(Grade::Moderate));
        let both = whole(&sheet(), &worksheet);
        assert_eq!(both.overall.value, Some((10.0 * 30.0 + 5.0 * 60.0) / 15.0));
        assert_eq!(both.base, Some((10.0 * 100.0 + 5.0 * 60.0) / 15.0));
        worksheet.findings.get_mut("sills").unwrap().door = Some(Door::Score);
        assert_eq!(whole(&sheet(), &worksheet).base, both.overall.value);
    }

    #[test]
    fn what_a_reading_raises_counts_as_seen_unless_the_person_says_otherwise() {
        let sheet = sheet();
        let worksheet = Worksheet::default();
        let unmarked = graded(Grade::Serious);
        assert_eq!(Curable::of(&sheet, &worksheet).door(&sheet.checks[0], &unmarked), Door::Score);
        let curable = Curable::of(&sheet, &worksheet).raised(core::iter::once("sills-sign"));
        assert_eq!(curable.door(&sheet.checks[0], &unmarked), Door::Itemised);
        let signs = BTreeMap::from([("sills-sign".to_owned(), Seen::No)]);
        let denied = Finding { signs, ..graded(Grade::Serious) };
        assert_eq!(curable.door(&sheet.checks[0], &denied), Door::Score);
    }

    #[test]
    fn wear_of_trim_is_score_until_it_is_serious() {
        let mut sheet = sheet();
        sheet.jobs = vec![job("sills", MarketShare::Trim)];
        let worksheet = Worksheet::default();
        let curable = Curable::of(&sheet, &worksheet);
        let signs = BTreeMap::from([("sills-sign".to_owned(), Seen::Yes)]);
        for (grade, door) in [
            (Grade::Slight, Door::Score),
            (Grade::Moderate, Door::Score),
            (Grade::Serious, Door::Itemised),
            (Grade::Failed, Door::Itemised),
        ] {
            let finding = Finding { signs: signs.clone(), ..graded(grade) };
            assert_eq!(curable.door(&sheet.checks[0], &finding), door, "{grade:?}");
        }
    }

    #[test]
    fn the_cars_own_tags_win_over_its_types() {
        let sheet = TypeSheet { tags: vec![Tag::Dynamo, Tag::SixVolt], ..TypeSheet::default() };
        let mut worksheet = Worksheet::default();
        worksheet.car.tags = vec![Tag::Alternator];
        assert_eq!(tags(&sheet, &worksheet), [Tag::SixVolt, Tag::Alternator]);
    }

    proptest! {
        #[test]
        fn the_score_lies_in_the_band_and_looking_narrows_it(
            grades in prop::collection::vec(prop::option::of(prop::sample::select(Grade::ALL.to_vec())), 3)
        ) {
            let sheet = sheet();
            let mut worksheet = Worksheet::default();
            let mut width = 100.0;
            for (check, grade) in sheet.checks.iter().zip(grades) {
                let Some(grade) = grade else { continue };
                worksheet.findings.insert(check.id.clone(), graded(grade));
                let Score { value, low, high, .. } = whole(&sheet, &worksheet).overall;
                let value = value.unwrap();
                prop_assert!(low <= value + 1e-9 && value <= high + 1e-9);
                prop_assert!(high - low < width + 1e-9);
                width = high - low;
            }
        }
    }
}
