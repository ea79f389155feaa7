//! What this tab knows to be stored under a key, and how two tabs' changes to it become one.
//!
//! Before each store, and whenever another tab has stored, [`Known::hear`] takes in what the other made of it. Everything
//! that tabs share goes this way: the worksheet, the shelf, type sheets, the ledger, preferences.

use kerbworth_core::merge::{Merged, Shared, merge};

use super::envelope;
use super::keep::{Keeper, Key, json};

/// Something as it is stored, as far as this tab knows.
#[derive(Clone, Default)]
pub struct Known<T> {
    /// The revision under which it is stored next is one more.
    pub revision: u64,
    /// Word for word.
    text: String,
    body: T,
    /// What was stored before: a tab that stores at the same moment as this one began from it.
    before: T,
}

impl<T: Shared + Default> Known<T> {
    /// What is stored under a key; nothing if there is nothing that can be read.
    pub fn open(keeper: Keeper, key: &Key) -> Option<Self> {
        let body: T = keeper.get(key)?;
        let text = keeper.text(key).unwrap_or_default();
        Some(Self { revision: envelope::revision(&text), text, before: body.clone(), body })
    }

    /// Something that is not stored yet.
    pub fn new(body: T) -> Self {
        Self { before: body.clone(), body, ..Self::default() }
    }

    /// The value.
    pub fn body(&self) -> T {
        self.body.clone()
    }

    /// Whether it has just this value.
    pub fn holds(&self, mine: &T) -> bool
    where
        T: PartialEq,
    {
        self.body == *mine
    }

    /// Whether it is stored with just this JSON.
    pub fn is(&self, json: &str) -> bool {
        self.text.strip_suffix('}').is_some_and(|text| text.ends_with(json))
    }

    /// Whether it was ever stored.
    pub fn is_stored(&self) -> bool {
        !self.text.is_empty()
    }

    /// What is here together with what another tab stored since; nothing if it stored nothing, or nothing that can be read.
    pub fn hear(&mut self, keeper: Keeper, key: &Key, mine: &T) -> Option<Merged<T>> {
        let text = keeper.text(key).filter(|text| *text != self.text)?;
        let theirs: T = keeper.get(key)?;
        let revision = envelope::revision(&text);
        let merged = merge(if revision > self.revision { &self.body } else { &self.before }, mine, &theirs);
        self.becomes(revision.max(self.revision), text, theirs);
        keeper.tell_conflicts(key, &merged.conflicts);
        Some(merged)
    }

    /// Stores it. Whether it could be is given back, and a refusal is shown. What another tab stored is to be heard before.
    pub fn store(&mut self, keeper: Keeper, key: &Key, mine: &T) -> bool {
        let revision = self.revision + 1;
        let text = keeper.put_json(key, revision, &json(mine));
        text.map(|text| self.becomes(revision, text, mine.clone())).is_some()
    }

    fn becomes(&mut self, revision: u64, text: String, body: T) {
        let before = core::mem::replace(&mut self.body, body);
        (self.revision, self.text, self.before) = (revision, text, before);
    }
}
