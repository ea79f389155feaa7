//! All type sheets: look at one, begin one, copy, delete and bring back, out and in as files.

use kerbworth_core::phrase;
use kerbworth_core::restore::{OUTSIDE, restore};
use kerbworth_core::sheet::edit::fresh_id;
use kerbworth_core::sheet::lint::lint;
use kerbworth_core::sheet::{self, TypeSheet, demo, general};
use leptos::prelude::*;

use super::search::new_by_name;
use crate::browser::file::{self, Chosen};
use crate::browser::page;
use crate::live::{Each, Shown, live, memo, wait};
use crate::route::Screen;
use crate::store::desk::{Desk, desk};
use crate::words::{say, t};

/// Things wrong that a notice lists.
const MOST_SAID: usize = 10;

/// What just happened to a sheet, and how to take it back.
#[derive(Clone)]
enum News {
    /// It was deleted.
    Gone(TypeSheet),
    /// It was opened from a file.
    Came {
        /// Its id.
        id: String,
        /// Its name.
        name: String,
        /// What could not be read, and what is wrong.
        said: Vec<String>,
        /// The sheet in whose place it came.
        before: Option<TypeSheet>,
    },
    /// A file could not be opened, and why.
    Failed(String),
}

/// Hands a sheet to the person as a file.
pub fn save_as_file(sheet: &TypeSheet) {
    if let Ok(text) = serde_json::to_string(sheet) {
        file::save(&format!("{}.json", sheet.id), "application/json", &text);
    }
}

/// Keeps a new sheet and opens it.
fn begin(desk: &Desk, sheet: TypeSheet) {
    let there = Screen::Sheets(Some(sheet.id.clone())).fragment();
    desk.sheets.put(sheet);
    page::go_to(&there);
}

/// The list.
#[component]
pub fn SheetList() -> impl IntoView {
    let desk = desk();
    let news = RwSignal::new(None::<News>);
    let ids = memo(move || desk.sheets.names().into_iter().map(|(id, _)| id).collect::<Vec<_>>());
    let extending = Callback::new(move |name: String| {
        let general = desk.sheets.general();
        let (id, extends) = (desk.sheets.free_id(&name), Some(general.id.clone()));
        let (currency, labour_rate) = (general.currency, general.labour_rate);
        begin(&desk, TypeSheet { id, name, extends, currency, labour_rate, ..TypeSheet::default() });
    });
    view! {
        <h1>{t("Type sheets")}</h1>
        <p>
            {t("A type sheet is what a specialist knows of one kind of car: what to look at, what may be noticed, what can stand behind it and what it costs. Write one that says only what differs from the general sheet, or copy a whole one.")}
        </p>
        {new_by_name("sheet-new", "Kind of car", "New sheet that extends the general one", extending)}
        <div class="row"><OpenFile news /></div>
        {live(move || news.get().map(|said| notice(said, news)))}
        <ul class="plain ruled">
            <Each each=move || ids.get() key=Clone::clone children=move |id| card(id, news) />
        </ul>
        <p class="quiet">
            {t("A sheet's file is JSON; its form is published:")} " "
            <a href="schema/type-sheet.json">"schema/type-sheet.json"</a>
        </p>
    }
}

fn card(id: String, news: RwSignal<Option<News>>) -> AnyView {
    let desk = desk();
    let id = StoredValue::new(id);
    let sheet = move || id.with_value(|id| desk.sheets.as_written(id));
    let is_own = move || id.with_value(|id| desk.sheets.own.with(|own| own.contains_key(id)));
    let name = memo(move || {
        id.with_value(|id| desk.sheets.names().into_iter().find(|(known, _)| known == id).map(|(_, name)| name))
            .unwrap_or_default()
    });
    let whose = move || {
        let ships = id.with_value(|id| id == general::ID || demo::curlew().is_ok_and(|demo| demo.id == *id));
        match (is_own(), ships) {
            (true, false) => t("yours"),
            (true, true) => t("ships with Kerbworth, changed by you"),
            (false, _) if id.with_value(|id| id == general::ID) => t("ships with Kerbworth: any older car"),
            (false, _) => t("ships with Kerbworth: the demonstration's"),
        }
    };
    let wrong = memo(move || if is_own() { id.with_value(|id| lint(&desk.sheets.whole(id)).len()) } else { 0 });
    let copy = move |_| {
        if let Some(mut sheet) = sheet() {
            sheet.name = format!("{} ({})", sheet.name, t("copy"));
            sheet.id = desk.sheets.free_id(&sheet.name);
            begin(&desk, sheet);
        }
    };
    let delete = move |_| news.set(id.with_value(|id| desk.sheets.remove(id)).map(News::Gone));
    let save = move |_| sheet().iter().for_each(save_as_file);
    let labelled = move |what: &'static str| move || format!("{} {}", t(what), name.get());
    let there = id.with_value(|id| Screen::Sheets(Some(id.clone())).fragment());
    view! {
        <li class="card sheet-card">
            <a href=there>
                <strong>{live(move || name.get())}</strong>
                <br />
                <span class="quiet">{live(whose)}</span>
                {live(move || {
                    let wrong = wrong.get();
                    (wrong > 0).then(|| view! { " " <span class="message">{wrong} " " {t("to mend")}</span> })
                })}
            </a>
            <div class="row">
                <button type="button" class="bare" aria-label=labelled("Copy") on:click=copy>{t("Copy")}</button>
                <button type="button" class="bare" aria-label=labelled("Save as a file") on:click=save>
                    {t("Save as a file")}
                </button>
                <Shown when=memo(is_own)>
                    <button type="button" class="bare" aria-label=labelled("Delete") on:click=delete>{t("Delete")}</button>
                </Shown>
            </div>
        </li>
    }
    .into_any()
}

