//! Comparable sales and the grid.

use leptos::prelude::*;

use crate::words::t;

/// The screen.
#[component]
pub fn SalesScreen() -> impl IntoView {
    view! { <h1>{t("Sales")}</h1> }
}
