//! The desk: the worksheet that is open, and the only way to change it.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::Duration;

use kerbworth_core::appraise::again::Appraised;
use kerbworth_core::merge::Conflict;
use kerbworth_core::sheet::TypeSheet;
use kerbworth_core::show::Show;
use kerbworth_core::steps::Steps;
use kerbworth_core::worksheet::{Edit, Worksheet};
use leptos::prelude::*;

use super::envelope;
use super::keep::{Keeper, Kept, Key, json};
use super::known::Known;
use super::latest::Latest;
use super::ledger::LedgerStore;
use super::photos;
use super::preferences::Preferences;
use super::sheets::Sheets;
use super::shelf::Shelf;
use super::track::{ONE_STEP, Track};
use crate::browser::{clock, locale, page, random};
use crate::ids;
use crate::live::{Derived, memo, memo_after};
use crate::words;

/// How long after a change it is stored: shorter than a person needs to leave, longer than between two keys.
const STORE_AFTER: Duration = Duration::from_millis(120);

/// So many changes one upon the other are stored at once: who types on without a rest has something kept as well.
const STORE_EACH: u64 = 16;

/// How long after a change the pictures follow: longer than between two keys, so that none is drawn between them.
const REST_AFTER: Duration = Duration::from_millis(300);

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
    /// Steps back and forth.
    pub track: Track,
    /// Counts the rests between changes. What takes long to draw and is not read while typing follows this, and not
    /// each change.
    pub rests: RwSignal<u64>,
    /// The last change, if it was typed and typing on makes one step with it.
    last: StoredValue<Option<Edit>>,
    stored: StoredValue<Known<Worksheet>>,
    preferred: StoredValue<Known<Preferences>>,
    /// Whether another worksheet was to be opened while something of this one was neither stored nor in a file.
    pub held: RwSignal<bool>,
    /// The count of changes when the worksheet was last saved as a file.
    in_file: StoredValue<u64>,
    changes: Latest,
}

