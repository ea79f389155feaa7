//! What to look at next, and the plan for the minutes there are.

use kerbworth_core::appraise::looking::{NextLook, Planned};
use kerbworth_core::figure::{Amount, Figure};
use kerbworth_core::phrase;
use kerbworth_core::sheet::Stage;
use kerbworth_core::walk::{self, planned};
use kerbworth_core::worksheet::{Edit, Visit};
use leptos::prelude::*;

use crate::live::{Derived, Each, Shown, live, memo};
use crate::part::choice::Buttons;
use crate::part::entry::NumberField;
use crate::part::figure::FigureLine;
use crate::route::Screen;
use crate::screen::checks::CheckLink;
use crate::store::desk::desk;
use crate::words::{say, t};

/// Minutes to choose by one tap.
const USUAL: [u16; 4] = [10, 20, 40, 90];

/// Next looks shown before the rest is asked for.
const FIRST: usize = 12;

fn put_visit(change: impl FnOnce(&mut Visit)) {
    let mut visit = desk().worksheet.with_untracked(|worksheet| worksheet.visit.clone());
    change(&mut visit);
    desk().edit(Edit::Visit(Box::new(visit)));
}

fn minutes(of: f64) -> String {
    desk().show.with(|show| walk::minutes(of, show))
}

/// The screen.
#[component]
pub fn PlanScreen() -> impl IntoView {
    let desk = desk();
    let given = memo(move || desk.worksheet.with(|worksheet| worksheet.visit.minutes.clone()));
    let plan = memo(move || desk.appraisal.with(|appraisal| appraisal.looking.plan.clone()));
    let usual = USUAL.into_iter().map(|minutes| (minutes.to_string(), minutes.to_string())).collect();
    view! {
        <h1>{t("Plan")}</h1>
        <Buttons
            label=t("Minutes there are")
            options=usual
            chosen=memo(move || given.with(|given| given.value().map(|it| it.to_string()).unwrap_or_default()))
            choose=move |minutes: String| put_visit(|visit| visit.minutes = minutes.parse::<f64>().ok().into())
        />
        <NumberField
            place="visit.minutes"
            label=t("Or as many as")
            unit="min"
            stored=given
            put=|minutes| put_visit(|visit| visit.minutes = minutes)
        />
        <Shown when=memo(move || plan.with(Option::is_some)) fallback=|| view! { <p>{t("Say how many minutes there are, and the checks that tell most in that time are put in walking order here.")}</p> }>
            <Plan plan />
        </Shown>
        <NextLooks />
        <p class="row">
            <a class="button" href=Screen::Checks(Stage::Papers).fragment()>{t("All checks")}</a>
        </p>
    }
}

/// The plan in walking order, and what it leaves unseen.
#[component]
fn Plan(plan: Derived<Option<Planned>>) -> impl IntoView {
    let stages = memo(move || {
        let plan = plan.get().unwrap_or_default();
        desk().sheet.with(|sheet| planned::by_stage(sheet, &plan))
    });
    let names = move || stages.with(|all| all.iter().map(|stage| stage.stage).collect::<Vec<_>>());
    let took = move || minutes(plan.with(|plan| plan.as_ref().map_or(0.0, |plan| plan.minutes)));
    view! {
        <h2>{t("In walking order")} " · " {live(took)}</h2>
        <Shown when=memo(move || stages.with(Vec::is_empty))>
            <p>{t("Every check that fits into these minutes is dealt with.")}</p>
        </Shown>
        <Each each=names key=|stage| *stage let:stage>
            {
                let of = memo(move || stages.with(|all| all.iter().find(|of| of.stage == stage).cloned()));
                let checks = move || of.with(|of| of.as_ref().map(|of| of.checks.clone()).unwrap_or_default());
                let took = move || minutes(of.with(|of| of.as_ref().map_or(0.0, |of| of.minutes)));
                view! {
                    <h3>{t(stage.name())} " · " <span class="quiet">{live(took)}</span></h3>
                    <ol class="plain ruled">
                        <Each each=checks key=Clone::clone let:check>
                            <ToMake check />
                        </Each>
                    </ol>
                }
            }
        </Each>
        <Unseen plan />
    }
}

