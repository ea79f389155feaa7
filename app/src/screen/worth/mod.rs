//! Score, costs, worth, top bid.

use leptos::prelude::*;

use crate::words::t;

/// The screen.
#[component]
pub fn WorthScreen() -> impl IntoView {
    view! { <h1>{t("Worth")}</h1> }
}
