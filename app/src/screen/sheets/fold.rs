//! A part of the page that opens; nothing inside exists while it is closed.

use leptos::html::Details;
use leptos::prelude::*;

use crate::live::{Derived, live, memo};

/// Whether something is open, and how to say that it is to be.
#[derive(Clone, Copy)]
pub struct Open {
    /// Whether it is.
    pub is: Derived<bool>,
    /// Says that it was opened or closed.
    pub set: Callback<bool>,
}

impl Open {
    /// One that nobody else knows of.
    pub fn here() -> Self {
        let open = RwSignal::new(false);
        Self { is: open.into(), set: Callback::new(move |to| open.set(to)) }
    }
}

/// A fold. `inside` draws its content whenever it is opened.
pub fn fold(
    class: &'static str,
    id: Option<String>,
    open: Open,
    summary: AnyView,
    inside: impl Fn() -> AnyView + Send + Sync + 'static,
) -> AnyView {
    let node = NodeRef::<Details>::new();
    let is = memo(move || open.is.get());
    let toggled = move |_| {
        if let Some(details) = node.get_untracked() {
            open.set.run(details.open());
        }
    };
    view! {
        <details class=class node_ref=node prop:open=move || is.get() on:toggle=toggled>
            <summary id=id>{summary}</summary>
            {live(move || is.get().then(|| untrack(&inside)))}
        </details>
    }
    .into_any()
}
