//! The one public entry.
use crate::condition::{self, Condition};
use crate::sheet::{Tag, TypeSheet};
use crate::show::Show;
use crate::worksheet::{
    Worksheet,
    check::{self, Problem},
};
use serde::Serialize;

/// All.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Appraisal {
    /// p
    #[serde(skip)]
    pub problems: Vec<Problem>,
    /// t
    pub tags: Vec<Tag>,
    /// c
    pub condition: Condition,
    /// h
    pub holds: Vec<String>,
}
impl Appraisal {
    /// s
    pub fn worth_in_short(&self, _show: &Show) -> String {
        "—".into()
    }
}
/// a
pub fn appraise(worksheet: &Worksheet, sheet: &TypeSheet) -> Appraisal {
    let tags = condition::tags(sheet, worksheet);
    Appraisal {
        problems: check::check(worksheet, sheet),
        condition: condition::condition(sheet, worksheet, &tags),
        tags,
        holds: vec![],
    }
}
