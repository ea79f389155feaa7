//! What may stand behind the signs that were seen: the causes, likeliest first, each to be confirmed or ruled out.

use kerbworth_core::phrase;
use kerbworth_core::sheet::Fault;
use kerbworth_core::walk::behind::{self, Behind};
use kerbworth_core::worksheet::{Edit, Ruling};
use leptos::prelude::*;

use crate::live::{Derived, Each, Shown, live, memo};
use crate::store::desk::desk;
use crate::words::{say, t};

/// Causes shown before the rest is asked for.
const FIRST: usize = 4;

/// The causes of signs; nothing while none of them is seen.
#[component]
pub fn Causes(
    /// Ids of the signs.
    #[prop(into)]
    signs: Derived<Vec<String>>,
) -> impl IntoView {
    let desk = desk();
    let causes = memo(move || {
        desk.appraisal
            .with(|appraisal| desk.sheet.with(|sheet| signs.with(|signs| behind::behind(sheet, appraisal, signs))))
    });
    let whole = RwSignal::new(false);
    let shown = move || {
        causes.with(|causes| {
            let count = if whole.get() { causes.len() } else { FIRST };
            causes.iter().take(count).map(|cause| cause.fault.clone()).collect::<Vec<_>>()
        })
    };
    let more = move || causes.with(Vec::len).saturating_sub(FIRST);
    view! {
        <Shown when=memo(move || causes.with(|causes| !causes.is_empty()))>
            <h3>{t("What may stand behind it")}</h3>
            <ol class="plain causes">
                <Each each=shown key=Clone::clone let:fault>
                    <OneCause fault causes />
                </Each>
            </ol>
            <Shown when=memo(move || more() != 0 && !whole.get())>
                <button type="button" on:click=move |_| whole.set(true)>
                    {live(move || say(&phrase!("{0} less likely causes", more())))}
                </button>
            </Shown>
        </Shown>
    }
}

#[component]
fn OneCause(fault: String, causes: Derived<Vec<Behind>>) -> AnyView {
    let desk = desk();
    let found = desk.sheet.with_untracked(|sheet| sheet.fault(&fault).cloned());
    let Some(Fault { id, name, tell, drive, normal, .. }) = found else { return ().into_any() };
    let mine = memo(move || causes.with(|causes| causes.iter().find(|cause| cause.fault == fault).cloned()));
    let share =
        move || mine.with(|mine| mine.as_ref().map(|mine| desk.show.with(|show| show.chance(mine.probability))));
    let cost = move || {
        mine.with(|mine| {
            let cost = mine.as_ref()?.cost?;
            desk.show.with(|show| {
                let [low, likely, high] = [cost.low, cost.likely, cost.high].map(|money| show.whole_money(money));
                Some(format!("{low}–{high}, {} {likely}", t("likely")))
            })
        })
    };
    let cost =
        move || if normal { t("normal for the type, costs nothing").to_owned() } else { cost().unwrap_or_default() };
    let because = move || {
        mine.with(|mine| {
            let because = mine.as_ref().map(|mine| mine.because.join("; ")).filter(|because| !because.is_empty());
            because.map(|because| view! { <p class="quiet">{t("Because:")} " " {because}</p> })
        })
    };
    view! {
        <li>
            <div class="figure-line">
                <strong>{name.clone()}</strong>
                <span class="amount">{share}</span>
            </div>
            <p>{tell}</p>
            <p class="quiet">{live(cost)} " · " {t(behind::driving(drive))}</p>
            {live(because)}
            <Rule fault=id name />
        </li>
    }
    .into_any()
}

/// Confirms a cause or rules it out; a second press takes that back.
#[component]
fn Rule(fault: String, name: String) -> impl IntoView {
    let of = fault.clone();
    let ruling = memo(move || desk().worksheet.with(|worksheet| worksheet.rulings.get(&of).copied()));
    let button = move |to: Ruling, word: &'static str| {
        let fault = fault.clone();
        view! {
            <button
                type="button"
                aria-label=format!("{word}: {name}")
                aria-pressed=move || (ruling.get() == Some(to)).to_string()
                on:click=move |_| {
                    let now = if ruling.get_untracked() == Some(to) { None } else { Some(to) };
                    desk().edit(Edit::Ruling(fault.clone(), now));
                }
            >
                {word}
            </button>
        }
    };
    view! {
        <div class="row">
            {button(Ruling::Confirmed, t("confirmed"))} {button(Ruling::RuledOut, t("ruled out"))}
        </div>
    }
}
