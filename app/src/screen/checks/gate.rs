//! The gate before the road test: shut until the safety checks are made and nothing holds the car.

use kerbworth_core::appraise::driving::{self, Because};
use kerbworth_core::walk::behind;
use kerbworth_core::worksheet::Edit;
use leptos::prelude::*;

use super::link::CheckLink;
use crate::live::{Each, Shown, live, memo};
use crate::part::field::Note;
use crate::part::tally::UnsafeMark;
use crate::route::Screen;
use crate::store::desk::desk;
use crate::words::t;

/// The check at which a fault that holds the car shows.
fn shows_at(fault: &str) -> Option<String> {
    desk().appraisal.with_untracked(|appraisal| {
        desk().sheet.with_untracked(|sheet| behind::shows_at(sheet, appraisal, fault).map(ToOwned::to_owned))
    })
}

/// The gate: what it waits for, what holds the car, and the way past it for a typed reason.
#[component]
pub fn Gate() -> impl IntoView {
    let desk = desk();
    let gate = memo(move || desk.appraisal.with(|appraisal| appraisal.gate.clone()));
    let reason = memo(move || desk.worksheet.with(|worksheet| worksheet.gate_passed_over.clone()));
    let to_make = move || gate.with(|gate| gate.to_make.clone());
    let is_clear = memo(move || gate.with(driving::Gate::is_clear));
    view! {
        <section class="gate">
            <h2>{t("Before driving")}</h2>
            <p>{live(move || gate.with(|gate| t(gate.sentence())))}</p>
            <Holding />
            <Shown when=memo(move || !to_make().is_empty())>
                <h2 class="system">{t("Safety checks still to make")}</h2>
                <ul class="plain ruled">
                    <Each each=to_make key=Clone::clone let:check>
                        <li><CheckLink check /></li>
                    </Each>
                </ul>
            </Shown>
            <Shown when=memo(move || !is_clear.get() || reason.with(|reason| !reason.is_empty()))>
                <Note
                    place="gate-passed-over"
                    label=t("To open it all the same, write why; the report shows the reason")
                    stored=reason
                    typed=move |text: String| desk.edit(Edit::GatePassedOver(text))
                />
            </Shown>
        </section>
    }
}

/// What holds the car, each with the way to it; nothing if nothing does.
#[component]
pub fn Holding() -> impl IntoView {
    let holds = memo(move || desk().appraisal.with(|appraisal| appraisal.holds.clone()));
    view! {
        <Shown when=memo(move || holds.with(|holds| !holds.is_empty()))>
            <h2 class="system">{t("What holds the car")}</h2>
            <ul class="plain ruled">
                <Each each=move || holds.get() key=|hold| hold.what.clone() let:hold>
                    <li class="hold">
                        <UnsafeMark />
                        " "
                        {match hold.because {
                            Because::Finding { check } => view! { <CheckLink check /> }.into_any(),
                            Because::Combination { .. } => {
                                view! {
                                    <span>{hold.what} " "</span>
                                    <a class="check-link" href=Screen::Departures.fragment()>{t("Departures")}</a>
                                }
                                    .into_any()
                            }
                            Because::Fault { fault } => {
                                view! {
                                    <span>{hold.what} ": " {t("confirmed, or likelier than not, from")}</span>
                                    {shows_at(&fault).map(|check| view! { <CheckLink check /> })}
                                }
                                    .into_any()
                            }
                        }}
                    </li>
                </Each>
            </ul>
        </Shown>
    }
}
