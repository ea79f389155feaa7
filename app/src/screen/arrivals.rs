//! What a bundle would change, shown before anything is changed.

use std::collections::BTreeSet;

use kerbworth_core::bundle::{Arrival, Bundle, Note, sales_to_add};
use leptos::prelude::*;

use crate::live::{live, wait};
use crate::store::bundles;
use crate::store::desk::desk;
use crate::words::{say, t};

/// A bundle that was opened and waits to be taken in.
#[derive(Clone)]
pub struct Waiting {
    /// What is in it.
    pub bundle: Bundle,
    /// What could not be read of it.
    pub notes: Vec<Note>,
}

/// Which of the bundle's things are taken in.
#[derive(Clone, Default)]
struct Ticked {
    worksheets: BTreeSet<usize>,
    sheets: BTreeSet<usize>,
}

/// What a bundle would change, and the choice of what is taken in.
#[component]
pub fn Arrivals(
    /// The bundle; none once it is done with.
    waiting: RwSignal<Option<Waiting>>,
) -> impl IntoView {
    live(move || waiting.get().map(|Waiting { bundle, notes }| view! { <Choices waiting bundle notes /> }))
}

#[component]
fn Choices(waiting: RwSignal<Option<Waiting>>, bundle: Bundle, notes: Vec<Note>) -> impl IntoView {
    let desk = desk();
    let new_sales = bundle.ledger.as_ref().map_or(0, |ledger| {
        desk.ledger.wake();
        desk.ledger.body.with_untracked(|there| sales_to_add(ledger, there).len())
    });
    let worksheets: Vec<(String, Arrival)> =
        bundle.worksheets.iter().map(|it| (it.title(), bundles::worksheet_arrives(desk, it))).collect();
    let sheets: Vec<(String, Arrival)> =
        bundle.type_sheets.iter().map(|it| (it.name.clone(), bundles::sheet_arrives(desk, it))).collect();
    let places = |of: &[(String, Arrival)], fits: fn(Arrival) -> bool| {
        of.iter().enumerate().filter(|(_, (_, arrival))| fits(*arrival)).map(|(place, _)| place).collect()
    };
    let ticked = RwSignal::new(Ticked {
        worksheets: places(&worksheets, |arrival| arrival != Arrival::Same),
        sheets: places(&sheets, |arrival| arrival == Arrival::New),
    });
    let photos = bundle.photos.len();
    let bundle = StoredValue::new(bundle);
    let take = move |_| {
        let Ticked { worksheets, sheets } = ticked.get_untracked();
        let mut bundle = bundle.get_value();
        keep_places(&mut bundle.worksheets, &worksheets);
        keep_places(&mut bundle.type_sheets, &sheets);
        wait(async move {
            bundles::take_in(desk, bundle).await;
            waiting.set(None);
        });
    };
    view! {
        <section class="notice" aria-labelledby="arrivals">
            <h2 id="arrivals">{t("What this file would bring")}</h2>
            {(!notes.is_empty()).then(|| {
                let said = notes.into_iter().map(|note| view! { <li>{say(&note)}</li> }).collect_view();
                view! { <p class="message">{t("Not all of it can be read:")}</p> <ul>{said}</ul> }
            })}
            {group(t("Worksheets"), t("One that differs comes beside the one that is here."), worksheets, ticked, |it| &mut it.worksheets)}
            {group(t("Type sheets"), t("One that differs takes the place of the one that is here, if it is ticked."), sheets, ticked, |it| &mut it.sheets)}
            <p class="quiet">
                {t("Photographs:")} " " {photos} ". " {t("Sales for the ledger that are not there yet:")} " " {new_sales} "."
            </p>
            <div class="row">
                <button type="button" class="chief" on:click=take>{t("Take in")}</button>
                <button type="button" on:click=move |_| waiting.set(None)>{t("Leave it")}</button>
            </div>
        </section>
    }
}

fn keep_places<T>(list: &mut Vec<T>, places: &BTreeSet<usize>) {
    let mut place = 0;
    list.retain(|_| {
        place += 1;
        places.contains(&(place - 1))
    });
}

/// One kind of thing, each with what it would change and whether it comes.
fn group(
    heading: &'static str,
    rule: &'static str,
    things: Vec<(String, Arrival)>,
    ticked: RwSignal<Ticked>,
    of: fn(&mut Ticked) -> &mut BTreeSet<usize>,
) -> AnyView {
    if things.is_empty() {
        return ().into_any();
    }
    let line = |(place, (name, arrival)): (usize, (String, Arrival))| {
        let comes = move || of(&mut ticked.get()).contains(&place);
        let tick = move |event| {
            ticked.update(|ticked| {
                if event_target_checked(&event) {
                    of(ticked).insert(place)
                } else {
                    of(ticked).remove(&place)
                };
            });
        };
        view! {
            <li>
                <label class="tick">
                    <input type="checkbox" prop:checked=comes disabled=arrival.eq(&Arrival::Same) on:change=tick />
                    {name} ": " {t(arrival.name())}
                </label>
            </li>
        }
    };
    view! {
        <h3>{heading}</h3>
        <p class="quiet">{rule}</p>
        <ul class="plain">{things.into_iter().enumerate().map(line).collect_view()}</ul>
    }
    .into_any()
}
