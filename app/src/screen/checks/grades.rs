//! The tally boxes of a check's row: one for each grade, struck with one tap. A grade that is not right offers the signs beneath.

use kerbworth_core::grade::Grade;
use kerbworth_core::worksheet::Look;
use leptos::prelude::*;

use super::finding;
use super::link::Here;
use crate::part::tally::Strokes;
use crate::words::t;

/// The boxes.
#[component]
pub fn Grades(
    /// The check's id.
    id: String,
    /// The check's name, for those who hear the page.
    name: String,
    /// The stage that is shown.
    here: Here,
) -> impl IntoView {
    let look = finding::part(&id, |finding| finding.look);
    let is = move |grade: Grade| look.get() == Some(Look::Grade(grade));
    let id = StoredValue::new(id);
    let strike = move |grade: Grade| {
        id.with_value(|id| {
            finding::change(id, |finding| finding.press_grade(grade));
            if grade != Grade::Right && look.get_untracked() == Some(Look::Grade(grade)) {
                here.offer_signs(id);
            }
        });
    };
    view! {
        <fieldset class="grades">
            <legend class="unseen">{t("Grade:")} " " {name}</legend>
            <div>
                {Grade::ALL
                    .into_iter()
                    .map(|grade| {
                        view! {
                            <button type="button" aria-pressed=move || is(grade).to_string() on:click=move |_| strike(grade)>
                                <span class="tally"><Strokes grade /></span>
                                <span>{t(grade.word())}</span>
                            </button>
                        }
                    })
                    .collect_view()}
            </div>
        </fieldset>
    }
}
