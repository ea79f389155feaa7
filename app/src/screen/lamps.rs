//! The truth table of lamps.

use leptos::prelude::*;

use crate::words::t;

/// The screen.
#[component]
pub fn LampsScreen() -> impl IntoView {
    view! { <h1>{t("Lamps")}</h1> }
}
