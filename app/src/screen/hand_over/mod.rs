//! Report, listing, bargaining sheet, files.

use leptos::prelude::*;

use crate::words::t;

/// The screen.
#[component]
pub fn HandOverScreen() -> impl IntoView {
    view! { <h1>{t("Hand over")}</h1> }
}
