//! Departures from how the car was made.

use leptos::prelude::*;

use crate::words::t;

/// The screen.
#[component]
pub fn DeparturesScreen() -> impl IntoView {
    view! { <h1>{t("Departures")}</h1> }
}
