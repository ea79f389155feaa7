//! The ledger of sales, as it is kept: read when a screen first needs it, stored shortly after a change.

use std::time::Duration;

use kerbworth_core::ledger::{self, Ledger};
use kerbworth_core::worksheet::Sale;
use leptos::prelude::*;

use super::Keeper;
use super::keep::Key;
use crate::browser::page;

/// How long after a change it is stored: a large ledger takes a moment to write, so not at each key.
const STORE_AFTER: Duration = Duration::from_millis(400);

/// The ledger that all worksheets share.
#[derive(Clone, Copy)]
pub struct LedgerStore {
    keeper: Keeper,
    /// The ledger; read it, and change it by [`LedgerStore::change`] only. Blank until [`LedgerStore::wake`].
    pub body: RwSignal<Ledger>,
    /// The sale that was deleted last, and its place.
    pub gone: RwSignal<Option<(usize, Sale)>>,
    awake: StoredValue<bool>,
    revision: StoredValue<u64>,
    /// Counts changes not stored yet.
    waiting: StoredValue<u64>,
}

impl LedgerStore {
    /// The ledger, not read yet.
    pub fn new(keeper: Keeper) -> Self {
        Self {
            keeper,
            body: RwSignal::new(Ledger::default()),
            gone: RwSignal::new(None),
            awake: StoredValue::new(false),
            revision: StoredValue::new(0),
            waiting: StoredValue::new(0),
        }
    }

    /// Reads it, the first time that it is asked for.
    pub fn wake(&self) {
        if self.awake.get_value() {
            return;
        }
        self.awake.set_value(true);
        self.take_stored();
        let ledger = *self;
        page::listen_leaving(move || ledger.store_now());
        // Another tab stored something: its ledger is the newer one, unless this tab is about to store.
        page::listen("storage", move || {
            if ledger.waiting.get_value() == 0 {
                ledger.take_stored();
            }
        });
    }

    fn take_stored(&self) {
        let Some(opened) = self.keeper.get::<Ledger>(&Key::Ledger, ledger::FORMAT) else { return };
        if opened.revision == self.revision.get_value() {
            return;
        }
        let mut body = opened.body;
        body.unread.extend(opened.unread);
        self.revision.set_value(opened.revision);
        self.body.set(body);
    }

    /// Changes it, and stores it soon.
    pub fn change(&self, change: impl FnOnce(&mut Ledger)) {
        self.body.update(change);
        let now = self.waiting.try_update_value(|waiting| {
            *waiting += 1;
            *waiting
        });
        let ledger = *self;
        set_timeout(
            move || {
                if ledger.waiting.try_get_value() == now {
                    ledger.store_now();
                }
            },
            STORE_AFTER,
        );
    }

    /// Stores it if something of it is not stored yet.
    pub fn store_now(&self) {
        if self.waiting.get_value() == 0 {
            return;
        }
        let revision = self.revision.get_value() + 1;
        if self.body.with_untracked(|body| self.keeper.put(&Key::Ledger, revision, body)) {
            self.revision.set_value(revision);
            self.waiting.set_value(0);
        }
    }

    /// Deletes a sale; the last one deleted can be brought back.
    pub fn delete(&self, id: &str) {
        self.change(|ledger| {
            let taken = ledger.take(id);
            self.gone.set(taken);
        });
    }

    /// Brings back the sale that was deleted last.
    pub fn bring_back(&self) {
        if let Some((place, sale)) = self.gone.get_untracked() {
            self.gone.set(None);
            self.change(|ledger| ledger.put_back(place, sale));
        }
    }
}
