//! Steps back and forth as the page follows them.

use std::time::Duration;

use kerbworth_core::merge::Shared;
use kerbworth_core::restore::restore;
use kerbworth_core::steps::Steps;
use leptos::prelude::*;

use super::keep::json;

/// Typing on in one part within this time is one step.
pub const ONE_STEP: Duration = Duration::from_millis(1200);

/// The steps of what is written on, and how many there are.
#[derive(Clone, Copy)]
pub struct Track {
    /// How many there are back and forth.
    pub can: RwSignal<(usize, usize)>,
    steps: StoredValue<Steps>,
}

impl Track {
    /// No steps yet.
    pub fn new() -> Self {
        Self { can: RwSignal::new((0, 0)), steps: StoredValue::new(Steps::default()) }
    }

    /// Does something to the steps.
    pub fn with<U>(&self, act: impl FnOnce(&mut Steps) -> U) -> Option<U> {
        let done = self.steps.try_update_value(|steps| (act(steps), steps.can()));
        done.map(|(done, can)| {
            self.can.set(can);
            done
        })
    }

    /// What is written on as it is one step back or forth.
    pub fn turn<T: Shared>(&self, turn: fn(&mut Steps, &str) -> Option<String>, now: &T) -> Option<T> {
        let text = self.with(|steps| turn(steps, &json(now))).flatten()?;
        // The text is this build's own, whatever its format is called.
        let (mut turned, unread) = restore::<T>(&text, u32::MAX).ok()?;
        turned.keep_unread(unread);
        Some(turned)
    }

    /// From now on these.
    pub fn set(&self, steps: Steps) {
        self.with(|there| *there = steps);
    }
}
