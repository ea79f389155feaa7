//! What a type sheet and a car's tags settle before anything is looked at.

use std::borrow::Cow;

use crate::condition::{Curable, Cured};
use crate::ordered;
use crate::reason::network_of::{SheetNetwork, network_of};
use crate::sheet::{Tag, TypeSheet};
use crate::worksheet::Worksheet;

/// The part of an appraisal that stays the same while a worksheet is filled in. Everything in it is a place in the
/// lists of the sheet that it was prepared from, so it is of use with that sheet only.
#[derive(Debug, Clone, PartialEq)]
pub struct Prepared {
    /// How the car is built.
    pub tags: Vec<Tag>,
    /// What is reasoned with.
    pub network: SheetNetwork,
    /// What jobs cure.
    pub cured: Cured,
    /// For each job, the faults of the network that call for it.
    pub faults_of_jobs: Vec<Vec<usize>>,
    /// For each job, the place of the strip-down that it shares.
    pub access_of_jobs: Vec<Option<usize>>,
}

/// Prepares a whole sheet ([`crate::sheet::extend`]) for cars with these tags ([`crate::condition::tags`]).
#[must_use]
pub fn prepare(sheet: &TypeSheet, tags: Vec<Tag>) -> Prepared {
    let network = network_of(sheet, &tags);
    // The last to enter stays: backwards, so that of two with one id the first is meant.
    let accesses = ordered::map(sheet.access.iter().enumerate().rev().map(|(place, access)| (&access.id, place)));
    let access = |id: &Option<String>| id.as_ref().and_then(|id| accesses.get(id).copied());
    Prepared {
        faults_of_jobs: network.faults_of_jobs(sheet),
        access_of_jobs: sheet.jobs.iter().map(|job| access(&job.access)).collect(),
        cured: Cured::of(sheet),
        network,
        tags,
    }
}

impl Prepared {
    /// What is curable, given what a worksheet says of the faults.
    #[must_use]
    pub fn curable<'a>(&'a self, sheet: &'a TypeSheet, worksheet: &Worksheet) -> Curable<'a> {
        Curable::with(Cow::Borrowed(&self.cured), sheet, worksheet)
    }
}
