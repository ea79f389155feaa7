//! The ledger of sales that all worksheets share.

use leptos::prelude::*;

use crate::words::t;

/// The screen.
#[component]
pub fn LedgerScreen() -> impl IntoView {
    view! { <h1>{t("Ledger")}</h1> }
}
