//! The fields of a sale, wherever it is kept.

use kerbworth_core::ledger::heading::Heading;
use kerbworth_core::ledger::in_currency;
use kerbworth_core::market::imputed::ScoreSource;
use kerbworth_core::units::Money;
use kerbworth_core::worksheet::{Entry, Sale, SaleKind};
use leptos::prelude::*;

use crate::live::{Derived, fixed, memo};
use crate::part::choice::Choice;
use crate::part::entry::{CurrencyField, DateField, DistanceField, NumberField};
use crate::part::field::{Field, Keyboard};
use crate::store::desk::desk;
use crate::words::t;

/// Names of parts of a sale, one after another.
pub fn ledger_words(headings: &[Heading]) -> String {
    headings.iter().map(|heading| t(heading.name())).collect::<Vec<_>>().join(", ")
}

/// A sale, and where a changed one goes.
#[derive(Clone, Copy)]
struct Held {
    sale: Derived<Sale>,
    put: Callback<Sale>,
}

impl Held {
    fn part<T: Clone + PartialEq + Send + Sync + 'static>(self, read: fn(&Sale) -> T) -> Derived<T> {
        memo(move || self.sale.with(read))
    }

    fn change(self, change: impl FnOnce(&mut Sale)) {
        let mut sale = self.sale.get_untracked();
        change(&mut sale);
        self.put.run(sale);
    }
}

/// Every field but the decision whether it counts.
#[component]
pub fn SaleFields(
    /// The sale's place, as core's problems name it.
    place: String,
    /// The sale.
    sale: Derived<Sale>,
    /// Called with the changed sale.
    #[prop(into)]
    put: Callback<Sale>,
) -> impl IntoView {
    let held = Held { sale, put };
    let at = move |part: &str| format!("{place}.{part}");
    let sources = ScoreSource::ALL.map(|source| (format!("{source:?}"), t(source.name()).to_owned())).to_vec();
    let kinds = SaleKind::ALL.map(|kind| (format!("{kind:?}"), t(kind.name()).to_owned())).to_vec();
    view! {
        <div class="pair">
            <DateField place=at("date") label=t("Date") stored=held.part(|sale| sale.date.clone())
                put=move |date| held.change(|sale| sale.date = date) />
            <Choice place=at("kind") label=t("How the price came about") options=fixed(kinds)
                chosen=held.part(|sale| format!("{:?}", sale.kind))
                choose=move |word: String| {
                    if let Some(kind) = SaleKind::ALL.into_iter().find(|kind| format!("{kind:?}") == word) {
                        held.change(|sale| sale.kind = kind);
                    }
                } />
            <PriceField place=at("price") held />
            <CurrencyField place=at("currency") label=t("Currency, by its three letters")
                stored=held.part(|sale| sale.currency)
                put=move |currency| held.put.run(in_currency(&held.sale.get_untracked(), currency)) />
            <DistanceField place=at("mileage") label=t("Mileage") stored=held.part(|sale| sale.mileage.clone())
                put=move |mileage| held.change(|sale| sale.mileage = mileage) />
            <NumberField place=at("condition") label=t("Condition, 0 to 100") stored=held.part(|sale| sale.condition.clone())
                put=move |condition| held.change(|sale| sale.condition = condition) />
            <Choice place=at("condition-known") label=t("How the condition is known") options=fixed(sources)
                chosen=held.part(|sale| format!("{:?}", sale.condition_known))
                choose=move |word: String| {
                    if let Some(known) = ScoreSource::ALL.into_iter().find(|known| format!("{known:?}") == word) {
                        held.change(|sale| sale.condition_known = known);
                    }
                } />
            <Field place=at("departures") label=t("Departures from standard") stored=held.part(|sale| sale.departures.clone())
                typed=move |text: String| held.change(|sale| sale.departures = text) />
        </div>
        <Field place=at("source") label=t("Where it is known from") stored=held.part(|sale| sale.source.clone())
            typed=move |text: String| held.change(|sale| sale.source = text) />
    }
}

/// The price, in the sale's own currency.
#[component]
fn PriceField(place: String, held: Held) -> impl IntoView {
    let style = move || desk().show.with(kerbworth_core::show::Show::style);
    let currency = held.part(|sale| sale.currency);
    let price: Derived<Entry<Money>> = held.part(|sale| sale.price.clone());
    let stored = move || match price.get() {
        Entry::Empty => String::new(),
        Entry::Read(price) => currency.get().show_plain(price, style()),
        Entry::Unread(text) => text,
    };
    view! {
        <Field
            place
            label=t("Price")
            keyboard=Keyboard::Decimal
            unit=memo(move || currency.get().code().to_owned())
            stored=memo(stored)
            typed=move |text: String| {
                let price = Entry::typed(&text, |text| currency.get_untracked().read(text, style()));
                held.change(|sale| sale.price = price);
            }
        />
    }
}
