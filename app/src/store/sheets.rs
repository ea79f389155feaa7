//! Finding type sheets: the general one, the demo's, and the person's own.

use std::collections::BTreeMap;
use std::sync::Arc;

use kerbworth_core::sheet::edit::fresh_id;
use kerbworth_core::sheet::{self, TypeSheet, extend, general};
use leptos::prelude::*;

use super::Keeper;
use super::keep::Key;

/// All type sheets by id: those of the program, and those of the person, which win over them.
#[derive(Clone, Copy)]
pub struct Sheets {
    keeper: Keeper,
    /// The general sheet.
    general: StoredValue<Arc<TypeSheet>>,
    /// The person's own sheets as written, without what they extend.
    pub own: RwSignal<BTreeMap<String, TypeSheet>>,
}

impl Sheets {
    /// Reads the program's sheets and the person's.
    pub fn open(keeper: Keeper) -> Self {
        let general = general::general().unwrap_or_default();
        let kept = keeper.ids(&Key::TypeSheet(String::new()));
        let own = kept.into_iter().filter_map(|id| {
            let opened = keeper.get::<TypeSheet>(&Key::TypeSheet(id.clone()), sheet::FORMAT)?;
            Some((id, opened.body))
        });
        Self { keeper, general: StoredValue::new(Arc::new(general)), own: RwSignal::new(own.collect()) }
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

    /// Keeps a sheet of the person's own.
    pub fn put(&self, own: TypeSheet) {
        self.keeper.put(&Key::TypeSheet(own.id.clone()), 0, &own);
        self.own.update(|all| {
            all.insert(own.id.clone(), own);
        });
    }

    /// Takes a sheet of the person's own away, and gives it.
    pub fn remove(&self, id: &str) -> Option<TypeSheet> {
        self.keeper.remove(&Key::TypeSheet(id.to_owned()));
        self.own.try_update(|all| all.remove(id)).flatten()
    }
}

/// A sheet that ships with the program beside the general one.
fn shipped(id: &str) -> Option<TypeSheet> {
    sheet::demo::curlew().ok().filter(|demo| demo.id == id)
}
