//! Checks of a stage.

use kerbworth_core::sheet::Stage;
use leptos::prelude::*;

use crate::words::t;

/// The screen.
#[component]
pub fn ChecksScreen(
    /// Which stage.
    stage: Stage,
) -> impl IntoView {
    view! { <h1>{t(stage.name())}</h1> }
}
