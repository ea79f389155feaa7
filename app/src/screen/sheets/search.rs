//! Finding something of the sheet by its name, and fields that hold what was found.

use kerbworth_core::sheet::form::{Content, Field, Target};
use kerbworth_core::sheet::outline::{has_words, name_of, names};
use leptos::prelude::*;

use super::bench::bench;
use super::field::{At, message};
use crate::ids;
use crate::live::{Each, Shown, live, memo};
use crate::words::t;

/// Names offered at a time.
const MOST_FOUND: usize = 8;

/// A field that finds something by words of its name, and hands on its id.
pub fn search(place: &str, label: String, target: Target, choose: Callback<String>) -> AnyView {
    let bench = bench();
    let id = ids::field(place);
    let sought = RwSignal::new(String::new());
    let found = memo(move || {
        let sought = sought.get();
        if sought.trim().is_empty() {
            return Vec::new();
        }
        let mut all = bench.whole.with(|whole| names(whole, target));
        all.retain(|(_, name)| has_words(name, &sought));
        all.truncate(MOST_FOUND);
        all
    });
    let nothing = move || found.with(Vec::is_empty) && sought.with(|sought| !sought.trim().is_empty());
    let offer = move |(id, name): (String, String)| {
        let choose_it = move |_| {
            sought.set(String::new());
            choose.run(id.clone());
        };
        view! { <li><button type="button" class="bare" on:click=choose_it>{name}</button></li> }
    };
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <input id=id type="search" autocomplete="off" prop:value=sought
                on:input=move |event| sought.set(event_target_value(&event)) />
            <ul class="plain found">
                <Each each=move || found.get() key=Clone::clone children=offer />
            </ul>
            <Shown when=memo(nothing)>
                <p class="quiet" role="status">{t("Nothing is called that.")}</p>
            </Shown>
        </div>
    }
    .into_any()
}

/// A field that holds ids: what they are called, and a search for another.
pub fn named(at: At, field: &Field, target: Target, many: bool) -> AnyView {
    let bench = bench();
    let (name, label) = (field.name, t(field.label));
    let place = at.place(name);
    let held = memo(move || {
        at.part.with(|part| match part.as_ref().and_then(|part| part.field(at.row, name)) {
            Some(Content::Ids(ids)) => ids,
            _ => Vec::new(),
        })
    });
    let put = move |ids: Vec<String>| {
        at.change(|part| {
            part.fill(at.row, name, &Content::Ids(ids));
        });
    };
    let choose = Callback::new(move |id: String| {
        let mut ids = if many { held.get_untracked() } else { Vec::new() };
        if !ids.contains(&id) {
            ids.push(id);
        }
        put(ids);
    });
    let line = move |id: String| {
        let (called, gone) = (id.clone(), id);
        let called = memo(move || bench.whole.with(|whole| name_of(whole, target, &called)));
        let take_out = move |_| put(held.get_untracked().into_iter().filter(|id| *id != gone).collect());
        view! {
            <li class="card">
                <span>{live(move || called.get())}</span>
                <button type="button" class="bare" aria-label=move || format!("{} {}", t("Take out"), called.get())
                    on:click=take_out>{t("Take out")}</button>
            </li>
        }
    };
    let find = format!("{}: {}", label, if many { t("add by name") } else { t("choose by name") });
    view! {
        <div class="wide">
            <p class="label">{label}</p>
            <ul class="plain ruled">
                <Each each=move || held.get() key=Clone::clone children=line />
            </ul>
            <Shown when=memo(move || held.with(Vec::is_empty))>
                <p class="quiet">{t("none")}</p>
            </Shown>
            {message(place.clone())}
            // One that is held is taken out before another is chosen.
            <Shown when=memo(move || many || held.with(Vec::is_empty))>{search(&place, find.clone(), target, choose)}</Shown>
        </div>
    }
    .into_any()
}

/// A name for something new, and the button that makes it.
pub fn new_by_name(id: &str, label: &'static str, button: &'static str, make: Callback<String>) -> AnyView {
    let id = ids::field(id);
    let name = RwSignal::new(String::new());
    let blank = RwSignal::new(false);
    let add = move |_| {
        let given = name.get_untracked().trim().to_owned();
        blank.set(given.is_empty());
        if !given.is_empty() {
            name.set(String::new());
            make.run(given);
        }
    };
    view! {
        <div class="row new">
            <div class="field">
                <label for=id.clone()>{t(label)}</label>
                <input id=id type="text" autocomplete="off" prop:value=name
                    on:input=move |event| name.set(event_target_value(&event)) />
                <Shown when=memo(move || blank.get())>
                    <p class="message" role="alert">{t("say what it is called")}</p>
                </Shown>
            </div>
            <button type="button" on:click=add>{t(button)}</button>
        </div>
    }
    .into_any()
}
