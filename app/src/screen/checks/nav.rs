//! From stage to stage, and to the screens that belong to the walk.

use kerbworth_core::phrase;
use kerbworth_core::sheet::Stage;
use kerbworth_core::walk::{Progress, progress};
use leptos::prelude::*;

use crate::browser::page;
use crate::live::{Derived, live, memo};
use crate::route::Screen;
use crate::screen::blank::print_at_once;
use crate::store::desk::desk;
use crate::words::{say, t};

/// The id of the bar of stages.
const BAR: &str = "stages";

/// How far each stage is.
fn all_progress() -> Derived<Vec<Progress>> {
    let desk = desk();
    memo(move || {
        desk.worksheet.with(|worksheet| {
            desk.sheet.with(|sheet| desk.appraisal.with(|appraisal| progress(sheet, worksheet, &appraisal.tags)))
        })
    })
}

/// The stages with how far each is, the current one marked and in sight; below, what else belongs to the walk.
#[component]
pub fn Stages(stage: Stage) -> impl IntoView {
    let progress = all_progress();
    // The bar is on the page by the time effects run.
    Effect::new(|_| page::centre_current(BAR));
    view! {
        <nav class="stages" id=BAR aria-label=t("Stages")>
            <ol class="plain">
                {Stage::ALL
                    .into_iter()
                    .map(|to| {
                        let done = move || {
                            let of = progress.with(|all| all.iter().find(|progress| progress.stage == to).copied());
                            of.map(|progress| format!("{}/{}", progress.made, progress.of))
                        };
                        view! {
                            <li>
                                <a
                                    href=Screen::Checks(to).fragment()
                                    aria-current=(to == stage).then_some("page")
                                >
                                    <span>{t(to.name())}</span>
                                    " "
                                    <span class="quiet">{live(done)}</span>
                                </a>
                            </li>
                        }
                    })
                    .collect_view()}
            </ol>
        </nav>
        <p class="beside-walk">
            <a href=Screen::Plan.fragment()>{t("Plan")}</a>
            <a href=Screen::Lamps.fragment()>{t("Lamps")}</a>
            <a href=Screen::Departures.fragment()>{t("Departures")}</a>
            <a href=Screen::Blank.fragment() on:click=|_| print_at_once()>{t("Print blank")}</a>
        </p>
    }
}

/// How the stage stands, and the way to the next.
#[component]
pub fn Onward(stage: Stage) -> impl IntoView {
    let progress = all_progress();
    let left =
        move || progress.with(|all| all.iter().find(|progress| progress.stage == stage).map_or(0, |it| it.to_do));
    // After the last stage, to what all of it comes to.
    let next = Stage::ALL.into_iter().find(|next| *next > stage);
    let (to, name) = next.map_or((Screen::Worth, t("Worth")), |next| (Screen::Checks(next), t(next.name())));
    view! {
        <p class="row onward">
            <span class="quiet">
                {live(move || match left() {
                    0 => t("Nothing is left to do here.").to_owned(),
                    1 => t("One check is still to do here.").to_owned(),
                    left => say(&phrase!("{0} checks are still to do here.", left)),
                })}
            </span>
            <a class="button" href=to.fragment()>{t("On to:")} " " {name}</a>
        </p>
    }
}
