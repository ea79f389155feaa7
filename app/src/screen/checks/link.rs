//! A link to a check, from wherever it is named: goes to its stage, opens its row and puts the focus there.

use std::cell::RefCell;
use std::collections::BTreeMap;

use kerbworth_core::sheet::Stage;
use leptos::prelude::*;

use super::list::Part;
use crate::browser::page;
use crate::ids;
use crate::route::Screen;
use crate::store::desk::desk;

thread_local! {
    /// The check that a link was followed to, until the screen of its stage takes it.
    static WANTED: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// What is shown of a stage: handed down by its screen.
#[derive(Clone, Copy)]
pub struct Here {
    /// Which stage.
    pub stage: Stage,
    /// Ids of the checks that are opened, and whether for their signs: by a grade, not by their name.
    pub opened: RwSignal<BTreeMap<String, bool>>,
    /// Which checks are listed.
    pub part: RwSignal<Part>,
    /// What is searched for; blank if nothing.
    pub words: RwSignal<String>,
}

impl Here {
    /// The stage as it is come to: with the check opened that a link was followed to.
    pub fn arrive(stage: Stage) -> Self {
        let wanted = WANTED.take();
        if let Some(check) = &wanted {
            page::show_soon(name_id(check));
        }
        Self {
            stage,
            opened: RwSignal::new(wanted.into_iter().map(|check| (check, false)).collect()),
            part: RwSignal::new(Part::All),
            words: RwSignal::new(String::new()),
        }
    }

    /// The screen that is shown, if it is a stage's.
    pub fn now() -> Option<Self> {
        use_context()
    }

    /// Opens or shuts a check.
    pub fn open(&self, check: &str, open: bool) {
        self.opened.update(|opened| {
            if open {
                opened.entry(check.to_owned()).or_insert(false);
            } else {
                opened.remove(check);
            }
        });
    }

    /// Opens a check that was graded, for its signs; one that is open stays as it is.
    pub fn offer_signs(&self, check: &str) {
        self.opened.update(|opened| {
            opened.entry(check.to_owned()).or_insert(true);
        });
    }

    /// Goes to a check of this stage.
    fn go(&self, check: &str) {
        if self.part.get_untracked() != Part::All {
            self.part.set(Part::All);
        }
        if self.words.with_untracked(|words| !words.is_empty()) {
            self.words.set(String::new());
        }
        self.open(check, true);
        page::show_soon(name_id(check));
    }
}

/// The id of the name by which a check's row is opened.
pub fn name_id(check: &str) -> String {
    format!("{}-name", ids::check(check))
}

/// A check's name as a link to it.
#[component]
pub fn CheckLink(
    /// The check's id.
    #[prop(into)]
    check: String,
) -> AnyView {
    let found = desk().sheet.with_untracked(|sheet| {
        let check = sheet.check(&check)?;
        Some((check.name.clone(), check.stage))
    });
    let Some((name, stage)) = found else { return check.into_any() };
    let here = Here::now().filter(|here| here.stage == stage);
    let follow = move |_| match here {
        Some(here) => here.go(&check),
        None => WANTED.set(Some(check.clone())),
    };
    view! { <a class="check-link" href=Screen::Checks(stage).fragment() on:click=follow>{name}</a> }.into_any()
}
