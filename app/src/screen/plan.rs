//! What to look at next, and the plan for the minutes there are.

use leptos::prelude::*;

use crate::words::t;

/// The screen.
#[component]
pub fn PlanScreen() -> impl IntoView {
    view! { <h1>{t("Plan")}</h1> }
}
