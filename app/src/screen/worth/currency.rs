//! What the costs rest on: the price of an hour, the worksheet's currency, and the rate to the type sheet's.

use kerbworth_core::phrase;
use kerbworth_core::units::Currency;
use leptos::prelude::*;

use super::read::{of_settings, put_settings};
use super::unfold::Unfold;
use crate::live::{live, memo};
use crate::part::entry::{CurrencyField, MoneyField, NumberField};
use crate::store::desk::desk;
use crate::words::{say, t};

/// The part.
#[component]
pub fn Costs() -> impl IntoView {
    view! {
        <Unfold label=t("Price of an hour, and currency")>
            <Fields />
        </Unfold>
    }
}

#[component]
fn Fields() -> impl IntoView {
    let sheets = memo(move || desk().sheet.with(|sheet| (sheet.currency, sheet.labour_rate)));
    let usual = move || {
        let (currency, rate) = sheets.get();
        desk().show.with(|show| show.in_currency(currency).money(rate))
    };
    view! {
        <div class="pair">
            <MoneyField place="settings.labour-rate" label=t("Price of an hour's work")
                stored=of_settings(|settings| settings.labour_rate.clone())
                put=|rate| put_settings(|settings| settings.labour_rate = rate) />
            <CurrencyField place="settings.currency" label=t("Currency, by its three letters")
                stored=of_settings(|settings| settings.currency)
                put=|currency| put_settings(|settings| settings.currency = currency) />
        </div>
        <p class="quiet">{t("If no price is given, an hour costs what the type sheet says:")} " " {live(usual)} "."</p>
    }
    .into_any()
}

/// The place of the rate of exchange for a currency.
pub fn rate_place(currency: Currency) -> String {
    format!("settings.exchange.{}", currency.code())
}

/// The rate that the type sheet's costs need where they are in another currency than the worksheet. Not in the fold: without
/// it there is no worth.
#[component]
pub fn ForeignCosts() -> impl IntoView {
    let foreign = memo(move || {
        let currency = desk().sheet.with(|sheet| sheet.currency);
        (currency != desk().worksheet.with(|worksheet| worksheet.settings.currency)).then_some(currency)
    });
    live(move || foreign.get().map(|currency| view! { <Exchange currency /> }))
}

/// The rate to the type sheet's currency.
#[component]
fn Exchange(currency: Currency) -> impl IntoView {
    let stored = memo(move || {
        desk().worksheet.with(|worksheet| worksheet.settings.exchange.get(&currency).cloned().unwrap_or_default())
    });
    let code = currency.code().to_owned();
    view! {
        <NumberField
            place=rate_place(currency)
            label=format!("{} {code}", t("What you pay in this worksheet's currency for one"))
            stored=stored
            put=move |rate| put_settings(|settings| { settings.exchange.insert(currency, rate); })
        />
        <p class="quiet">
            {say(&phrase!("The type sheet's costs are in {0}. Without a rate there is neither put-right cost nor worth.", code))}
        </p>
    }
}
