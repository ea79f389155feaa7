//! What it costs to put right: the estimates, the jobs one by one, and what the chosen ones come to.

use std::sync::Arc;

use kerbworth_core::appraise::repairs::{Estimate, Work};
use kerbworth_core::appraise::returns::{Order, in_order};
use leptos::prelude::*;

use super::currency::{Costs, ForeignCosts};
use super::job::{JobRow, LeftOut};
use super::read::{between, money, of_appraisal};
use super::unfold::{Unfold, Working};
use crate::live::{Derived, Each, Shown, live, memo, memo_after};
use crate::part::choice::Buttons;
use crate::store::desk::desk;
use crate::words::t;

/// Jobs listed before the rest of a list is asked for.
const FIRST: usize = 12;

/// The section.
#[component]
pub fn PutRight() -> impl IntoView {
    let found = of_appraisal(|appraisal| appraisal.repairs.found);
    let unseen = of_appraisal(|appraisal| appraisal.repairs.unseen);
    let figure = of_appraisal(|appraisal| Some(appraisal.repairs.working.clone()));
    view! {
        <h2>{t("Putting it right")}</h2>
        <EstimateLine label=t("Found, or suspected from what was seen") estimate=found />
        <EstimateLine label=t("Ordinary risk of what was not seen, beside") estimate=unseen />
        <ForeignCosts />
        <p class="quiet">
            {t("Four in five times the cost lies between the two smaller figures. What it costs is not what the market takes off: that is below, job by job.")}
        </p>
        <Working figure />
        <Chosen />
        <Jobs />
        <Costs />
    }
}

#[component]
fn EstimateLine(label: &'static str, estimate: Derived<Estimate>) -> impl IntoView {
    let unpriced = of_appraisal(|appraisal| appraisal.repairs.unpriced);
    let shown = move || {
        if unpriced.get() {
            return view! { <span class="quiet">{t("not stated")}</span> }.into_any();
        }
        let Estimate { low, middle, high } = estimate.get();
        view! { <strong>{money(middle)}</strong> <span class="quiet">{between(low, high)}</span> }.into_any()
    };
    view! {
        <div class="figure-line estimate">
            <span>{label}</span>
            <span class="amount">{live(shown)}</span>
        </div>
    }
}

/// The worth when the chosen jobs are done, their cost and what they return.
#[component]
fn Chosen() -> impl IntoView {
    let any = of_appraisal(|appraisal| appraisal.repairs.items.iter().filter(|repair| repair.chosen).count());
    let sum = of_appraisal(|appraisal| {
        let worth = appraisal.worth.as_ref()?;
        Some((worth.when_done_rounded(), worth.chosen_cost, worth.returns))
    });
    let line = |label: &'static str, amount: String| {
        view! { <div class="figure-line"><span>{label}</span><strong class="amount">{amount}</strong></div> }
    };
    let lines = move || {
        sum.get().map(|(done, cost, returns)| {
            view! {
                {line(t("Worth when they are done"), between(done.low, done.high))}
                {line(t("Middle of it"), money(done.middle))}
                {line(t("What they cost"), money(cost))}
                {line(t("What they return beyond their cost"), money(returns))}
            }
        })
    };
    view! {
        <h3>{t("If the chosen work is done")}</h3>
        {live(move || match any.get() {
            0 => view! { <p class="quiet">{t("Nothing is chosen. Press “Do it” at a job to see the worth with it done.")}</p> }
                .into_any(),
            count => view! {
                <p>{t("Work chosen, strip-downs included:")} " " {count}</p>
                <div role="status">{live(lines)}</div>
                <p class="quiet">
                    {t("The cost is the mean, in full, whether or not the work turns out to be needed; a figure below nothing is what you would not get back.")}
                </p>
            }
            .into_any(),
        })}
    }
}

/// The works of a list, in an order that stays while only figures change: a row must not move away under the hand
/// that types its cost.
fn listed(raised: bool, order: RwSignal<Order>) -> Derived<(Order, Arc<Vec<Work>>)> {
    memo_after(move |before: Option<&(Order, Arc<Vec<Work>>)>| {
        let order = order.get();
        let now = desk().appraisal.with(|appraisal| in_order(&appraisal.repairs.items, raised, order));
        match before {
            Some((was, works))
                if *was == order && works.len() == now.len() && now.iter().all(|work| works.contains(work)) =>
            {
                (order, works.clone())
            }
            _ => (order, Arc::new(now)),
        }
    })
}

/// The jobs: those that what was seen calls for, the others behind a fold, those left out last.
#[component]
fn Jobs() -> impl IntoView {
    let order = RwSignal::new(Order::default());
    let raised = listed(true, order);
    let rest = of_appraisal(|appraisal| appraisal.repairs.items.iter().filter(|repair| !repair.raised).count());
    view! {
        <h3>{t("The work")}</h3>
        <Shown when=memo(move || raised.with(|(_, works)| !works.is_empty())) fallback=|| view! { <p>{t("Nothing seen so far calls for work.")}</p> }>
            <Ordered order />
            <List works=raised />
        </Shown>
        <Unfold label=memo(move || {
            format!("{} ({})", t("What any such car may need, nothing seen calling for it"), rest.get())
        })>
            <Rest order />
        </Unfold>
        <LeftOut />
    }
    .into_any()
}

/// The choice of the order.
#[component]
fn Ordered(order: RwSignal<Order>) -> impl IntoView {
    let options = Order::ALL.into_iter().map(|order| (order.name().to_owned(), t(order.name()).to_owned())).collect();
    view! {
        <Buttons
            label=t("Order")
            options=options
            chosen=memo(move || order.get().name().to_owned())
            choose=move |name: String| {
                if let Some(chosen) = Order::ALL.into_iter().find(|order| order.name() == name) {
                    order.set(chosen);
                }
            }
        />
    }
}

/// The jobs that nothing seen calls for; put in order only while they are open.
#[component]
fn Rest(order: RwSignal<Order>) -> impl IntoView {
    let works = listed(false, order);
    view! { <List works /> }
}

/// A list of jobs, the first of them until all are asked for.
#[component]
fn List(works: Derived<(Order, Arc<Vec<Work>>)>) -> impl IntoView {
    let all = RwSignal::new(false);
    let more = move || works.with(|(_, works)| works.len() > FIRST) && !all.get();
    let shown = move || {
        let most = if all.get() { usize::MAX } else { FIRST };
        works.with(|(_, works)| works.iter().take(most).cloned().collect::<Vec<_>>())
    };
    view! {
        <ul class="plain ruled jobs">
            <Each each=shown key=|work| format!("{work:?}") let:work>
                <JobRow work />
            </Each>
        </ul>
        <Shown when=memo(more)>
            <button type="button" on:click=move |_| all.set(true)>
                {t("Show all of them")} " (" {live(move || works.with(|(_, works)| works.len()))} ")"
            </button>
        </Shown>
    }
    .into_any()
}