impl Desk {
    /// Opens the storage and the worksheet that was open last.
    pub fn open() -> Self {
        let keeper = Keeper::new();
        let preferred: Known<Preferences> = Known::open(keeper, &Key::Preferences).unwrap_or_default();
        let preferences = RwSignal::new(preferred.body());
        let (shelf, last) = Shelf::open(keeper);
        let sheets = Sheets::open(keeper);
        let worksheet = RwSignal::new(Worksheet::default());
        let type_sheet = memo(move || worksheet.with(|worksheet| worksheet.type_sheet.clone()));
        let sheet = memo(move || type_sheet.with(|id| sheets.whole(id)));
        let appraisal = appraisal(worksheet, sheet);
        let currency = memo(move || worksheet.with(|worksheet| worksheet.settings.currency));
        let region = memo(move || preferences.with(Preferences::region));
        let locale = memo(move || locale::locale(region.get()));
        // First read when the page is drawn, and then the words are there.
        let show = memo(move || {
            let show = preferences.with(|wanted| wanted.show.in_currency(currency.get()));
            Show { locale: locale.get(), words: words::words(), ..show }
        });
        let problems = memo(move || {
            appraisal.with(|appraisal| {
                show.with(|show| {
                    let of = appraisal.problems.iter();
                    Arc::new(of.map(|problem| (problem.place.clone(), show.say(&problem.kind))).collect())
                })
            })
        });
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
            track: Track::new(),
            rests: RwSignal::new(0),
            last: StoredValue::new(None),
            stored: StoredValue::new(Known::default()),
            preferred: StoredValue::new(preferred),
            held: RwSignal::new(false),
            in_file: StoredValue::new(0),
            changes: Latest::new(),
        };
        if !last.is_empty() {
            desk.take(&last);
        }
        page::listen_leaving(move || {
            desk.store_now();
            desk.put_away();
        });
        page::listen("storage", move || {
            desk.shelf.hear_others();
            desk.sheets.hear_others();
            desk.hear_preferences();
            desk.hear_others();
        });
        desk
    }

    /// Changes the worksheet.
    pub fn edit(&self, edit: Edit) {
        let grows = self.last.with_value(|last| last.as_ref().is_some_and(|last| last.same_part(&edit)));
        if !grows {
            let before = self.worksheet.with_untracked(json);
            self.track.with(|steps| steps.begin(before));
        }
        let Some(undo) = self.worksheet.try_update(|worksheet| edit.clone().apply(worksheet)) else { return };
        self.last.set_value(edit.same_part(&undo).then_some(edit));
        self.changed();
    }

    /// Undoes the last step.
    pub fn undo(&self) {
        self.step(Steps::back);
    }

    /// Does again what was undone.
    pub fn redo(&self) {
        self.step(Steps::forth);
    }

    fn step(&self, turn: fn(&mut Steps, &str) -> Option<String>) {
        self.last.set_value(None);
        let turned = self.worksheet.with_untracked(|now| self.track.turn(turn, now));
        let Some(turned) = turned else { return };
        self.worksheet.update(|worksheet| drop(Edit::Whole(Box::new(turned)).apply(worksheet)));
        self.changed();
    }

    /// After a change: says so, and stores it soon.
    fn changed(&self) {
        self.keeper.wait(&self.key());
        if self.changes.next().is_multiple_of(STORE_EACH) {
            self.store_worksheet();
        }
        let desk = *self;
        self.changes.after(STORE_AFTER, move || desk.store_worksheet());
        self.changes.after(REST_AFTER, move || {
            desk.rests.update(|rests| *rests += 1);
            desk.put_away();
        });
        self.changes.after(ONE_STEP, move || desk.last.set_value(None));
    }

    /// Stores whatever is not stored yet, and tries again what was refused.
    pub fn store_now(&self) {
        self.store_worksheet();
        self.sheets.store_now();
        self.ledger.store_now();
        for key in self.keeper.unstored() {
            match key {
                Key::Shelf => self.shelf.store(&self.open_id()),
                Key::Preferences => self.prefer(|_| ()),
                // One that was to be put on the shelf: nobody here has it any more.
                Key::Worksheet(id) if id != self.open_id() => self.keeper.forget(&Key::Worksheet(id)),
                _ => (),
            }
        }
    }

    /// Stores the open worksheet if something of it is not stored yet, together with what another tab made of it. Once
    /// there is room again, so is whatever else was refused.
    fn store_worksheet(&self) {
        let key = self.key();
        if !self.is_open.get_untracked() || !self.keeper.must_store(&key) {
            return;
        }
        self.hear_others();
        let was_refused = matches!(self.keeper.kept.get_untracked(), Kept::Refused(_));
        let worksheet = self.worksheet.get_untracked();
        self.shelf.note(&worksheet);
        let stored = self.stored.try_update_value(|stored| stored.store(self.keeper, &key, &worksheet));
        if was_refused && stored == Some(true) {
            self.store_now();
        }
    }

    /// The key of the worksheet that is open, or was last.
    fn key(&self) -> Key {
        Key::Worksheet(self.worksheet.with_untracked(|worksheet| worksheet.id.clone()))
    }

    /// Takes in what another tab made of the open worksheet and stored since.
    fn hear_others(&self) {
        let key = Key::Worksheet(self.open_id());
        let heard = self.worksheet.with_untracked(|mine| {
            self.stored.try_update_value(|stored| stored.hear(self.keeper, &key, mine)).flatten()
        });
        let Some(merged) = heard else { return };
        if merged.is_news_here {
            // A step back would bring back more than its own field.
            self.forget_steps();
            self.worksheet.set(merged.both);
            self.rests.update(|rests| *rests += 1);
        }
        if merged.is_news_there {
            self.changed();
        }
    }

    /// Stores what is not stored yet, and the steps: they hold for what is stored and nothing else.
    fn put_away(&self) {
        self.store_worksheet();
        if !self.is_open.get_untracked() || self.keeper.must_store(&self.key()) {
            return;
        }
        let key = Key::Steps(self.open_id());
        let now = self.worksheet.with_untracked(json);
        // Those that are stored end with what is stored; the last of those here may grow on.
        let ended = self.track.with(|steps| {
            let mut ended = steps.clone();
            ended.end(&now);
            ended
        });
        self.keeper.put_if_it_fits(&key, self.stored.with_value(|stored| stored.revision), &json(&ended));
    }

    /// Takes the other tab's word where both changed the same.
    pub fn take_theirs(&self, key: &Key, conflict: &Conflict) {
        match key {
            Key::Ledger => self.ledger.change(|ledger| *ledger = conflict.take_theirs(ledger)),
            Key::TypeSheet(id) => self.sheets.take_theirs(id, conflict),
            _ => {
                let whole = self.worksheet.with_untracked(|worksheet| conflict.take_theirs(worksheet));
                self.edit(Edit::Whole(Box::new(whole)));
            }
        }
        self.settle(conflict);
    }

    /// Leaves it at this tab's word.
    pub fn settle(&self, conflict: &Conflict) {
        self.keeper.conflicts.update(|all| all.retain(|(_, known)| known != conflict));
    }

    /// Opens a worksheet of the shelf. `false` if it is not there or cannot be read, or the one that is open does not
    /// make way.
    pub fn take(&self, id: &str) -> bool {
        let is_here = self.worksheet.with_untracked(|worksheet| {
            let is_stored = self.stored.with_value(|stored| stored.is_stored() && stored.holds(worksheet));
            worksheet.id == id && (self.is_open.get_untracked() || !is_stored)
        });
        if is_here {
            if !self.is_open.get_untracked() {
                self.is_open.set(true);
                self.keeper.wait(&self.key());
            }
            self.store_now();
            return true;
        }
        if !self.makes_way() {
            return false;
        }
        let Some(known) = Known::open(self.keeper, &Key::Worksheet(id.to_owned())) else { return false };
        self.put_on_desk(known);
        let key = Key::Steps(id.to_owned());
        let is_theirs = self.keeper.text(&key).is_some_and(|text| {
            let (now, revision) = (self.worksheet.with_untracked(json), envelope::revision(&text));
            self.stored.with_value(|stored| stored.revision == revision && stored.is(&now))
        });
        if let Some(steps) = self.keeper.get(&key).filter(|_| is_theirs) {
            self.track.set(steps);
        }
        self.shelf.store(id);
        true
    }

    /// Puts a new worksheet on the shelf and opens it. `false` if the one that is open does not make way.
    pub fn start(&self, mut worksheet: Worksheet) -> bool {
        let goes = self.makes_way();
        if goes {
            worksheet.id = random::fresh_id();
            self.put_on_desk(Known::new(worksheet));
            self.keeper.wait(&self.key());
            self.store_now();
        }
        goes
    }

    /// Stores the open worksheet to make way for another. It does not while something typed is neither stored nor in a
    /// file; the notice of the refusal then says so.
    fn makes_way(&self) -> bool {
        self.store_now();
        self.put_away();
        let is_stored = self.worksheet.with_untracked(|now| self.stored.with_value(|stored| stored.holds(now)));
        let goes = is_stored || !self.is_open.get_untracked() || self.in_file.get_value() == self.changes.count();
        self.held.set(!goes);
        if !goes {
            page::show_soon(ids::TROUBLE.to_owned());
        }
        goes
    }

    /// The worksheet as it is now was saved as a file.
    pub fn is_in_file(&self) {
        self.in_file.set_value(self.changes.count());
        self.held.set(false);
    }

    /// Puts a worksheet on the shelf without opening it.
    pub fn put_on_shelf(&self, worksheet: &Worksheet) {
        if self.keeper.put(&Key::Worksheet(worksheet.id.clone()), worksheet) {
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

    fn put_on_desk(&self, known: Known<Worksheet>) {
        self.forget_steps();
        self.keeper.forget(&self.key());
        if !self.stored.with_value(Known::is_stored) {
            self.worksheet.with_untracked(|worksheet| self.shelf.drop_card(&worksheet.id));
        }
        self.keeper.conflicts.update(|all| all.retain(|(key, _)| !matches!(key, Key::Worksheet(_))));
        self.worksheet.set(known.body());
        self.stored.set_value(known);
        self.is_open.set(true);
    }

    fn forget_steps(&self) {
        self.last.set_value(None);
        self.track.set(Steps::default());
    }

    /// Deletes a worksheet; it can be brought back until the bin is emptied.
    pub fn delete(&self, id: &str) {
        self.put_away();
        if self.open_id() == id {
            self.is_open.set(false);
            self.keeper.forget(&self.key());
        }
        self.shelf.set_deleted(id, true, &self.open_id());
    }

    /// Takes the deleted worksheets away for good, with their photographs.
    pub fn empty_bin(&self) {
        self.store_now();
        self.shelf.empty_bin(&self.open_id());
        // There may be room now for what was refused.
        self.store_now();
        photos::sweep(*self);
    }

    /// Whether undoing or redoing a step can bring a photograph back.
    pub fn can_bring_back_photo(&self, id: &str) -> bool {
        self.track.with(|steps| steps.hold(id)) == Some(true)
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
        self.hear_preferences();
        self.preferences.update(change);
        let wanted = self.preferences.get_untracked();
        self.preferred.update_value(|known| _ = known.store(self.keeper, &Key::Preferences, &wanted));
    }

    /// Takes in what another tab made of the preferences, field by field.
    fn hear_preferences(&self) {
        let heard = self.preferences.with_untracked(|mine| {
            self.preferred.try_update_value(|known| known.hear(self.keeper, &Key::Preferences, mine)).flatten()
        });
        if let Some(merged) = heard.filter(|merged| merged.is_news_here) {
            self.preferences.set(merged.both);
        }
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
