//! Checks of a stage: where one stands, what to look at there, and what was found.

mod causes;
mod finding;
mod gate;
mod grades;
mod jumps;
mod link;
mod list;
mod log;
mod nav;
mod opened;
mod photos;
mod readings;
mod row;
mod search;
mod signs;

use kerbworth_core::sheet::Stage;
use kerbworth_core::walk;
use leptos::prelude::*;

pub use causes::Causes;
pub use link::CheckLink;
use link::Here;

use crate::live::{Shown, live, memo};
use crate::store::desk::desk;
use crate::words::t;

/// The screen.
#[component]
pub fn ChecksScreen(
    /// Which stage.
    stage: Stage,
) -> impl IntoView {
    let here = Here::arrive(stage);
    provide_context(here);
    let searching = memo(move || here.words.with(|words| !words.trim().is_empty()));
    view! {
        <h1>{t(stage.name())}</h1>
        <nav::Stages stage />
        <search::Words here />
        <Shown when=searching fallback=move || view! { <list::Parts here /> <Listed here /> }>
            <search::Hits here />
        </Shown>
    }
}

/// The part of the list that is chosen: of the stage, or of the whole car.
#[component]
fn Listed(here: Here) -> impl IntoView {
    let jump = memo(move || Some(here.part.get()).filter(|part| matches!(part, list::Part::Unsafe | list::Part::Dear)));
    live(move || match jump.get() {
        Some(list::Part::Unsafe) => view! { <jumps::Unsafe /> }.into_any(),
        Some(_) => view! { <jumps::Dearest /> }.into_any(),
        None => view! { <Walk here /> }.into_any(),
    })
}

/// The stage itself: cautions, gate and log where they belong, then the checks.
#[component]
fn Walk(here: Here) -> impl IntoView {
    let stage = here.stage;
    let is_drive = stage == Stage::RoadTest;
    let open = memo(move || !is_drive || desk().appraisal.with(|appraisal| appraisal.gate.is_open()));
    view! {
        <Cautions stage />
        {is_drive.then(|| view! { <gate::Gate /> })}
        {is_drive.then(|| view! { <log::Log open /> })}
        <Shown when=memo(move || open.get())>
            <list::List here />
        </Shown>
        <nav::Onward stage />
    }
}

/// What to be careful of in all of a stage.
#[component]
fn Cautions(stage: Stage) -> impl IntoView {
    let cautions = walk::cautions(stage);
    (!cautions.is_empty()).then(|| {
        view! {
            <div class="notice cautions">
                <ul class="plain">{cautions.iter().map(|caution| view! { <li>{t(caution.sentence())}</li> }).collect_view()}</ul>
            </div>
        }
    })
}
