//! Keeping things in the browser: under which key, and what happens if it cannot be done.

use kerbworth_core::restore::{Restore, RestoreError};
use leptos::prelude::*;
use serde::Serialize;

use super::envelope::{self, Opened};
use crate::browser::clock;
use crate::browser::storage::{Local, Refused};

/// What is kept, each under its own key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Key {
    /// The list of worksheets.
    Shelf,
    /// A worksheet by its id.
    Worksheet(String),
    /// A type sheet of the person's own by its id.
    TypeSheet(String),
    /// Units, look, language.
    Preferences,
    /// The ledger of sales.
    Ledger,
}

impl Key {
    /// What the envelope says is inside.
    const fn what(&self) -> &'static str {
        match self {
            Self::Shelf => "shelf",
            Self::Worksheet(_) => "worksheet",
            Self::TypeSheet(_) => "type-sheet",
            Self::Preferences => "preferences",
            Self::Ledger => "ledger",
        }
    }

    fn text(&self) -> String {
        match self {
            Self::Worksheet(id) | Self::TypeSheet(id) => format!("kerbworth/{}/{id}", self.what()),
            Self::Shelf | Self::Preferences | Self::Ledger => format!("kerbworth/{}", self.what()),
        }
    }
}

/// Whether what is on the screen is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kept {
    /// Everything is.
    Saved,
    /// Something was just typed and is about to be.
    Waiting,
    /// It could not be, and why; it stays on the screen.
    Refused(Refused),
}

/// A stored text that could not be opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Damaged {
    /// Its key.
    pub key: String,
    /// What is wrong.
    pub why: RestoreError,
    /// The text, so that it can be handed to the person.
    pub text: String,
}

/// Keeps things, and says whether it could.
#[derive(Clone, Copy)]
pub struct Keeper {
    local: Option<Local>,
    /// Whether what is on the screen is kept.
    pub kept: RwSignal<Kept>,
    /// What was found and could not be opened; it is left as it is.
    pub damaged: RwSignal<Vec<Damaged>>,
}

impl Keeper {
    /// Tries the browser's storage.
    pub fn new() -> Self {
        let local = Local::open();
        let kept = if local.is_some() { Kept::Saved } else { Kept::Refused(Refused::NoStorage) };
        Self { local, kept: RwSignal::new(kept), damaged: RwSignal::new(Vec::new()) }
    }

    /// Keeps a value. Whether it could be is given back, and a refusal is shown.
    pub fn put<T: Serialize>(&self, key: &Key, revision: u64, body: &T) -> bool {
        let sealed = envelope::seal(key.what(), revision, clock::now(), body);
        let put = self.local.ok_or(Refused::NoStorage).and_then(|local| local.put(&key.text(), &sealed));
        match put {
            Ok(()) => true,
            Err(refused) => {
                self.kept.set(Kept::Refused(refused));
                false
            }
        }
    }

    /// Takes a value out. What cannot be opened is reported, set aside under a key of its own before anything
    /// can be stored over it, and stays there.
    pub fn get<T: Restore>(&self, key: &Key, known: u32) -> Option<Opened<T>> {
        let local = self.local?;
        let text = local.text(&key.text())?;
        match envelope::open(key.what(), known, &text) {
            Ok(opened) => Some(opened),
            Err(why) => {
                let aside = format!("kerbworth/aside/{}", key.text());
                // A full store leaves it where it is, and the report still has the text.
                let _ = local.put(&aside, &text);
                self.damaged.update(|damaged| damaged.push(Damaged { key: key.text(), why, text }));
                None
            }
        }
    }

    /// The stored text, whatever it is.
    pub fn text(&self, key: &Key) -> Option<String> {
        self.local?.text(&key.text())
    }

    /// Ids of all that are kept of a kind, whatever the list of worksheets says.
    pub fn ids(&self, kind: &Key) -> Vec<String> {
        let prefix = format!("kerbworth/{}/", kind.what());
        let keys = self.local.map(|local| local.keys(&prefix)).unwrap_or_default();
        keys.into_iter().filter_map(|key| key.strip_prefix(&prefix).map(ToOwned::to_owned)).collect()
    }

    /// Takes a key away.
    pub fn remove(&self, key: &Key) {
        if let Some(local) = self.local {
            local.remove(&key.text());
        }
    }
}
