//! What was recorded at a check.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use crate::grade::Grade;
use crate::restore::{Restore, Trail, record, words};

/// Why a check was not made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum WhyNot {
    /// Not enough time.
    NoTime,
    /// Could not be reached or seen.
    NoAccess,
    /// The tool or helper was missing.
    NoTool,
    /// The owner would not have it.
    NotAllowed,
    /// It would not have been safe or lawful.
    NotSafe,
    /// The car has no such thing.
    NotFitted,
}

words! { WhyNot { NoTime, NoAccess, NoTool, NotAllowed, NotSafe, NotFitted } }

impl WhyNot {
    /// The reason as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::NoTime => "no time",
            Self::NoAccess => "could not be reached or seen",
            Self::NoTool => "no tool or helper",
            Self::NotAllowed => "the owner would not have it",
            Self::NotSafe => "not safe or not lawful",
            Self::NotFitted => "the car has none",
        }
    }
}

/// Whether and how a check came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Look {
    /// It was made.
    Grade(Grade),
    /// It was not made.
    NotLooked(WhyNot),
}

/// `{"grade": "slight"}` or `{"not-looked": "no-time"}`.
impl Restore for Look {
    fn blank() -> Self {
        Self::Grade(Grade::blank())
    }

    fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool {
        let (mut grade, mut why_not) = (Grade::blank(), WhyNot::blank());
        match trail.either(json, &mut [("grade", &mut grade), ("not-looked", &mut why_not)]) {
            Some(0) => *self = Self::Grade(grade),
            Some(_) => *self = Self::NotLooked(why_not),
            None => return false,
        }
        true
    }
}

/// What is known of a sign after looking.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Seen {
    /// It was there.
    Yes,
    /// It was looked for and was not there.
    No,
    /// Could not be told.
    Unsure,
}

words! { Seen { Yes, No, Unsure } }

/// Through which door a finding enters the worth: never both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Door {
    /// General wear, finish, patina: it lowers the score.
    Score,
    /// A nameable job: its cost is deducted, and the score is given its points back.
    Itemised,
}

words! { Door { Score, Itemised } }

/// What is known of a cause beyond the signs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Ruling {
    /// It is there: seen, measured or taken apart.
    Confirmed,
    /// It is not there.
    RuledOut,
}

words! { Ruling { Confirmed, RuledOut } }

/// A photograph that belongs to a finding; the picture itself is kept apart.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Photo {
    /// Identifies the picture.
    pub id: String,
    /// What it shows.
    pub caption: String,
}

record! { Photo { id, caption } }

/// What was recorded at a check.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct Finding {
    /// Grade, or why it was not looked at; nothing yet if absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub look: Option<Look>,
    /// Signs by id. A sign not named here was looked for and absent once the check is graded right or another
    /// sign is marked; see [`Finding::seen`].
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub signs: BTreeMap<String, Seen>,
    /// The person's own word on whether it is unsafe; absent, the signs say.
    #[serde(rename = "unsafe", skip_serializing_if = "Option::is_none")]
    pub is_unsafe: Option<bool>,
    /// The person's own choice of door; absent, see [`crate::condition`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub door: Option<Door>,
    /// In the person's words.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Photographs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<Photo>,
}

record! { Finding { look, signs, is_unsafe as "unsafe", door, note, photos } }

impl Finding {
    /// The grade, if the check was made.
    #[must_use]
    pub const fn grade(&self) -> Option<Grade> {
        match self.look {
            Some(Look::Grade(grade)) => Some(grade),
            Some(Look::NotLooked(_)) | None => None,
        }
    }

    /// What is known of one of the check's signs: as marked; else absent if the check was made and either came
    /// out right or had some other sign marked; else nothing.
    #[must_use]
    pub fn seen(&self, sign: &str) -> Option<bool> {
        match self.signs.get(sign) {
            Some(Seen::Yes) => Some(true),
            Some(Seen::No) => Some(false),
            Some(Seen::Unsure) => None,
            None => {
                let made = self.grade()?;
                let told = made == Grade::Right || self.signs.values().any(|seen| *seen == Seen::Yes);
                told.then_some(false)
            }
        }
    }

    /// Whether another says the same apart from words and pictures, of which nothing is reckoned.
    #[must_use]
    pub fn counts_as(&self, other: &Self) -> bool {
        let Self { look, signs, is_unsafe, door, note: _, photos: _ } = self;
        *look == other.look && *signs == other.signs && *is_unsafe == other.is_unsafe && *door == other.door
    }

    /// Whether there is nothing in it, so that it need not be kept.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        *self == Self::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_right_check_clears_its_signs() {
        let finding = Finding { look: Some(Look::Grade(Grade::Right)), ..Finding::default() };
        assert_eq!(finding.seen("any"), Some(false));
    }

    #[test]
    fn a_grade_alone_says_nothing_of_signs() {
        let finding = Finding { look: Some(Look::Grade(Grade::Serious)), ..Finding::default() };
        assert_eq!(finding.seen("any"), None);
    }

    #[test]
    fn one_marked_sign_clears_the_others_but_not_the_unsure() {
        let signs = BTreeMap::from([("rust".to_owned(), Seen::Yes), ("soft".to_owned(), Seen::Unsure)]);
        let finding = Finding { look: Some(Look::Grade(Grade::Moderate)), signs, ..Finding::default() };
        assert_eq!(finding.seen("rust"), Some(true));
        assert_eq!(finding.seen("soft"), None);
        assert_eq!(finding.seen("patch"), Some(false));
    }

    #[test]
    fn a_check_not_made_says_nothing() {
        let finding = Finding { look: Some(Look::NotLooked(WhyNot::NoTime)), ..Finding::default() };
        assert_eq!(finding.seen("any"), None);
    }
}
