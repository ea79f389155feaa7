//! Grades: what was found at a check, as none to four tally strokes and a word.

use serde::Serialize;

use crate::restore::words;

/// How far from right a thing is. Unsafe is a mark apart, not a grade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Grade {
    /// As it should be; no stroke.
    Right,
    /// One stroke.
    Slight,
    /// Two strokes.
    Moderate,
    /// Three strokes.
    Serious,
    /// Four strokes.
    Failed,
}

// Every grade, best first.
words! { Grade { Right, Slight, Moderate, Serious, Failed } }

impl Grade {
    /// Tally strokes that draw it.
    #[must_use]
    pub const fn strokes(self) -> u8 {
        match self {
            Self::Right => 0,
            Self::Slight => 1,
            Self::Moderate => 2,
            Self::Serious => 3,
            Self::Failed => 4,
        }
    }

    /// The word beside the strokes.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Slight => "slight",
            Self::Moderate => "moderate",
            Self::Serious => "serious",
            Self::Failed => "failed",
        }
    }

    /// Points of 100 that it earns in the score. Judgement: the steps widen in the middle, where a buyer's
    /// mind changes, and a failed check earns nothing.
    #[must_use]
    pub const fn points(self) -> f64 {
        match self {
            Self::Right => 100.0,
            Self::Slight => 85.0,
            Self::Moderate => 60.0,
            Self::Serious => 30.0,
            Self::Failed => 0.0,
        }
    }
}
