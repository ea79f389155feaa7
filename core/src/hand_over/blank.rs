//! The checks as a blank sheet for the field: what a pen needs where no phone is wanted.

use std::collections::BTreeSet;

use crate::condition::applicable;
use crate::readings::input::inputs_of;
use crate::readings::say;
use crate::sheet::{Caution, Check, Stage, System, Tag, TypeSheet, car_tags};
use crate::show::Show;
use crate::walk::cautions;

/// A check with what is measured at it.
#[derive(Debug, Clone, PartialEq)]
pub struct BlankCheck {
    /// Its name.
    pub name: String,
    /// What is right.
    pub right: String,
    /// Minutes it takes.
    pub minutes: f64,
    /// Whether the drive waits for it.
    pub before_driving: bool,
    /// What is measured.
    pub readings: Vec<BlankReading>,
}

/// A reading to be written down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlankReading {
    /// Its name.
    pub name: String,
    /// What is written, each with its unit; blank where it has none. A field that is alone has no label of its own.
    pub fields: Vec<(&'static str, String)>,
    /// What is right: each result and its limits, in the person's units.
    pub limits: Vec<(&'static str, String)>,
}

/// A stage of the walk on paper.
#[derive(Debug, Clone, PartialEq)]
pub struct BlankStage {
    /// Which.
    pub stage: Stage,
    /// What to be careful of at any of its checks, each once.
    pub cautions: BTreeSet<Caution>,
    /// Its checks by the system that they belong to; no system without any.
    pub systems: Vec<(System, Vec<BlankCheck>)>,
}

/// The checks that apply to the car, in walking order: by stage, in each by system.
#[must_use]
pub fn blank(sheet: &TypeSheet, tags: &[Tag], show: &Show) -> Vec<BlankStage> {
    let of = |stage: Stage, system: System| {
        let here = applicable(sheet, tags).filter(move |check| check.stage == stage && check.system == system);
        here.map(|check| blank_check(sheet, tags, show, check)).collect::<Vec<_>>()
    };
    let systems = |stage: Stage| {
        let all = System::ALL.into_iter().map(|system| (system, of(stage, system)));
        all.filter(|(_, checks)| !checks.is_empty()).collect::<Vec<_>>()
    };
    let whole = |stage: Stage| {
        let here = applicable(sheet, tags).filter(|check| check.stage == stage);
        let cautions = here.flat_map(|check| &check.cautions).chain(cautions(stage)).copied().collect();
        BlankStage { stage, cautions, systems: systems(stage) }
    };
    Stage::ALL.into_iter().map(whole).collect()
}

fn blank_check(sheet: &TypeSheet, tags: &[Tag], show: &Show, check: &Check) -> BlankCheck {
    let taken = sheet.readings.iter().filter(|spec| spec.check == check.id && car_tags::applies(&spec.when, tags));
    let readings = taken.map(|spec| {
        let inputs = inputs_of(spec);
        // One field alone is what the reading is called; its limits need no other name.
        let alone = (inputs.len() == 1).then(|| inputs.first().map(|input| input.label)).flatten();
        let named = |label: &'static str| if alone == Some(label) { "" } else { label };
        let unit = |input| say::field_unit(input, show).map(|unit| unit.symbol().to_owned()).unwrap_or_default();
        BlankReading {
            name: spec.name.clone(),
            fields: inputs.iter().map(|input| (named(input.label), unit(input))).collect(),
            limits: say::limits(spec, show).into_iter().map(|(label, said)| (named(label), said)).collect(),
        }
    });
    BlankCheck {
        name: check.name.clone(),
        right: check.right.clone(),
        minutes: check.minutes,
        before_driving: check.before_driving,
        readings: readings.collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::{demo, extend::extend, general::general};

    #[test]
    fn every_check_and_every_reading_of_the_car_stands_once_in_walking_order() {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let tags = crate::condition::tags(&sheet, &demo::worksheet().unwrap());
        let blank = blank(&sheet, &tags, &Show::default());
        assert_eq!(blank.iter().map(|of| of.stage).collect::<Vec<_>>(), Stage::ALL);
        let all: Vec<&BlankCheck> = blank.iter().flat_map(|of| &of.systems).flat_map(|(_, checks)| checks).collect();
        let mut names: Vec<&str> = all.iter().map(|check| check.name.as_str()).collect();
        let mut wanted: Vec<&str> = applicable(&sheet, &tags).map(|check| check.name.as_str()).collect();
        names.sort_unstable();
        wanted.sort_unstable();
        assert_eq!(names, wanted);
        let danger = |of: &BlankStage| of.stage == Stage::RoadTest || of.cautions.contains(&Caution::NeverUnderJack);
        assert!(blank.iter().filter(|of| matches!(of.stage, Stage::Underneath | Stage::RoadTest)).all(danger));
        let readings = all.iter().map(|check| check.readings.len()).sum::<usize>();
        let applies = |check: &str| applicable(&sheet, &tags).any(|own| own.id == check);
        let taken = |spec: &&crate::sheet::ReadingSpec| applies(&spec.check) && car_tags::applies(&spec.when, &tags);
        assert_eq!(readings, sheet.readings.iter().filter(taken).count());
        let charging = all.iter().flat_map(|check| &check.readings).find(|reading| !reading.limits.is_empty());
        assert!(charging.is_some_and(|reading| !reading.fields.is_empty()), "{charging:?}");
    }
}
