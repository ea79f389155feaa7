//! The checks of a stage under their systems, all of them or a part.

use kerbworth_core::condition::applicable;
use kerbworth_core::sheet::{Stage, System};
use kerbworth_core::walk::Line;
use leptos::prelude::*;

use super::link::Here;
use super::row::Row;
use crate::live::{Each, live, memo};
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
    /// Those that hold the car, in every stage.
    Unsafe,
    /// Those whose causes cost most, in every stage.
    Dear,
}

impl Part {
    const ALL: [Self; 5] = [Self::All, Self::ToDo, Self::Found, Self::Unsafe, Self::Dear];

    const fn name(self) -> &'static str {
        match self {
            Self::All => "all",
            Self::ToDo => "to do",
            Self::Found => "found",
            Self::Unsafe => "unsafe",
            Self::Dear => "dear",
        }
    }

    fn takes(self, line: &Line) -> bool {
        match self {
            Self::All => true,
            Self::ToDo => line.is_to_do(),
            Self::Found => line.is_found(),
            // Listed by themselves, whatever the stage.
            Self::Unsafe | Self::Dear => false,
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

/// The buttons that choose a part of the list.
#[component]
pub fn Parts(here: Here) -> impl IntoView {
    let names = Part::ALL.into_iter().map(|part| (part.name().to_owned(), t(part.name()).to_owned())).collect();
    view! {
        <div class="parts">
            <Buttons
                label=t("Show")
                options=names
                chosen=memo(move || here.part.get().name().to_owned())
                choose=move |name: String| {
                    if let Some(chosen) = Part::ALL.into_iter().find(|part| part.name() == name) {
                        here.part.set(chosen);
                    }
                }
            />
        </div>
    }
}

/// The list.
#[component]
pub fn List(here: Here) -> impl IntoView {
    let (stage, part) = (here.stage, here.part);
    let checks = memo(move || listed(stage, part.get()));
    let of = move |system: System| {
        checks
            .with(|checks| checks.iter().filter(|(of, _)| *of == system).map(|(_, id)| id.clone()).collect::<Vec<_>>())
    };
    let systems = move || System::ALL.into_iter().filter(|system| !of(*system).is_empty()).collect::<Vec<_>>();
    view! {
        {live(move || {
            let said = match part.get() {
                _ if !checks.with(Vec::is_empty) => return None,
                Part::All => t("No check of this stage fits the car as it is built. What the car has is set under Car."),
                Part::ToDo => t("Everything here is dealt with. Go on to the next stage."),
                Part::Found => t("Nothing was found here yet. Strike a box at a check, or open it by its name."),
                Part::Unsafe | Part::Dear => return None,
            };
            Some(view! { <p>{said}</p> })
        })}
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
    }
}
