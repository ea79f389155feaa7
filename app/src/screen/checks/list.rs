//! The checks of a stage under their systems, all of them or a part.

use kerbworth_core::condition::applicable;
use kerbworth_core::sheet::{Stage, System};
use kerbworth_core::walk::Line;
use leptos::prelude::*;

use super::link::Here;
use super::row::Row;
use crate::live::{Each, Shown, live, memo};
use crate::part::choice::Buttons;
use crate::store::desk::desk;
use crate::words::t;

/// Which checks are listed.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// All of them.
    All,
    /// Those not dealt with yet.
    ToDo,
    /// Those at which something was found.
    Found,
}

impl Part {
    const ALL: [Self; 3] = [Self::All, Self::ToDo, Self::Found];

    const fn name(self) -> &'static str {
        match self {
            Self::All => "all",
            Self::ToDo => "to do",
            Self::Found => "found",
        }
    }

    fn takes(self, line: &Line) -> bool {
        match self {
            Self::All => true,
            Self::ToDo => line.is_to_do(),
            Self::Found => line.is_found(),
        }
    }
}

/// Ids of the stage's checks with their systems, as they are when the part is chosen: a row that was just dealt
/// with stays under the thumb until the part is chosen again.
fn listed(stage: Stage, part: Part) -> Vec<(System, String)> {
    let desk = desk();
    desk.appraisal.with_untracked(|appraisal| {
        desk.worksheet.with_untracked(|worksheet| {
            desk.sheet.with_untracked(|sheet| {
                applicable(sheet, &appraisal.tags)
                    .filter(|check| check.stage == stage)
                    .filter(|check| part.takes(&Line::of(check, worksheet.findings.get(&check.id), &appraisal.signs)))
                    .map(|check| (check.system, check.id.clone()))
                    .collect()
            })
        })
    })
}

/// The list, with the buttons that choose a part of it.
#[component]
pub fn List() -> impl IntoView {
    let Some(here) = Here::now() else { return ().into_any() };
    let (stage, part) = (here.stage, here.part);
    let checks = memo(move || listed(stage, part.get()));
    let of = move |system: System| {
        checks
            .with(|checks| checks.iter().filter(|(of, _)| *of == system).map(|(_, id)| id.clone()).collect::<Vec<_>>())
    };
    let systems = move || System::ALL.into_iter().filter(|system| !of(*system).is_empty()).collect::<Vec<_>>();
    let names = Part::ALL.into_iter().map(|part| (part.name().to_owned(), t(part.name()).to_owned())).collect();
    view! {
        <div class="listed">
            <Buttons
                label=t("Show")
                options=names
                chosen=memo(move || part.get().name().to_owned())
                choose=move |name: String| {
                    if let Some(chosen) = Part::ALL.into_iter().find(|part| part.name() == name) {
                        part.set(chosen);
                    }
                }
            />
        </div>
        <Shown when=memo(move || checks.with(Vec::is_empty))>
            <p>
                {live(move || match part.get() {
                    Part::All => t("No check of this stage fits the car as it is built. What the car has is set under Car."),
                    Part::ToDo => t("Everything here is dealt with. Go on to the next stage."),
                    Part::Found => t("Nothing was found here yet. Open a check to mark what you see."),
                })}
            </p>
        </Shown>
        <Each each=systems key=|system| *system let:system>
            <section>
                <h2 class="system">{t(system.name())}</h2>
                <ul class="plain ruled">
                    <Each each=move || of(system) key=Clone::clone let:id>
                        <Row id />
                    </Each>
                </ul>
            </section>
        </Each>
    }    .into_any()
}
