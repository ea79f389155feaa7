//! One of several: the only `select` of the app, and rows of buttons of which one is pressed.

use leptos::prelude::*;

use crate::ids;
use crate::live::{Derived, live};

/// A choice from a list. Options carry `selected`, since a select's value set before its options are there
/// would show the wrong one; as a property, since the attribute no longer counts once a person has chosen.
#[component]
pub fn Choice(
    /// The place in the worksheet, or any unique name.
    #[prop(into)]
    place: String,
    /// What is chosen.
    #[prop(into)]
    label: String,
    /// Values and what they are called.
    #[prop(into)]
    options: Derived<Vec<(String, String)>>,
    /// The value chosen.
    #[prop(into)]
    chosen: Derived<String>,
    /// Called with the value.
    #[prop(into)]
    choose: Callback<String>,
) -> impl IntoView {
    let id = ids::field(&place);
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <select id=id on:change=move |event| choose.run(event_target_value(&event))>
                {live(move || {
                    options
                        .get()
                        .into_iter()
                        .map(|(value, name)| {
                            let this = value.clone();
                            view! {
                                <option value=value prop:selected=move || chosen.with(|chosen| *chosen == this)>
                                    {name}
                                </option>
                            }
                        })
                        .collect_view()
                })}
            </select>
        </div>
    }
}

/// A row of buttons of which one, or none, is pressed.
#[component]
pub fn Buttons(
    /// What is chosen.
    #[prop(into)]
    label: String,
    /// Values and what they are called.
    options: Vec<(String, String)>,
    /// The value chosen; blank for none.
    #[prop(into)]
    chosen: Derived<String>,
    /// Called with the value pressed.
    #[prop(into)]
    choose: Callback<String>,
) -> impl IntoView {
    view! {
        <fieldset>
            <legend>{label}</legend>
            <div class="row">
                {options
                    .into_iter()
                    .map(|(value, name)| {
                        let (this, pressed) = (value.clone(), value);
                        view! {
                            <button
                                type="button"
                                aria-pressed=move || chosen.with(|chosen| *chosen == this).to_string()
                                on:click=move |_| choose.run(pressed.clone())
                            >
                                {name}
                            </button>
                        }
                    })
                    .collect_view()}
            </div>
        </fieldset>
    }
}
