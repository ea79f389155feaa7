//! Comparable sales, the grid that they make, and how far it can be trusted.

mod care;
mod currencies;
pub mod fields;
mod grid;
pub mod import;
mod list;
mod pictures;
mod rates;
mod row;
mod study;

use kerbworth_core::appraise::comparison::Comparison;
use leptos::prelude::*;

pub use list::save;

use crate::live::{Derived, Shown, live, memo};
use crate::store::desk::desk;
use crate::words::t;

/// Rows that are shown before more are asked for.
const AT_FIRST: usize = 50;

/// The screen.
#[component]
pub fn SalesScreen() -> impl IntoView {
    desk().ledger.wake();
    let some = memo(move || desk().worksheet.with(|worksheet| !worksheet.sales.is_empty()));
    view! {
        <h1>{t("Sales")}</h1>
        <Shown when=memo(move || !some.get())>
            <p>
                {t("What the last few of the type fetched is what this one is measured by. Add three sales or more: date, price and how the price came about; mileage and condition if you know them.")}
            </p>
        </Shown>
        <list::List />
        <Shown when=memo(move || some.get())>
            <currencies::Currencies />
            <grid::Grid />
            <care::Care />
            <pictures::Pictures />
            <rates::Rates />
            <study::Study />
        </Shown>
    }
}

/// Something of the comparison; nothing while there is none.
fn compared<T>(read: impl FnOnce(&Comparison) -> T) -> Option<T> {
    desk().appraisal.with(|appraisal| appraisal.comparison.as_deref().ok().map(read))
}

/// What a sale is called in a sentence: its number, and its source or date.
fn called(place: usize) -> String {
    let desk = desk();
    let known = desk.worksheet.with(|worksheet| {
        let sale = worksheet.sales.get(place)?;
        let date = sale.date.value().map(|date| desk.show.with(|show| show.date(date)));
        if sale.source.is_empty() { date } else { Some(sale.source.clone()) }
    });
    let number = format!("{} {}", t("Sale"), place + 1);
    known.map_or(number.clone(), |known| format!("{number}, {known}"))
}

/// A button for more rows, while there are more.
#[component]
fn More(
    /// How many there are.
    #[prop(into)]
    count: Derived<usize>,
    /// How many are shown.
    shown: RwSignal<usize>,
) -> impl IntoView {
    view! {
        <Shown when=memo(move || { shown.get() < count.get() })>
            <button type="button" on:click=move |_| shown.update(|shown| *shown += 4 * AT_FIRST)>
                {t("Show more")} " (" {live(move || shown.get())} " / " {live(move || count.get())} ")"
            </button>
        </Shown>
    }
}
