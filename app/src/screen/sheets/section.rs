//! A section of the sheet: its entries, searched and opened one by one, and a way to add one.

use kerbworth_core::phrase;
use kerbworth_core::sheet::edit::SheetEdit;
use kerbworth_core::sheet::outline::{Line, Whose, has_words, outline};
use kerbworth_core::sheet::part::{Part, Section};
use leptos::prelude::*;

use super::bench::bench;
use super::entry::entry;
use super::fold::{Open, fold};
use super::search::new_by_name;
use crate::ids;
use crate::live::{Derived, Each, Shown, live, memo};
use crate::words::{say, t};

/// Entries shown at a time.
const A_PAGE: usize = 25;

/// The section as a fold.
pub fn section(section: Section) -> AnyView {
    let bench = bench();
    let lines = memo(move || {
        let base = bench.base();
        bench.own.with(|own| outline(own, base.as_deref(), section))
    });
    let count = move || {
        lines.with(|lines| {
            let inherited = lines.iter().filter(|line| line.whose == Whose::Inherited).count();
            let own = lines.len() - inherited;
            if inherited == 0 { own.to_string() } else { say(&phrase!("{0} own, {1} general", own, inherited)) }
        })
    };
    let summary = view! { <h2>{t(section.name())}</h2> <span class="quiet">{live(count)}</span> };
    let what = (section, String::new());
    let known = what.clone();
    let open = Open {
        is: memo(move || bench.open.with(|open| open.contains(&known))),
        set: Callback::new(move |to| bench.set_open(&what, to)),
    };
    fold("sheet-section", None, open, summary.into_any(), move || inside(section, lines))
}

fn inside(section: Section, lines: Derived<Vec<Line>>) -> AnyView {
    let bench = bench();
    let id = ids::field(&format!("{}-sought", section.word()));
    let sought = move || bench.sought.with(|sought| sought.get(&section).cloned().unwrap_or_default());
    let most = RwSignal::new(A_PAGE);
    // What is open stays, whatever is searched for: a name that is being typed must not close its own form.
    let fitting = memo(move || {
        let sought = sought();
        let (most, open) = (most.get(), bench.open.get());
        let all = lines.get().into_iter();
        let found: Vec<Line> =
            all.filter(|line| has_words(&line.name, &sought) || open.contains(&(section, line.id.clone()))).collect();
        let more = found.len().saturating_sub(most);
        let shown = found.into_iter().enumerate();
        let shown = shown.filter(|(place, line)| *place < most || open.contains(&(section, line.id.clone())));
        (shown.map(|(_, line)| line).collect::<Vec<_>>(), more)
    });
    let more = move || fitting.with(|(_, more)| *more);
    let key = |line: &Line| (line.id.clone(), line.twin, line.whose);
    let add = Callback::new(move |name: String| {
        let id = bench.fresh_id(&name);
        bench.edit(SheetEdit::Put(Part::new(section, id.clone(), name)));
        bench.go_to_entry(&(section, id));
    });
    view! {
        <div class="field">
            <label for=id.clone()>{t("Search by name")}</label>
            <input id=id type="search" autocomplete="off" prop:value=sought
                on:input=move |event| bench.sought.update(|all| drop(all.insert(section, event_target_value(&event)))) />
        </div>
        <Shown when=memo(move || fitting.with(|(shown, _)| shown.is_empty()))>
            <p class="quiet" role="status">{t("Nothing here.")}</p>
        </Shown>
        <div class="entries">
            <Each each=move || fitting.get().0 key=key children=move |line| entry(section, &line) />
        </div>
        <Shown when=memo(move || { more() > 0 })>
            <button type="button" on:click=move |_| most.update(|most| *most += A_PAGE)>
                {live(move || say(&phrase!("{0} more", more())))}
            </button>
        </Shown>
        {(!bench.fixed).then(|| new_by_name(&format!("{}-new", section.word()), "Name of a new one", "Add", add))}
    }
    .into_any()
}
