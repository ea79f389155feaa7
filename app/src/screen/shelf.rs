//! All worksheets: open one, start one, delete and bring back.

use kerbworth_core::bundle;
use kerbworth_core::link;
use kerbworth_core::parcel::Parcel;
use kerbworth_core::restore::restore;
use kerbworth_core::sheet::demo;
use kerbworth_core::worksheet::{self, Worksheet};
use leptos::prelude::*;

use crate::browser::file::{self, Chosen};
use crate::browser::{clock, page};
use crate::live::{Each, Shown, live, memo, wait};
use crate::route::Screen;
use crate::screen::arrivals::{Arrivals, Waiting};
use crate::screen::first_steps::FirstSteps;
use crate::store::desk::desk;
use crate::store::shelf::Card;
use crate::store::{bundles, photos};
use crate::words::{own, say, t};

/// The screen.
#[component]
pub fn ShelfScreen() -> impl IntoView {
    let desk = desk();
    let cards = move |deleted: bool| {
        desk.shelf.cards.with(|cards| cards.iter().filter(|card| card.deleted == deleted).cloned().collect::<Vec<_>>())
    };
    let empty = move || cards(false).is_empty();
    let waiting = RwSignal::new(None);
    view! {
        <h1>{t("Shelf")}</h1>
        <Shown when=memo(empty)>
            <p>
                {t("A worksheet judges one older car on one day: what is wrong with it, whether it is safe to drive, what it costs to put right and what it is worth as it stands. Nothing you enter leaves this device.")}
            </p>
        </Shown>
        <div class="row">
            <button type="button" class="button chief" on:click=move |_| {
                if desk.start(desk.blank()) {
                    page::go_to(&Screen::Car.fragment());
                }
            }>{t("New worksheet")}</button>
            <Shown when=memo(empty)>
                <button type="button" on:click=move |_| start_demo()>{t("Open the demonstration")}</button>
            </Shown>
            <OpenFile waiting />
        </div>
        <FirstSteps />
        <Arrivals waiting />
        <Damage />
        <ul class="plain ruled">
            <Each each=move || cards(false) key=|card| card.clone() let:card>
                <ShelfCard card />
            </Each>
        </ul>
        <Shown when=memo(move || !cards(true).is_empty())>
            <h2>{t("Deleted")}</h2>
            <ul class="plain ruled">
                <Each each=move || cards(true) key=|card| card.clone() let:card>
                    <li class="card">
                        <span>{own(&card.title)}</span>
                        <button type="button" on:click=move |_| desk.bring_back(&card.id)>{t("Bring back")}</button>
                    </li>
                </Each>
            </ul>
            <button type="button" on:click=move |_| desk.empty_bin()>
                {t("Delete these for good")}
            </button>
        </Shown>
        <Shown when=memo(move || !empty())>
            <p class="row">
                <a class="button" href=Screen::Compare.fragment()>{t("Compare worksheets")}</a>
                <a class="button" href=Screen::Ledger.fragment()>{t("Ledger of sales")}</a>
            </p>
            <Backup />
        </Shown>
    }
}

fn start_demo() {
    if let Ok(demo) = demo::worksheet() {
        photos::keep_drawings(&demo::PHOTOS);
        if desk().start(demo) {
            page::go_to(&Screen::Worth.fragment());
        }
    }
}

#[component]
fn ShelfCard(card: Card) -> impl IntoView {
    let desk = desk();
    let (open, delete) = (card.id.clone(), card.id.clone());
    let where_and_when = move || {
        let day = card.date.map(|date| desk.show.with(|show| show.date(date)));
        let parts = [day, (!card.place.is_empty()).then(|| card.place.clone())];
        parts.into_iter().flatten().collect::<Vec<_>>().join(" · ")
    };
    let name = card.title.clone();
    view! {
        <li class="card">
            <a
                href=Screen::Car.fragment()
                on:click=move |event| {
                    // A worksheet that cannot be read is reported on this screen, so stay.
                    if !desk.take(&open) {
                        event.prevent_default();
                    }
                }
            >
                <strong>{own(&card.title)}</strong>
                <br />
                <span class="quiet">{live(where_and_when)}</span>
            </a>
            <button type="button" class="bare" aria-label=format!("{} {name}", t("Delete")) on:click=move |_| desk.delete(&delete)>
                {t("Delete")}
            </button>
        </li>
    }
}

