//! The desk: the worksheet that is open, and the only way to change it.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::Duration;

use kerbworth_core::appraise::again::Appraised;
use kerbworth_core::sheet::TypeSheet;
use kerbworth_core::show::Show;
use kerbworth_core::worksheet::merge::{Conflict, merge};
use kerbworth_core::worksheet::{self, Edit, Worksheet};
use leptos::prelude::*;

use super::keep::{Keeper, Kept, Key, json};
use super::ledger::LedgerStore;
use super::photos;
use super::preferences::{self, Preferences};
use super::sheets::Sheets;
use super::shelf::Shelf;
use crate::browser::storage::Refused;
use crate::browser::{clock, page, random};
use crate::live::{Derived, memo, memo_after};
use crate::words::t;

/// Changes that can be undone.
const MOST_UNDO: usize = 100;

/// Typing on in one part within this time is one step to undo.
const ONE_STEP: Duration = Duration::from_millis(1200);

/// How long after a change it is stored: shorter than a person needs to leave, longer than between two keys.
const STORE_AFTER: Duration = Duration::from_millis(120);

/// So many changes one upon the other are stored at once: who types on without a rest has something kept as well.
const STORE_EACH: u64 = 16;

/// How long after a change the pictures follow: longer than between two keys, so that none is drawn between them.
const REST_AFTER: Duration = Duration::from_millis(300);

/// Steps back and forth.
#[derive(Default)]
struct Steps {
    back: Vec<Edit>,
    forth: Vec<Edit>,
    /// The last step may still grow.
    growing: bool,
}

/// The open worksheet as it is stored, as far as this tab knows.
#[derive(Default)]
struct Stored {
    revision: u64,
    /// Word for word.
    text: String,
    worksheet: Worksheet,
    /// What was stored before: a tab that stores at the same moment as this one began from it.
    before: Worksheet,
}

impl Stored {
    fn becomes(&mut self, revision: u64, text: String, worksheet: Worksheet) {
        let before = core::mem::replace(&mut self.worksheet, worksheet);
        (self.revision, self.text, self.before) = (revision, text, before);
    }
}

/// All state, as handles that are cheap to copy. Made once, at the top; parts of the page are handed it.
#[derive(Clone, Copy)]
pub struct Desk {
    /// Where things are kept.
    pub keeper: Keeper,
    /// The worksheets that there are.
    pub shelf: Shelf,
    /// Type sheets.
    pub sheets: Sheets,
    /// The ledger of sales.
    pub ledger: LedgerStore,
    /// How things are shown.
    pub preferences: RwSignal<Preferences>,
    /// The worksheet that is open; read it, and change it by [`Desk::edit`] only.
    pub worksheet: RwSignal<Worksheet>,
    /// Whether one is open.
    pub is_open: RwSignal<bool>,
    /// The whole type sheet of the worksheet.
    pub sheet: Derived<Arc<TypeSheet>>,
    /// What core makes of it.
    pub appraisal: Derived<Appraised>,
    /// What is wrong, by place.
    pub problems: Derived<Arc<BTreeMap<String, String>>>,
    /// How figures of this worksheet are shown.
    pub show: Derived<Show>,
    /// How many steps back and forth there are.
    pub can: RwSignal<(usize, usize)>,
    /// Counts the rests between changes. What takes long to draw and is not read while typing follows this, and not
    /// each change.
    pub rests: RwSignal<u64>,
    /// Where this tab and another changed the same thing differently; this tab's word stands.
    pub conflicts: RwSignal<Vec<Conflict>>,
    steps: StoredValue<Steps>,
    stored: StoredValue<Stored>,
    /// Counts changes, so that a timer knows whether it is still the last.
    change: StoredValue<u64>,
}

