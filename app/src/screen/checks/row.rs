//! One check as a row of the sheet: its name, by which it opens, and the tally boxes.

use std::sync::Arc;

use kerbworth_core::sheet::Check;
use kerbworth_core::walk::{self, Line};
use kerbworth_core::worksheet::Look;
use leptos::prelude::*;

use super::grades::Grades;
use super::link::{Here, name_id};
use super::opened::Opened;
use crate::ids;
use crate::live::{Derived, Shown, live, memo};
use crate::part::tally::UnsafeMark;
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
    let open = memo(move || here.opened.with(|opened| opened.contains_key(&mine)));
    let line = line(check.clone());
    let (row, name, toggled) = (ids::check(&id), name_id(&id), id.clone());
    view! {
        <li class="check" id=row>
            <button
                type="button"
                class="bare name"
                id=name
                aria-expanded=move || open.get().to_string()
                on:click=move |_| here.open(&toggled, !open.get_untracked())
            >
                <span><strong>{check.name.clone()}</strong> " " <Quiet check=check.clone() /></span>
                <Marks line />
            </button>
            <Grades id name=check.name.clone() here />
            <Shown when=open>
                <Opened check=check.clone() line here />
            </Shown>
        </li>
    }
    .into_any()
}

/// Minutes, and whether the drive waits for it.
#[component]
fn Quiet(check: Arc<Check>) -> impl IntoView {
    let desk = desk();
    let (minutes, before) = (check.minutes, check.before_driving);
    let said = move || {
        let minutes = desk.show.with(|show| walk::minutes(minutes, show));
        let before = if before { format!(" · {}", t("before driving")) } else { String::new() };
        format!("{minutes}{before}")
    };
    view! { <span class="quiet">{live(said)}</span> }
}

/// What the boxes do not show, drawn and in words.
#[component]
fn Marks(line: Derived<Line>) -> impl IntoView {
    live(move || {
        let line = line.get();
        let why = match line.look {
            Some(Look::NotLooked(why)) => {
                Some(view! { <span class="quiet">{t("not looked at:")} " " {t(why.name())}</span> })
            }
            Some(Look::Grade(_)) | None => None,
        };
        let raised = line.raised.map(|origin| view! { <span class="raised">{t(origin.words())}</span> });
        let noted = line.noted.then(|| view! { <span class="raised">{t("with a note")}</span> });
        let marked = line.is_unsafe || why.is_some() || raised.is_some() || noted.is_some();
        marked.then(|| {
            view! { <span class="marks">{line.is_unsafe.then(|| view! { <UnsafeMark /> })} {why} {raised} {noted}</span> }
        })
    })
}
