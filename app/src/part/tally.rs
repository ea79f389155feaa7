//! Grades drawn as tally strokes, and the struck-through box of what is unsafe. Always with the word.

use kerbworth_core::grade::Grade;
use leptos::prelude::*;

use crate::words::t;

/// The strokes of a grade, without the word; for where the word stands beside it.
#[component]
pub fn Strokes(
    /// The grade.
    grade: Grade,
) -> impl IntoView {
    let path = match grade.strokes() {
        // No stroke: the base line alone, so that "right" is a mark and not a gap.
        0 => "M3 14 H21",
        1 => "M12 3 V14",
        2 => "M9 3 V14 M15 3 V14",
        3 => "M6 3 V14 M12 3 V14 M18 3 V14",
        _ => "M4 3 V14 M9 3 V14 M14 3 V14 M19 3 V14",
    };
    view! {
        <svg viewBox="0 0 24 17" aria-hidden="true">
            <path d=path />
        </svg>
    }
}

/// A grade: strokes and word.
#[component]
pub fn Tally(
    /// The grade.
    grade: Grade,
) -> impl IntoView {
    view! {
        <span class="tally">
            <Strokes grade />
            <span>{t(grade.word())}</span>
        </span>
    }
}

/// The mark of what is not to be driven: a struck-through box, and the word.
#[component]
pub fn UnsafeMark() -> impl IntoView {
    view! {
        <span class="tally">
            <svg viewBox="0 0 24 17" aria-hidden="true">
                <path d="M4 2 H20 V15 H4 Z M4 15 L20 2" />
            </svg>
            <strong>{t("unsafe")}</strong>
        </span>
    }
}
