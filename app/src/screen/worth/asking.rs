//! The asking price of a seller.

use kerbworth_core::appraise::asking::{AskingPrice, asking};
use leptos::prelude::*;

use super::read::money;
use super::unfold::Working;
use crate::live::{Derived, Shown, live, memo};
use crate::part::figure::FigureLine;
use crate::store::desk::desk;
use crate::words::t;

fn asked() -> Derived<Option<AskingPrice>> {
    memo(move || {
        let desk = desk();
        desk.appraisal.with(|appraisal| desk.show.with(|show| asking(appraisal, show)))
    })
}

/// The asking price in one line that opens to its working, for the head of the screen.
#[component]
pub fn AskingLine() -> impl IntoView {
    let price = asked();
    live(move || price.with(|price| price.as_ref().map(|price| view! { <FigureLine figure=price.working.clone() /> })))
}

/// The section.
#[component]
pub fn Asking() -> impl IntoView {
    let price = asked();
    let figure = memo(move || price.with(|price| price.as_ref().map(|price| price.working.clone())));
    view! {
        <h2>{t("Asking price")}</h2>
        {live(move || price.with(|price| match price {
            None => view! { <p>{t("An asking price needs a worth first.")}</p> }.into_any(),
            Some(price) => stated(price),
        }))}
        <Shown when=memo(move || figure.with(Option::is_some))>
            <Working figure />
        </Shown>
    }
}

fn stated(price: &AskingPrice) -> AnyView {
    let line = |label: &'static str, amount: String| {
        view! { <div class="figure-line"><span>{label}</span><span class="amount">{amount}</span></div> }
    };
    let reasons = price.reasons.iter().map(|reason| view! { <li>{reason.clone()}</li> });
    view! {
        <p class="big" id="asking-price">{money(price.price)}</p>
        {line(t("Room above the middle"), money(price.room))}
        {line(t("Hold to at least"), money(price.hold_to))}
        {price.when_done.map(|price| line(t("Once the chosen work is done, ask"), money(price)))}
        {line(t("Time to sell"), t("unknown").to_owned())}
        <h3>{t("Reasons")}</h3>
        <ul>{reasons.collect_view()}</ul>
    }
    .into_any()
}
