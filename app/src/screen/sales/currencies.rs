//! Rates of exchange for sales in other currencies than the worksheet's.

use kerbworth_core::units::Currency;
use kerbworth_core::worksheet::Edit;
use leptos::prelude::*;

use crate::live::{Each, Shown, memo};
use crate::part::entry::NumberField;
use crate::store::desk::desk;
use crate::words::t;

/// A field for each currency; nothing if there is no other.
#[component]
pub fn Currencies() -> impl IntoView {
    let desk = desk();
    let foreign = memo(move || desk.worksheet.with(kerbworth_core::worksheet::Worksheet::foreign_currencies));
    view! {
        <Shown when=memo(move || foreign.with(|foreign| !foreign.is_empty()))>
            <h2>{t("Rates of exchange")}</h2>
            <p class="quiet">
                {t("Prices stay as they were published. Give the rate of the day of the sale, or of today if the sales lie close together.")}
            </p>
            <div class="pair">
                <Each each=move || foreign.get() key=|currency| *currency let:currency>
                    <Rate currency />
                </Each>
            </div>
        </Shown>
    }
}

#[component]
fn Rate(currency: Currency) -> impl IntoView {
    let desk = desk();
    let stored = memo(move || {
        desk.worksheet.with(|worksheet| worksheet.settings.exchange.get(&currency).cloned()).unwrap_or_default()
    });
    let own = memo(move || desk.worksheet.with(|worksheet| worksheet.settings.currency));
    view! {
        <NumberField
            place=format!("settings.exchange.{}", currency.code())
            label=format!("{} {}", t("One of"), currency.code())
            unit=memo(move || own.get().code().to_owned())
            stored
            put=move |rate| {
                let mut settings = desk.worksheet.with_untracked(|worksheet| worksheet.settings.clone());
                settings.exchange.insert(currency, rate);
                desk.edit(Edit::Settings(Box::new(settings)));
            }
        />
    }
}
