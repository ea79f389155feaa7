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
    let foreign = memo(move || {
        let (currency, _) = sheets.get();
        (currency != desk().worksheet.with(|worksheet| worksheet.settings.currency)).then_some(currency)
    });
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
        {live(move || foreign.get().map(|currency| view! { <Exchange currency /> }))}
    }
    .into_any()
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
            place=format!("settings.exchange.{code}")
            label=format!("{} {code}", t("What you pay in this worksheet's currency for one"))
            stored=stored
            put=move |rate| put_settings(|settings| { settings.exchange.insert(currency, rate); })
        />
        <p class="quiet">
            {say(&phrase!("The type sheet's costs are in {0}. Without a rate they are taken one for one.", code))}
        </p>
    }
}
