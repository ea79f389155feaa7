//! Finding type sheets: the general one, the demo's, and the person's own.

use std::collections::BTreeMap;
use std::sync::Arc;

use kerbworth_core::merge::Conflict;
use kerbworth_core::sheet::edit::fresh_id;
use kerbworth_core::sheet::{self, TypeSheet, extend, general};
use kerbworth_core::steps::Steps;
use leptos::prelude::*;

use super::Keeper;
use super::keep::Key;
use super::known::Known;
use super::track::Track;

/// All type sheets by id: those of the program, and those of the person, which win over them.
#[derive(Clone, Copy)]
pub struct Sheets {
    keeper: Keeper,
    /// The general sheet.
    general: StoredValue<Arc<TypeSheet>>,
    /// The person's own sheets as written, without what they extend.
    pub own: RwSignal<BTreeMap<String, TypeSheet>>,
    known: StoredValue<BTreeMap<String, Known<TypeSheet>>>,
    /// The sheet that is being written, ahead of what is kept of it, and its steps.
    pub bench: StoredValue<Option<(RwSignal<TypeSheet>, Track)>>,
}

impl Sheets {
    /// Reads the program's sheets and the person's.
    pub fn open(keeper: Keeper) -> Self {
        let general = general::general().unwrap_or_default();
        let sheets = Self {
            keeper,
            general: StoredValue::new(Arc::new(general)),
            own: RwSignal::default(),
            known: StoredValue::default(),
            bench: StoredValue::default(),
        };
        sheets.hear_others();
        sheets
    }

    /// The general sheet.
    pub fn general(&self) -> Arc<TypeSheet> {
        self.general.get_value()
    }

    /// The whole of the sheet with an id: with what it extends. The general sheet if there is none.
    pub fn whole(&self, id: &str) -> Arc<TypeSheet> {
        let own = self.own.with(|own| own.get(id).cloned()).or_else(|| shipped(id));
        match own {
            Some(own) if own.extends.is_none() => Arc::new(own),
            Some(own) => Arc::new(extend::extend(&self.general(), &own)),
            None => self.general(),
        }
    }

    /// The sheet with an id as it was written, without what it extends.
    pub fn as_written(&self, id: &str) -> Option<TypeSheet> {
        let own = self.own.with_untracked(|own| own.get(id).cloned());
        own.or_else(|| (id == general::ID).then(|| (*self.general()).clone())).or_else(|| shipped(id))
    }

    /// A sheet id that no other sheet has.
    pub fn free_id(&self, name: &str) -> String {
        fresh_id("", name, |id| self.as_written(id).is_some())
    }

    /// Ids and names of all sheets, the general one first.
    pub fn names(&self) -> Vec<(String, String)> {
        let general = self.general();
        let mut names = vec![(general.id.clone(), general.name.clone())];
        let shipped = sheet::demo::curlew().ok().map(|demo| (demo.id.clone(), demo.name));
        names.extend(shipped.filter(|(id, _)| self.own.with(|own| !own.contains_key(id))));
        names.extend(
            self.own.with(|own| own.iter().map(|(id, own)| (id.clone(), own.name.clone())).collect::<Vec<_>>()),
        );
        names
    }

    /// Keeps a sheet of the person's own, together with what another tab made of it.
    pub fn put(&self, own: TypeSheet) {
        let id = own.id.clone();
        let key = Key::TypeSheet(id.clone());
        let own = self.hear(&key, &own).unwrap_or(own);
        self.known.update_value(|all| _ = all.entry(id.clone()).or_default().store(self.keeper, &key, &own));
        self.own.update(|all| _ = all.insert(id, own));
    }

    /// Keeps those of which something is not stored yet.
    pub fn store_now(&self) {
        for key in self.keeper.unstored() {
            let Key::TypeSheet(id) = &key else { continue };
            match self.here(id) {
                Some(own) => self.put(own),
                None => self.keeper.forget(&key),
            }
        }
    }

    /// Takes a sheet of the person's own away, and gives it.
    pub fn remove(&self, id: &str) -> Option<TypeSheet> {
        self.keeper.remove(&Key::TypeSheet(id.to_owned()));
        self.known.update_value(|all| _ = all.remove(id));
        self.own.try_update(|all| all.remove(id)).flatten()
    }

    /// Takes the other tab's word where both changed the same.
    pub fn take_theirs(&self, id: &str, conflict: &Conflict) {
        let Some(own) = self.here(id) else { return };
        let theirs = conflict.take_theirs(&own);
        self.lay_on_bench(&theirs);
        self.put(theirs);
    }

    /// Takes in what other tabs made of the sheets.
    pub fn hear_others(&self) {
        let there = self.keeper.ids(&Key::TypeSheet(String::new()));
        let gone = self.known.with_value(|all| {
            let gone = all.iter().filter(|(id, known)| known.is_stored() && !there.contains(id));
            gone.map(|(id, _)| id.clone()).collect::<Vec<_>>()
        });
        for id in gone {
            self.known.update_value(|all| _ = all.remove(&id));
            self.own.update(|own| _ = own.remove(&id));
        }
        for id in there {
            let mine = self.here(&id).unwrap_or_default();
            if let Some(heard) = self.hear(&Key::TypeSheet(id.clone()), &mine) {
                self.own.update(|own| _ = own.insert(id, heard));
            }
        }
    }

    /// A sheet of the person's own as it is on the bench, or as it is kept.
    fn here(&self, id: &str) -> Option<TypeSheet> {
        let on_bench = self.bench.get_value().and_then(|(own, _)| own.try_get_untracked());
        on_bench.filter(|own| own.id == id).or_else(|| self.own.with_untracked(|own| own.get(id).cloned()))
    }

    /// This tab's sheet together with what another tab stored of it since, if there is anything new.
    fn hear(&self, key: &Key, mine: &TypeSheet) -> Option<TypeSheet> {
        let Key::TypeSheet(id) = key else { return None };
        let heard = self.known.try_update_value(|all| match all.get_mut(id) {
            Some(known) => known.hear(self.keeper, key, mine).filter(|merged| merged.is_news_here).map(|it| it.both),
            None => {
                let known = Known::open(self.keeper, key)?;
                let body = known.body();
                all.insert(id.clone(), known);
                Some(body)
            }
        });
        let heard = heard.flatten()?;
        self.lay_on_bench(&heard);
        Some(heard)
    }

    /// What is heard of the sheet that is being written goes there as well. Its steps fit on it no more.
    fn lay_on_bench(&self, sheet: &TypeSheet) {
        let Some((own, track)) = self.bench.get_value() else { return };
        if own.try_with_untracked(|own| own.id == sheet.id && own != sheet) == Some(true) {
            own.set(sheet.clone());
            track.set(Steps::default());
        }
    }
}

/// A sheet that ships with the program beside the general one.
fn shipped(id: &str) -> Option<TypeSheet> {
    sheet::demo::curlew().ok().filter(|demo| demo.id == id)
}
