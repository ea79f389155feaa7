//! What is done some time after a change, and only if it is still the last by then.

use std::time::Duration;

use leptos::prelude::*;

/// Counts changes.
#[derive(Clone, Copy)]
pub struct Latest(StoredValue<u64>);

impl Latest {
    /// None yet.
    pub fn new() -> Self {
        Self(StoredValue::new(0))
    }

    /// How many there were.
    pub fn count(self) -> u64 {
        self.0.try_get_value().unwrap_or_default()
    }

    /// One more; gives how many there were with it.
    pub fn next(self) -> u64 {
        self.0.try_update_value(|count| *count += 1);
        self.count()
    }

    /// Acts after a time, if there is no other change before.
    pub fn after(self, time: Duration, act: impl FnOnce() + 'static) {
        let now = self.count();
        let unless_changed = move || {
            if self.0.try_get_value() == Some(now) {
                act();
            }
        };
        set_timeout(unless_changed, time);
    }
}
