//! Several worksheets side by side.

use kerbworth_core::appraise::appraise;
use kerbworth_core::appraise::side_by_side::{self, Car, LEAST, Line, MOST, SystemLine};
use kerbworth_core::worksheet::Worksheet;
use leptos::prelude::*;

use crate::live::{Shown, live, memo};
use crate::route::Screen;
use crate::store::desk::desk;
use crate::store::keep::Key;
use crate::store::shelf::Card;
use crate::words::t;

/// Reads a worksheet from the shelf without opening it, and appraises it.
fn read(id: &str) -> Option<Car> {
    let desk = desk();
    let worksheet: Worksheet = desk.keeper.get(&Key::Worksheet(id.to_owned()))?;
    let sheet = untrack(|| desk.sheets.whole(&worksheet.type_sheet));
    Some(side_by_side::car(&worksheet, &appraise(&worksheet, &sheet)))
}

/// The worksheets that are not deleted.
fn cards() -> Vec<Card> {
    desk().shelf.cards.with(|cards| cards.iter().filter(|card| !card.deleted).cloned().collect())
}

/// The screen.
#[component]
pub fn CompareScreen() -> impl IntoView {
    // What was typed last belongs to the comparison.
    desk().store_now();
    let on_shelf = untrack(cards);
    let few = (LEAST..=MOST).contains(&on_shelf.len());
    let first = if few { on_shelf.iter().filter_map(|card| read(&card.id)).collect() } else { Vec::new() };
    let chosen = RwSignal::new(first);
    view! {
        <h1>{t("Compare")}</h1>
        {if on_shelf.len() < LEAST {
            view! {
                <p>{t("Two worksheets at least can be compared; so many are not on the shelf yet.")}</p>
                <p><a class="button chief" href=Screen::Shelf.fragment()>{t("To the shelf")}</a></p>
            }
            .into_any()
        } else {
            view! { <Pick on_shelf chosen /> <Table chosen /> }.into_any()
        }}
    }
}

/// Which worksheets.
#[component]
fn Pick(on_shelf: Vec<Card>, chosen: RwSignal<Vec<Car>>) -> impl IntoView {
    let unread = RwSignal::new(None::<String>);
    let has = move |id: &str| chosen.with(|cars| cars.iter().any(|car| car.id == id));
    let full = move || chosen.with(|cars| cars.len() >= MOST);
    let press = move |card: &Card| {
        unread.set(None);
        if untrack(|| has(&card.id)) {
            chosen.update(|cars| cars.retain(|car| car.id != card.id));
        } else if let Some(car) = read(&card.id) {
            chosen.update(|cars| cars.push(car));
        } else {
            unread.set(Some(card.title.clone()));
        }
    };
    let ticks = on_shelf.into_iter().map(|card| {
        let (this, same) = (card.id.clone(), card.id.clone());
        let day = card.date.map(|date| desk().show.with_untracked(|show| show.date(date)));
        let about: Vec<String> = day.into_iter().chain(Some(card.place.clone()).filter(|it| !it.is_empty())).collect();
        let title = card.title.clone();
        view! {
            <label class="tick">
                <input
                    type="checkbox"
                    prop:checked=move || has(&this)
                    disabled=move || full() && !has(&same)
                    on:change=move |_| press(&card)
                />
                <span>{title} " " <span class="quiet">{about.join(" · ")}</span></span>
            </label>
        }
    });
    view! {
        <fieldset class="pick">
            <legend>{t("Which worksheets, two to five")}</legend>
            {ticks.collect_view()}
        </fieldset>
        {live(move || unread.get().map(|title| view! {
            <p class="message" role="alert">{title} " " {t("could not be opened; the shelf says why.")}</p>
        }))}
    }
}

/// The table, once there are two.
#[component]
fn Table(chosen: RwSignal<Vec<Car>>) -> impl IntoView {
    let lines = memo(move || chosen.with(|cars| desk().show.with(|show| side_by_side::lines(cars, show))));
    let systems = memo(move || chosen.with(|cars| side_by_side::systems(cars)));
    view! {
        <Shown when=memo(move || chosen.with(|cars| cars.len() >= LEAST)) fallback=|| view! { <p class="quiet">{t("Choose at least two.")}</p> }>
            <Shown when=memo(move || chosen.with(|cars| side_by_side::currencies_differ(cars)))>
                <p class="notice">
                    {t("These worksheets are in different currencies; each amount is in its own and none is converted.")}
                </p>
            </Shown>
            <div class="scroll beside" tabindex="0" role="region" aria-label=t("Side by side")>
                <table>
                    <thead>{live(move || chosen.with(|cars| head(cars)))}</thead>
                    <tbody>
                        {live(move || lines.with(|lines| lines.iter().map(line).collect_view()))}
                    </tbody>
                    <tbody>
                        <tr class="part">
                            <th scope="rowgroup" colspan=move || chosen.with(|cars| cars.len() + 1)>
                                <span>{t("Score by system, furthest apart first")}</span>
                            </th>
                        </tr>
                        {live(move || systems.with(|systems| systems.iter().map(system).collect_view()))}
                    </tbody>
                </table>
            </div>
            <Holds chosen />
        </Shown>
    }
    .into_any()
}

/// What holds each car, in full.
#[component]
fn Holds(chosen: RwSignal<Vec<Car>>) -> impl IntoView {
    let held = move || {
        chosen.with(|cars| {
            let held = cars.iter().filter(|car| !car.holds.is_empty()).cloned();
            held.map(|Car { title, holds, .. }| {
                let holds = holds.into_iter().map(|hold| view! { <li>{hold}</li> });
                view! { <h3>{title}</h3> <ul>{holds.collect_view()}</ul> }
            })
            .collect_view()
        })
    };
    view! {
        <Shown when=memo(move || chosen.with(|cars| cars.iter().any(|car| !car.holds.is_empty())))>
            <h2>{t("What holds them")}</h2>
            {live(held)}
        </Shown>
    }
}

/// The cars' names; each opens its worksheet.
fn head(cars: &[Car]) -> impl IntoView + use<> {
    let names = cars.iter().map(|car| {
        let (id, title) = (car.id.clone(), car.title.clone());
        view! {
            <th scope="col">
                <a href=Screen::Worth.fragment() on:click=move |event| {
                    if !desk().take(&id) {
                        event.prevent_default();
                    }
                }>{title}</a>
            </th>
        }
    });
    view! { <tr><td></td>{names.collect_view()}</tr> }
}

fn line(line: &Line) -> impl IntoView + use<> {
    let class = line.figures.then_some("amount");
    let cells = line.cells.iter().map(|cell| view! { <td class=class>{cell.clone()}</td> });
    view! { <tr><th scope="row">{t(line.label)}</th>{cells.collect_view()}</tr> }
}

fn system(line: &SystemLine) -> impl IntoView + use<> {
    let score = |score: &Option<f64>| match score {
        Some(score) => desk().show.with(|show| show.number(*score, 0)),
        None => t("not looked at").to_owned(),
    };
    let cells = line.scores.iter().map(|value| view! { <td class="amount">{score(value)}</td> });
    view! { <tr><th scope="row">{t(line.system.name())}</th>{cells.collect_view()}</tr> }
}