/// A check of the plan.
#[component]
fn ToMake(check: String) -> impl IntoView {
    let took = desk().sheet.with_untracked(|sheet| sheet.check(&check).map_or(0.0, |check| check.minutes));
    view! {
        <li class="figure-line">
            <CheckLink check />
            <span class="amount quiet">{live(move || minutes(took))}</span>
        </li>
    }
}

/// What the plan leaves unseen.
#[component]
fn Unseen(plan: Derived<Option<Planned>>) -> impl IntoView {
    let share = move |label: &'static str, how: &'static str, read: fn(&Planned) -> f64| {
        let of = memo(move || plan.with(|plan| plan.as_ref().map(read)));
        live(move || {
            of.get().map(|of| view! { <FigureLine figure=Figure::new(label, Amount::Share(of)).noted(how) /> })
        })
    };
    let safety = move || plan.with(|plan| plan.as_ref().map(|plan| plan.gate_left.clone()).unwrap_or_default());
    view! {
        <h2>{t("What it leaves unseen")}</h2>
        {share(
            t("Of the weight that is still unseen"),
            t("The weights of the unmade checks that the plan leaves out, together, in the weights of all that are unmade."),
            |plan| plan.unseen_weight,
        )}
        {share(
            t("Of the doubt about the worth that looking could remove"),
            t("Making every check would take away so much of the variance of the worth; the checks of the plan take away their part of it, and this is the rest."),
            |plan| plan.unseen_variance,
        )}
        <Shown when=memo(move || !safety().is_empty())>
            <details class="left-out">
                <summary>
                    {live(move || say(&phrase!("{0} safety checks are left out; the road test stays shut without them", safety().len())))}
                </summary>
                <ol class="plain ruled">
                    <Each each=safety key=Clone::clone let:check>
                        <ToMake check />
                    </Each>
                </ol>
            </details>
        </Shown>
    }
}

/// What tells most a minute, whatever the minutes.
#[component]
fn NextLooks() -> impl IntoView {
    let next = memo(move || desk().appraisal.with(|appraisal| appraisal.looking.next.clone()));
    let whole = RwSignal::new(false);
    let shown = move || {
        next.with(|next| next.iter().take(if whole.get() { next.len() } else { FIRST }).cloned().collect::<Vec<_>>())
    };
    let more = move || next.with(Vec::len).saturating_sub(FIRST);
    view! {
        <h2>{t("What tells most a minute")}</h2>
        <p class="quiet">
            {t("The swing is how far the middle of the worth would move between finding something there and finding nothing.")}
        </p>
        <div class="scroll" role="region" tabindex="0" aria-label=t("What tells most a minute")>
            <table class="next">
                <thead>
                    <tr>
                        <th scope="col">{t("Check")}</th>
                        <th scope="col" class="amount">{t("Minutes")}</th>
                        <th scope="col" class="amount">{t("Swing")}</th>
                    </tr>
                </thead>
                <tbody>
                    <Each
                        each=shown
                        key=|look: &NextLook| (look.check.clone(), look.swing)
                        let:look
                    >
                        <NextRow look />
                    </Each>
                </tbody>
            </table>
        </div>
        <Shown when=memo(move || more() != 0 && !whole.get())>
            <button type="button" on:click=move |_| whole.set(true)>
                {live(move || say(&phrase!("{0} more", more())))}
            </button>
        </Shown>
    }
}

#[component]
fn NextRow(look: NextLook) -> impl IntoView {
    let stage = desk().sheet.with_untracked(|sheet| sheet.check(&look.check).map(|check| check.stage));
    view! {
        <tr>
            <th scope="row">
                <CheckLink check=look.check />
                {stage.map(|stage| view! { <span class="quiet">{t(stage.name())}</span> })}
            </th>
            <td class="amount">{live(move || minutes(look.minutes))}</td>
            <td class="amount">{live(move || desk().show.with(|show| show.whole_money(look.swing)))}</td>
        </tr>
    }
}
