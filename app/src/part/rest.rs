//! How things stand, for those who hear the page: said once they have come to rest, not at each keystroke.

use core::time::Duration;

use kerbworth_core::phrase;
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;

use super::bars::{cover_in_short, worth_in_short};
use crate::live::{live, memo};
use crate::store::desk::desk;
use crate::store::keep::Kept;
use crate::words::say;

/// How long nothing changes before it is said.
const REST: Duration = Duration::from_millis(1500);

/// What is said. Nothing while something is not stored yet, and nothing twice.
#[component]
pub fn Rest() -> impl IntoView {
    let desk = desk();
    let now = memo(move || {
        let holds = desk.appraisal.with(|appraisal| appraisal.holds.len());
        let worth = say(&phrase!("Saved. Worth {0}, cover {1}, holds {2}.", worth_in_short(), cover_in_short(), holds));
        (desk.is_open.get() && desk.keeper.kept.get() == Kept::Saved).then_some(worth)
    });
    let said = RwSignal::new(String::new());
    Effect::new(move |waiting: Option<Option<TimeoutHandle>>| {
        if let Some(Some(waiting)) = waiting {
            waiting.clear();
        }
        let now = now.get()?;
        set_timeout_with_handle(move || said.set(now.clone()), REST).ok()
    });
    view! { <p class="unseen" id="rest" role="status">{live(move || said.get())}</p> }
}
