//! One job: how likely it is, what it costs, what the market takes off for it, and what to do about it.

use kerbworth_core::appraise::repairs::{Repair, Work};
use kerbworth_core::appraise::returns::{Pays, Weighed};
use kerbworth_core::figure::Amount;
use kerbworth_core::phrase;
use kerbworth_core::units::Money;
use kerbworth_core::worksheet::{Edit, Entry, JobChoice};
use leptos::prelude::*;

use super::read::{between, money};
use super::unfold::Unfold;
use crate::live::{Derived, Each, Shown, live, memo};
use crate::part::entry::MoneyField;
use crate::store::desk::desk;
use crate::words::{say, t};

/// Faults named as calling for a job.
const NAMED: usize = 3;

/// What the person decided about a job, read.
fn choice<T: Send + Sync + Clone + PartialEq + 'static>(id: &str, read: fn(&JobChoice) -> T) -> Derived<T> {
    let (id, none) = (id.to_owned(), JobChoice::default());
    memo(move || desk().worksheet.with(|worksheet| read(worksheet.jobs.get(&id).unwrap_or(&none))))
}

/// Changes what the person decided about a job.
fn put(id: &str, change: impl FnOnce(&mut JobChoice)) {
    let mut choice = desk().worksheet.with_untracked(|worksheet| worksheet.jobs.get(id).cloned()).unwrap_or_default();
    change(&mut choice);
    let kept = (choice != JobChoice::default()).then(|| Box::new(choice));
    desk().edit(Edit::Job(id.to_owned(), kept));
}

/// A job's row: the line that decides, and the rest of it behind a fold.
#[component]
pub fn JobRow(work: Work) -> impl IntoView {
    let wanted = work.clone();
    let repair = memo(move || {
        desk().appraisal.with(|appraisal| appraisal.repairs.items.iter().find(|it| it.work == wanted).cloned())
    });
    let name = repair.with_untracked(|repair| repair.as_ref().map(|repair| repair.name.clone())).unwrap_or_default();
    let (press, more) = match work {
        Work::Job(id) => {
            let press = view! { <DoIt id=id.clone() name=name.clone() /> }.into_any();
            (Some(press), Some(id))
        }
        Work::Access(_) => (None, None),
    };
    let about = name.clone();
    view! {
        <li class="job">
            <h4>{name}</h4>
            <div class="job-line">
                <div>{live(move || repair.with(|repair| repair.as_ref().map(in_short)))}</div>
                {press}
            </div>
            <Unfold label=t("More") about=about.clone()>
                {live(move || repair.with(|repair| repair.as_ref().map(figures)))}
                {match more.clone() {
                    Some(id) => view! { <Decide id name=about.clone() /> }.into_any(),
                    None => view! {
                        <p class="quiet">{t("Shared strip-down: counted once, and done when a job behind it is.")}</p>
                    }
                    .into_any(),
                }}
            </Unfold>
        </li>
    }
    .into_any()
}

/// Likelihood, cost and verdict.
fn in_short(repair: &Repair) -> AnyView {
    let likely = desk().show.with(|show| show.share(repair.probability));
    view! {
        <p>
            {likely} " " {t("likely")} " · " <strong>{money(repair.likely)}</strong> " "
            <span class="held">"(" {between(repair.low, repair.high)} ")"</span>
        </p>
        <p class="quiet">{verdict(&Weighed::of(repair))}</p>
    }
    .into_any()
}

/// The figures of a job.
fn figures(repair: &Repair) -> AnyView {
    let show = desk().show.get();
    let because: Vec<String> = repair.because.iter().take(NAMED).cloned().collect();
    let weighed = Weighed::of(repair);
    let pair = |label: &'static str, amount: String| view! { <div><dt>{label}</dt><dd>{amount}</dd></div> };
    view! {
        <p>{t("Because of:")} " " {because.join("; ")}</p>
        <dl class="figures">
            {pair(t("Likely to be needed"), show.share(repair.probability))}
            {pair(t("In any such car"), show.share(repair.usual))}
            {pair(t("Lowest cost"), show.whole_money(repair.low))}
            {pair(t("Likely cost"), show.whole_money(repair.likely))}
            {pair(t("Highest cost"), show.whole_money(repair.high))}
            {pair(t("Market takes off"), show.share(repair.share))}
            {pair(t("Deducted here"), show.whole_money(repair.deduction))}
            {pair(t("Doing it adds, on average"), show.whole_money(weighed.on_average.adds))}
            {pair(t("and costs, on average"), show.whole_money(weighed.on_average.costs))}
        </dl>
    }
    .into_any()
}

