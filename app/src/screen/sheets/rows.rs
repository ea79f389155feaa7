//! Rows of a part: signs of a check, links of a fault, limits of a reading.

use kerbworth_core::sheet::form::{Rows, Target};
use kerbworth_core::sheet::outline::name_of;
use kerbworth_core::sheet::part::Part;
use leptos::prelude::*;

use super::bench::bench;
use super::field::{At, fields, message};
use super::search::{new_by_name, search};
use crate::live::{Each, live, memo};
use crate::words::t;

/// The rows of a part with a way to begin another; nothing for a part without rows.
pub fn rows(at: At) -> Option<AnyView> {
    let kind = at.part.with_untracked(|part| part.as_ref().and_then(Part::kind_of_rows))?;
    let keys = memo(move || {
        let keys = at.part.with(|part| part.as_ref().map(Part::rows).unwrap_or_default());
        keys.into_iter().enumerate().collect::<Vec<_>>()
    });
    let place = at.place(kind.word());
    let whole = at.place("");
    let name = t(kind.name());
    let target = kind.target();
    let about_whole = matches!(kind, Rows::Limits(_)).then(|| message(whole));
    Some(
        view! {
            <h3>{name}</h3>
            {message(place.clone())}
            {about_whole}
            <Each each=move || keys.get() key=Clone::clone children=move |(row, key)| one_row(at, row, key, target) />
            {another(at, &place, &kind)}
        }
        .into_any(),
    )
}

fn one_row(at: At, row: usize, key: String, target: Option<Target>) -> AnyView {
    let bench = bench();
    let at = At { row: Some(row), ..at };
    let wrong = (at.place(""), at.place("id"));
    // A link is called as its sign, a limit as its result; a sign names itself in its first field.
    let called = memo(move || match target {
        Some(target) => bench.whole.with(|whole| name_of(whole, target, &key)),
        None => at.part.with(|part| match part.as_ref().and_then(Part::kind_of_rows) {
            Some(Rows::Limits(results)) => {
                let label = results.iter().find(|(name, _)| *name == key).map(|(_, label)| t(label).to_owned());
                label.unwrap_or_else(|| key.clone())
            }
            _ => format!("{} {}", t("Sign"), row + 1),
        }),
    });
    view! {
        <fieldset class="one-row">
            <legend>{live(move || called.get())}</legend>
            {message(wrong.0)}
            {message(wrong.1)}
            {fields(at)}
            <button type="button" class="bare" aria-label=move || format!("{} {}", t("Take out"), called.get())
                on:click=move |_| at.change(|part| part.take_row(row))>{t("Take out")}</button>
        </fieldset>
    }
    .into_any()
}

/// The way to begin another row.
fn another(at: At, place: &str, kind: &Rows) -> AnyView {
    let bench = bench();
    let add = move |key: String, name: String| at.change(|part| part.add_row(key, name));
    match kind {
        Rows::Signs => {
            let make = Callback::new(move |name: String| add(bench.fresh_id(&name), name));
            new_by_name(&format!("{place}-new"), "What else may be noticed", "Add sign", make)
        }
        Rows::Links => {
            let choose = Callback::new(move |id: String| {
                if !at.part.with_untracked(|part| part.as_ref().is_some_and(|part| part.rows().contains(&id))) {
                    add(id, String::new());
                }
            });
            search(place, t("Add a sign that it shows, by name").to_owned(), Target::Sign, choose)
        }
        Rows::Limits(_) => {
            // What a rule works out changes with the rule.
            let results = memo(move || {
                at.part.with(|part| match part.as_ref().and_then(Part::kind_of_rows) {
                    Some(Rows::Limits(results)) => results,
                    _ => Vec::new(),
                })
            });
            let button = move |(name, label): (&'static str, &'static str)| {
                view! { <button type="button" on:click=move |_| add(name.to_owned(), String::new())>{t(label)}</button> }
            };
            view! {
                <fieldset class="new">
                    <legend>{t("Add a limit on")}</legend>
                    <div class="row"><Each each=move || results.get() key=|result| *result children=button /></div>
                </fieldset>
            }
            .into_any()
        }
    }
}
