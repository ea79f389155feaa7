//! The worksheet's sales, and the ways in which more come in and go out.

use kerbworth_core::ledger::alike::twins;
use kerbworth_core::ledger::export;
use kerbworth_core::worksheet::{Edit, Sale};
use leptos::prelude::*;

use super::import::{Import, Into};
use super::row::SaleRow;
use super::{AT_FIRST, More};
use crate::browser::{file, page, random};
use crate::ids;
use crate::live::{Each, Shown, live, memo};
use crate::part::unfold::Unfold;
use crate::route::Screen;
use crate::store::desk::desk;
use crate::words::t;

/// The list.
#[component]
pub fn List() -> impl IntoView {
    let desk = desk();
    let ids = memo(move || desk.worksheet.with(|w| w.sales.iter().map(|sale| sale.id.clone()).collect::<Vec<_>>()));
    let shown = RwSignal::new(AT_FIRST);
    let added = RwSignal::new(String::new());
    let gone = RwSignal::new(None::<(usize, Sale)>);
    let alike = memo(move || desk.worksheet.with(|worksheet| twins(&worksheet.sales)));
    view! {
        <ol class="plain ruled sales">
            <Each each=move || ids.with(|ids| ids.iter().take(shown.get()).cloned().collect::<Vec<_>>()) key=Clone::clone let:id>
                <SaleRow id added gone alike />
            </Each>
        </ol>
        <More count=memo(move || ids.with(Vec::len)) shown />
        {live(move || gone.get().map(|(place, sale)| view! {
            <p class="notice row" role="status">
                {t("The sale was deleted.")}
                <button type="button" on:click=move |_| {
                    gone.set(None);
                    desk.edit(Edit::Sale(sale.id.clone(), Some((place, Box::new(sale.clone())))));
                }>{t("Bring it back")}</button>
            </p>
        }))}
        <div class="row">
            <button type="button" class="button chief" on:click=move |_| add(added, shown)>{t("Add a sale")}</button>
            <a class="button" href=Screen::Ledger.fragment()>{t("Take from the ledger")}</a>
            <Shown when=memo(move || ids.with(|ids| !ids.is_empty()))>
                <button type="button" on:click=move |_| {
                    desk.worksheet.with_untracked(|worksheet| save(&worksheet.sales));
                }>{t("Save as a table")}</button>
            </Shown>
        </div>
        <Unfold summary=ViewFn::from(|| t("Paste from a spreadsheet, or open a CSV file"))>
            <Import into=Into::Worksheet />
        </Unfold>
    }
}

/// Adds a blank sale, opened, with the focus in its first field.
fn add(added: RwSignal<String>, shown: RwSignal<usize>) {
    let desk = desk();
    let id = random::fresh_id();
    let (place, currency) =
        desk.worksheet.with_untracked(|worksheet| (worksheet.sales.len(), worksheet.settings.currency));
    shown.update(|shown| *shown = (*shown).max(place + 1));
    added.set(id.clone());
    desk.edit(Edit::Sale(id.clone(), Some((place, Box::new(Sale { id, currency, ..Sale::default() })))));
    request_animation_frame(move || page::focus(&ids::field(&format!("sales[{place}].date"))));
}

/// Hands out sales as a CSV file. The mark before it tells spreadsheets how its letters are written.
pub fn save(sales: &[Sale]) {
    let table = desk().show.with_untracked(|show| export::table(sales, show));
    file::save("kerbworth-sales.csv", "text/csv;charset=utf-8", &format!("\u{feff}{table}"));
}
