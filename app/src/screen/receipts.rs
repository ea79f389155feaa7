//! Receipts for work that was done: what the listing and the report say was put right.

use kerbworth_core::worksheet::{Edit, Receipt};
use leptos::prelude::*;

use crate::browser::page;
use crate::ids;
use crate::live::{Derived, Each, memo};
use crate::part::entry::{DateField, MoneyField};
use crate::part::field::Field;
use crate::store::desk::desk;
use crate::words::t;

fn put(change: impl FnOnce(&mut Vec<Receipt>)) {
    let mut receipts = desk().worksheet.with_untracked(|worksheet| worksheet.receipts.clone());
    change(&mut receipts);
    desk().edit(Edit::Receipts(receipts));
}

/// The place of a receipt's part, as core's problems name it.
fn at(place: usize, part: &str) -> String {
    format!("receipts[{place}].{part}")
}

/// The part of the car's screen.
#[component]
pub fn Receipts() -> impl IntoView {
    let count = memo(|| desk().worksheet.with(|worksheet| worksheet.receipts.len()));
    let add = move |_| {
        let place = count.get_untracked();
        put(|receipts| receipts.push(Receipt::default()));
        request_animation_frame(move || page::focus(&ids::field(&at(place, "date"))));
    };
    view! {
        <h2>{t("Receipts")}</h2>
        <p class="quiet">{t("For work that was done. The listing and the report name them; they change no figure.")}</p>
        <Each each=move || (0..count.get()).collect() key=|place| *place let:place>
            <One place />
        </Each>
        <button type="button" on:click=add>{t("Add a receipt")}</button>
    }
}

/// A receipt.
#[component]
fn One(place: usize) -> impl IntoView {
    fn part<T: Clone + Default + PartialEq + Send + Sync + 'static>(
        place: usize,
        read: fn(&Receipt) -> T,
    ) -> Derived<T> {
        memo(move || desk().worksheet.with(|worksheet| worksheet.receipts.get(place).map(read)).unwrap_or_default())
    }
    let change =
        move |change: &dyn Fn(&mut Receipt)| put(|receipts| receipts.get_mut(place).into_iter().for_each(change));
    let name = format!("{} {}", t("Receipt"), place + 1);
    let take_away = move |_| {
        put(|receipts| {
            if place < receipts.len() {
                receipts.remove(place);
            }
        });
    };
    view! {
        <fieldset>
            <legend>{name.clone()}</legend>
            <div class="pair">
                <DateField place=at(place, "date") label=t("Date") stored=part(place, |receipt| receipt.date.clone())
                    put=move |date| change(&|receipt| receipt.date = Clone::clone(&date)) />
                <MoneyField place=at(place, "cost") label=t("Cost") stored=part(place, |receipt| receipt.cost.clone())
                    put=move |cost| change(&|receipt| receipt.cost = Clone::clone(&cost)) />
            </div>
            <Field place=at(place, "what") label=t("What was done, and by whom") stored=part(place, |receipt| receipt.what.clone())
                typed=move |what: String| change(&|receipt| receipt.what.clone_from(&what)) />
            <button type="button" class="bare" aria-label=format!("{} {name}", t("Take away")) on:click=take_away>
                {t("Take away")}
            </button>
        </fieldset>
    }
}
