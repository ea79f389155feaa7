//! Type sheets, or one of them opened for editing.

use leptos::prelude::*;

use crate::words::t;

/// The screen.
#[component]
pub fn SheetsScreen(
    /// The sheet that is opened, if one is.
    open: Option<String>,
) -> impl IntoView {
    view! { <h1>{t("Type sheets")}</h1> <p>{open}</p> }
}