fn notice(said: News, news: RwSignal<Option<News>>) -> AnyView {
    let desk = desk();
    let bring_back = move |sheet: TypeSheet, said: &'static str| {
        view! {
            <button type="button" on:click=move |_| {
                desk.sheets.put(sheet.clone());
                news.set(None);
            }>{said}</button>
        }
    };
    match said {
        News::Failed(why) => view! { <p class="message" role="alert">{why}</p> }.into_any(),
        News::Gone(sheet) => view! {
            <div class="notice row" role="status">
                <span>{t("Deleted:")} " " {sheet.name.clone()}</span>
                {bring_back(sheet, t("Bring back"))}
            </div>
        }
        .into_any(),
        News::Came { id, name, said, before } => {
            let more = said.len().saturating_sub(MOST_SAID);
            let said = said.into_iter().take(MOST_SAID).map(|said| view! { <li>{said}</li> }).collect_view();
            view! {
                <div class="notice" role="status">
                    <p>
                        {t("Opened:")} " " <a href=Screen::Sheets(Some(id)).fragment()>{name}</a> " "
                        {before.is_some().then(|| t("It took the place of the sheet that had the same id."))}
                    </p>
                    <ul>{said}</ul>
                    {(more > 0).then(|| view! { <p class="quiet">{say(&phrase!("{0} more", more))}</p> })}
                    {before.map(|before| bring_back(before, t("Bring back the one before")))}
                </div>
            }
            .into_any()
        }
    }
}

/// Opens a sheet's file.
#[component]
fn OpenFile(news: RwSignal<Option<News>>) -> impl IntoView {
    let desk = desk();
    let field = NodeRef::<leptos::html::Input>::new();
    let open = move |_| {
        let Some(chosen) = field.get_untracked().and_then(|field| Chosen::of(&field)) else { return };
        wait(async move {
            let opened = open_file(&desk, &chosen).await;
            news.set(Some(opened.unwrap_or_else(|why| News::Failed(format!("{}: {why}", chosen.name())))));
        });
    };
    view! {
        <label class="button">
            {t("Open a file")}
            <input class="unseen" type="file" accept="application/json,.json" node_ref=field on:change=open />
        </label>
    }
}

/// A sheet that has slips is opened all the same, and they are said: its owner came to mend them.
async fn open_file(desk: &Desk, chosen: &Chosen) -> Result<News, String> {
    if chosen.bytes() > OUTSIDE.bytes as f64 {
        return Err(t("too large to be a type sheet").to_owned());
    }
    let text = chosen.text().await.ok_or_else(|| t("could not be read").to_owned())?;
    let (mut sheet, unread) = restore::<TypeSheet>(&text, sheet::FORMAT).map_err(|error| say(&error))?;
    if sheet.name.trim().is_empty() {
        return Err(t("not a type sheet: it does not say for what kind of car it is").to_owned());
    }
    // An id that a link could not hold, or that the general sheet has, makes way for one of its own.
    if sheet.id == general::ID || fresh_id("", &sheet.id, |_| false) != sheet.id {
        sheet.id = desk.sheets.free_id(&sheet.name);
    }
    let (id, name) = (sheet.id.clone(), sheet.name.clone());
    let before = desk.sheets.own.with_untracked(|own| own.get(&id).cloned());
    desk.sheets.put(sheet);
    let slips = lint(&desk.sheets.whole(&id));
    let said = unread.iter().map(ToString::to_string).chain(slips.iter().map(ToString::to_string)).collect();
    Ok(News::Came { id, name, said, before })
}
