//! The checks on paper: a blank sheet to be filled in by pen where no phone is wanted.

use core::cell::Cell;

use kerbworth_core::grade::Grade;
use kerbworth_core::hand_over::blank::{BlankCheck, BlankReading, BlankStage, blank};
use kerbworth_core::walk;
use leptos::prelude::*;

use crate::browser::page;
use crate::live::live;
use crate::part::tally::Strokes;
use crate::store::desk::desk;
use crate::words::t;

thread_local! {
    /// Whether the screen prints itself as soon as it is there.
    static AT_ONCE: Cell<bool> = const { Cell::new(false) };
}

/// What is written at the head, by hand.
const HEAD: [&str; 8] =
    ["Car", "Registration mark", "Chassis number", "Engine number", "Mileage shown", "Day", "Place", "Looked at by"];

/// Lines for notes at the end.
const NOTES: usize = 10;

/// A link to the screen prints it at once.
pub fn print_at_once() {
    AT_ONCE.set(true);
}

/// The screen.
#[component]
pub fn BlankScreen() -> impl IntoView {
    if AT_ONCE.take() {
        set_timeout(page::print, core::time::Duration::ZERO);
    }
    let desk = desk();
    let stages = move || {
        let tags = desk.appraisal.with(|appraisal| appraisal.tags.clone());
        desk.show.with(|show| desk.sheet.with(|sheet| blank(sheet, &tags, show)))
    };
    view! {
        <div class="no-print">
            <h1>{t("On paper")}</h1>
            <p>
                {t("Every check of the type sheet in walking order, with boxes to strike and room for readings and notes. What is written on it is typed in afterwards.")}
            </p>
            <button type="button" class="button chief" on:click=move |_| page::print()>{t("Print")}</button>
        </div>
        <article class="document blank">
            <h2>{t("Worksheet")} " · " {live(move || desk.sheet.with(|sheet| sheet.name.clone()))}</h2>
            <ul class="plain head-lines">
                {HEAD.into_iter().map(|name| view! { <li>{t(name)}</li> }).collect_view()}
            </ul>
            <p class="legend">
                <Boxes />
                {t("Strike one: right, slight, moderate, serious, failed; the box apart: unsafe, not to be driven. A check that was not made stays open; write why.")}
            </p>
            {live(move || stages().into_iter().map(stage).collect_view())}
            <h3>{t("Notes")}</h3>
            <ul class="plain head-lines notes">{(0..NOTES).map(|_| view! { <li></li> }).collect_view()}</ul>
            <p>{t("An opinion on the day, not a certificate. The roadworthiness law of the place, and a licensed inspector or appraiser where one is required, decide. An unsafe car is not driven.")}</p>
        </article>
    }
}

fn stage(of: BlankStage) -> impl IntoView + use<> {
    let caution = |caution: &kerbworth_core::sheet::Caution| view! { <li>{t(caution.sentence())}</li> };
    view! {
        <h3>{t(of.stage.name())}</h3>
        <ul class="plain cautions">{of.cautions.iter().map(caution).collect_view()}</ul>
        {of.systems
            .into_iter()
            .map(|(system, checks)| {
                view! {
                    <h4>{t(system.name())}</h4>
                    <ul class="plain">{checks.into_iter().map(check).collect_view()}</ul>
                }
            })
            .collect_view()}
    }
}

fn check(check: BlankCheck) -> AnyView {
    let minutes = desk().show.with(|show| walk::minutes(check.minutes, show));
    view! {
        <li class="line">
            <p>
                <strong>{check.name}</strong>
                " "
                <span class="quiet">
                    {minutes} {check.before_driving.then(|| [" · ", t("before driving")].concat())}
                </span>
                <br />
                <span class="quiet">{check.right}</span>
            </p>
            <Boxes />
            {(!check.readings.is_empty())
                .then(|| view! { <ul class="plain to-measure">{check.readings.into_iter().map(reading).collect_view()}</ul> })}
        </li>
    }
    .into_any()
}

fn reading(reading: BlankReading) -> impl IntoView + use<> {
    let field = |(label, unit): (&'static str, String)| {
        view! { <span class="to-write">{t(label)} " " <span class="pen"></span> " " {unit}</span> }
    };
    let limit =
        |(label, said): (&'static str, String)| [t(label), if label.is_empty() { "" } else { " " }, &said].concat();
    let limits: Vec<String> = reading.limits.into_iter().map(limit).collect();
    view! {
        <li>
            <span>{reading.name} ":"</span>
            {reading.fields.into_iter().map(field).collect_view()}
            {(!limits.is_empty()).then(|| view! { <span class="quiet">{t("Right:")} " " {limits.join("; ")}</span> })}
        </li>
    }
}

/// Five tally boxes, and the one of what is unsafe.
#[component]
fn Boxes() -> impl IntoView {
    view! {
        <span class="boxes" aria-hidden="true">
            {Grade::ALL.into_iter().map(|grade| view! { <span class="tally"><Strokes grade /></span> }).collect_view()}
            <span class="tally"><svg viewBox="0 0 24 17"><path d="M4 2 H20 V15 H4 Z M4 15 L20 2" /></svg></span>
        </span>
    }
}
