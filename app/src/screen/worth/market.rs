//! From the market to the car as it stands: one line under the other, and why nothing is taken twice.

use kerbworth_core::appraise::valuation::Worth;
use kerbworth_core::market::range::Range;
use kerbworth_core::units::Money;
use leptos::prelude::*;

use super::read::{money, of_appraisal};
use super::unfold::{Unfold, Working};
use crate::live::{Shown, live, memo};
use crate::words::{say, t};

/// The section; nothing without a worth.
#[component]
pub fn FromMarket() -> impl IntoView {
    let there = of_appraisal(|appraisal| appraisal.worth.is_some());
    view! { <Shown when=memo(move || there.get())><Steps /></Shown> }
}

#[component]
fn Steps() -> impl IntoView {
    let worth = of_appraisal(|appraisal| {
        appraisal.worth.clone().zip(appraisal.comparison.as_ref().ok().map(|compared| compared.range))
    });
    let base = of_appraisal(|appraisal| appraisal.comparison.as_ref().ok().map(|it| it.score_working.clone()));
    let check = move || worth.with(|worth| worth.as_ref().map(|(worth, _)| worth.cross_check));
    view! {
        <h2>{t("From the market to as it stands")}</h2>
        <div class="scroll" tabindex="0" role="region" aria-label=t("From the market to as it stands")>
            <table class="amounts">
                <thead>
                    <tr>
                        <td></td>
                        <th scope="col" class="amount">{t("Low")}</th>
                        <th scope="col" class="amount">{t("Middle")}</th>
                        <th scope="col" class="amount">{t("High")}</th>
                    </tr>
                </thead>
                <tbody>
                    {live(move || worth.with(|worth| worth.as_ref().map(|(worth, market)| lines(worth, market))))}
                </tbody>
            </table>
        </div>
        <h3>{t("The score at which it is compared")}</h3>
        <p>
            {t("The sales are compared at the base score: the score as seen, with the points given back for every finding whose cure is deducted in money, and for what was not looked at the middle score of the sold cars.")}
        </p>
        <Working figure=base />
        <Unfold label=t("Why nothing is taken off twice")>
            <p>
                {t("Every finding comes in through one door. General wear, finish and patina lower the score. A job with a name and a cost is deducted in money, and its points go back to the score, so that the score does not take the same money again.")}
            </p>
            <p>
                {t("The sold cars had the ordinary risk of hidden faults too, and their prices hold it already. So what was not looked at deducts only what its likelihood exceeds the usual for the type, and what was found sound gains a little.")}
            </p>
        </Unfold>
        {live(move || check().map(|check| view! {
            <p class=if check.asks_for_review() { "notice hold" } else { "notice" }>
                {t("Cross-check, shown and never added:")} " " {say(&check)} "."
            </p>
        }))}
    }
    .into_any()
}

fn lines(worth: &Worth, market: &Range) -> impl IntoView + use<> {
    let range = |label: &'static str, range: &Range| {
        let cell = |minor: f64| view! { <td class="amount">{money(Money::nearest(minor))}</td> };
        view! { <tr><th scope="row">{label}</th> {cell(range.low)} {cell(range.middle)} {cell(range.high)}</tr> }
    };
    view! {
        {range(t("Market, at the base score"), market)}
        <tr>
            <th scope="row">{t("Taken off for faults")}</th>
            <td></td>
            <td class="amount">{money(-worth.deduction)}</td>
            <td></td>
        </tr>
        {range(t("As it stands"), &worth.stands)}
        {range(t("Counting confirmed faults only"), &worth.confirmed_only)}
    }
}
