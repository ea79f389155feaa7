//! The walk round the car: what of each stage is made and what is still to do, and each check as one line.

pub mod behind;
pub mod jumps;
pub mod lamp_marks;
pub mod planned;
pub mod search;

use std::collections::BTreeMap;

use crate::appraise::driving;
use crate::appraise::evidence::{Known, Origin};
use crate::condition::applicable;
use crate::grade::Grade;
use crate::sheet::{Caution, Check, Sign, Stage, Tag, TypeSheet};
use crate::show::Show;
use crate::units::number;
use crate::worksheet::{Finding, Look, Seen, WhyNot, Worksheet};

/// How far the person has come in a stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Which.
    pub stage: Stage,
    /// Checks graded.
    pub made: usize,
    /// Checks neither graded nor given a reason.
    pub to_do: usize,
    /// Checks that there are: those that apply to the car, without those that it turned out to have no use for.
    pub of: usize,
}

/// How far the person has come in every stage, in walking order.
#[must_use]
pub fn progress(sheet: &TypeSheet, worksheet: &Worksheet, tags: &[Tag]) -> Vec<Progress> {
    let mut all: Vec<Progress> =
        Stage::ALL.into_iter().map(|stage| Progress { stage, made: 0, to_do: 0, of: 0 }).collect();
    for check in applicable(sheet, tags) {
        let Some(progress) = all.iter_mut().find(|progress| progress.stage == check.stage) else { continue };
        match worksheet.findings.get(&check.id).and_then(|finding| finding.look) {
            Some(Look::NotLooked(WhyNot::NotFitted)) => continue,
            Some(Look::NotLooked(_)) => {}
            Some(Look::Grade(_)) => progress.made += 1,
            None => progress.to_do += 1,
        }
        progress.of += 1;
    }
    all
}

/// A check as one line of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Line {
    /// Grade, or why it was not made.
    pub look: Option<Look>,
    /// Whether the car is not to be driven for it.
    pub is_unsafe: bool,
    /// Whether the person saw one of its signs.
    pub seen: bool,
    /// Where a sign of it comes from that the person did not mark: a reading or the lamps.
    pub raised: Option<Origin>,
    /// Whether the person wrote something.
    pub noted: bool,
}

impl Line {
    /// The line of a check, given what is known of the signs.
    #[must_use]
    pub fn of(check: &Check, finding: Option<&Finding>, signs: &BTreeMap<String, Known>) -> Self {
        Self {
            look: finding.and_then(|finding| finding.look),
            is_unsafe: driving::is_held(check, finding, signs),
            seen: finding.is_some_and(|finding| finding.signs.values().any(|seen| *seen == Seen::Yes)),
            raised: raised(check, signs).first().map(|(_, origin)| *origin),
            noted: finding.is_some_and(|finding| !finding.note.trim().is_empty()),
        }
    }

    /// Whether the check is still to be made: no grade, and no reason why not.
    #[must_use]
    pub const fn is_to_do(&self) -> bool {
        self.look.is_none()
    }

    /// Whether anything was found that is not right.
    #[must_use]
    pub fn is_found(&self) -> bool {
        let graded = matches!(self.look, Some(Look::Grade(grade)) if grade != Grade::Right);
        graded || self.is_unsafe || self.seen || self.raised.is_some()
    }
}

/// Signs of a check that a reading or the lamps raised, and which of the two.
#[must_use]
pub fn raised<'a>(check: &'a Check, signs: &BTreeMap<String, Known>) -> Vec<(&'a Sign, Origin)> {
    let raised = |sign: &'a Sign| {
        let known = signs.get(&sign.id).filter(|known| known.seen)?;
        matches!(known.origin, Origin::Reading | Origin::Lamps).then_some((sign, known.origin))
    };
    check.signs.iter().filter_map(raised).collect()
}

/// Cautions that hold for all of a stage, shown before its first check.
#[must_use]
pub const fn cautions(stage: Stage) -> &'static [Caution] {
    match stage {
        Stage::Papers | Stage::Cabin => &[],
        Stage::WalkRound => &[Caution::LevelGround],
        Stage::Underneath => &[Caution::LevelGround, Caution::NeverUnderJack],
        Stage::StartUp => &[Caution::ExhaustGas, Caution::MovingParts],
        Stage::RoadTest => &[Caution::PassengerWrites, Caution::ClearRoad],
        Stage::AfterDrive => &[Caution::HotParts],
    }
}

/// Minutes as they are shown.
#[must_use]
pub fn minutes(minutes: f64, show: &Show) -> String {
    format!("{} min", number::show_short(minutes, 1, show.style()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::{Appraisal, appraise};
    use crate::sheet::{demo, extend::extend, general::general};

    fn demo_appraised() -> (TypeSheet, Worksheet, Appraisal) {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let worksheet = demo::worksheet().unwrap();
        let appraisal = appraise(&worksheet, &sheet);
        (sheet, worksheet, appraisal)
    }

    #[test]
    fn the_stages_together_are_the_whole_car() {
        let (sheet, worksheet, appraisal) = demo_appraised();
        let stages = progress(&sheet, &worksheet, &appraisal.tags);
        let overall = &appraisal.condition.overall;
        assert_eq!(stages.iter().map(|stage| stage.made).sum::<usize>(), overall.made);
        assert_eq!(stages.iter().map(|stage| stage.of).sum::<usize>(), overall.of);
        assert!(stages.iter().all(|stage| stage.made + stage.to_do <= stage.of));
    }

    #[test]
    fn a_blank_worksheet_has_everything_to_do() {
        let sheet = general().unwrap();
        let stages = progress(&sheet, &Worksheet::default(), &[]);
        assert!(stages.iter().all(|stage| stage.made == 0 && stage.to_do == stage.of && stage.of > 0));
    }

    #[test]
    fn lines_say_what_was_found_and_what_is_to_do() {
        let (sheet, mut worksheet, _) = demo_appraised();
        worksheet.findings.remove("brakes-pedal-reserve");
        worksheet.readings.entry("brakes-reserve".to_owned()).or_default().given = BTreeMap::from(
            [("free-height", 0.145), ("pressed-height", 0.005)]
                .map(|(name, metres)| (name.to_owned(), crate::readings::Given::Number(metres))),
        );
        let appraisal = appraise(&worksheet, &sheet);
        let line = |id: &str| Line::of(sheet.check(id).unwrap(), worksheet.findings.get(id), &appraisal.signs);
        let hoses = line("brakes-hoses");
        assert!(hoses.is_found() && hoses.is_unsafe && hoses.noted && !hoses.is_to_do());
        assert!(!line("body-magnet").is_found() && !line("body-magnet").is_to_do());
        // Nobody looked, but the reading lies outside its limits.
        let reserve = line("brakes-pedal-reserve");
        assert_eq!(reserve.raised, Some(Origin::Reading));
        assert!(reserve.is_to_do() && reserve.is_found());
        assert!(line("engine-leak-down").look.is_some() && !line("engine-leak-down").is_found());
    }

    #[test]
    fn minutes_without_needless_decimals() {
        let show = Show::default();
        assert_eq!(minutes(4.0, &show), "4 min");
        assert_eq!(minutes(0.5, &show), "0.5 min");
    }
}
