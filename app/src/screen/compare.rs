//! Several worksheets side by side.

use leptos::prelude::*;

use crate::words::t;

/// The screen.
#[component]
pub fn CompareScreen() -> impl IntoView {
    view! { <h1>{t("Compare")}</h1> }
}
