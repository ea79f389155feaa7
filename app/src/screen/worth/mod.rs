//! Score, costs, worth, top bid: from the worth as it stands down to what to do about it.

mod asking;
mod bid;
mod currency;
mod fees;
mod job;
mod market;
mod moves;
mod put_right;
mod read;
mod score;
mod stands;
mod unfold;

use kerbworth_core::worksheet::Purpose;
use leptos::prelude::*;

use crate::live::live;
use crate::route::Screen;
use crate::words::t;

use asking::{Asking, AskingLine};
use bid::{Bid, BidLine};
use market::FromMarket;
use moves::Moves;
use put_right::PutRight;
use read::of_worksheet;
use score::Scores;
use stands::Stands;

/// The screen.
#[component]
pub fn WorthScreen() -> impl IntoView {
    let purpose = of_worksheet(|worksheet| worksheet.visit.purpose);
    view! {
        <h1>{t("Worth")}</h1>
        <Stands />
        {live(move || match purpose.get() {
            Purpose::Buying => view! { <BidLine /> }.into_any(),
            Purpose::Selling => view! { <AskingLine /> }.into_any(),
            Purpose::Appraising => ().into_any(),
        })}
        <Scores />
        <PutRight />
        <FromMarket />
        <Moves />
        {live(move || match purpose.get() {
            Purpose::Buying => view! { <Bid /> }.into_any(),
            Purpose::Selling => view! { <Asking /> }.into_any(),
            Purpose::Appraising => view! {
                <p class="quiet">
                    {t("A worksheet for buying shows the top bid here, one for selling the asking price.")} " "
                    <a href=Screen::Car.fragment()>{t("Change what it is for")}</a>
                </p>
            }
            .into_any(),
        })}
    }
}
