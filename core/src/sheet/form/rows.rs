//! Rows of a part: signs of a check, links of a fault, limits of a reading.

use crate::grade::Grade;
use crate::readings::derived::results_of;
use crate::sheet::form::Target;
use crate::sheet::part::Part;
use crate::sheet::{Limit, Link, Sign};

/// What the rows of a part are, and how one more is begun.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Rows {
    /// Signs; a new one is named.
    Signs,
    /// Links; a new one is a sign that is chosen.
    Links,
    /// Limits; a new one is of one of these results, by name and label.
    Limits(Vec<(&'static str, &'static str)>),
}

impl Rows {
    /// What they are called.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Signs => "Signs that may be noticed here",
            Self::Links => "Signs that it shows",
            Self::Limits(_) => "Limits",
        }
    }

    /// Their word in places, as [`lint`](super::lint) writes them.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Signs => "signs",
            Self::Links => "links",
            Self::Limits(_) => "limits",
        }
    }

    /// What a row's key is the id of, where it is one.
    #[must_use]
    pub const fn target(&self) -> Option<Target> {
        match self {
            Self::Links => Some(Target::Sign),
            Self::Signs | Self::Limits(_) => None,
        }
    }
}

impl Part {
    /// What its rows are; nothing if it has none.
    #[must_use]
    pub fn kind_of_rows(&self) -> Option<Rows> {
        match self {
            Self::Check(_) => Some(Rows::Signs),
            Self::Fault(_) => Some(Rows::Links),
            Self::Reading(reading) => {
                Some(Rows::Limits(results_of(reading).iter().map(|result| (result.name, result.label)).collect()))
            }
            _ => None,
        }
    }

    /// The key of each row: the id of a sign, the sign that a link leads to, the result that a limit is of.
    #[must_use]
    pub fn rows(&self) -> Vec<String> {
        match self {
            Self::Check(check) => check.signs.iter().map(|sign| sign.id.clone()).collect(),
            Self::Fault(fault) => fault.links.iter().map(|link| link.sign.clone()).collect(),
            Self::Reading(reading) => reading.limits.iter().map(|limit| limit.of.clone()).collect(),
            _ => Vec::new(),
        }
    }

    /// Adds a row with a key; a sign also has a name.
    pub fn add_row(&mut self, key: String, name: String) {
        match self {
            Self::Check(check) => {
                check.signs.push(Sign { id: key, name, leak: 0.02, grade: Grade::Moderate, is_unsafe: false });
            }
            Self::Fault(fault) => fault.links.push(Link { sign: key, strength: 0.5 }),
            Self::Reading(reading) => {
                reading.limits.push(Limit { of: key, low: None, high: None, below: None, above: None });
            }
            _ => {}
        }
    }

    /// Takes a row out.
    pub fn take_row(&mut self, row: usize) {
        fn take<T>(list: &mut Vec<T>, row: usize) {
            if row < list.len() {
                list.remove(row);
            }
        }
        match self {
            Self::Check(check) => take(&mut check.signs, row),
            Self::Fault(fault) => take(&mut fault.links, row),
            Self::Reading(reading) => take(&mut reading.limits, row),
            _ => {}
        }
    }

    /// The place of a field, or of the whole part or row if no field is named, as [`lint`](super::lint) writes it.
    #[must_use]
    pub fn place(&self, row: Option<&str>, field: &str) -> String {
        let section = self.section().map_or("head", super::Section::word);
        let id = self.id();
        let parts: &[&str] = match (self, row) {
            (Self::Head(_), _) => &[section, field],
            (Self::Check(_), Some(sign)) => &["signs", sign, field],
            (Self::Fault(_), Some(sign)) => &[section, id, "links", sign, field],
            (_, Some(result)) => &[section, id, "limits", result, field],
            (_, None) => &[section, id, field],
        };
        parts.join(".").trim_end_matches('.').to_owned()
    }
}
