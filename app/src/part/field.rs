//! A field: label, input, unit and message as one part, tied together by the place in the worksheet that it
//! stands for.
//!
//! What is typed stays on the screen as it was typed while the field has the focus; each keystroke is handed on
//! as text, and core decides what it means. A field never writes a parsed value back under the typing hand.

use std::collections::BTreeMap;

use leptos::prelude::*;

use crate::ids;
use crate::live::{Derived, live, memo};
use crate::store::desk::desk;

/// What the keyboard of a phone should offer.
#[derive(Clone, Copy, PartialEq, Eq, Default)]
pub enum Keyboard {
    /// Letters.
    #[default]
    Text,
    /// Digits and a decimal sign.
    Decimal,
}

impl Keyboard {
    const fn mode(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Decimal => "decimal",
        }
    }
}

/// Problems of fields that stand for no place of the worksheet, such as those of a sale in the ledger: given by
/// context to the fields inside.
#[derive(Clone, Copy)]
pub struct Problems(pub Derived<BTreeMap<String, String>>);

/// A field for one line of text.
#[component]
pub fn Field(
    /// The place in the worksheet, as core's problems name it.
    #[prop(into)]
    place: String,
    /// What it is.
    #[prop(into)]
    label: String,
    /// The stored content as text.
    #[prop(into)]
    stored: Derived<String>,
    /// Called with the text at each keystroke.
    #[prop(into)]
    typed: Callback<String>,
    /// What the keyboard of a phone should offer.
    #[prop(optional)]
    keyboard: Keyboard,
    /// The unit after the field.
    #[prop(optional, into)]
    unit: Derived<String>,
    /// A word on what goes in.
    #[prop(optional, into)]
    hint: String,
    /// A `type` other than `text`, for dates.
    #[prop(default = "text")]
    kind: &'static str,
    /// What is wrong that the worksheet's own problems do not say.
    #[prop(optional, into)]
    wrong: Derived<Option<String>>,
) -> impl IntoView {
    let id = ids::field(&place);
    let message = ids::message(&place);
    let described = message.clone();
    let draft = RwSignal::new(None::<String>);
    let shown = move || draft.get().unwrap_or_else(|| stored.get());
    let own = use_context::<Problems>();
    let problem = memo(move || {
        let found = match own {
            Some(own) => own.0.with(|problems| problems.get(&place).cloned()),
            None => desk().problem(&place),
        };
        found.or_else(|| wrong.get())
    });
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <div class="with-unit">
                <input
                    id=id
                    type=kind
                    inputmode=keyboard.mode()
                    autocomplete="off"
                    placeholder=hint
                    prop:value=shown
                    aria-invalid=move || problem.with(Option::is_some).then_some("true")
                    aria-describedby=move || problem.with(Option::is_some).then(|| described.clone())
                    on:input=move |event| {
                        let text = event_target_value(&event);
                        draft.set(Some(text.clone()));
                        typed.run(text);
                    }
                    on:blur=move |_| draft.set(None)
                />
                {live(move || {
                    let unit = unit.get();
                    (!unit.is_empty()).then(|| view! { <span class="unit">{unit}</span> })
                })}
            </div>
            {live(move || problem.get().map(|said| view! { <p class="message" id=message.clone()>{said}</p> }))}
        </div>
    }
}

/// A field for several lines of text.
#[component]
pub fn Note(
    /// The place in the worksheet.
    #[prop(into)]
    place: String,
    /// What it is.
    #[prop(into)]
    label: String,
    /// The stored text.
    #[prop(into)]
    stored: Derived<String>,
    /// Called with the text at each keystroke.
    #[prop(into)]
    typed: Callback<String>,
) -> impl IntoView {
    let id = ids::field(&place);
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <textarea
                id=id
                rows="2"
                prop:value=move || stored.get()
                on:input=move |event| typed.run(event_target_value(&event))
            ></textarea>
        </div>
    }
}