fn verdict(weighed: &Weighed) -> String {
    match weighed.pays {
        Pays::AtItsLikelyCost => say(&phrase!(
            "{0}, by {1}; pays up to {2}",
            weighed.pays.name(),
            Amount::Money(weighed.gain),
            Amount::Money(weighed.pays_up_to)
        )),
        Pays::IfDoneCheaply => say(&phrase!("{0}: up to {1}", weighed.pays.name(), Amount::Money(weighed.pays_up_to))),
        Pays::Never => t(weighed.pays.name()).to_owned(),
    }
}

/// Whether it is to be done.
#[component]
fn DoIt(id: String, name: String) -> impl IntoView {
    let done = choice(&id, |choice| choice.do_it);
    view! {
        <button
            type="button"
            aria-pressed=move || done.get().to_string()
            aria-label=format!("{}: {name}", t("Do it"))
            on:click=move |_| put(&id, |choice| choice.do_it = !choice.do_it)
        >
            {t("Do it")}
        </button>
    }
}

/// Say what it costs, or leave it out.
#[component]
fn Decide(id: String, name: String) -> impl IntoView {
    let leave = id.clone();
    view! {
        <OwnCosts id />
        <button
            type="button"
            aria-label=format!("{}: {name}", t("Leave out"))
            on:click=move |_| put(&leave, |choice| choice.leave_out = true)
        >
            {t("Leave out")}
        </button>
    }
    .into_any()
}

/// The person's own costs of a job; all three replace the sheet's.
#[component]
fn OwnCosts(id: String) -> impl IntoView {
    let whole = format!("jobs.{id}");
    let field = |label: &'static str,
                 part: &str,
                 read: fn(&JobChoice) -> Entry<Money>,
                 at: fn(&mut JobChoice) -> &mut Entry<Money>| {
        let own = id.clone();
        let typed = move |entry: Entry<Money>| put(&own, |choice| *at(choice) = entry);
        view! {
            <MoneyField
                place=format!("jobs.{id}.{part}")
                label
                stored=choice(&id, read)
                put=typed
            />
        }
    };
    view! {
        <p class="own">{t("Your own cost; all three together replace the type sheet's estimate.")}</p>
        <div class="three">
            {field(t("Lowest"), "low", |choice| choice.low.clone(), |choice| &mut choice.low)}
            {field(t("Likely"), "likely", |choice| choice.likely.clone(), |choice| &mut choice.likely)}
            {field(t("Highest"), "high", |choice| choice.high.clone(), |choice| &mut choice.high)}
        </div>
        {live(move || desk().problem(&whole).map(|said| view! { <p class="message" role="status">{said}</p> }))}
    }
    .into_any()
}

/// The jobs left out, each to be put back.
#[component]
pub fn LeftOut() -> impl IntoView {
    let jobs = memo(move || {
        let desk = desk();
        desk.worksheet.with(|worksheet| {
            let ids = worksheet.jobs.iter().filter(|(_, choice)| choice.leave_out).map(|(id, _)| id.clone());
            desk.sheet.with(|sheet| {
                ids.map(|id| (sheet.job(&id).map_or_else(|| id.clone(), |job| job.name.clone()), id))
                    .collect::<Vec<_>>()
            })
        })
    });
    view! {
        <Shown when=memo(move || jobs.with(|jobs| !jobs.is_empty()))>
            <h3>{t("Left out of the reckoning")}</h3>
            <ul class="plain ruled">
                <Each each=move || jobs.get() key=|(_, id)| id.clone() let((name, id))>
                    <li class="card">
                        <span>{name.clone()}</span>
                        <button
                            type="button"
                            aria-label=format!("{}: {name}", t("Put back"))
                            on:click=move |_| put(&id, |choice| choice.leave_out = false)
                        >
                            {t("Put back")}
                        </button>
                    </li>
                </Each>
            </ul>
        </Shown>
    }
}
