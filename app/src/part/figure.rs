//! A figure that opens to its own working, line by line.

use kerbworth_core::figure::Figure;
use leptos::prelude::*;

use crate::live::live;
use crate::store::desk::desk;
use crate::words::say;

/// A figure of core, with its lines inside if it has any.
#[component]
pub fn FigureLine(
    /// The figure.
    figure: Figure,
) -> AnyView {
    let show = desk().show;
    let Figure { label, amount, note, parts } = figure;
    let line = view! {
        <div class="figure-line">
            <span>{say(&label)}</span>
            <span class="amount">{live(move || show.with(|show| show.amount(amount)))}</span>
        </div>
    };
    if parts.is_empty() && note.is_empty() {
        return line.into_any();
    }
    view! {
        <details class="working">
            <summary>{line}</summary>
            <div class="inside">
                {(!note.is_empty()).then(|| view! { <p class="quiet">{say(&note)}</p> })}
                {parts.into_iter().map(|figure| view! { <FigureLine figure /> }).collect_view()}
            </div>
        </details>
    }
    .into_any()
}
