//! What is done with a document: print, copy, share, save; and the files of the worksheet.

use kerbworth_core::bundle;
use kerbworth_core::hand_over::file::{file_name, worksheet_file};
use kerbworth_core::hand_over::{Case, Document, Kind, table};
use leptos::prelude::*;

use super::{text_of, with_case};
use crate::browser::share::Shared;
use crate::browser::{clipboard, file, page, share};
use crate::live::{Derived, live, wait};
use crate::store::bundles;
use crate::store::desk::desk;
use crate::words::t;

/// The text area from which a text is copied by hand.
const BY_HAND: &str = "copy-by-hand";

/// What came of the last press.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Outcome {
    /// Nothing yet, or nothing worth saying.
    Nothing,
    /// A sentence says it.
    Said(&'static str),
    /// The text has to be copied by hand.
    ByHand,
}

/// Print, copy, share and save.
#[component]
pub fn Actions(
    /// The document.
    document: Derived<Document>,
    /// Which it is.
    kind: Kind,
) -> impl IntoView {
    let desk = desk();
    let outcome = RwSignal::new(Outcome::Nothing);
    let text = move || document.with_untracked(|document| text_of(desk, document));
    let copy = move |_| {
        let text = text();
        wait(async move {
            let copied = clipboard::copy(&text).await;
            outcome.set(if copied { Outcome::Said("Copied.") } else { Outcome::ByHand });
        });
    };
    let share = move |_| {
        let (title, text) = (document.with_untracked(|document| document.title.clone()), text());
        wait(async move {
            outcome.set(match share::share(&title, &text).await {
                Shared::Done => Outcome::Said("Handed on."),
                Shared::Left => Outcome::Nothing,
                Shared::Refused => Outcome::Said("The device would not share it; copy it as text instead."),
            });
        });
    };
    let save = move |_| {
        let word = kind.file_word();
        let name = desk.worksheet.with_untracked(|worksheet| file_name(worksheet, word, "txt"));
        outcome.set(said_of_file(file::save(&name, "text/plain;charset=utf-8", &text())));
    };
    view! {
        <div class="row">
            <button type="button" on:click=move |_| page::print()>{t("Print")}</button>
            <button type="button" on:click=copy>{t("Copy as text")}</button>
            {share::is_there().then(|| view! { <button type="button" on:click=share>{t("Share")}</button> })}
            <button type="button" on:click=save>{t("Save as text")}</button>
        </div>
        <Told outcome />
        {live(move || (outcome.get() == Outcome::ByHand).then(|| view! { <ByHand text=text() /> }))}
    }
}

/// Says what came of the last press.
#[component]
fn Told(
    /// What came of it.
    outcome: RwSignal<Outcome>,
) -> impl IntoView {
    let said = move || match outcome.get() {
        Outcome::Said(said) => t(said),
        Outcome::Nothing | Outcome::ByHand => "",
    };
    view! { <p class="quiet" role="status">{live(said)}</p> }
}

/// The text to be copied by hand, selected.
#[component]
fn ByHand(
    /// The text.
    text: String,
) -> impl IntoView {
    request_animation_frame(|| clipboard::select(BY_HAND));
    view! {
        <div class="field">
            <label for=BY_HAND>
                {t("The browser does not let this page copy. The text is selected here: copy it by hand.")}
            </label>
            <textarea id=BY_HAND rows="8" readonly prop:value=text></textarea>
        </div>
    }
}

const fn said_of_file(saved: bool) -> Outcome {
    if saved {
        Outcome::Said("Handed to the browser as a file.")
    } else {
        Outcome::Said("The browser would not save a file; copy the text instead.")
    }
}

/// Before a table's text: without it the usual spreadsheet takes the letters for those of an older alphabet.
const BYTE_ORDER_MARK: char = '\u{feff}';

/// The files of the worksheet.
#[component]
pub fn Files() -> impl IntoView {
    let desk = desk();
    let outcome = RwSignal::new(Outcome::Nothing);
    let worksheet = move |_| {
        let (name, text) =
            desk.worksheet.with_untracked(|worksheet| (file_name(worksheet, "", "json"), worksheet_file(worksheet)));
        outcome.set(said_of_file(file::save(&name, "application/json", &text)));
    };
    let with_photos = move |_| {
        wait(async move {
            let name = desk.worksheet.with_untracked(|worksheet| file_name(worksheet, "", "zip"));
            let written = bundle::write(&bundles::of_open(desk).await);
            outcome.set(said_of_file(written.is_some_and(|bytes| file::save_bytes(&name, "application/zip", &bytes))));
        });
    };
    let save_table = move |what: &str, write: fn(Case<'_>) -> String| {
        let (name, text) = untrack(|| with_case(desk, |case| (file_name(case.worksheet, what, "csv"), write(case))));
        outcome.set(said_of_file(file::save(&name, "text/csv;charset=utf-8", &format!("{BYTE_ORDER_MARK}{text}"))));
    };
    view! {
        <details>
            <summary>{t("Save as a file")}</summary>
            <p class="quiet">
                {t("The worksheet opens again from the shelf, here or on another device. The tables open in a spreadsheet.")}
            </p>
            <div class="row">
                <button type="button" on:click=worksheet>{t("Worksheet")}</button>
                <button type="button" on:click=with_photos>{t("Worksheet with photographs")}</button>
                <button type="button" on:click=move |_| save_table("findings", table::findings)>
                    {t("Findings as a table")}
                </button>
                <button type="button" on:click=move |_| save_table("sales", table::sales)>
                    {t("Sales as a table")}
                </button>
                <button type="button" on:click=move |_| save_table("grid", table::grid)>
                    {t("Adjustments as a table")}
                </button>
            </div>
            <Told outcome />
        </details>
    }
}
