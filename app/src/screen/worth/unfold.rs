//! Folds with a plain label, and the working of a figure in one.

use kerbworth_core::figure::Figure;
use leptos::prelude::*;

use crate::live::{Derived, live};
use crate::part::figure::FigureLine;
use crate::part::unfold;
use crate::words::{say, t};

/// A part that opens; nothing inside exists while it is closed.
#[component]
pub fn Unfold(
    /// What it is.
    #[prop(into)]
    label: Derived<String>,
    /// What it is about, for those who hear the page: where several bear one label.
    #[prop(optional, into)]
    about: String,
    children: ChildrenFn,
) -> impl IntoView {
    let about = Some(about).filter(|about| !about.is_empty()).map(|about| format!(": {about}"));
    let summary = move || {
        let about = about.clone().map(|about| view! { <span class="unseen">{about}</span> });
        view! { {live(move || label.get())} {about} }
    };
    view! { <unfold::Unfold summary=ViewFn::from(summary) class="unfold" children /> }
}

/// The working of a figure that stands above it.
#[component]
pub fn Working(
    /// The figure; nothing while there is none.
    figure: Derived<Option<Figure>>,
) -> impl IntoView {
    let lines = move || {
        figure.get().map(|Figure { note, parts, .. }| {
            view! {
                {(!note.is_empty()).then(|| view! { <p class="quiet">{say(&note)}</p> })}
                {parts.into_iter().map(|figure| view! { <FigureLine figure /> }).collect_view()}
            }
        })
    };
    view! { <Unfold label=t("How it came about")>{live(lines)}</Unfold> }
}