impl Desk {
    /// Opens the storage and the worksheet that was open last.
    pub fn open() -> Self {
        let keeper = Keeper::new();
        let preferences = keeper.get::<Preferences>(&Key::Preferences, preferences::FORMAT);
        let preferences = RwSignal::new(preferences.map(|opened| opened.body).unwrap_or_default());
        let (shelf, last) = Shelf::open(keeper);
        let sheets = Sheets::open(keeper);
        let worksheet = RwSignal::new(Worksheet::default());
        let type_sheet = memo(move || worksheet.with(|worksheet| worksheet.type_sheet.clone()));
        let sheet = memo(move || type_sheet.with(|id| sheets.whole(id)));
        let appraisal = appraisal(worksheet, sheet);
        let problems = memo(move || {
            appraisal.with(|appraisal| {
                let said = appraisal.problems.iter().map(|problem| (problem.place.clone(), problem.kind.to_string()));
                Arc::new(said.collect())
            })
        });
        let currency = memo(move || worksheet.with(|worksheet| worksheet.settings.currency));
        let show = memo(move || preferences.with(|wanted| wanted.show.in_currency(currency.get())));
        let desk = Self {
            keeper,
            shelf,
            sheets,
            ledger: LedgerStore::new(keeper),
            preferences,
            worksheet,
            is_open: RwSignal::new(false),
            sheet,
            appraisal,
            problems,
            show,
            can: RwSignal::new((0, 0)),
            rests: RwSignal::new(0),
            conflicts: RwSignal::new(Vec::new()),
            steps: StoredValue::new(Steps::default()),
            stored: StoredValue::new(Stored::default()),
            change: StoredValue::new(0),
        };
        if !last.is_empty() {
            desk.take(&last);
        }
        page::listen_leaving(move || desk.store_now());
        page::listen("storage", move || {
            desk.shelf.hear_others();
            desk.hear_others();
        });
        desk
    }

    /// Changes the worksheet.
    pub fn edit(&self, edit: Edit) {
        let now = self.worksheet.try_update(|worksheet| edit.clone().apply(worksheet));
        let Some(undo) = now else { return };
        self.steps.update_value(|steps| {
            let grows =
                steps.growing && edit.same_part(&undo) && steps.back.last().is_some_and(|last| last.same_part(&undo));
            if !grows {
                steps.back.push(undo);
                if steps.back.len() > MOST_UNDO {
                    steps.back.remove(0);
                }
            }
            steps.forth.clear();
            steps.growing = true;
        });
        self.changed();
    }

    /// Undoes the last step.
    pub fn undo(&self) {
        self.step(|steps| steps.back.pop(), |steps, edit| steps.forth.push(edit));
    }

    /// Does again what was undone.
    pub fn redo(&self) {
        self.step(|steps| steps.forth.pop(), |steps, edit| steps.back.push(edit));
    }

    fn step(&self, take: impl FnOnce(&mut Steps) -> Option<Edit>, put: impl FnOnce(&mut Steps, Edit)) {
        let edit = self.steps.try_update_value(take).flatten();
        let Some(edit) = edit else { return };
        if let Some(back) = self.worksheet.try_update(|worksheet| edit.apply(worksheet)) {
            self.steps.update_value(|steps| {
                steps.growing = false;
                put(steps, back);
            });
        }
        self.changed();
    }

    /// After a change: says so, and stores it soon.
    fn changed(&self) {
        self.can.set(self.steps.with_value(|steps| (steps.back.len(), steps.forth.len())));
        // A refusal stays in sight until something could be stored.
        if self.keeper.kept.get_untracked() == Kept::Saved {
            self.keeper.kept.set(Kept::Waiting);
        }
        let change = self.change.try_update_value(|change| {
            *change += 1;
            *change
        });
        if change.is_some_and(|change| change.is_multiple_of(STORE_EACH)) {
            self.store_now();
        }
        let desk = *self;
        let last = move || desk.change.try_get_value() == change;
        set_timeout(
            move || {
                if last() {
                    desk.store_now();
                }
            },
            STORE_AFTER,
        );
        set_timeout(
            move || {
                if last() {
                    desk.rests.update(|rests| *rests += 1);
                }
            },
            REST_AFTER,
        );
        set_timeout(
            move || {
                if last() {
                    desk.steps.update_value(|steps| steps.growing = false);
                }
            },
            ONE_STEP,
        );
    }

