//! The ledger of sales that all worksheets share.

mod editor;

use std::sync::Arc;

use kerbworth_core::ledger::{Ledger, Searched, differences};
use kerbworth_core::worksheet::{Edit, Sale};
use leptos::prelude::*;

use crate::browser::random;
use crate::live::{Derived, Shown, live, memo, memo_after};
use crate::part::field::Field;
use crate::part::unfold::Unfold;
use crate::part::window::Windowed;
use crate::screen::sales::import::{Import, Into};
use crate::screen::sales::save;
use crate::store::desk::desk;
use crate::words::{say, t};

/// The screen.
#[component]
pub fn LedgerScreen() -> impl IntoView {
    let ledger = desk().ledger;
    ledger.wake();
    let opened = RwSignal::new(None::<String>);
    let count = memo(move || ledger.body.with(|body| body.sales.len()));
    view! {
        <h1>{t("Ledger")}</h1>
        <p>
            {t("Sales that all worksheets on this device share. A worksheet takes copies, so that a result stays as it was when the ledger changes.")}
        </p>
        <Troubles />
        <div class="row">
            <button type="button" class="button chief" on:click=move |_| add(opened)>{t("Add a sale")}</button>
            <Shown when=memo(move || count.get() != 0)>
                <button type="button" on:click=move |_| ledger.body.with_untracked(|body| save(&body.sales))>
                    {t("Save as a table")}
                </button>
            </Shown>
        </div>
        <Unfold summary=ViewFn::from(|| t("Paste from a spreadsheet, or open a CSV file"))>
            <Import into=Into::Ledger />
        </Unfold>
        <Shown when=memo(move || count.get() != 0)>
            <List opened count />
        </Shown>
        <editor::Editor opened />
    }
}

/// What could not be read, and what was deleted last.
#[component]
fn Troubles() -> impl IntoView {
    let ledger = desk().ledger;
    let unread = memo(move || ledger.body.with(|body| body.unread.clone()));
    view! {
        {live(move || {
            let unread = unread.get();
            (!unread.is_empty()).then(|| view! {
                <details class="notice">
                    <summary>{t("Some of the ledger could not be read; it is kept as it was")}</summary>
                    <ul>{unread.into_iter().map(|unread| view! { <li>{say(&unread)}</li> }).collect_view()}</ul>
                </details>
            })
        })}
        <Shown when=memo(move || ledger.gone.with(Option::is_some))>
            <p class="notice row" role="status">
                {t("The sale was deleted.")}
                <button type="button" on:click=move |_| ledger.bring_back()>{t("Bring it back")}</button>
            </p>
        </Shown>
    }
}

/// Adds a blank sale and opens it.
fn add(opened: RwSignal<Option<String>>) {
    let desk = desk();
    let currency = desk.preferences.with_untracked(|wanted| wanted.currency);
    let sale = Sale { id: random::fresh_id(), currency, ..Sale::default() };
    opened.set(Some(sale.id.clone()));
    desk.ledger.change(|ledger| ledger.keep(sale));
}

/// The search, and the sales that it finds.
#[component]
fn List(opened: RwSignal<Option<String>>, count: Derived<usize>) -> impl IntoView {
    let ledger = desk().ledger;
    let words = RwSignal::new(String::new());
    // Behind an opened sale the list stays as it is: it would be made anew at each key.
    let searched = memo_after(move |before: Option<&Arc<Searched>>| match before {
        Some(before) if opened.with(Option::is_some) => Arc::clone(before),
        _ => Arc::new(ledger.body.with(Ledger::searched)),
    });
    let found = memo(move || searched.with(|searched| words.with(|words| searched.find(words))));
    view! {
        <Field place="ledger.search" label=t("Search: date, source, kind, departures") stored=words
            typed=move |text: String| words.set(text) />
        <p class="quiet" role="status">{live(move || found.with(Vec::len))} " / " {live(move || count.get())}</p>
        <Windowed label=t("Sales in the ledger") rows=found row=Callback::new(move |id| view! { <Row id opened /> }.into_any()) />
    }
}

#[component]
fn Row(id: String, opened: RwSignal<Option<String>>) -> impl IntoView {
    let desk = desk();
    let this = id.clone();
    let sale = memo(move || desk.ledger.body.with(|body| body.sale(&this).cloned()).unwrap_or_default());
    let what = move || {
        let show = desk.show.get();
        sale.with(|sale| {
            let date = sale.date.value().map_or_else(|| t("no date").to_owned(), |date| show.date(date));
            let price = sale.price.value().map(|price| show.in_currency(sale.currency).whole_money(price));
            format!("{date} · {} · {}", price.unwrap_or_else(|| t("no price").to_owned()), t(sale.kind.name()))
        })
    };
    let from = move || {
        sale.with(|sale| {
            let parts = [sale.source.as_str(), sale.departures.as_str()];
            parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" · ")
        })
    };
    view! {
        <button type="button" class="bare entry" on:click=move |_| opened.set(Some(id.clone()))>
            <span>{live(what)}</span>
            <span class="quiet">{live(from)}</span>
        </button>
        <Use sale />
    }
}

/// Takes the sale into the open worksheet, or says that it is there.
#[component]
fn Use(sale: Derived<Sale>) -> impl IntoView {
    let desk = desk();
    // Whether the worksheet has it, and as it is here.
    let there = memo(move || {
        desk.worksheet.with(|worksheet| {
            sale.with(|sale| {
                let copy = worksheet.sales.iter().find(|copy| copy.id == sale.id)?;
                Some(differences(copy, sale).is_empty())
            })
        })
    });
    let take = move |_| {
        let place = desk.worksheet.with_untracked(|worksheet| worksheet.sales.len());
        let sale = sale.get_untracked();
        desk.edit(Edit::Sale(sale.id.clone(), Some((place, Box::new(sale)))));
    };
    let shown = move || match there.get() {
        None => view! { <button type="button" on:click=take>{t("Use")}</button> }.into_any(),
        Some(true) => view! { <span class="quiet">{t("in use")}</span> }.into_any(),
        Some(false) => view! { <span class="quiet">{t("in use, but changed there")}</span> }.into_any(),
    };
    view! { <Shown when=memo(move || desk.is_open.get())>{live(shown)}</Shown> }
}
