//! Reading slices of the appraisal and the worksheet, and changing the settings.

use kerbworth_core::appraise::Appraisal;
use kerbworth_core::units::Money;
use kerbworth_core::worksheet::{Edit, Settings, Worksheet};
use leptos::prelude::*;

use crate::live::{Derived, memo};
use crate::store::desk::desk;

/// A slice of the appraisal: changes only when the slice does.
pub fn of_appraisal<T: Send + Sync + Clone + PartialEq + 'static>(read: fn(&Appraisal) -> T) -> Derived<T> {
    memo(move || desk().appraisal.with(|appraisal| read(appraisal)))
}

/// A slice of the worksheet.
pub fn of_worksheet<T: Send + Sync + Clone + PartialEq + 'static>(read: fn(&Worksheet) -> T) -> Derived<T> {
    memo(move || desk().worksheet.with(read))
}

/// A slice of the settings.
pub fn of_settings<T: Send + Sync + Clone + PartialEq + 'static>(read: fn(&Settings) -> T) -> Derived<T> {
    memo(move || desk().worksheet.with(|worksheet| read(&worksheet.settings)))
}

/// Changes the settings.
pub fn put_settings(change: impl FnOnce(&mut Settings)) {
    let mut settings = desk().worksheet.with_untracked(|worksheet| worksheet.settings.clone());
    change(&mut settings);
    desk().edit(Edit::Settings(Box::new(settings)));
}

/// An amount as it is shown, without minor units.
pub fn money(amount: Money) -> String {
    desk().show.with(|show| show.whole_money(amount))
}

/// Two amounts as a range.
pub fn between(low: Money, high: Money) -> String {
    desk().show.with(|show| format!("{}–{}", show.whole_money(low), show.whole_money(high)))
}
