//! One sale of the ledger, opened over the list.

use std::collections::BTreeMap;

use kerbworth_core::worksheet::Sale;
use kerbworth_core::worksheet::check::check_sale;
use leptos::html;
use leptos::prelude::*;

use crate::browser::page;
use crate::live::{live, memo};
use crate::part::field::Problems;
use crate::screen::sales::fields::SaleFields;
use crate::store::desk::desk;
use crate::store::ledger::LedgerStore;
use crate::words::{say, t};

/// What the fields of the opened sale are called.
const PLACE: &str = "ledger.sale";

/// The dialog; open while there is an id.
#[component]
pub fn Editor(opened: RwSignal<Option<String>>) -> impl IntoView {
    let dialog = NodeRef::<html::Dialog>::new();
    Effect::new(move || {
        // Shown only once its content is there, so that the first field gets the focus.
        if opened.with(Option::is_some)
            && let Some(dialog) = dialog.get()
        {
            page::open(&dialog);
        }
    });
    let close = move || {
        if let Some(dialog) = dialog.get_untracked() {
            dialog.close();
        }
    };
    let ledger = desk().ledger;
    let closed = move |_| {
        if let Some(id) = opened.get_untracked() {
            drop_if_blank(ledger, &id);
        }
        opened.set(None);
    };
    // Leaving the screen does not close the dialog first.
    on_cleanup(move || {
        if let Some(Some(id)) = opened.try_get_untracked() {
            drop_if_blank(ledger, &id);
        }
    });
    view! {
        <dialog node_ref=dialog on:close=closed aria-label=t("Sale")>
            {live(move || opened.get().map(|id| view! { <Opened id close=Callback::new(move |()| close()) /> }))}
        </dialog>
    }
}

/// A sale that was added and left untouched is none.
fn drop_if_blank(ledger: LedgerStore, id: &str) {
    let blank = ledger.body.with_untracked(|body| {
        body.sale(id)
            .is_some_and(|sale| *sale == Sale { id: sale.id.clone(), currency: sale.currency, ..Sale::default() })
    });
    if blank {
        ledger.change(|body| {
            body.take(id);
        });
    }
}

#[component]
fn Opened(id: String, close: Callback<()>) -> impl IntoView {
    let ledger = desk().ledger;
    let this = id.clone();
    let sale = memo(move || ledger.body.with(|body| body.sale(&this).cloned()).unwrap_or_default());
    let problems = memo(move || {
        let found = sale.with(|sale| check_sale(PLACE, sale));
        found.into_iter().map(|problem| (problem.place, say(&problem.kind))).collect::<BTreeMap<_, _>>()
    });
    provide_context(Problems(problems));
    let delete = move |_| {
        ledger.delete(&id);
        close.run(());
    };
    view! {
        <h2>{t("Sale")}</h2>
        <SaleFields place=PLACE.to_owned() sale put=move |sale| ledger.change(|body| body.keep(sale)) />
        <div class="row">
            <button type="button" class="button chief" on:click=move |_| close.run(())>{t("Done")}</button>
            <button type="button" on:click=delete>{t("Delete this sale")}</button>
        </div>
    }
}
