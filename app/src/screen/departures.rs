//! Departures from how the car was made, and those that combine badly.

use kerbworth_core::sheet::{Combination, Departure};
use kerbworth_core::worksheet::Edit;
use leptos::prelude::*;

use crate::browser::page;
use crate::live::{Derived, Each, Shown, live, memo};
use crate::part::choice::Buttons;
use crate::part::tally::UnsafeMark;
use crate::store::desk::desk;
use crate::words::t;

/// The screen.
#[component]
pub fn DeparturesScreen() -> impl IntoView {
    let departures = desk().sheet.with_untracked(|sheet| sheet.departures.clone());
    let empty = departures.is_empty();
    let there =
        memo(move || desk().worksheet.with(|worksheet| worksheet.departures.values().filter(|there| **there).count()));
    let bad = memo(move || desk().appraisal.with(|appraisal| appraisal.combinations.clone()));
    let said = move || format!("{}: {} · {}: {}", t("There"), there.get(), t("combine badly"), bad.with(Vec::len));
    view! {
        <h1>{t("Departures")}</h1>
        <p>
            {t("How this car differs from how it was made. None of these is a fault by itself; some combine badly.")}
        </p>
        {empty.then(|| view! { <p>{t("The type sheet lists no departures.")}</p> })}
        <div class="row">
            <span role="status">{live(said)}</span>
            <button
                type="button"
                disabled=move || bad.with(Vec::is_empty)
                on:click=move |_| page::show_soon(BAD.to_owned())
            >
                {t("What combines badly")}
            </button>
        </div>
        <h2>{t("What to look for")}</h2>
        <ul class="plain ruled">
            {departures.into_iter().map(|departure| view! { <OneDeparture departure bad /> }).collect_view()}
        </ul>
        <Bad bad />
    }
}

/// The id of the part that says what combines badly.
const BAD: &str = "departures-bad";

/// The combinations that are there; below the list, where they move nothing under the thumb as they come.
#[component]
fn Bad(bad: Derived<Vec<String>>) -> impl IntoView {
    view! {
        <Shown when=memo(move || bad.with(|bad| !bad.is_empty()))>
            <section id=BAD tabindex="-1">
                <h2>{t("Combines badly")}</h2>
                <Each each=move || bad.get() key=Clone::clone let:id>
                    <OneCombination id />
                </Each>
            </section>
        </Shown>
    }
}

fn combination(id: &str) -> Option<Combination> {
    desk().sheet.with_untracked(|sheet| sheet.combinations.iter().find(|it| it.id == id).cloned())
}

/// Names of the departures that a combination is made of.
fn names(all: &[String]) -> String {
    desk().sheet.with_untracked(|sheet| {
        let named = all.iter().filter_map(|id| sheet.departures.iter().find(|departure| departure.id == *id));
        named.map(|departure| departure.name.clone()).collect::<Vec<_>>().join(" + ")
    })
}

#[component]
fn OneCombination(id: String) -> impl IntoView {
    combination(&id).map(|Combination { all, effect, hold, .. }| {
        view! {
            <div class="notice" class:hold=hold>
                <p><strong>{names(&all)}</strong> {hold.then(|| view! { " " <UnsafeMark /> })}</p>
                <p>{effect}</p>
            </div>
        }
    })
}

/// At a departure: the bad combination that it is part of.
#[component]
fn PartOf(id: String) -> impl IntoView {
    combination(&id).map(|Combination { all, hold, .. }| {
        view! {
            <p>
                {hold.then(|| view! { <UnsafeMark /> " " })}
                <strong>{t("Combines badly:")}</strong>
                " "
                {names(&all)}
            </p>
        }
    })
}

#[component]
fn OneDeparture(departure: Departure, bad: Derived<Vec<String>>) -> impl IntoView {
    let Departure { id, name, tell, effect } = departure;
    let (stored, mine, put) = (id.clone(), id.clone(), id);
    let there = memo(move || desk().worksheet.with(|worksheet| worksheet.departures.get(&stored).copied()));
    let word = |there: bool| if there { "there" } else { "not-there" }.to_owned();
    let options = vec![(word(true), t("there").to_owned()), (word(false), t("not there").to_owned())];
    let part_of = memo(move || {
        let holds = |id: &String| combination(id).is_some_and(|it| it.all.contains(&mine));
        bad.with(|bad| bad.iter().filter(|id| holds(id)).cloned().collect::<Vec<_>>())
    });
    view! {
        <li class="departure">
            <Buttons
                label=name
                options
                chosen=memo(move || there.get().map(word).unwrap_or_default())
                choose=move |pressed: String| {
                    let pressed = Some(pressed == word(true)).filter(|pressed| there.get_untracked() != Some(*pressed));
                    desk().edit(Edit::Departure(put.clone(), pressed));
                }
            />
            <p class="quiet">{tell}</p>
            {(!effect.is_empty()).then(|| view! { <p>{effect}</p> })}
            <Each each=move || part_of.get() key=Clone::clone let:id>
                <PartOf id />
            </Each>
        </li>
    }
}
