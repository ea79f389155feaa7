//! What of the general sheet this kind of car does not have.

use std::sync::Arc;

use kerbworth_core::sheet::outline::{dispensable, has_words};
use leptos::prelude::*;

use super::bench::bench;
use super::entry::do_without;
use super::fold::{Open, fold};
use crate::ids;
use crate::live::{Each, live, memo};
use crate::words::t;

/// Entries offered at a time.
const MOST_FOUND: usize = 20;

/// An entry or sign of the general sheet: id, name, what it is.
type Line = (String, String, &'static str);

/// The fold, for a sheet that extends the general one.
pub fn left_out() -> AnyView {
    let bench = bench();
    let extends = memo(move || bench.own.with(|own| own.extends.is_some()));
    let count = move || bench.own.with(|own| own.without.len());
    let open = Open::here();
    (move || {
        extends.get().then(|| {
            let summary = view! { <h2>{t("Left out")}</h2> <span class="quiet">{live(count)}</span> };
            fold("sheet-section", None, open, summary.into_any(), inside)
        })
    })
    .into_any()
}

fn inside() -> AnyView {
    let bench = bench();
    let all: Arc<Vec<Line>> = Arc::new(bench.base().map(|base| dispensable(&base)).unwrap_or_default());
    let sought = RwSignal::new(String::new());
    let is_gone = move |id: &str| bench.own.with(|own| own.without.iter().any(|gone| gone == id));
    // Those that are left out, or those that fit what is searched for.
    let shown = memo(move || {
        let sought = sought.get();
        let fits = |(id, name, _): &&Line| {
            if sought.trim().is_empty() { is_gone(id) } else { has_words(name, &sought) }
        };
        let most = if sought.trim().is_empty() { usize::MAX } else { MOST_FOUND };
        all.iter().filter(fits).take(most).cloned().collect::<Vec<_>>()
    });
    let line = move |(id, name, kind): Line| {
        let (known, toggled) = (id.clone(), id);
        let gone = move || is_gone(&known);
        view! {
            <li>
                <label class="tick">
                    <input type="checkbox" prop:checked=gone
                        on:change=move |event| do_without(bench, toggled.clone(), event_target_checked(&event)) />
                    <span>{name} " " <span class="quiet">{t(kind)}</span></span>
                </label>
            </li>
        }
    };
    let id = ids::field("without-sought");
    view! {
        <p class="quiet">
            {t("What this kind of car does not have. Search for it by name and mark it; what points at it goes with it.")}
        </p>
        <div class="field">
            <label for=id.clone()>{t("Search the general sheet by name")}</label>
            <input id=id type="search" autocomplete="off" prop:value=sought
                on:input=move |event| sought.set(event_target_value(&event)) />
        </div>
        <ul class="plain ruled">
            <Each each=move || shown.get() key=|(id, _, kind)| (id.clone(), *kind) children=line />
        </ul>
    }
    .into_any()
}
