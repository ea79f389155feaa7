//! A type sheet opened: its head, its sections, what is wrong in it, and what it makes of a worksheet.

use kerbworth_core::sheet::form::Target;
use kerbworth_core::sheet::outline::{entry_at, name_of};
use kerbworth_core::sheet::part::{Head, Part, Section};
use leptos::prelude::*;

use super::bench::{Bench, bench};
use super::field::{At, fields};
use super::fold::{Open, fold};
use super::left_out::left_out;
use super::list::save_as_file;
use super::section::section;
use super::trial::trial;
use crate::live::{Each, Shown, live, memo};
use crate::route::Screen;
use crate::words::t;

/// Slips listed at a time.
const MOST_SLIPS: usize = 30;

/// The editor of the sheet with an id.
pub fn editor(id: &str) -> AnyView {
    let back = view! { <a href=Screen::Sheets(None).fragment()>{t("All type sheets")}</a> };
    let Some(bench) = Bench::lay(id) else {
        return view! { <h1>{t("Type sheet")}</h1> <p>{t("There is no type sheet of this name here.")}</p> {back} }
            .into_any();
    };
    provide_context(bench);
    let name = move || bench.own.with(|own| own.name.clone());
    let head = memo(move || Some(Part::Head(Box::new(bench.own.with(Head::of)))));
    let intro = if bench.fixed {
        t(
            "This sheet ships with Kerbworth and is only looked at. Copy it, or begin a sheet that extends it, to change anything.",
        )
    } else {
        t("Every change is kept at once. What is of the general sheet stays as it is there until it is changed here.")
    };
    view! {
        <h1>{live(name)}</h1>
        <p class="quiet">{intro} " " {back}</p>
        <Bar />
        <ToMend />
        <fieldset disabled=bench.fixed>{fields(At { part: head, row: None })}</fieldset>
        {Section::ALL.map(section).collect_view()}
        {left_out()}
        {(!bench.fixed).then(trial)}
    }
    .into_any()
}

/// Back, forth, and out as a file; always in sight.
#[component]
fn Bar() -> impl IntoView {
    let bench = bench();
    let can = move |back: bool| {
        move || {
            let (steps_back, steps_forth) = bench.track.can.get();
            (if back { steps_back } else { steps_forth }) == 0
        }
    };
    view! {
        <div class="row bench-bar" role="group" aria-label=t("Changes")>
            {(!bench.fixed)
                .then(|| {
                    view! {
                        <button type="button" disabled=can(true) on:click=move |_| bench.undo()>{t("Undo")}</button>
                        <button type="button" disabled=can(false) on:click=move |_| bench.redo()>{t("Redo")}</button>
                    }
                })}
            <button type="button" on:click=move |_| bench.own.with_untracked(save_as_file)>{t("Save as a file")}</button>
        </div>
    }
}

/// Everything that is wrong or could not be read, each with the way to it.
#[component]
fn ToMend() -> impl IntoView {
    let bench = bench();
    // Place, what it is in, what is wrong.
    let all = memo(move || {
        let unread = bench.unread.with(|unread| {
            unread.iter().map(|(place, (typed, why))| (place.clone(), format!("“{typed}”: {why}"))).collect::<Vec<_>>()
        });
        let slips = bench
            .slips
            .with(|slips| slips.all.iter().map(|slip| (slip.place.clone(), slip.kind.to_string())).collect::<Vec<_>>());
        unread.into_iter().chain(slips).collect::<Vec<_>>()
    });
    let count = move || all.with(Vec::len);
    let line = move |(place, said): (String, String)| {
        let called = bench.whole.with_untracked(|whole| {
            entry_at(whole, &place).map(|(section, id)| {
                format!("{}, {}: ", t(section.name()), name_of(whole, Target::Entry(section), &id))
            })
        });
        let button = view! {
            <button type="button" class="bare slip" on:click=move |_| bench.go_to(&place)>
                {called.unwrap_or_default()} {said}
            </button>
        };
        view! { <li>{button}</li> }
    };
    let listed = move || all.get().into_iter().take(MOST_SLIPS).collect::<Vec<_>>();
    let open = Open::here();
    let inside = move || {
        view! {
            <ul class="plain ruled">
                <Each each=listed key=Clone::clone children=line />
            </ul>
            <Shown when=memo(move || { count() > MOST_SLIPS })>
                <p class="quiet">{live(move || count() - MOST_SLIPS)} " " {t("more")}</p>
            </Shown>
        }
        .into_any()
    };
    view! {
        <Shown when=memo(move || { count() > 0 })>
            {
                let summary = view! { <span role="status">{live(count)} " " {t("to mend in this sheet")}</span> };
                fold("notice", None, open, summary.into_any(), inside)
            }
        </Shown>
    }
}
