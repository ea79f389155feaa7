//! Details whose content is made only while they are open.

use leptos::html;
use leptos::prelude::*;

use crate::live::live;

/// A line that opens to more.
#[component]
pub fn Unfold(
    /// The line.
    summary: ViewFn,
    /// Its class.
    #[prop(optional)]
    class: &'static str,
    /// Whether it is open at first.
    #[prop(optional)]
    open: bool,
    /// What is inside.
    children: ChildrenFn,
) -> impl IntoView {
    let shown = RwSignal::new(open);
    let details = NodeRef::<html::Details>::new();
    let toggled = move |_| shown.set(details.get_untracked().is_some_and(|details| details.open()));
    view! {
        <details class=class open=open node_ref=details on:toggle=toggled>
            <summary>{summary.run()}</summary>
            {live(move || shown.get().then(|| children()))}
        </details>
    }
}
