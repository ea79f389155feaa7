//! An opened check: how to make it and what is right, then what was found.

use std::borrow::Cow;
use std::sync::Arc;

use kerbworth_core::appraise::driving;
use kerbworth_core::condition::{Curable, Cured};
use kerbworth_core::grade::Grade;
use kerbworth_core::sheet::Check;
use kerbworth_core::walk::{Line, behind};
use kerbworth_core::worksheet::{Door, Look, WhyNot};
use leptos::prelude::*;

use super::causes::Causes;
use super::finding;
use super::link::{CheckLink, Here};
use super::photos::Photos;
use super::readings::Readings;
use super::signs::Signs;
use crate::live::{Derived, Shown, live, memo};
use crate::part::choice::{Buttons, Choice};
use crate::part::field::Note;
use crate::part::tally::UnsafeMark;
use crate::route::Screen;
use crate::store::desk::desk;
use crate::words::t;

/// The content of an opened row. Who opens it by its name reads first how the check is made; who gave a grade is asked for
/// the signs at once.
#[component]
pub fn Opened(check: Arc<Check>, line: Derived<Line>, here: Here) -> impl IntoView {
    let id = check.id.clone();
    let note = id.clone();
    let seen = {
        let check = check.clone();
        memo(move || desk().appraisal.with(|appraisal| behind::seen(&check, appraisal)))
    };
    let graded = here.opened.with_untracked(|opened| opened.get(&id).copied().unwrap_or_default());
    let signs = view! { <Signs check=check.clone() /> <Unsafe check=check.clone() line /> }.into_any();
    let readings = view! { <Readings check=id.clone() /> }.into_any();
    let how = view! { <How check=check.clone() /> }.into_any();
    let words = view! {
        <Note
            place=format!("findings.{id}.note")
            label=t("Note")
            stored=finding::part(&id, |finding| finding.note.clone())
            typed=move |text: String| finding::change(&note, |finding| finding.note = text)
        />
        <Photos id=id.clone() />
    }
    .into_any();
    let rest = view! { <Why id=id.clone() /> <Doors check line /> <Causes signs=seen /> }.into_any();
    let parts = if graded { [signs, words, readings, how, rest] } else { [how, readings, signs, words, rest] };
    view! {
        <div class="opened">
            {parts.into_iter().collect_view()}
            <NextInPlan id />
        </div>
    }
}

/// How to make the check, what is right, what to be careful of.
#[component]
fn How(check: Arc<Check>) -> impl IntoView {
    let needs: Vec<&str> = check.needs.iter().map(|need| t(need.name())).collect();
    let is_table = desk().sheet.with_untracked(|sheet| sheet.lamps.check == check.id);
    view! {
        <p>{check.how.clone()}</p>
        <p><strong>{t("Right:")}</strong> " " {check.right.clone()}</p>
        {(!check.cautions.is_empty())
            .then(|| {
                view! {
                    <ul class="plain cautions">
                        {check.cautions.iter().map(|caution| view! { <li>{t(caution.sentence())}</li> }).collect_view()}
                    </ul>
                }
            })}
        <p class="quiet">
            {t("Weight")} " " {check.weight}
            {(!needs.is_empty()).then(|| [" · ", t("needs:"), " ", &needs.join(", ")].concat())}
        </p>
        {is_table
            .then(|| view! { <p><a class="button" href=Screen::Lamps.fragment()>{t("Open the table of lamps")}</a></p> })}
    }
}

/// The reason why it was not looked at.
#[component]
fn Why(id: String) -> impl IntoView {
    let look = finding::part(&id, |finding| finding.look);
    let chosen = id.clone();
    let reasons = || {
        let why = WhyNot::ALL.into_iter().map(|why| (why.name().to_owned(), t(why.name()).to_owned()));
        core::iter::once((String::new(), "—".to_owned())).chain(why).collect::<Vec<_>>()
    };
    view! {
        <Choice
            place=format!("findings.{id}.not-looked")
            label=t("Not looked at, because")
            options=memo(reasons)
            chosen=memo(move || match look.get() {
                Some(Look::NotLooked(why)) => why.name().to_owned(),
                Some(Look::Grade(_)) | None => String::new(),
            })
            choose=move |name: String| {
                let why = WhyNot::ALL.into_iter().find(|why| why.name() == name);
                finding::change(&chosen, |finding| finding.not_looked(why));
            }
        />
    }
}