    /// Stores the open worksheet if something of it is not stored yet, together with what another tab made of it.
    pub fn store_now(&self) {
        if !self.is_open.get_untracked() || self.keeper.kept.get_untracked() == Kept::Saved || !self.hear_others() {
            return;
        }
        let worksheet = self.worksheet.get_untracked();
        self.shelf.note(&worksheet);
        let revision = self.stored.with_value(|stored| stored.revision) + 1;
        if let Some(text) = self.keeper.put_json(&Key::Worksheet(worksheet.id.clone()), revision, &json(&worksheet)) {
            self.stored.update_value(|stored| stored.becomes(revision, text, worksheet));
            self.keeper.kept.set(Kept::Saved);
        }
    }

    /// Takes in what another tab made of the open worksheet and stored since. `false` if a newer build stored it, so
    /// that this one must not.
    fn hear_others(&self) -> bool {
        let key = Key::Worksheet(self.open_id());
        let Some(text) = self.keeper.text(&key) else { return true };
        if self.stored.with_value(|stored| stored.text == text) {
            return true;
        }
        let Some((revision, theirs)) = self.open_stored(&key) else {
            if self.keeper.is_newer(&key) {
                let said = t("A newer Kerbworth in another tab stored this worksheet. Open this page anew.");
                self.keeper.kept.set(Kept::Refused(Refused::Other(said.to_owned())));
                return false;
            }
            return true;
        };
        let merged = self.stored.with_value(|stored| {
            let base = if revision > stored.revision { &stored.worksheet } else { &stored.before };
            self.worksheet.with_untracked(|mine| merge(base, mine, &theirs))
        });
        self.stored.update_value(|stored| stored.becomes(revision.max(stored.revision), text, theirs));
        if merged.is_news_here {
            // A step back would bring back more than its own field.
            self.forget_steps();
            self.worksheet.set(merged.worksheet);
            self.rests.update(|rests| *rests += 1);
        }
        self.conflicts.update(|all| {
            all.retain(|known| merged.conflicts.iter().all(|new| new.place() != known.place()));
            all.extend(merged.conflicts);
        });
        if merged.is_news_there {
            self.changed();
        }
        true
    }

    /// Takes the other tab's word where both changed the same.
    pub fn take_theirs(&self, conflict: &Conflict) {
        let whole = self.worksheet.with_untracked(|worksheet| conflict.take_theirs(worksheet));
        self.edit(Edit::Whole(Box::new(whole)));
        self.settle(conflict);
    }

    /// Leaves it at this tab's word.
    pub fn settle(&self, conflict: &Conflict) {
        self.conflicts.update(|all| all.retain(|known| known != conflict));
    }

    /// A stored worksheet and its revision.
    fn open_stored(&self, key: &Key) -> Option<(u64, Worksheet)> {
        let opened = self.keeper.get::<Worksheet>(key, worksheet::FORMAT)?;
        let mut body = opened.body;
        // What this build could not read stays with the worksheet, and is shown.
        body.unread.extend(opened.unread);
        Some((opened.revision, body))
    }

    /// Opens a worksheet of the shelf. `false` if it is not there or cannot be read.
    pub fn take(&self, id: &str) -> bool {
        self.store_now();
        let key = Key::Worksheet(id.to_owned());
        let Some((revision, body)) = self.open_stored(&key) else { return false };
        self.put_on_desk(body, revision, self.keeper.text(&key).unwrap_or_default());
        self.shelf.store(id);
        true
    }

