//! Units, numbers, currency and look, for all worksheets on this device.

use kerbworth_core::units::{Quantity, Unit};
use leptos::prelude::*;

use crate::browser::{database, page};
use crate::live::{live, memo, wait};
use crate::part::choice::{Buttons, Choice};
use crate::part::entry::CurrencyField;
use crate::part::keys::KeySwitch;
use crate::route::Screen;
use crate::screen::seal::SealPart;
use crate::store::Theme;
use crate::store::desk::desk;
use crate::words::t;

/// Quantities whose unit is a matter of habit.
const BY_CHOICE: [(Quantity, &str); 7] = [
    (Quantity::Distance, "Distance driven"),
    (Quantity::Speed, "Speed"),
    (Quantity::Length, "Lengths on the car"),
    (Quantity::Pressure, "Pressure"),
    (Quantity::Temperature, "Temperature"),
    (Quantity::Film, "Paint film"),
    (Quantity::Volume, "Volume"),
];

/// The screen.
#[component]
pub fn SettingsScreen() -> impl IntoView {
    let desk = desk();
    let themes = Theme::ALL.into_iter().map(|theme| (theme.word().to_owned(), t(theme.name()).to_owned())).collect();
    let decimal = vec![("point".to_owned(), "1,234.5".to_owned()), ("comma".to_owned(), "1.234,5".to_owned())];
    view! {
        <h1>{t("Settings")}</h1>
        <Buttons
            label=t("Look")
            options=themes
            chosen=memo(move || desk.preferences.with(|wanted| wanted.theme.word().to_owned()))
            choose=move |word: String| {
                if let Some(theme) = Theme::ALL.into_iter().find(|theme| theme.word() == word) {
                    desk.prefer(|wanted| wanted.theme = theme);
                }
            }
        />
        <Buttons
            label=t("Numbers")
            options=decimal
            chosen=memo(move || {
                let comma = desk.preferences.with(|wanted| wanted.show.decimal_comma);
                if comma { "comma" } else { "point" }.to_owned()
            })
            choose=move |word: String| desk.prefer(|wanted| wanted.show.decimal_comma = word == "comma")
        />
        <h2>{t("Units")}</h2>
        <div class="pair">
            {BY_CHOICE.into_iter().map(|(quantity, name)| view! { <UnitChoice quantity name /> }).collect_view()}
        </div>
        <h2>{t("Money")}</h2>
        <CurrencyField
            place="preferences.currency"
            label=t("Currency of new worksheets, by its three letters")
            stored=memo(move || desk.preferences.with(|wanted| wanted.currency))
            put=move |currency| desk.prefer(|wanted| wanted.currency = currency)
        />
        <h2>{t("Help")}</h2>
        <p><KeySwitch /></p>
        <button type="button" on:click=move |_| {
            desk.prefer(|wanted| wanted.walked = false);
            page::go_to(&Screen::Shelf.fragment());
        }>{t("Show the first steps again")}</button>
        <SealPart />
        <h2>{t("Room on this device")}</h2>
        <Room />
    }
}

/// How much is stored, and how much may be.
#[component]
fn Room() -> impl IntoView {
    let show = desk().show;
    let room = RwSignal::new(None::<(f64, f64)>);
    // Left before the browser answers, there is nothing to show it on.
    wait(async move {
        let _ = room.try_set(database::room().await);
    });
    let megabytes = move |bytes: f64| show.with(|show| show.number(bytes / 1e6, 1));
    view! {
        <p role="status">
            {live(move || match room.get() {
                Some((used, whole)) => view! {
                    {t("In use, worksheets and photographs:")} " " {megabytes(used)} " MB. "
                    {t("The browser allows about:")} " " {megabytes(whole)} " MB."
                }
                .into_any(),
                None => t("The browser does not say how much room there is.").into_any(),
            })}
        </p>
    }
}

#[component]
fn UnitChoice(quantity: Quantity, name: &'static str) -> impl IntoView {
    let desk = desk();
    let units: Vec<Unit> = quantity.units().collect();
    let options: Vec<(String, String)> =
        units.iter().map(|unit| (unit.symbol().to_owned(), unit.symbol().to_owned())).collect();
    view! {
        <Choice
            place=format!("preferences.{quantity:?}")
            label=t(name)
            options=memo(move || options.clone())
            chosen=memo(move || desk.show.with(|show| show.unit(quantity).symbol().to_owned()))
            choose=move |symbol: String| {
                if let Some(unit) = units.iter().find(|unit| unit.symbol() == symbol) {
                    desk.prefer(|wanted| {
                        wanted.show.units.insert(quantity, *unit);
                    });
                }
            }
        />
    }
}
