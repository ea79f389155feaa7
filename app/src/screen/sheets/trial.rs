//! The sheet tried on a worksheet: what it makes of it, beside what the general sheet makes of it.

use std::sync::Arc;

use kerbworth_core::appraise::trial::{Trial, trial as tried};
use kerbworth_core::sheet::demo;
use kerbworth_core::show::Show;
use kerbworth_core::worksheet::Worksheet;
use leptos::prelude::*;

use super::bench::bench;
use super::fold::{Open, fold};
use crate::live::{live, memo};
use crate::part::choice::Choice;
use crate::store::desk::desk;
use crate::store::keep::Key;
use crate::words::t;

/// The fold.
pub fn trial() -> AnyView {
    let summary = view! { <h2>{t("Try it")}</h2> <span class="quiet">{t("on a worksheet")}</span> };
    fold("sheet-section", None, Open::here(), summary.into_any(), inside)
}

/// The worksheet with an id as it is kept, or the demonstration's.
fn sample(id: &str) -> Option<Worksheet> {
    let desk = desk();
    if id.is_empty() {
        return demo::worksheet().ok();
    }
    if desk.open_id() == id {
        return Some(desk.worksheet.get_untracked());
    }
    desk.keeper.get(&Key::Worksheet(id.to_owned()))
}

fn inside() -> AnyView {
    let (bench, desk) = (bench(), desk());
    let chosen = RwSignal::new(String::new());
    let options = memo(move || {
        let demo = [(String::new(), t("the demonstration's").to_owned())];
        let shelf = desk.shelf.cards.with(|cards| {
            let there = cards.iter().filter(|card| !card.deleted);
            there.map(|card| (card.id.clone(), card.title.clone())).collect::<Vec<_>>()
        });
        demo.into_iter().chain(shelf).collect::<Vec<_>>()
    });
    let worksheet = memo(move || sample(&chosen.get()).map(Arc::new));
    let general = memo(move || worksheet.get().map(|worksheet| tried(&worksheet, &desk.sheets.general())));
    let ours = memo(move || worksheet.get().map(|worksheet| bench.whole.with(|whole| tried(&worksheet, whole))));
    let show = move || {
        let currency = worksheet.with(|worksheet| worksheet.as_ref().map(|worksheet| worksheet.settings.currency));
        desk.preferences.with(|wanted| wanted.show.in_currency(currency.unwrap_or_default()))
    };
    let table = move || match (general.get(), ours.get()) {
        (Some(general), Some(ours)) => compared(&general, &ours, &show()),
        _ => view! { <p class="message">{t("This worksheet could not be read.")}</p> }.into_any(),
    };
    view! {
        <Choice place="trial-worksheet" label=t("Worksheet") options chosen choose=move |id: String| chosen.set(id) />
        {live(table)}
    }
    .into_any()
}

/// A line of the table: what it says of a trial, if there is anything to say.
type Said = fn(&Trial, &Show) -> Option<String>;

/// What each sheet makes of the worksheet, line by line.
fn compared(general: &Trial, ours: &Trial, show: &Show) -> AnyView {
    let unknown = || "—".to_owned();
    let lines: [(&str, Said); 7] = [
        (t("Checks that apply"), |trial, _| Some(trial.checks.to_string())),
        (t("Minutes for all of them"), |trial, show| Some(show.number(trial.minutes, 0))),
        (t("Recorded and not known to the sheet"), |trial, _| Some(trial.unknown.to_string())),
        (t("Put right what was seen"), |trial, show| {
            let cost = &trial.put_right;
            Some(format!(
                "{} ({}–{})",
                show.whole_money(cost.middle),
                show.whole_money(cost.low),
                show.whole_money(cost.high)
            ))
        }),
        (t("The market takes off"), |trial, show| trial.deduction.map(|deduction| show.whole_money(deduction))),
        (t("Worth as it stands"), |trial, show| {
            let worth = trial.worth.as_ref()?;
            Some(format!("{}–{}", show.whole_money(worth.low), show.whole_money(worth.high)))
        }),
        (t("Reasons not to drive it"), |trial, _| Some(trial.holds.to_string())),
    ];
    let rows = lines.map(|(name, said)| {
        let (general, ours) = (said(general, show), said(ours, show));
        view! {
            <tr>
                <th scope="row">{name}</th>
                <td class="amount">{general.unwrap_or_else(unknown)}</td>
                <td class="amount">{ours.unwrap_or_else(unknown)}</td>
            </tr>
        }
    });
    let causes = |trial: &Trial| {
        let line = |(name, share): &(String, f64)| view! { <li>{name.clone()} " " {show.share(*share)}</li> };
        view! { <td><ul class="plain">{trial.causes.iter().map(line).collect_view()}</ul></td> }
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=t("What each sheet makes of the worksheet")>
            <table>
                <thead>
                    <tr>
                        <td></td>
                        <th scope="col" class="amount">{t("By the general sheet")}</th>
                        <th scope="col" class="amount">{t("By this sheet")}</th>
                    </tr>
                </thead>
                <tbody>
                    {rows.collect_view()}
                    <tr>
                        <th scope="row">{t("Likeliest causes")}</th>
                        {causes(general)}
                        {causes(ours)}
                    </tr>
                </tbody>
            </table>
        </div>
    }
    .into_any()
}
