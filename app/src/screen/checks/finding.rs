//! Reading and changing one check's finding.

use kerbworth_core::worksheet::{Edit, Finding};
use leptos::prelude::*;

use crate::live::{Derived, memo};
use crate::store::desk::{Desk, desk};

/// A part of a check's finding; that of a blank one if there is none.
pub fn part<T>(check: &str, read: fn(&Finding) -> T) -> Derived<T>
where
    T: Send + Sync + PartialEq + 'static,
{
    let (desk, check) = (desk(), check.to_owned());
    memo(move || {
        desk.worksheet.with(|worksheet| match worksheet.findings.get(&check) {
            Some(finding) => read(finding),
            None => read(&Finding::default()),
        })
    })
}

/// Changes a check's finding.
pub fn change(check: &str, change: impl FnOnce(&mut Finding)) {
    change_in(desk(), check, change);
}

/// The same once something was waited for: the screen may be gone by then, and the desk cannot be asked for any more.
pub fn change_in(desk: Desk, check: &str, change: impl FnOnce(&mut Finding)) {
    let now = desk.worksheet.with_untracked(|worksheet| worksheet.findings.get(check).cloned());
    let mut finding = now.unwrap_or_default();
    change(&mut finding);
    desk.edit(Edit::Finding(check.to_owned(), Some(Box::new(finding))));
}
