//! The first walk: four short steps on how a worksheet is filled in, once, to be skipped at any of them.

use kerbworth_core::grade::Grade;
use leptos::prelude::*;

use crate::live::{Shown, live, memo};
use crate::part::tally::Strokes;
use crate::store::desk::desk;
use crate::words::t;

/// The steps: what one does, and what comes of it.
const STEPS: [(&str, &str); 4] = [
    (
        "Walk round the car",
        "Checks leads you, stage by stage. Strike a box at each: no stroke is right, four is failed. A bad one asks for its signs and tells what may stand behind them.",
    ),
    ("Say how long you have", "Plan picks the checks that tell most in those minutes and puts them in walking order."),
    (
        "Add what others sold for",
        "Three sales or more under Sales make the worth: a range, and the top bid that stays within it. Each figure opens to how it came about.",
    ),
    (
        "Hand it over",
        "A report, an honest listing or a link, each saying what was not looked at. Nothing leaves this device unless you send it.",
    ),
];

/// The steps, until they were walked or skipped.
#[component]
pub fn FirstSteps() -> impl IntoView {
    let desk = desk();
    let at = RwSignal::new(0_usize);
    let done = move || desk.prefer(|wanted| wanted.walked = true);
    let on = move |_| if at.get_untracked() + 1 < STEPS.len() { at.update(|at| *at += 1) } else { done() };
    let last = move || at.get() + 1 == STEPS.len();
    view! {
        <Shown when=memo(move || desk.preferences.with(|wanted| !wanted.walked))>
            <section class="notice steps" aria-label=t("First steps")>
                <div aria-live="polite">
                    {live(move || STEPS.get(at.get()).map(|(does, so)| view! {
                        <h2>{at.get() + 1} ". " {t(does)}</h2>
                        {(at.get() == 0).then(|| view! {
                            <p class="row" aria-hidden="true">
                                {Grade::ALL.into_iter().map(|grade| view! { <span class="tally"><Strokes grade /></span> }).collect_view()}
                            </p>
                        })}
                        <p>{t(so)}</p>
                    }))}
                </div>
                <div class="row">
                    <button type="button" on:click=on>
                        {live(move || if last() { t("Begin") } else { t("Next step") })}
                    </button>
                    <Shown when=memo(move || !last())>
                        <button type="button" class="bare" on:click=move |_| done()>{t("Skip")}</button>
                    </Shown>
                </div>
            </section>
        </Shown>
    }
}
