//! What may be noticed at a check: each sign seen, looked for and not there, or not to be told.

use std::sync::Arc;

use kerbworth_core::appraise::evidence::Origin;
use kerbworth_core::sheet::{Check, Sign};
use kerbworth_core::walk::raised;
use kerbworth_core::worksheet::Seen;
use leptos::prelude::*;

use super::finding;
use crate::live::{Derived, live, memo};
use crate::part::tally::UnsafeMark;
use crate::store::desk::desk;
use crate::words::t;

/// The signs of a check.
#[component]
pub fn Signs(check: Arc<Check>) -> impl IntoView {
    let seen = finding::part(&check.id, |finding| finding.signs.clone());
    let raised = {
        let check = check.clone();
        memo(move || {
            desk().appraisal.with(|appraisal| {
                let raised = raised(&check, &appraisal.signs).into_iter();
                raised.map(|(sign, origin)| (sign.id.clone(), origin)).collect::<Vec<_>>()
            })
        })
    };
    let id = check.id.clone();
    (!check.signs.is_empty()).then(move || {
        view! {
            <fieldset class="signs">
                <legend>{t("Signs")}</legend>
                <ul class="plain">
                    {check
                        .signs
                        .iter()
                        .map(|sign| {
                            let (mine, other) = (sign.id.clone(), sign.id.clone());
                            let state = memo(move || seen.with(|signs| signs.get(&mine).copied()));
                            let raised = memo(move || {
                                raised.with(|all| all.iter().find(|(id, _)| *id == other).map(|(_, origin)| *origin))
                            });
                            view! { <OneSign check=id.clone() sign=sign.clone() state raised /> }
                        })
                        .collect_view()}
                </ul>
            </fieldset>
        }
    })
}

#[component]
fn OneSign(check: String, sign: Sign, state: Derived<Option<Seen>>, raised: Derived<Option<Origin>>) -> impl IntoView {
    let name = sign.name.clone();
    let is_unsafe = sign.is_unsafe;
    let sign = StoredValue::new((check, sign));
    let press = move |seen: Seen| {
        sign.with_value(|(check, sign)| finding::change(check, |finding| finding.press_sign(sign, seen)));
    };
    let is = move |seen: Seen| move || (state.get() == Some(seen)).to_string();
    let label = |word: &str| format!("{name}: {word}");
    let (not_there, unsure) = (label(t("not there")), label(t("unsure")));
    view! {
        <li class="sign">
            <button type="button" class="sign-name" aria-pressed=is(Seen::Yes) on:click=move |_| press(Seen::Yes)>
                <span class="mark" aria-hidden="true"></span>
                <span>
                    {name}
                    {is_unsafe.then(|| view! { " " <UnsafeMark /> })}
                    {live(move || raised.get().map(|origin| view! { <em>{format!(" {}", t(origin.words()))}</em> }))}
                </span>
            </button>
            <button
                type="button"
                aria-label=not_there
                aria-pressed=is(Seen::No)
                on:click=move |_| press(Seen::No)
            >
                {t("not")}
            </button>
            <button
                type="button"
                aria-label=unsure
                aria-pressed=is(Seen::Unsure)
                on:click=move |_| press(Seen::Unsure)
            >
                {t("unsure")}
            </button>
        </li>
    }
}
