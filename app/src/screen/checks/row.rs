//! One check as a row: what it is and how it stands; opened by its name, marked right by one tap at its end.

use std::sync::Arc;

use kerbworth_core::grade::Grade;
use kerbworth_core::sheet::Check;
use kerbworth_core::walk::{self, Line};
use kerbworth_core::worksheet::Look;
use leptos::prelude::*;

use super::finding;
use super::link::{Here, name_id};
use super::opened::Opened;
use crate::browser::page;
use crate::ids;
use crate::live::{Derived, Shown, live, memo};
use crate::part::tally::{Tally, UnsafeMark};
use crate::store::desk::desk;
use crate::words::t;

/// How a check stands.
pub fn line(check: Arc<Check>) -> Derived<Line> {
    let desk = desk();
    memo(move || {
        desk.worksheet.with(|worksheet| {
            desk.appraisal.with(|appraisal| Line::of(&check, worksheet.findings.get(&check.id), &appraisal.signs))
        })
    })
}

/// The row.
#[component]
pub fn Row(
    /// The check's id.
    id: String,
) -> AnyView {
    let found = desk().sheet.with_untracked(|sheet| sheet.check(&id).cloned());
    let Some(check) = found.map(Arc::new) else { return ().into_any() };
    let Some(here) = Here::now() else { return ().into_any() };
    let mine = id.clone();
    let open = memo(move || here.opened.with(|opened| opened.contains(&mine)));
    let line = line(check.clone());
    let (row, summary) = (ids::check(&id), name_id(&id));
    let content = check.clone();
    view! {
        <li class="check" id=row>
            <details
                prop:open=move || open.get()
                on:toggle=move |event| here.open(&id, page::is_open(&event))
            >
                <summary id=summary>
                    <span class="name">{check.name.clone()}</span>
                    " "
                    <Quiet check=check.clone() />
                    <Shown when=memo(move || !open.get())>
                        <Marks line />
                    </Shown>
                </summary>
                <Shown when=memo(move || open.get())>
                    <Opened check=content.clone() line />
                </Shown>
            </details>
            <Shown when=memo(move || !open.get())>
                <End check=check.clone() line />
            </Shown>
        </li>
    }
    .into_any()
}

/// Minutes and weight, and whether the drive waits for it.
#[component]
fn Quiet(check: Arc<Check>) -> impl IntoView {
    let desk = desk();
    let (minutes, weight, before) = (check.minutes, check.weight, check.before_driving);
    let said = move || {
        let minutes = desk.show.with(|show| walk::minutes(minutes, show));
        let before = if before { format!(" · {}", t("before driving")) } else { String::new() };
        format!("{minutes} · {} {weight}{before}", t("weight"))
    };
    view! { <span class="quiet">{live(said)}</span> }
}

/// What was found, drawn and in words.
#[component]
fn Marks(line: Derived<Line>) -> impl IntoView {
    move || {
        let line = line.get();
        let look = match line.look {
            Some(Look::Grade(Grade::Right)) | None => None,
            Some(Look::Grade(grade)) => Some(view! { <Tally grade /> }.into_any()),
            Some(Look::NotLooked(why)) => {
                Some(view! { <span class="quiet">{t("not looked at:")} " " {t(why.name())}</span> }.into_any())
            }
        };
        let raised = line.raised.map(|origin| view! { <span class="raised">{t(origin.words())}</span> });
        let marked = line.is_unsafe || look.is_some() || raised.is_some();
        marked.then(|| {
            view! { <span class="marks">{line.is_unsafe.then(|| view! { <UnsafeMark /> })} {look} {raised}</span> }
        })
    }
}

/// At the thumb: the button that says the check is right; nothing where something else was recorded, so that a
/// slip takes nothing away.
#[component]
fn End(check: Arc<Check>, line: Derived<Line>) -> impl IntoView {
    let label = format!("{}: {}", check.name, t("right"));
    let free = memo(move || matches!(line.get().look, None | Some(Look::Grade(Grade::Right))));
    let is_right = move || line.get().look.is_some();
    view! {
        <Shown when=memo(move || free.get())>
            <button
                type="button"
                class="end"
                aria-label=label.clone()
                aria-pressed=move || is_right().to_string()
                on:click={
                    let id = check.id.clone();
                    move |_| finding::change(&id, |finding| finding.press_grade(Grade::Right))
                }
            >
                {t("right")}
            </button>
        </Shown>
    }
}
