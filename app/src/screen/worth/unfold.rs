//! Parts of the page that are drawn only while they are open.

use kerbworth_core::figure::Figure;
use leptos::html::Details;
use leptos::prelude::*;

use crate::part::figure::FigureLine;
use crate::words::t;

/// A part that opens; nothing inside exists while it is closed.
#[component]
pub fn Unfold(
    /// What it is.
    #[prop(into)]
    label: Signal<String>,
    /// What it is about, for those who hear the page: where several bear one label.
    #[prop(optional, into)]
    about: String,
    children: ChildrenFn,
) -> impl IntoView {
    let open = RwSignal::new(false);
    let node = NodeRef::<Details>::new();
    let read = move |_| open.set(node.get_untracked().is_some_and(|details| details.open()));
    view! {
        <details class="unfold" node_ref=node on:toggle=read>
            <summary>
                {label} {(!about.is_empty()).then(|| view! { <span class="unseen">": " {about}</span> })}
            </summary>
            <Show when=move || open.get()>{children()}</Show>
        </details>
    }
}

/// The working of a figure that stands above it.
#[component]
pub fn Working(
    /// The figure; nothing while there is none.
    figure: Signal<Option<Figure>>,
) -> impl IntoView {
    let lines = move || {
        figure.get().map(|Figure { note, parts, .. }| {
            view! {
                {(!note.is_empty()).then(|| view! { <p class="quiet">{note}</p> })}
                {parts.into_iter().map(|figure| view! { <FigureLine figure /> }).collect_view()}
            }
        })
    };
    view! { <Unfold label=t("How it came about")>{lines}</Unfold> }
}
