//! The bench: the type sheet that is being written, and the only way to change it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use std::time::Duration;

use kerbworth_core::sheet::edit::{self, SheetEdit};
use kerbworth_core::sheet::lint::{Slip, lint};
use kerbworth_core::sheet::outline::entry_at;
use kerbworth_core::sheet::part::Section;
use kerbworth_core::sheet::{TypeSheet, general};
use kerbworth_core::show::Show;
use kerbworth_core::steps::Steps;
use leptos::prelude::*;

use crate::browser::page;
use crate::ids;
use crate::live::{Derived, memo};
use crate::store::desk::{Desk, desk};
use crate::store::keep::{Key, json};
use crate::store::latest::Latest;
use crate::store::track::{ONE_STEP, Track};
use crate::words::say;

/// How long after a change the sheet is kept and looked through for slips: a whole sheet is too much for every key.
const KEEP_AFTER: Duration = Duration::from_millis(150);

/// What was typed and cannot be read, and why.
pub type Unread = (String, String);

/// What is wrong in the sheet, as it is looked up.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Slips {
    /// All of it, in the order of the sheet.
    pub all: Vec<Slip>,
    /// Sentences by place.
    pub said: BTreeMap<String, Vec<String>>,
    /// How many an entry has.
    pub of_entry: BTreeMap<(Section, String), usize>,
}

/// State of the editor, as handles that are cheap to copy.
#[derive(Clone, Copy)]
pub struct Bench {
    desk: Desk,
    /// The sheet as written; read it, and change it by [`Bench::edit`] only.
    pub own: RwSignal<TypeSheet>,
    /// The sheet with what it extends, as it was last kept.
    pub whole: Derived<Arc<TypeSheet>>,
    /// What is wrong in the whole.
    pub slips: Derived<Arc<Slips>>,
    /// How figures of the sheet are shown.
    pub show: Derived<Show>,
    /// The sheet ships with the program and is only looked at.
    pub fixed: bool,
    /// What was typed and could not be read, by place: it waits there to be mended.
    pub unread: RwSignal<BTreeMap<String, Unread>>,
    /// Sections and entries that are open; an entry by its section and id, a section with a blank id.
    pub open: RwSignal<BTreeSet<(Section, String)>>,
    /// What is searched for in each section.
    pub sought: RwSignal<BTreeMap<Section, String>>,
    /// Steps back and forth.
    pub track: Track,
    /// The last change, if it was typed and typing on makes one step with it.
    last: StoredValue<Option<SheetEdit>>,
    changes: Latest,
}

/// The bench, from anywhere in the editor.
pub fn bench() -> Bench {
    // Provided by `editor` before anything of it is drawn.
    expect_context::<Bench>()
}

impl Bench {
    /// Lays a sheet on the bench; nothing if there is none with this id.
    pub fn lay(id: &str) -> Option<Self> {
        let desk = desk();
        let own = RwSignal::new(desk.sheets.as_written(id)?);
        let whole = {
            let id = id.to_owned();
            memo(move || desk.sheets.whole(&id))
        };
        let slips = memo(move || whole.with(|whole| Arc::new(Slips::of(whole))));
        let currency = memo(move || own.with(|own| own.currency));
        let show = memo(move || desk.preferences.with(|wanted| wanted.show.in_currency(currency.get())));
        let bench = Self {
            desk,
            own,
            whole,
            slips,
            show,
            fixed: id == general::ID,
            unread: RwSignal::default(),
            open: RwSignal::default(),
            sought: RwSignal::default(),
            track: Track::new(),
            last: StoredValue::default(),
            changes: Latest::new(),
        };
        let leaving = ["pagehide", "visibilitychange"]
            .map(|event| window_event_listener_untyped(event, move |_| bench.keep_now()));
        desk.sheets.bench.set_value(Some((own, bench.track)));
        on_cleanup(move || {
            bench.keep_now();
            leaving.into_iter().for_each(WindowListenerHandle::remove);
        });
        Some(bench)
    }

