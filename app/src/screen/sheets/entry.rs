//! An entry of a section: a line that opens to its form.

use kerbworth_core::sheet::edit::SheetEdit;
use kerbworth_core::sheet::outline::{Line, Whose};
use kerbworth_core::sheet::part::{Head, Part, Section};
use leptos::prelude::*;

use super::bench::{Bench, bench, row_id};
use super::field::{At, fields, message};
use super::fold::{Open, fold};
use super::rows::rows;
use crate::live::{Derived, live, memo};
use crate::words::t;

/// The line of an entry.
pub fn entry(section: Section, line: &Line) -> AnyView {
    let bench = bench();
    let (what, whose) = (StoredValue::new((section, line.id.clone())), line.whose);
    let part = memo(move || {
        what.with_value(|(section, id)| match whose {
            Whose::Inherited => bench.base().and_then(|base| Part::of(&base, *section, id)),
            Whose::Own | Whose::Changed => bench.own.with(|own| Part::of(own, *section, id)),
        })
    });
    let called = move || part.with(|part| part.as_ref().map(|part| part.name().to_owned()).unwrap_or_default());
    let wrong =
        memo(move || what.with_value(|what| bench.slips.with(|slips| slips.of_entry.get(what).copied().unwrap_or(0))));
    let extends = bench.own.with_untracked(|own| own.extends.is_some());
    let mark = match whose {
        Whose::Own if extends => Some(t("of this sheet")),
        Whose::Changed => Some(t("changed here")),
        _ => None,
    };
    let summary = view! {
        <span class="entry-line">
            <span>{live(called)}</span>
            <span class="quiet">{t(line.belongs)} {mark.map(|mark| view! { " " <em>{mark}</em> })}</span>
            {live(move || {
                let wrong = wrong.get();
                (wrong > 0).then(|| view! { <span class="message">{wrong} " " {t("to mend")}</span> })
            })}
        </span>
    };
    let open = Open {
        is: memo(move || what.with_value(|what| bench.open.with(|open| open.contains(what)))),
        set: Callback::new(move |to| what.with_value(|what| bench.set_open(what, to))),
    };
    let id = what.with_value(row_id);
    fold("sheet-entry", Some(id), open, summary.into_any(), move || body(bench, part, whose))
}

/// The form of an entry. What is inherited is shown and cannot be typed in.
fn body(bench: Bench, part: Derived<Option<Part>>, whose: Whose) -> AnyView {
    let at = At { part, row: None };
    let fixed = bench.fixed || whose == Whose::Inherited;
    let wrong = (at.place(""), at.place("id"));
    let is_limits = matches!(part.get_untracked(), Some(Part::Reading(_)));
    view! {
        <div class="row">{(!bench.fixed).then(|| ways(bench, part, whose))}</div>
        // Rows of limits tell what is wrong with the whole reading themselves.
        {(!is_limits).then(|| message(wrong.0))}
        {message(wrong.1)}
        <fieldset disabled=fixed>
            {fields(at)}
            {rows(at)}
        </fieldset>
    }
    .into_any()
}

/// What can be done with an entry as a whole.
fn ways(bench: Bench, part: Derived<Option<Part>>, whose: Whose) -> AnyView {
    let take_out = move |_| {
        let edit = part.with_untracked(|part| {
            let part = part.as_ref()?;
            bench.own.with_untracked(|own| Some(SheetEdit::take(own, part.section()?, part.id())))
        });
        edit.into_iter().for_each(|edit| bench.edit(edit));
    };
    match whose {
        Whose::Own => view! { <button type="button" on:click=take_out>{t("Take it out")}</button> }.into_any(),
        Whose::Changed => {
            view! { <button type="button" on:click=take_out>{t("Back to the general one")}</button> }.into_any()
        }
        Whose::Inherited => {
            let change = move |_| {
                part.get_untracked().into_iter().for_each(|part| bench.edit(SheetEdit::Put(part)));
            };
            let leave_out = move |_| {
                let id = part.with_untracked(|part| part.as_ref().map(|part| part.id().to_owned()));
                id.into_iter().for_each(|id| do_without(bench, id, true));
            };
            view! {
                <button type="button" on:click=change>{t("Change here")}</button>
                <button type="button" on:click=leave_out>{t("This kind of car has none")}</button>
            }
            .into_any()
        }
    }
}

/// Leaves something of the general sheet out, or takes it in again.
pub fn do_without(bench: Bench, id: String, gone: bool) {
    let mut head = bench.own.with_untracked(Head::of);
    head.without.retain(|known| *known != id);
    if gone {
        head.without.push(id);
    }
    bench.edit(SheetEdit::Put(Part::Head(Box::new(head))));
}
