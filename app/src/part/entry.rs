//! Fields for core's entries: a value, nothing, or a text that could not be read. One component a kind of value;
//! each only says how core reads and shows it.

use kerbworth_core::units::{Currency, Date, Length, Money, NumberStyle, Quantity, number};
use kerbworth_core::worksheet::Entry;
use leptos::prelude::*;

use crate::live::{Derived, memo};
use crate::part::field::{Field, Keyboard};
use crate::store::desk::desk;
use crate::words::t;

/// The stored content of an entry as a field shows it.
fn text<T>(entry: &Entry<T>, show: impl FnOnce(&T) -> String) -> String {
    match entry {
        Entry::Empty => String::new(),
        Entry::Read(value) => show(value),
        Entry::Unread(text) => text.clone(),
    }
}

fn style() -> NumberStyle {
    desk().show.with(kerbworth_core::show::Show::style)
}

/// A field for an amount of money in the worksheet's currency.
#[component]
pub fn MoneyField(
    /// The place in the worksheet.
    #[prop(into)]
    place: String,
    /// What it is.
    #[prop(into)]
    label: String,
    /// What is stored.
    #[prop(into)]
    stored: Derived<Entry<Money>>,
    /// Called with the new entry.
    #[prop(into)]
    put: Callback<Entry<Money>>,
) -> impl IntoView {
    let currency = move || desk().show.with(|show| show.currency);
    view! {
        <Field
            place
            label
            keyboard=Keyboard::Decimal
            unit=memo(move || currency().code().to_owned())
            stored=memo(move || {
                stored.with(|entry| text(entry, |amount| currency().show_plain(*amount, style())))
            })
            typed=move |typed: String| put.run(Entry::typed(&typed, |typed| currency().read(typed, style())))
        />
    }
}

/// A field for a plain number.
#[component]
pub fn NumberField(
    /// The place in the worksheet.
    #[prop(into)]
    place: String,
    /// What it is.
    #[prop(into)]
    label: String,
    /// What is stored.
    #[prop(into)]
    stored: Derived<Entry<f64>>,
    /// Called with the new entry.
    #[prop(into)]
    put: Callback<Entry<f64>>,
    /// The unit after the field.
    #[prop(optional, into)]
    unit: Derived<String>,
    /// How many of what is typed make one of what is stored: 100 where a share is typed in per cent.
    #[prop(default = 1.0)]
    times: f64,
) -> impl IntoView {
    view! {
        <Field
            place
            label
            unit
            keyboard=Keyboard::Decimal
            stored=memo(move || {
                stored.with(|entry| text(entry, |value| number::show_short(value * times, 6, style())))
            })
            typed=move |typed: String| {
                put.run(Entry::typed(&typed, |typed| number::parse(typed, style()).map(|value| value / times)));
            }
        />
    }
}

/// A field for a whole number, such as a year.
#[component]
pub fn WholeField(
    /// The place in the worksheet.
    #[prop(into)]
    place: String,
    /// What it is.
    #[prop(into)]
    label: String,
    /// What is stored.
    #[prop(into)]
    stored: Derived<Entry<i32>>,
    /// Called with the new entry.
    #[prop(into)]
    put: Callback<Entry<i32>>,
) -> impl IntoView {
    view! {
        <Field
            place
            label
            keyboard=Keyboard::Decimal
            stored=memo(move || stored.with(|entry| text(entry, ToString::to_string)))
            typed=move |typed: String| put.run(Entry::typed(&typed, |typed| typed.trim().parse::<i32>()))
        />
    }
}

/// A field for a distance driven, in the person's unit.
#[component]
pub fn DistanceField(
    /// The place in the worksheet.
    #[prop(into)]
    place: String,
    /// What it is.
    #[prop(into)]
    label: String,
    /// What is stored.
    #[prop(into)]
    stored: Derived<Entry<Length>>,
    /// Called with the new entry.
    #[prop(into)]
    put: Callback<Entry<Length>>,
) -> impl IntoView {
    let unit = move || desk().show.with(|show| show.unit(Quantity::Distance));
    view! {
        <Field
            place
            label
            keyboard=Keyboard::Decimal
            unit=memo(move || t(unit().symbol()).to_owned())
            stored=memo(move || {
                stored.with(|entry| text(entry, |distance| unit().show_plain(distance.0, style())))
            })
            typed=move |typed: String| {
                put.run(Entry::typed(&typed, |typed| unit().read(typed, style()).map(Length)));
            }
        />
    }
}

/// A field for a date, as year-month-day.
#[component]
pub fn DateField(
    /// The place in the worksheet.
    #[prop(into)]
    place: String,
    /// What it is.
    #[prop(into)]
    label: String,
    /// What is stored.
    #[prop(into)]
    stored: Derived<Entry<Date>>,
    /// Called with the new entry.
    #[prop(into)]
    put: Callback<Entry<Date>>,
) -> impl IntoView {
    view! {
        <Field
            place
            label
            hint="2026-10-04"
            stored=memo(move || stored.with(|entry| text(entry, ToString::to_string)))
            typed=move |typed: String| put.run(Entry::typed(&typed, |typed| Date::parse(typed).ok_or(())))
        />
    }
}

/// A field for a currency by its three letters. What is none stays in the field with what is wrong beside it, and the
/// currency that was stays in force.
#[component]
pub fn CurrencyField(
    /// The place in the worksheet, or any unique name.
    #[prop(into)]
    place: String,
    /// What it is.
    #[prop(into)]
    label: String,
    /// The one in force.
    #[prop(into)]
    stored: Derived<Currency>,
    /// Called with another.
    #[prop(into)]
    put: Callback<Currency>,
) -> impl IntoView {
    let unread = RwSignal::new(None::<String>);
    // The one before the hand came: the first letters of a word that is none may be those of another currency.
    let before = StoredValue::new(stored.get_untracked());
    let put = move |currency: Currency| {
        if stored.get_untracked() != currency {
            put.run(currency);
        }
    };
    view! {
        <div on:focusin=move |_| before.set_value(stored.get_untracked())>
            <Field
                place
                label
                stored=memo(move || unread.get().unwrap_or_else(|| stored.with(|currency| currency.code().to_owned())))
                wrong=memo(move || {
                    let said = || t("A currency is a code of three letters, such as GBP or EUR.").to_owned();
                    unread.with(Option::is_some).then(said)
                })
                typed=move |typed: String| match Currency::parse(&typed) {
                    Some(currency) => {
                        unread.set(None);
                        put(currency);
                    }
                    None => {
                        unread.set(Some(typed));
                        put(before.get_value());
                    }
                }
            />
        </div>
    }
}