    /// The sheet that this one extends.
    pub fn base(&self) -> Option<Arc<TypeSheet>> {
        self.own.with(|own| own.extends.is_some()).then(|| self.desk.sheets.general())
    }

    /// Changes the sheet.
    pub fn edit(&self, edit: SheetEdit) {
        if self.fixed {
            return;
        }
        let grows = self.last.with_value(|last| last.as_ref().is_some_and(|last| last.same_part(&edit)));
        if !grows {
            let before = self.own.with_untracked(json);
            self.track.with(|steps| steps.begin(before));
        }
        let Some(undo) = self.own.try_update(|own| edit.clone().apply(own)) else { return };
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
        if let Some(turned) = self.own.with_untracked(|now| self.track.turn(turn, now)) {
            self.own.set(turned);
            self.changed();
        }
    }

    /// After a change: says so, and keeps the sheet soon.
    fn changed(&self) {
        self.desk.keeper.wait(&Key::TypeSheet(self.own.with_untracked(|own| own.id.clone())));
        let bench = *self;
        self.changes.next();
        self.changes.after(KEEP_AFTER, move || bench.keep_now());
        self.changes.after(ONE_STEP, move || _ = bench.last.try_set_value(None));
    }

    /// Keeps the sheet if something of it is not kept yet.
    fn keep_now(&self) {
        let Some(own) = self.own.try_get_untracked() else { return };
        if self.desk.keeper.must_store(&Key::TypeSheet(own.id.clone())) {
            self.desk.sheets.put(own);
        }
    }

    /// An id for something new in the sheet.
    pub fn fresh_id(&self, name: &str) -> String {
        let general = self.desk.sheets.general();
        self.own.with_untracked(|own| {
            let (ours, theirs) = (edit::ids(own), edit::ids(&general));
            edit::fresh_id(&own.id, name, |id| ours.contains(id) || theirs.contains(id))
        })
    }

    /// What is wrong at a place, in a sentence or several.
    pub fn said(&self, place: &str) -> Option<String> {
        let unread = self.unread.with(|unread| unread.get(place).map(|(_, why)| why.clone()));
        unread.or_else(|| self.slips.with(|slips| slips.said.get(place).map(|said| said.join("; "))))
    }

    /// Opens or closes a section or an entry.
    pub fn set_open(&self, what: &(Section, String), open: bool) {
        if self.open.with_untracked(|known| known.contains(what)) != open {
            self.open.update(|known| {
                if open {
                    known.insert(what.clone());
                } else {
                    known.remove(what);
                }
            });
        }
    }

    /// Opens what a place is in and goes there.
    pub fn go_to(&self, place: &str) {
        if let Some(entry) = self.whole.with_untracked(|whole| entry_at(whole, place)) {
            self.go_to_entry(&entry);
        }
        focus_soon(ids::field(place));
    }

    /// Opens an entry and goes there.
    pub fn go_to_entry(&self, entry: &(Section, String)) {
        self.sought.update(|sought| drop(sought.remove(&entry.0)));
        self.set_open(&(entry.0, String::new()), true);
        self.set_open(entry, true);
        focus_soon(row_id(entry));
    }
}

/// The id on the page of an entry's row.
pub fn row_id((section, id): &(Section, String)) -> String {
    format!("entry-{}-{id}", section.word())
}

/// Focuses what is about to be drawn; what is not there is passed over.
fn focus_soon(id: String) {
    set_timeout(move || page::focus(&id), Duration::from_millis(60));
}

impl Slips {
    fn of(whole: &TypeSheet) -> Self {
        let mut slips = Self { all: lint(whole), ..Self::default() };
        for slip in &slips.all {
            slips.said.entry(slip.place.clone()).or_default().push(say(&slip.kind));
            if let Some(entry) = entry_at(whole, &slip.place) {
                *slips.of_entry.entry(entry).or_default() += 1;
            }
        }
        slips
    }
}
