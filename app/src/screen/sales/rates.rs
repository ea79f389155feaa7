//! What a difference is worth: each rate as it is assumed, on what it rests, and what the sales made of it.

use kerbworth_core::appraise::rate_lines::{RateLine, rate_lines, shown};
use kerbworth_core::market::rates::Column;
use kerbworth_core::worksheet::{Edit, Entry, RateChoice};
use leptos::prelude::*;

use crate::live::{Derived, live, memo};
use crate::part::entry::NumberField;
use crate::part::unfold::Unfold;
use crate::store::desk::desk;
use crate::words::t;

/// Every rate.
#[component]
pub fn Rates() -> impl IntoView {
    let desk = desk();
    let lines = memo(move || {
        let compared = desk.appraisal.with(|appraisal| appraisal.comparison.as_ref().ok().cloned());
        desk.worksheet.with(|worksheet| rate_lines(worksheet, compared.as_deref()))
    });
    view! {
        <h2>{t("What a difference is worth")}</h2>
        <p class="quiet">
            {t("A handful of sales cannot teach six rates. Each is stated beforehand with its doubt, and the sales move it as far as they are strong enough to. A line opens to what it rests on and to your own figure.")}
        </p>
        {Column::ALL.into_iter().map(|column| view! { <Rate column lines /> }).collect_view()}
    }
}

#[component]
fn Rate(column: Column, lines: Derived<Vec<RateLine>>) -> impl IntoView {
    let line = memo(move || lines.with(|lines| lines.iter().find(|line| line.column == column).copied()));
    let said = move || {
        let line = line.get()?;
        let show = desk().show.get();
        let whose = if line.is_own { t("your own") } else { t("assumed") };
        let found = line.found.map(|found| {
            view! { <span class="figure"><span class="quiet">{t("by these sales")}</span> " " {shown(found, &show)}</span> }
        });
        Some(view! {
            <span class="figure"><span class="quiet">{whose}</span> " " {shown(line.assumed, &show)}</span>
            {found}
        })
    };
    let summary = move || {
        view! {
            <span class="sale-line">
                <span class="what">{t(column.name())} <span class="quiet">" – " {t(column.unit())}</span></span>
                <span class="figures">{live(said)}</span>
            </span>
        }
    };
    view! {
        <Unfold class="rate" summary=ViewFn::from(summary)>
            <p>{t(column.basis())}</p>
            <Own column />
        </Unfold>
    }
}

/// The person's own rate.
#[component]
fn Own(column: Column) -> impl IntoView {
    let desk = desk();
    let own = memo(move || {
        desk.worksheet.with(|worksheet| worksheet.settings.rates.get(&column).cloned()).unwrap_or_default()
    });
    let change = move |change: &dyn Fn(&mut RateChoice)| {
        let mut settings = desk.worksheet.with_untracked(|worksheet| worksheet.settings.clone());
        let rate = settings.rates.entry(column).or_default();
        change(rate);
        if *rate == RateChoice::default() {
            settings.rates.remove(&column);
        }
        desk.edit(Edit::Settings(Box::new(settings)));
    };
    let put_mean = move |mean: Entry<f64>| change(&|rate| rate.mean = mean.clone());
    let put_spread = move |spread: Entry<f64>| change(&|rate| rate.spread = spread.clone());
    let place = format!("settings.rates.{}", column.name());
    let part = |read: fn(&RateChoice) -> &Entry<f64>| memo(move || own.with(|own| read(own).clone()));
    view! {
        <div class="pair">
            <NumberField
                place=format!("{place}.mean")
                label=t("Your own rate") unit="%" times=100.0 stored=part(|own| &own.mean)
                put=put_mean
            />
            <NumberField
                place=format!("{place}.spread") label=t("Give or take") unit="%" times=100.0 stored=part(|own| &own.spread)
                put=put_spread
            />
        </div>
    }
}
