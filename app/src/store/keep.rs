//! Keeping things in the browser: under which key, and what happens if it cannot be done.
//!
//! Of everything there are two generations: what is kept is first copied to a key of its own, and then written over. A
//! text that was cut off or changed is noticed by its sum, and the generation before is opened in its place. The older
//! generation is a second net and no more: where the store is full, it makes room for what is newer.
//!
//! Browsers write local storage to the disk some seconds after they were given it. `public/boot.js` therefore puts each
//! text into the database as well, and nothing is said to be saved before that copy is known to be on the disk.

use kerbworth_core::merge::{Conflict, Shared};
use kerbworth_core::restore::{self, RestoreError, Unread};
use kerbworth_core::{ledger, sheet, worksheet};
use leptos::prelude::*;
use serde::Serialize;
use serde_json::Value;

use super::envelope::{self, Read};
use super::{preferences, shelf};
use crate::browser::storage::{Local, Refused};
use crate::browser::{clock, page};
use crate::live::{Derived, memo};
use crate::words::t;

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
    /// Steps back and forth of a worksheet or type sheet by its id.
    Steps(String),
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
            Self::Steps(_) => "steps",
        }
    }

    /// The newest format of it that this build reads.
    const fn format(&self) -> u32 {
        match self {
            Self::Shelf => shelf::FORMAT,
            Self::Worksheet(_) => worksheet::FORMAT,
            Self::TypeSheet(_) => sheet::FORMAT,
            Self::Preferences => preferences::FORMAT,
            Self::Ledger => ledger::FORMAT,
            Self::Steps(_) => 1,
        }
    }

    fn text(&self) -> String {
        match self {
            Self::Worksheet(id) | Self::TypeSheet(id) | Self::Steps(id) => format!("kerbworth/{}/{id}", self.what()),
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
    /// Everything is stored, and is on its way to the disk.
    Writing,
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
    /// Whether what was stored before it was opened in its place.
    pub before: bool,
}

/// Where the generation before of a key is kept.
const BEFORE: &str = "kerbworth/before/";

/// Keeps things, and says whether it could.
#[derive(Clone, Copy)]
pub struct Keeper {
    local: Option<Local>,
    /// Whether what is on the screen is kept: all of it, whichever key it goes under.
    pub kept: Derived<Kept>,
    /// What was changed and is not stored, and why if it was refused. Each key stands until it is stored itself: that
    /// something else could be says nothing of it.
    unstored: RwSignal<Vec<(Key, Option<Refused>)>>,
    /// Whether something is on its way to the disk.
    writing: RwSignal<bool>,
    /// What was found and could not be opened; it is left as it is.
    pub damaged: RwSignal<Vec<Damaged>>,
    /// Where this tab and another changed the same thing differently; this tab's word stands.
    pub conflicts: RwSignal<Vec<(Key, Conflict)>>,
}

impl Keeper {
    /// Tries the browser's storage.
    pub fn new() -> Self {
        let local = Local::open();
        let (unstored, writing) = (RwSignal::new(Vec::<(Key, Option<Refused>)>::new()), RwSignal::new(false));
        let kept = memo(move || {
            let refused = unstored.with(|all| all.iter().find_map(|(_, why)| why.clone()));
            match refused.or_else(|| local.is_none().then_some(Refused::NoStorage)) {
                Some(refused) => Kept::Refused(refused),
                None if unstored.with(|all| !all.is_empty()) => Kept::Waiting,
                None if writing.get() => Kept::Writing,
                None => Kept::Saved,
            }
        });
        page::listen("kerbworth-written", move || writing.set(false));
        Self { local, kept, unstored, writing, damaged: RwSignal::default(), conflicts: RwSignal::default() }
    }

    /// Keeps a value as the next revision of what is there. Whether it could be is given back, and a refusal is shown.
    pub fn put<T: Serialize>(&self, key: &Key, body: &T) -> bool {
        let revision = self.text(key).map_or(0, |text| envelope::revision(&text));
        self.put_json(key, revision + 1, &json(body)).is_some()
    }

    /// The same of a value as JSON, with its revision; gives the text as which it is kept.
    pub fn put_json(&self, key: &Key, revision: u64, body: &str) -> Option<String> {
        let text = envelope::seal(key.what(), revision, &clock::now(), body);
        let put = |local| {
            if self.is_newer(key) {
                return Err(Refused::Other(t("A newer Kerbworth stored this. Open this page anew.").to_owned()));
            }
            // What cannot be opened again is not stored over what can.
            if text.len() > restore::STORED.bytes {
                return Err(Refused::Other(
                    t("it is too large to be opened again. Save it as a file, then delete something.").to_owned(),
                ));
            }
            replace(local, &key.text(), &text)
        };
        match self.local.ok_or(Refused::NoStorage).and_then(put) {
            Ok(()) => {
                self.forget(key);
                self.writing.set(true);
                page::tell("kerbworth-stored", &key.text());
                Some(text)
            }
            Err(refused) => {
                self.unstored.update(|all| {
                    all.retain(|(other, _)| other != key);
                    all.push((key.clone(), Some(refused)));
                });
                None
            }
        }
    }

    /// What can be done without is kept as well if there is room, with the revision of what it belongs to.
    pub fn put_if_it_fits(&self, key: &Key, revision: u64, body: &str) {
        let Some(local) = self.local else { return };
        if local.put(&key.text(), &envelope::seal(key.what(), revision, &clock::now(), body)).is_err() {
            local.remove(&key.text());
        }
    }

    /// Whether what is under a key was changed and is not stored.
    pub fn must_store(&self, key: &Key) -> bool {
        self.unstored.with_untracked(|all| all.iter().any(|(other, _)| other == key))
    }

    /// What was changed and is not stored.
    pub fn unstored(&self) -> Vec<Key> {
        self.unstored.with_untracked(|all| all.iter().map(|(key, _)| key.clone()).collect())
    }

    /// Something was changed. A refusal stays in sight until it is stored.
    pub fn wait(&self, key: &Key) {
        if !self.must_store(key) {
            self.unstored.update(|all| all.push((key.clone(), None)));
        }
    }

    /// Nothing is left to be stored under a key.
    pub fn forget(&self, key: &Key) {
        if self.must_store(key) {
            self.unstored.update(|all| all.retain(|(other, _)| other != key));
        }
    }

    /// Takes a value out, with what of it could not be read. What cannot be opened is reported, set aside under a key of
    /// its own before anything can be stored over it, and stays there; what was stored before it is opened in its place.
    pub fn get<T: Shared>(&self, key: &Key) -> Option<T> {
        let mut body = None;
        let mut read = |json: &Value| {
            let (it, unread) = restore::restore_value(json, key.format())?;
            body = Some(it);
            Ok(unread)
        };
        let unread = self.find(key, &mut read)?;
        let mut body: T = body?;
        body.keep_unread(unread);
        Some(body)
    }

    /// The part of it that is the same for whatever is read.
    fn find(&self, key: &Key, read: &mut Read<'_>) -> Option<Vec<Unread>> {
        let local = self.local?;
        let (what, known, is_spare) = (key.what(), key.format(), matches!(key, Key::Steps(_)));
        let key = key.text();
        let before = before(&key);
        let open_before = |read: &mut Read<'_>| envelope::open(what, known, &local.text(&before)?, read).ok();
        let Some(text) = local.text(&key) else { return open_before(read) };
        match envelope::open(what, known, &text, read) {
            Ok(opened) => Some(opened),
            Err(_) if is_spare => None,
            Err(why) => {
                // A full store leaves it where it is, and the report still has the text.
                let _ = local.put(&format!("kerbworth/aside/{key}"), &text);
                // What a newer build stored is not damaged: older things must not be put in its place.
                let opened = if matches!(why, RestoreError::Newer { .. }) { None } else { open_before(read) };
                let damaged = Damaged { key, why, text, before: opened.is_some() };
                self.damaged.update(|all| {
                    all.retain(|known| known.key != damaged.key);
                    all.push(damaged);
                });
                opened
            }
        }
    }

    /// Shows where this tab and another changed the same differently. Of the shelf and the preferences this tab's word
    /// stands without one: the person sees it do so.
    pub fn tell_conflicts(&self, of: &Key, conflicts: &[Conflict]) {
        if matches!(of, Key::Shelf | Key::Preferences) || conflicts.is_empty() {
            return;
        }
        self.conflicts.update(|all| {
            all.retain(|(key, known)| key != of || conflicts.iter().all(|new| new.place() != known.place()));
            all.extend(conflicts.iter().map(|conflict| (of.clone(), conflict.clone())));
        });
    }

    /// The stored text, whatever it is.
    pub fn text(&self, key: &Key) -> Option<String> {
        self.local?.text(&key.text())
    }

    /// Whether what is kept was found to be a newer build's, so that this one must not store over it.
    fn is_newer(&self, key: &Key) -> bool {
        let newer = |it: &Damaged| it.key == key.text() && matches!(it.why, RestoreError::Newer { .. });
        self.damaged.with_untracked(|damaged| damaged.iter().any(newer))
    }

    /// Ids of all that are kept of a kind, whatever the list of worksheets says.
    pub fn ids(&self, kind: &Key) -> Vec<String> {
        let prefix = format!("kerbworth/{}/", kind.what());
        let keys = self.local.map(|local| local.keys(&prefix)).unwrap_or_default();
        keys.into_iter().filter_map(|key| key.strip_prefix(&prefix).map(ToOwned::to_owned)).collect()
    }

    /// Takes a key away, and what was kept of it before.
    pub fn remove(&self, key: &Key) {
        self.forget(key);
        if let Some(local) = self.local {
            local.remove(&before(&key.text()));
            local.remove(&key.text());
            page::tell("kerbworth-stored", &key.text());
        }
    }
}

/// A value as JSON. Nothing that is kept has keys other than texts, which is all that JSON refuses.
pub fn json<T: Serialize>(body: &T) -> String {
    serde_json::to_string(body).unwrap_or_default()
}

fn before(key: &str) -> String {
    format!("{BEFORE}{key}")
}

/// Stores a text in the place of what is there, which is kept as the generation before. Where there is no room for
/// both, or for the text itself, what can be done without goes first: steps, then older generations.
fn replace(local: Local, key: &str, text: &str) -> Result<(), Refused> {
    let before = before(key);
    if let Some(there) = local.text(key)
        // A damaged text never takes the place of a good one.
        && envelope::is_whole(&there).unwrap_or_else(|| local.text(&before).is_none())
        && local.put(&before, &there).is_err()
    {
        local.remove(&before);
    }
    let mut put = local.put(key, text);
    for spare in ["kerbworth/steps/", BEFORE] {
        if put == Err(Refused::Full) {
            local.keys(spare).iter().for_each(|key| local.remove(key));
            put = local.put(key, text);
        }
    }
    put
}
