//! Finding a check by a word, in all stages.

use kerbworth_core::phrase;
use kerbworth_core::walk::search::{Hit, search};
use leptos::prelude::*;

use super::link::{CheckLink, Here};
use crate::live::{Each, live, memo};
use crate::store::desk::desk;
use crate::words::{say, t};

/// The field.
#[component]
pub fn Words(here: Here) -> impl IntoView {
    view! {
        <div class="field search">
            <label class="unseen" for="field-search">{t("Find a check, sign, fault or note")}</label>
            <input
                id="field-search"
                type="search"
                autocomplete="off"
                placeholder=t("Find a check, sign, fault or note")
                prop:value=move || here.words.get()
                on:input=move |event| here.words.set(event_target_value(&event))
            />
        </div>
    }
}

/// What holds the words.
#[component]
pub fn Hits(here: Here) -> impl IntoView {
    let desk = desk();
    let hits = memo(move || {
        here.words.with(|words| {
            desk.appraisal.with_untracked(|appraisal| {
                desk.worksheet.with_untracked(|worksheet| {
                    desk.sheet.with_untracked(|sheet| search(sheet, worksheet, &appraisal.tags, words))
                })
            })
        })
    });
    let said = move || match hits.with(Vec::len) {
        0 => t("Nothing found; try a shorter word.").to_owned(),
        1 => t("One check found.").to_owned(),
        count => say(&phrase!("{0} checks found.", count)),
    };
    view! {
        <p class="quiet" role="status">{live(said)}</p>
        <ul class="plain ruled">
            <Each each=move || hits.get() key=|hit: &Hit| (hit.check.clone(), hit.within.clone()) let:hit>
                <li class="hit">
                    <CheckLink check=hit.check />
                    <p class="quiet">
                        {t(hit.stage.name())}
                        {(!hit.within.is_empty()).then(|| format!(" · {}", hit.within))}
                    </p>
                </li>
            </Each>
        </ul>
    }
}
