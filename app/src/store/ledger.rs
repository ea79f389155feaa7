//! The ledger of sales, as it is kept: read when a screen first needs it, stored shortly after a change.

use std::time::Duration;

use kerbworth_core::ledger::Ledger;
use kerbworth_core::worksheet::Sale;
use leptos::prelude::*;

use super::Keeper;
use super::keep::Key;
use super::known::Known;
use super::latest::Latest;
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
    known: StoredValue<Known<Ledger>>,
    changes: Latest,
}

impl LedgerStore {
    /// The ledger, not read yet.
    pub fn new(keeper: Keeper) -> Self {
        Self {
            keeper,
            body: RwSignal::new(Ledger::default()),
            gone: RwSignal::new(None),
            awake: StoredValue::new(false),
            known: StoredValue::default(),
            changes: Latest::new(),
        }
    }

    /// Reads it, the first time that it is asked for.
    pub fn wake(&self) {
        if self.awake.get_value() {
            return;
        }
        self.awake.set_value(true);
        if let Some(known) = Known::open(self.keeper, &Key::Ledger) {
            self.body.set(known.body());
            self.known.set_value(known);
        }
        let ledger = *self;
        page::listen("storage", move || ledger.hear_others());
    }

    /// Takes in what another tab made of it and stored since.
    fn hear_others(&self) {
        let heard = self.body.with_untracked(|mine| {
            self.known.try_update_value(|known| known.hear(self.keeper, &Key::Ledger, mine)).flatten()
        });
        if let Some(merged) = heard.filter(|merged| merged.is_news_here) {
            self.body.set(merged.both);
        }
    }

    /// Changes it, and stores it soon.
    pub fn change(&self, change: impl FnOnce(&mut Ledger)) {
        self.body.update(change);
        self.keeper.wait(&Key::Ledger);
        let ledger = *self;
        self.changes.next();
        self.changes.after(STORE_AFTER, move || ledger.store_now());
    }

    /// Stores it if something of it is not stored yet.
    pub fn store_now(&self) {
        if !self.keeper.must_store(&Key::Ledger) {
            return;
        }
        self.hear_others();
        let body = self.body.get_untracked();
        self.known.update_value(|known| _ = known.store(self.keeper, &Key::Ledger, &body));
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
