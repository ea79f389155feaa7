//! Steps back and forth as the page follows them.

use kerbworth_core::steps::Steps;
use leptos::prelude::*;

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

    /// From now on these.
    pub fn set(&self, steps: Steps) {
        self.with(|there| *there = steps);
    }
}