    /// Puts a new worksheet on the shelf and opens it.
    pub fn start(&self, mut worksheet: Worksheet) {
        self.store_now();
        worksheet.id = random::fresh_id();
        self.put_on_desk(worksheet, 0, String::new());
        self.keeper.kept.set(Kept::Waiting);
        self.store_now();
    }

    /// Puts a worksheet on the shelf without opening it.
    pub fn put_on_shelf(&self, worksheet: &Worksheet) {
        if self.keeper.put(&Key::Worksheet(worksheet.id.clone()), 0, worksheet) {
            self.shelf.note(worksheet);
            self.shelf.set_deleted(&worksheet.id, false, &self.open_id());
        }
    }

    /// A blank worksheet for today, in the person's currency.
    pub fn blank(&self) -> Worksheet {
        let mut worksheet = Worksheet::default();
        worksheet.settings.currency = self.preferences.with_untracked(|wanted| wanted.currency);
        worksheet.visit.date = clock::today().into();
        worksheet
    }

    fn put_on_desk(&self, worksheet: Worksheet, revision: u64, text: String) {
        self.forget_steps();
        self.conflicts.set(Vec::new());
        let before = worksheet.clone();
        self.stored.set_value(Stored { revision, text, worksheet: before.clone(), before });
        self.worksheet.set(worksheet);
        self.is_open.set(true);
    }

    fn forget_steps(&self) {
        self.can.set((0, 0));
        self.steps.set_value(Steps::default());
    }

    /// Deletes a worksheet; it can be brought back until the bin is emptied.
    pub fn delete(&self, id: &str) {
        self.store_now();
        if self.worksheet.with_untracked(|worksheet| worksheet.id == id) {
            self.is_open.set(false);
        }
        self.shelf.set_deleted(id, true, &self.open_id());
    }

    /// Takes the deleted worksheets away for good, with their photographs.
    pub fn empty_bin(&self) {
        self.store_now();
        self.shelf.empty_bin(&self.open_id());
        photos::sweep(*self);
    }

    /// Whether undoing or redoing a step can bring a photograph back.
    pub fn can_bring_back_photo(&self, id: &str) -> bool {
        let has = |edit: &Edit| match edit {
            Edit::Finding(_, Some(finding)) => finding.photos.iter().any(|photo| photo.id == id),
            _ => false,
        };
        self.steps.with_value(|steps| steps.back.iter().chain(&steps.forth).any(has))
    }

    /// Brings a deleted worksheet back.
    pub fn bring_back(&self, id: &str) {
        self.shelf.set_deleted(id, false, &self.open_id());
    }

    /// Id of the worksheet that is open; blank if none is.
    pub fn open_id(&self) -> String {
        if self.is_open.get_untracked() {
            self.worksheet.with_untracked(|worksheet| worksheet.id.clone())
        } else {
            String::new()
        }
    }

    /// Changes the preferences and keeps them.
    pub fn prefer(&self, change: impl FnOnce(&mut Preferences)) {
        self.preferences.update(change);
        self.preferences.with_untracked(|wanted| self.keeper.put(&Key::Preferences, 0, wanted));
    }

    /// What is wrong at a place, if anything.
    pub fn problem(&self, place: &str) -> Option<String> {
        self.problems.with(|problems| problems.get(place).cloned())
    }
}

/// What core makes of the worksheet: a change redoes only what it touches, and is told on only if it touches something.
fn appraisal(worksheet: RwSignal<Worksheet>, sheet: Derived<Arc<TypeSheet>>) -> Derived<Appraised> {
    memo_after(move |before: Option<&Appraised>| {
        worksheet.with(|worksheet| {
            sheet.with(|sheet| match before {
                Some(before) if Arc::ptr_eq(before.sheet(), sheet) => before.again(worksheet),
                _ => Appraised::new(Arc::clone(sheet), worksheet),
            })
        })
    })
}

/// The desk, from anywhere on the page.
pub fn desk() -> Desk {
    // Provided by `App` before anything is drawn.
    expect_context::<Desk>()
}
