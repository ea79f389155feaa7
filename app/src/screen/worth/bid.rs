//! The top bid of a buyer.

use kerbworth_core::appraise::buying::TopBid;
use kerbworth_core::figure::{Amount, Figure};
use kerbworth_core::phrase;
use leptos::prelude::*;

use super::fees::FeeFields;
use super::read::{money, of_appraisal};
use super::unfold::Working;
use crate::live::{Shown, live, memo};
use crate::part::figure::FigureLine;
use crate::words::{say, t};

/// The section.
#[component]
pub fn Bid() -> impl IntoView {
    let bid = of_appraisal(|appraisal| appraisal.top_bid.clone());
    let figure =
        memo(move || bid.with(|bid| bid.as_ref().and_then(|bid| bid.as_ref().ok()).map(|bid| bid.working.clone())));
    let said = move || match bid.get() {
        None => view! { <p>{t("A top bid needs a worth first; the fees can be entered already.")}</p> }.into_any(),
        Some(Err(error)) => {
            view! { <p class="message" role="alert">{format!("{}: {}", t("No top bid"), say(&error))}</p> }.into_any()
        }
        Some(Ok(bid)) => stated(&bid),
    };
    view! {
        <h2>{t("Top bid")}</h2>
        {live(said)}
        <Shown when=memo(move || figure.with(Option::is_some))>
            <Working figure />
        </Shown>
        <FeeFields />
    }
}

/// The top bid in one line that opens to its working, for the head of the screen.
#[component]
pub fn BidLine() -> impl IntoView {
    let figure = of_appraisal(|appraisal| {
        let bid = appraisal.top_bid.as_ref()?.as_ref().ok()?;
        Some(Figure { amount: Amount::Money(bid.hammer?), ..bid.working.clone() })
    });
    live(move || figure.get().map(|figure| view! { <FigureLine figure /> }))
}

fn stated(bid: &TopBid) -> AnyView {
    let limit = Amount::Money(bid.limit);
    match bid.hammer {
        Some(hammer) => view! {
            <p class="big" id="top-bid">{money(hammer)}</p>
            <p>
                {say(&phrase!(
                    "The highest hammer price at which the whole outlay, {0}, stays within the limit of {1}: the worth as it \
                     stands less your margin. Putting right what was found is already in the worth.",
                    Amount::Money(bid.all_in),
                    limit
                ))}
            </p>
        }
        .into_any(),
        None => view! {
            <p class="big" id="top-bid">{t("no bid")}</p>
            <p>{say(&phrase!("Even the first step costs more than the limit of {0}.", limit))}</p>
        }
        .into_any(),
    }
}
