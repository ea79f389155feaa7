//! What the sale room adds and what buying costs beside: the fields behind the top bid.

use kerbworth_core::units::Money;
use kerbworth_core::worksheet::{Entry, PremiumStep, SaleFees};
use leptos::prelude::*;

use super::read::{of_settings, put_settings};
use crate::live::{Derived, Each, Shown, live, memo};
use crate::part::entry::{MoneyField, NumberField};
use crate::store::desk::desk;
use crate::words::t;

fn put_fees(change: impl FnOnce(&mut SaleFees)) {
    put_settings(|settings| change(&mut settings.fees));
}

/// All fields.
#[component]
pub fn FeeFields() -> impl IntoView {
    view! {
        <h3>{t("Buyer's premium")}</h3>
        <Premium />
        <h3>{t("Taxes, charges and margin")}</h3>
        <div class="pair">
            <NumberField place="settings.fees.tax-on-premium" label=t("Tax on the premium") unit="%" times=100.0
                stored=of_settings(|settings| settings.fees.tax_on_premium.clone())
                put=|share| put_fees(|fees| fees.tax_on_premium = share) />
            <NumberField place="settings.fees.tax-on-hammer" label=t("Tax on the hammer price") unit="%" times=100.0
                stored=of_settings(|settings| settings.fees.tax_on_hammer.clone())
                put=|share| put_fees(|fees| fees.tax_on_hammer = share) />
            <MoneyField place="settings.fees.fixed" label=t("Charges of the sale")
                stored=of_settings(|settings| settings.fees.fixed.clone())
                put=|amount| put_fees(|fees| fees.fixed = amount) />
            <MoneyField place="settings.fees.transport" label=t("Getting the car home")
                stored=of_settings(|settings| settings.fees.transport.clone())
                put=|amount| put_fees(|fees| fees.transport = amount) />
            <MoneyField place="settings.fees.increment" label=t("Step between bids; empty: 50")
                stored=of_settings(|settings| settings.fees.increment.clone())
                put=|amount| put_fees(|fees| fees.increment = amount) />
            <NumberField place="settings.margin" label=t("Margin; empty: 50 %") unit="%" times=100.0
                stored=of_settings(|settings| settings.margin.clone())
                put=|share| put_settings(|settings| settings.margin = share) />
        </div>
        <p class="quiet">
            {t("The margin is how far below the middle of the worth the whole outlay must stay: 0 % pays the middle, 100 % only the low end of the range.")}
        </p>
    }
    .into_any()
}

/// The steps of the premium.
#[component]
fn Premium() -> impl IntoView {
    let steps = of_settings(|settings| settings.fees.premium.len());
    let whole = of_settings(|settings| settings.fees.on_whole_price);
    view! {
        <Shown when=memo(move || steps.get() == 0)>
            <p class="quiet">{t("No premium is entered: the hammer price is taken as all that the room charges.")}</p>
        </Shown>
        <Each each=move || (0..steps.get()).collect() key=|place| *place let:place>
            <Step place last=memo(move || place + 1 == steps.get()) />
        </Each>
        {live(move || desk().problem("settings.fees.premium").map(|said| view! {
            <p class="message" role="status">{said}</p>
        }))}
        <div class="row">
            <button type="button" on:click=move |_| put_fees(|fees| fees.premium.push(PremiumStep::default()))>
                {t("Add a step")}
            </button>
            <label class="tick">
                <input
                    type="checkbox"
                    prop:checked=move || whole.get()
                    on:change=move |event| put_fees(|fees| fees.on_whole_price = event_target_checked(&event))
                />
                {t("The rate of the step reached is charged on the whole price")}
            </label>
        </div>
        <MoneyField place="settings.fees.least-premium" label=t("Least premium")
            stored=of_settings(|settings| settings.fees.least_premium.clone())
            put=|amount| put_fees(|fees| fees.least_premium = amount) />
    }
    .into_any()
}

/// A part of a step, read.
fn part<T: Send + Sync + Clone + PartialEq + Default + 'static>(
    place: usize,
    read: fn(&PremiumStep) -> T,
) -> Derived<T> {
    memo(move || {
        desk().worksheet.with(|worksheet| worksheet.settings.fees.premium.get(place).map(read).unwrap_or_default())
    })
}

/// Changes a step.
fn put_step(place: usize, change: impl FnOnce(&mut PremiumStep)) {
    put_fees(|fees| {
        if let Some(step) = fees.premium.get_mut(place) {
            change(step);
        }
    });
}

/// One step.
#[component]
fn Step(place: usize, last: Derived<bool>) -> impl IntoView {
    let put_rate = move |rate: Entry<f64>| put_step(place, |step| step.rate = rate);
    let put_top = move |top: Entry<Money>| put_step(place, |step| step.up_to = top);
    let name = format!("{} {}", t("Step"), place + 1);
    view! {
        <fieldset class="step">
            <legend>{name.clone()}</legend>
            <div class="step-line">
                <NumberField place=format!("settings.fees.premium[{place}].rate") label=t("Rate") unit="%" times=100.0
                    stored=part(place, |step| step.rate.clone())
                    put=put_rate />
                <Shown when=memo(move || !last.get()) fallback=|| view! { <p class="quiet without-end">{t("on all above")}</p> }>
                    <MoneyField place=format!("settings.fees.premium[{place}].up-to") label=t("up to a price of")
                        stored=part(place, |step| step.up_to.clone())
                        put=put_top />
                </Shown>
                <button
                    type="button"
                    class="bare"
                    aria-label=format!("{}: {name}", t("Remove"))
                    on:click=move |_| put_fees(|fees| {
                        if place < fees.premium.len() {
                            fees.premium.remove(place);
                        }
                    })
                >
                    {t("Remove")}
                </button>
            </div>
        </fieldset>
    }
    .into_any()
}