/// Stored texts that could not be opened; each can be saved as a file.
#[component]
fn Damage() -> impl IntoView {
    let desk = desk();
    view! {
        <Each each=move || desk.keeper.damaged.get() key=|damaged| damaged.key.clone() let:damaged>
            <div class="notice hold" role="alert">
                <p>
                    {t("Something stored could not be opened. It is kept as it is:")} " " {damaged.key.clone()} ": "
                    {say(&damaged.why)}
                    {damaged.before.then(|| [". ", t("What was stored just before it is used in its place.")].concat())}
                </p>
                <button type="button" on:click=move |_| {
                    file::save("kerbworth-unopened.json", "application/json", &damaged.text);
                }>{t("Save it as a file")}</button>
            </div>
        </Each>
    }
}

/// Everything as one file.
#[component]
fn Backup() -> impl IntoView {
    let said = RwSignal::new("");
    let save = move |_| {
        wait(async move {
            let written = bundle::write(&bundles::of_all(desk()).await);
            let day = clock::today().map(|day| format!("-{day}")).unwrap_or_default();
            let name = format!("kerbworth{day}.zip");
            let saved = written.is_some_and(|bytes| file::save_bytes(&name, "application/zip", &bytes));
            said.set(if saved { "Handed to the browser as a file." } else { "The browser would not save a file." });
        });
    };
    view! {
        <h2>{t("Back up")}</h2>
        <p class="quiet">
            {t("One file with all worksheets, your type sheets, the ledger and the photographs. Opened here or on another device, it shows what it would bring before it changes anything.")}
        </p>
        <button type="button" on:click=save>{t("Save everything as one file")}</button>
        <p class="quiet" role="status">{live(move || t(said.get()))}</p>
    }
}

/// Opens the file of a worksheet, or a bundle.
#[component]
fn OpenFile(
    /// Where a bundle waits until it is taken in.
    waiting: RwSignal<Option<Waiting>>,
) -> impl IntoView {
    let said = RwSignal::new(None::<String>);
    let field = NodeRef::<leptos::html::Input>::new();
    let open = move |_| {
        let Some(chosen) = field.get_untracked().and_then(|field| Chosen::of(&field)) else { return };
        wait(async move {
            said.set(open_file(&chosen, waiting).await.err().map(|why| format!("{}: {why}", chosen.name())));
        });
    };
    view! {
        <label class="button">
            {t("Open a file")}
            <input class="unseen" type="file" accept="application/json,.json,application/zip,.zip" node_ref=field on:change=open />
        </label>
        {live(move || said.get().map(|said| view! { <p class="message" role="alert">{said}</p> }))}
    }
}

async fn open_file(chosen: &Chosen, waiting: RwSignal<Option<Waiting>>) -> Result<(), String> {
    if chosen.name().to_lowercase().ends_with(".zip") {
        return open_bundle(chosen, waiting).await;
    }
    if chosen.bytes() > kerbworth_core::restore::OUTSIDE.bytes as f64 {
        return Err(t("too large to be a worksheet").to_owned());
    }
    let text = chosen.text().await.ok_or_else(|| t("could not be read").to_owned())?;
    if Parcel::is_file(&text) {
        let opened = Parcel::of_file(&text).map_err(|error| say(&error))?;
        let link = link::encode(&opened.parcel).map_err(|error| say(&error))?;
        page::go_to(&Screen::Received(link).fragment());
        return Ok(());
    }
    let (mut opened, unread) = restore::<Worksheet>(&text, worksheet::FORMAT).map_err(|error| say(&error))?;
    opened.unread.extend(unread);
    if desk().start(opened) {
        page::go_to(&Screen::Car.fragment());
    }
    Ok(())
}

async fn open_bundle(chosen: &Chosen, waiting: RwSignal<Option<Waiting>>) -> Result<(), String> {
    if chosen.bytes() > bundle::MOST_BYTES as f64 {
        return Err(t("too large to be a backup").to_owned());
    }
    let bytes = file::bytes(chosen.blob()).await.ok_or_else(|| t("could not be read").to_owned())?;
    let (bundle, notes) = bundle::read(&bytes).map_err(|error| say(&error))?;
    waiting.set(Some(Waiting { bundle, notes }));
    Ok(())
}