/// The unsafe mark.
#[component]
fn Unsafe(check: Arc<Check>, line: Derived<Line>) -> impl IntoView {
    let press = move |_| {
        desk().appraisal.with_untracked(|appraisal| {
            finding::change(&check.id, |finding| driving::press_unsafe(&check, finding, &appraisal.signs));
        });
    };
    view! {
        <p class="row">
            <button type="button" class="unsafe" aria-pressed=move || line.get().is_unsafe.to_string() on:click=press>
                <UnsafeMark />
                <span>{t("not to be driven until put right")}</span>
            </button>
        </p>
    }
}

/// Through which door the finding enters the worth: as wear in the score, or as a job whose cost is deducted.
#[component]
fn Doors(check: Arc<Check>, line: Derived<Line>) -> impl IntoView {
    let id = check.id.clone();
    let own = finding::part(&id, |finding| finding.door);
    // What the door hangs on and a note does not change.
    let told = finding::part(&id, |finding| (finding.look, finding.signs.clone()));
    let rulings = memo(move || desk().worksheet.with(|worksheet| worksheet.rulings.clone()));
    let cured = memo(move || desk().sheet.with(|sheet| Arc::new(Cured::of(sheet))));
    let door = memo(move || {
        told.with(|_| ());
        own.with(|_| ());
        rulings.with(|_| ());
        desk().sheet.with(|sheet| {
            desk().worksheet.with_untracked(|worksheet| {
                let finding = worksheet.findings.get(&check.id)?;
                cured.with(|cured| {
                    let curable = Curable::with(Cow::Borrowed(cured), sheet, worksheet);
                    Some(desk().appraisal.with(|appraisal| curable.raised(appraisal.raised()).door(&check, finding)))
                })
            })
        })
    });
    let counts = memo(move || matches!(line.get().look, Some(Look::Grade(grade)) if grade != Grade::Right));
    let options = || [(Door::Score, t("wear in the score")), (Door::Itemised, t("a job with its cost"))];
    let word = |door: Door| if door == Door::Score { "score" } else { "itemised" }.to_owned();
    view! {
        <Shown when=memo(move || counts.get())>
            <Buttons
                label=t("It counts as")
                options=options().into_iter().map(|(door, name)| (word(door), name.to_owned())).collect()
                chosen=memo(move || door.get().map(word).unwrap_or_default())
                choose={
                    let id = id.clone();
                    move |chosen: String| {
                        let pressed = options().into_iter().map(|(door, _)| door).find(|door| word(*door) == chosen);
                        finding::change(&id, |finding| {
                            finding.door = if finding.door == pressed { None } else { pressed };
                        });
                    }
                }
            />
            <p class="quiet">
                {live(move || match door.get() {
                    Some(Door::Itemised) => {
                        t("A job: what its likely causes cost is taken off in money, and the score is reckoned as if it were done.")
                    }
                    Some(Door::Score) | None => {
                        t("Wear: it lowers the score, as it does on the cars it is compared with; no cost is taken off beside.")
                    }
                })}
                {live(move || own.get().is_some().then(|| format!(" {}", t("Your own choice; press it again to leave it to the sheet."))))}
            </p>
        </Shown>
    }
}

/// The way on for somebody who walks by the plan.
#[component]
fn NextInPlan(id: String) -> impl IntoView {
    let next = memo(move || {
        desk().appraisal.with(|appraisal| {
            let plan = appraisal.looking.plan.as_ref()?;
            plan.checks.iter().find(|check| **check != id).cloned()
        })
    });
    live(move || {
        next.get().map(|check| view! { <p class="quiet">{t("Next in the plan:")} " " <CheckLink check /></p> })
    })
}
