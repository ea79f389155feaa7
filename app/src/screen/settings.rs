//! Units, numbers, currency and look, for all worksheets on this device.

use kerbworth_core::phrase;
use kerbworth_core::units::{Money, Quantity, Unit};
use leptos::prelude::*;

use crate::browser::{clock, database, page};
use crate::live::{fixed, live, memo, wait};
use crate::part::choice::{Buttons, Choice};
use crate::part::entry::CurrencyField;
use crate::part::keys::KeySwitch;
use crate::route::Screen;
use crate::screen::seal::SealPart;
use crate::store::desk::desk;
use crate::store::{REGIONS, Theme};
use crate::words::{self, say, t};

/// Quantities whose unit is a matter of habit.
const BY_CHOICE: [(Quantity, &str); 9] = [
    (Quantity::Distance, "Distance driven"),
    (Quantity::Speed, "Speed"),
    (Quantity::Length, "Lengths on the car"),
    (Quantity::Pressure, "Pressure"),
    (Quantity::Temperature, "Temperature"),
    (Quantity::Film, "Paint film"),
    (Quantity::Volume, "Volume"),
    (Quantity::Consumption, "Fuel consumption"),
    (Quantity::Mass, "Mass"),
];

/// The screen.
#[component]
pub fn SettingsScreen() -> impl IntoView {
    let desk = desk();
    let themes = Theme::ALL.into_iter().map(|theme| (theme.word().to_owned(), t(theme.name()).to_owned())).collect();
    let own = || core::iter::once((String::new(), t("as the browser").to_owned()));
    let regions = own().chain(REGIONS.map(|(tag, name)| (tag.to_owned(), t(name).to_owned()))).collect();
    let english = (words::ENGLISH.to_owned(), "English".to_owned());
    let others = words::languages().map(|(code, name)| (code.to_owned(), name.to_owned()));
    let languages = own().chain([english]).chain(others).collect();
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
            label=t("Language")
            options=languages
            chosen=memo(move || desk.preferences.with(|wanted| wanted.language.clone()))
            choose=move |code: String| {
                desk.prefer(|wanted| wanted.language = code);
                desk.store_now();
                page::reload();
            }
        />
        <UnheardOf />
        <Choice
            place="preferences.region"
            label=t("Numbers, dates and money as in")
            options=fixed(regions)
            chosen=memo(move || desk.preferences.with(|wanted| wanted.region().to_owned()))
            choose=move |tag: String| desk.prefer(|wanted| wanted.live_in(tag))
        />
        <p class="quiet" role="status">{live(preview)}</p>
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

/// A number, a day and an amount as they are written now.
fn preview() -> String {
    let desk = desk();
    let currency = desk.preferences.with(|wanted| wanted.currency);
    desk.show.with(|show| {
        let day = clock::today().map(|day| show.date(day)).unwrap_or_default();
        format!("{} · {day} · {}", show.number(1234.5, 1), show.in_currency(currency).money(Money(123_450)))
    })
}

/// Says that the language that was chosen is not to be had.
#[component]
fn UnheardOf() -> impl IntoView {
    let wanted = desk().preferences.with_untracked(|wanted| words::language(&wanted.language));
    let missing = wanted != words::ENGLISH && !words::learnt();
    missing.then(|| view! {
        <p class="message" role="alert">
            {t("The texts of this language could not be fetched, so they are in English. Open the page anew with a network.")}
        </p>
    })
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
    let offline = RwSignal::new(page::root("data-offline"));
    let told = window_event_listener_untyped("kerbworth-offline", move |_| offline.set(page::root("data-offline")));
    on_cleanup(move || told.remove());
    let megabytes = move |bytes: f64| show.with(|show| show.number(bytes / 1e6, 1));
    view! {
        <p role="status">
            {live(move || match room.get() {
                Some((used, whole)) => say(&phrase!(
                    "Worksheets and photographs take up {0} MB; the browser allows about {1} MB.",
                    megabytes(used),
                    megabytes(whole)
                )),
                None => t("The browser does not say how much room there is.").to_owned(),
            })}
        </p>
        <p role="status">
            {live(move || match offline.get().as_deref() {
                Some("ready") => t("Opens without a network."),
                _ => t("Not stored for opening without a network yet."),
            })}
        </p>
    }
}

#[component]
fn UnitChoice(quantity: Quantity, name: &'static str) -> impl IntoView {
    let desk = desk();
    let units: Vec<Unit> = quantity.units().collect();
    let options: Vec<(String, String)> =
        units.iter().map(|unit| (unit.symbol().to_owned(), t(unit.symbol()).to_owned())).collect();
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
