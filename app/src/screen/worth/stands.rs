//! The worth as it stands, or what is missing for it.

use kerbworth_core::appraise::comparison::{Comparison, NoComparison};
use kerbworth_core::appraise::valuation::Worth;
use kerbworth_core::figure::Amount;
use kerbworth_core::market::diagnostics::Warning;
use kerbworth_core::phrase;
use leptos::prelude::*;

use super::currency::rate_place;
use super::read::{between, money, of_appraisal};
use super::unfold::{Unfold, Working};
use crate::browser::page;
use crate::ids;
use crate::live::{Shown, live, memo};
use crate::route::Screen;
use crate::store::desk::desk;
use crate::words::{say, t};

/// The section.
#[component]
pub fn Stands() -> impl IntoView {
    let worth = of_appraisal(|appraisal| appraisal.worth.clone());
    let figure = memo(move || worth.with(|worth| worth.as_ref().map(|worth| worth.working.clone())));
    let there = memo(move || worth.with(Option::is_some));
    view! {
        <h2>{t("As it stands")}</h2>
        {live(move || {
            if there.get() {
                view! {
                    {live(move || worth.with(|worth| worth.as_deref().map(stated)))}
                    <Label />
                    <Working figure />
                    <Trust />
                }
                .into_any()
            } else {
                view! { <Missing /> }.into_any()
            }
        })}
    }
}

/// The ranges and what they mean.
fn stated(worth: &Worth) -> impl IntoView + use<> {
    let (outer, inner) = (worth.rounded, worth.inner_rounded());
    view! {
        <p class="big" id="worth-range">{between(outer.low, outer.high)}</p>
        <p class="worth-middle">{t("middle")} " " <strong>{money(outer.middle)}</strong></p>
        <p>
            {t("Four in five such cars, sold as they stand, fetch a price within this range; one in ten fetches less, one in ten more.")}
            " " {t("Half of them fetch")} " " <strong>{between(inner.low, inner.high)}</strong> "."
        </p>
        <p class="quiet">
            {say(&phrase!("Rounded to {0}: a finer figure would claim more than the sales can tell.", Amount::Money(outer.step)))}
        </p>
    }
}

/// The label of a range that is mostly assumed, and how many other cautions the sales give.
#[component]
fn Label() -> impl IntoView {
    let cautions = of_appraisal(|appraisal| {
        appraisal.comparison.as_ref().map_or(Vec::new(), |compared| compared.warnings.clone())
    });
    let label = of_appraisal(|appraisal| appraisal.comparison.as_deref().ok().and_then(Comparison::mostly_assumed));
    let filled_in = of_appraisal(|appraisal| appraisal.comparison.as_ref().is_ok_and(|it| it.base_score_filled_in));
    view! {
        {live(move || label.get().map(|label: Warning| view! {
            <p class="notice hold">{say(&label)}</p>
        }))}
        <Shown when=memo(move || filled_in.get())>
            <p class="notice hold">
                {t("nothing was looked at yet: the car is taken to be as good as the sold ones, with the doubt of a guess")}
            </p>
        </Shown>
        {live(move || {
            let other = cautions.with(|all| all.iter().filter(|it| Some(**it) != label.get()).count());
            (other > 0).then(|| view! {
                <p>
                    <a class="button" href=Screen::Sales.fragment()>{t("Cautions about the sales:")} " " {other}</a>
                </p>
            })
        })}
    }
}

/// How far the range can be trusted.
#[component]
fn Trust() -> impl IntoView {
    view! {
        <Unfold label=t("How far this range can be trusted")>
            <p>
                {t("Tried on open data, the range held about as many sales as it says, on average and not in every market: where prices differ less than assumed it is too wide, where they differ more it is too narrow.")}
            </p>
            <p>
                {t("The car prices it was tried on were asking prices of everyday cars. That older cars behave alike is an assumption.")}
            </p>
            <p>
                {t("If your sales disagree more than assumed, choose the wide spread under Sales; if you know the market to be even, the tight one.")}
            </p>
        </Unfold>
    }
}

/// What is missing for a worth, and where to add it.
#[component]
fn Missing() -> impl IntoView {
    let why = of_appraisal(|appraisal| appraisal.comparison.as_ref().err().cloned());
    let left_out = of_appraisal(|appraisal| appraisal.sales_left_out.clone());
    let unpriced = of_appraisal(|appraisal| appraisal.repairs.unpriced);
    let said = move || match why.get() {
        Some(NoComparison::NoSales) => {
            t("There is no worth yet: it needs at least one comparable sale with a price and a date.").to_owned()
        }
        Some(NoComparison::NoDate) => {
            t("There is no worth yet: it holds for a day, and the day of this visit is not entered.").to_owned()
        }
        Some(NoComparison::Fit(error)) => {
            format!("{} {}.", t("There is no worth: the sales cannot be weighed."), say(&error))
        }
        None if unpriced.get() => {
            t("There is no worth yet: the type sheet's costs have no rate of exchange.").to_owned()
        }
        None => t("There is no worth: the repairs cannot be reckoned.").to_owned(),
    };
    let way = move || {
        let (to, name) = match why.get()? {
            NoComparison::NoDate => (Screen::Car, t("Enter the day")),
            NoComparison::NoSales | NoComparison::Fit(_) => (Screen::Sales, t("Add comparable sales")),
        };
        Some(view! { <p><a class="button chief" href=to.fragment()>{name}</a></p> })
    };
    let to_the_rate = |_| {
        let currency = desk().sheet.with_untracked(|sheet| sheet.currency);
        page::show_soon(ids::field(&rate_place(currency)));
    };
    view! {
        <p>{live(said)}</p>
        <ul>
            {live(move || left_out.get().into_iter().map(|(sale, why)| view! {
                <li>{t("Sale")} " " {sale + 1} ": " {t(why.reason())}</li>
            }).collect_view())}
        </ul>
        {live(way)}
        <Shown when=unpriced>
            <p><button type="button" class="button chief" on:click=to_the_rate>{t("Give the rate")}</button></p>
        </Shown>
        <p class="quiet">
            {t("One or two sales already give a range, labelled as mostly assumed; five or more begin to speak for themselves.")}
        </p>
    }
}
