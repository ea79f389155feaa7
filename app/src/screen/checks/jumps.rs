//! What to go to at once, in all stages: what holds the car, and the dearest of what was seen.

use kerbworth_core::walk::jumps::{Dear, dear};
use leptos::prelude::*;

use super::gate::Holding;
use super::link::CheckLink;
use crate::live::{Each, Shown, live, memo};
use crate::store::desk::desk;
use crate::words::t;

/// What holds the car.
#[component]
pub fn Unsafe() -> impl IntoView {
    let none = memo(move || desk().appraisal.with(|appraisal| appraisal.holds.is_empty()));
    view! {
        <Shown when=none fallback=|| view! { <div class="gate"><Holding /></div> }>
            <p>{t("Nothing found so far holds the car.")}</p>
        </Shown>
    }
}

/// The dearest of what was seen.
#[component]
pub fn Dearest() -> impl IntoView {
    let desk = desk();
    let all = memo(move || desk.appraisal.with(|appraisal| desk.sheet.with(|sheet| dear(sheet, appraisal))));
    view! {
        <Shown when=memo(move || !all.with(Vec::is_empty)) fallback=|| view! { <p>{t("Nothing seen so far costs money to put right.")}</p> }>
            <p class="quiet">
                {t("What was seen, in every stage, the dearest first: the likely cost of its worst cause, by how likely that is. A check opens to its causes.")}
            </p>
        </Shown>
        <ul class="plain">
            <Each each=move || all.get() key=|it| (it.check.clone(), it.cost) let:it>
                {
                    let Dear { check, stage, cost } = it;
                    view! {
                        <li class="figure-line">
                            <span class="hit">
                                <CheckLink check />
                                <span class="quiet">{t(stage.name())}</span>
                            </span>
                            <span class="amount">{live(move || desk.show.with(|show| show.whole_money(cost)))}</span>
                        </li>
                    }
                }
            </Each>
        </ul>
    }
}
