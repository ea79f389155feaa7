//! Score of each system and of the whole car, with cover and the band that the unseen leaves.

use kerbworth_core::condition::Score;
use leptos::prelude::*;

use super::read::of_appraisal;
use super::unfold::Working;
use crate::ids;
use crate::live::{live, memo};
use crate::store::desk::desk;
use crate::words::t;

/// The section.
#[component]
pub fn Scores() -> impl IntoView {
    let condition = of_appraisal(|appraisal| appraisal.condition.clone());
    let figure = memo(move || condition.with(|condition| Some(condition.working.clone())));
    view! {
        <h2 id=ids::SCORE tabindex="-1">{t("Score")}</h2>
        <div class="scroll" tabindex="0" role="region" aria-label=t("Score of each system")>
            <table class="scores">
                <thead>
                    <tr>
                        <th scope="col">{t("System")}</th>
                        <th scope="col" class="amount">{t("Score")}</th>
                        <th scope="col" class="amount">{t("Cover")}</th>
                        <th scope="col">{t("Could still be")}</th>
                    </tr>
                </thead>
                <tbody>
                    {live(move || condition.with(|condition| {
                        let systems = condition.systems.iter();
                        systems.map(|system| line(t(system.system.name()), &system.score)).collect_view()
                    }))}
                </tbody>
                <tfoot>{live(move || condition.with(|condition| line(t("Whole car"), &condition.overall)))}</tfoot>
            </table>
        </div>
        <p class="quiet">
            {t("From 0 to 100, over what was looked at, by weight. The band runs from everything unseen having failed to all of it being right.")}
        </p>
        <Working figure />
    }
}

fn line(name: &'static str, score: &Score) -> impl IntoView + use<> {
    let shown = desk().show.with(|show| {
        (
            score.value.map_or_else(|| "—".to_owned(), |value| show.number(value, 0)),
            show.share(score.cover),
            format!("{}–{}", show.number(score.low, 0), show.number(score.high, 0)),
        )
    });
    let (value, cover, band) = shown;
    view! {
        <tr>
            <th scope="row">{name}</th>
            <td class="amount">{value}</td>
            <td class="amount">{cover}</td>
            <td class="band">{band} {rule(score)}</td>
        </tr>
    }
}

/// The band as a plain line on a rule from 0 to 100, with a stroke where the score is.
fn rule(score: &Score) -> impl IntoView + use<> {
    let at = |value: f64| format!("{value:.1}%");
    let value = score.value.map(at);
    view! {
        <svg class="rule" aria-hidden="true">
            <line class="axis" x1="0%" x2="100%" y1="12" y2="12" />
            <line class="axis" x1="0%" x2="0%" y1="8" y2="16" />
            <line class="axis" x1="50%" x2="50%" y1="9" y2="15" />
            <line class="axis" x1="100%" x2="100%" y1="8" y2="16" />
            <line class="bar" x1=at(score.low) x2=at(score.high) y1="12" y2="12" />
            {value.map(|value| view! { <line class="stroke" x1=value.clone() x2=value y1="3" y2="21" /> })}
        </svg>
    }
}
