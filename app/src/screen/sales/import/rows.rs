//! What the rows come to: how many can be added, which look like sales that are there, and which need mending.

use kerbworth_core::ledger::import::{Alike, Row};
use kerbworth_core::ledger::table::Table;
use leptos::prelude::*;

use super::Pasted;
use crate::ids;
use crate::live::{Each, Shown, live, memo};
use crate::words::{say, t};

/// Rows that are listed at most.
const LISTED: usize = 50;

/// The summary, the lists and the button.
#[component]
pub fn Rows(pasted: Pasted) -> impl IntoView {
    let count = move |is: fn(&Row) -> bool| pasted.rows.with(|rows| rows.iter().filter(|row| is(row)).count());
    let going = move || pasted.rows.with(|rows| rows.iter().filter(|row| pasted.goes_in(row)).count());
    let bad = memo(move || count(|row| row.sale.is_err()));
    // A row that was mended stays until rows are added: if it went at once, the button would move from under the hand.
    let listed = memo(move || {
        let is_listed = |row: &&Row| row.sale.is_err() || pasted.mended.with(|mended| mended.contains(&row.row));
        pasted.rows.with(|rows| rows.iter().filter(is_listed).map(|row| row.row).take(LISTED).collect::<Vec<_>>())
    });
    let alike = memo(move || count(|row| row.alike.is_some()));
    let left_out = move || {
        let said = pasted.table.with(|table| table.left_out().map(|phrase| say(&phrase)));
        said.map(|said| view! { <p class="message" role="alert">{said}</p> })
    };
    view! {
        <h2>{t("The rows")}</h2>
        <p role="status">
            {t("Rows:")} " " {live(move || count(|_| true))} "; " {t("can be read:")} " " {live(move || count(|row| row.sale.is_ok()))}
            "; " {t("need mending:")} " " {live(move || bad.get())} "; "
            {t("look like a sale that is there:")} " " {live(move || alike.get())}
        </p>
        {live(left_out)}
        <Shown when=memo(move || alike.get() != 0)>
            <Alikes pasted />
        </Shown>
        <Shown when=memo(move || bad.get() != 0)>
            <p class="quiet">{t("Mend a row in its text, or leave it: the good rows are added without it.")}</p>
        </Shown>
        <ul class="plain">
            <Each each=move || listed.get() key=|row| *row let:row>
                <Mend pasted row />
            </Each>
        </ul>
        <Shown when=memo(move || { bad.get() > LISTED })>
            <p>{t("More rows need mending; mend these first, or another choice above reads them all.")}</p>
        </Shown>
        <button type="button" class="button chief" disabled=move || going() == 0 on:click=move |_| pasted.add()>
            {t("Add the good rows")} " (" {live(going)} ")"
        </button>
    }
}

/// Rows that look like a sale that is there, and whether they are added all the same.
#[component]
fn Alikes(pasted: Pasted) -> impl IntoView {
    let line = |row: &Row| {
        let (alike, common) = row.alike?;
        let other = match alike {
            Alike::Known(place) => format!("{} {}", t("sale"), place + 1),
            Alike::Row(number) => format!("{} {number}", t("row")),
        };
        let said = format!("{} {} – {other}: {}", t("Row"), row.row, t(common.name()));
        Some(view! { <li>{said}</li> })
    };
    let lines = move || pasted.rows.with(|rows| rows.iter().filter_map(line).take(LISTED).collect::<Vec<_>>());
    view! {
        <ul>{live(lines)}</ul>
        <label class="tick">
            <input type="checkbox" prop:checked=pasted.with_alike
                on:change=move |_| pasted.with_alike.update(|with| *with = !*with) />
            {t("Add these too")}
        </label>
    }
}

/// A row that could not be read, with what is wrong; it is read again when the field is left.
#[component]
fn Mend(pasted: Pasted, row: usize) -> impl IntoView {
    let read = memo(move || {
        pasted.rows.with(|rows| {
            let read = rows.iter().find(|here| here.row == row)?;
            let wrong = read.sale.as_ref().err().into_iter().flatten().map(say).collect::<Vec<_>>();
            let text = |table: &Table| Some(table.rows.iter().find(|here| here.row == row)?.text.clone());
            Some((pasted.table.with(text)?, wrong))
        })
    });
    let place = format!("paste.row.{row}");
    let (id, message) = (ids::field(&place), ids::message(&place));
    let text = move || read.with(|read| read.as_ref().map(|(text, _)| text.clone()).unwrap_or_default());
    let is_wrong = move || read.with(|read| read.as_ref().is_some_and(|(_, wrong)| !wrong.is_empty()));
    let wrong = move || {
        let wrong = read.with(|read| read.as_ref().map(|(_, wrong)| wrong.clone()).unwrap_or_default());
        if wrong.is_empty() {
            return view! { <li>{t("This row can be read now.")}</li> }.into_any();
        }
        wrong.into_iter().map(|said| view! { <li class="message">{said}</li> }).collect_view().into_any()
    };
    view! {
        <li class="field">
            <label for=id.clone()>{t("Row")} " " {row}</label>
            <textarea id=id rows="1" aria-invalid=move || is_wrong().then_some("true") aria-describedby=message.clone() prop:value=text
                on:change=move |event| {
                    let text = event_target_value(&event);
                    pasted.mended.update(|mended| mended.push(row));
                    pasted.table.update(|table| table.mend(row, &text));
                }
            ></textarea>
            <ul class="plain" id=message>{live(wrong)}</ul>
        </li>
    }
}
