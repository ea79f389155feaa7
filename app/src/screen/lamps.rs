//! The truth table of lamps: in each position of key and switches, what lit and what should.

use kerbworth_core::lamps::{Difference, Should, should};
use kerbworth_core::phrase;
use kerbworth_core::sheet::lamps::{Lamp, Situation};
use kerbworth_core::walk::lamp_marks::{Watched, as_it_should, differs, tapped, watched};
use kerbworth_core::worksheet::Edit;
use leptos::prelude::*;

use crate::browser::page;
use crate::live::{Each, Shown, live, memo};
use crate::screen::checks::{Causes, CheckLink};
use crate::store::desk::desk;
use crate::words::{say, t};

/// The screen.
#[component]
pub fn LampsScreen() -> impl IntoView {
    let (situations, check) =
        desk().sheet.with_untracked(|sheet| (sheet.lamps.situations.clone(), sheet.lamps.check.clone()));
    let empty = situations.is_empty();
    view! {
        <h1>{t("Lamps")}</h1>
        <p>
            {t("Open a position, set key and switches as it says, and press each lamp: once for what it should do, twice for the contrary, three times to take the mark back. A lamp that the car has not got stays unmarked.")}
        </p>
        <p class="quiet">{t("Belongs to the check:")} " " <CheckLink check /></p>
        {empty.then(|| view! { <p>{t("The type sheet has no table of lamps.")}</p> })}
        <Differ />
        <h2>{t("Positions")}</h2>
        <ol class="plain ruled">
            {situations.into_iter().map(|situation| view! { <OneSituation situation /> }).collect_view()}
        </ol>
        <Found />
    }
}

/// The id of the part that says what differs.
const FOUND: &str = "lamps-found";

/// How many lamps differ, and the way down to what that says. What it says stands below the positions, where it
/// moves nothing under the thumb as it grows.
#[component]
fn Differ() -> impl IntoView {
    let count = memo(move || desk().appraisal.with(|appraisal| appraisal.lamps.len()));
    let said = move || match count.get() {
        0 => t("No lamp differs so far.").to_owned(),
        1 => t("One lamp differs.").to_owned(),
        count => say(&phrase!("{0} lamps differ.", count)),
    };
    view! {
        <div class="row">
            <span role="status">{live(said)}</span>
            <button
                type="button"
                disabled=move || count.get() == 0
                on:click=move |_| page::show_soon(FOUND.to_owned())
            >
                {t("What that says")}
            </button>
        </div>
    }
}

/// The differences with the signs that they raise, and the causes behind them.
#[component]
fn Found() -> impl IntoView {
    let found = memo(move || desk().appraisal.with(|appraisal| appraisal.lamps.clone()));
    let signs = memo(move || {
        let mut signs: Vec<String> = found.with(|found| found.iter().map(|it| it.sign.clone()).collect());
        signs.sort_unstable();
        signs.dedup();
        signs
    });
    view! {
        <section id=FOUND tabindex="-1">
            <Shown when=memo(move || found.with(|found| !found.is_empty()))>
                <h2>{t("What differs")}</h2>
                <ul class="plain ruled">
                    <Each each=move || found.get() key=|it| (it.situation.clone(), it.lamp.clone(), it.sign.clone()) let:it>
                        <OneDifference it />
                    </Each>
                </ul>
            </Shown>
            <Causes signs />
        </section>
    }
}

#[component]
fn OneDifference(it: Difference) -> impl IntoView {
    desk().sheet.with_untracked(|sheet| {
        let lamp = sheet.lamps.lamps.iter().find(|lamp| lamp.id == it.lamp).map(|lamp| lamp.name.clone());
        let situation = sheet.lamps.situations.iter().find(|of| of.id == it.situation).map(|of| of.name.clone());
        let sign = sheet.sign(&it.sign).map(|(_, sign)| sign.name.clone());
        view! {
            <li>
                <strong>{lamp} " " {if it.lit { t("lit") } else { t("stayed dark") }}</strong>
                <p class="quiet">{situation}</p>
                <p>{sign}</p>
            </li>
        }
    })
}

/// How a situation stands.
fn stands(watched: Watched) -> String {
    let Watched { watched, of, differ } = watched;
    let differ = if differ == 0 { String::new() } else { format!(" · {differ} {}", t("differ")) };
    format!("{watched}/{of} {}{differ}", t("watched"))
}

#[component]
fn OneSituation(situation: Situation) -> impl IntoView {
    let open = RwSignal::new(false);
    let name = situation.name.clone();
    let situation = StoredValue::new(situation);
    let count = memo(move || {
        desk().sheet.with(|sheet| {
            desk().worksheet.with(|worksheet| situation.with_value(|of| watched(&sheet.lamps, of, &worksheet.lamps)))
        })
    });
    view! {
        <li class="situation">
            <details on:toggle=move |event| open.set(page::is_open(&event))>
                <summary>
                    <span class="name">{name}</span>
                    " "
                    <span class="quiet">{live(move || stands(count.get()))}</span>
                </summary>
                <Shown when=memo(move || open.get())>
                    <Watching situation />
                </Shown>
            </details>
        </li>
    }
}

/// The lamps of a situation that is opened.
#[component]
fn Watching(situation: StoredValue<Situation>) -> impl IntoView {
    let (id, how) = situation.with_value(|of| (of.id.clone(), of.how.clone()));
    let set = move |edits: fn(&str, &str, bool) -> Edit| {
        let edits = desk().sheet.with_untracked(|sheet| {
            situation
                .with_value(|of| as_it_should(&sheet.lamps, of).map(|(lamp, lit)| edits(&of.id, lamp, lit)).collect())
        });
        desk().edit(Edit::Several(edits));
    };
    let groups = [
        (Should::Light, t("Should light")),
        (Should::StayDark, t("Should stay dark")),
        (Should::Either, t("Either way is how some cars are made")),
    ];
    let lamps = move |wanted: Should| {
        desk().sheet.with_untracked(|sheet| {
            let of = |lamp: &&Lamp| situation.with_value(|of| should(of, &lamp.id)) == wanted;
            sheet.lamps.lamps.iter().filter(of).cloned().collect::<Vec<_>>()
        })
    };
    view! {
        <p>{how}</p>
        <div class="row">
            <button type="button" on:click=move |_| {
                set(|of, lamp, lit| Edit::Lamp(of.to_owned(), lamp.to_owned(), Some(lit)));
            }>{t("all as it should be")}</button>
            <button type="button" class="bare" on:click=move |_| {
                set(|of, lamp, _| Edit::Lamp(of.to_owned(), lamp.to_owned(), None));
            }>{t("take all marks back")}</button>
        </div>
        {groups
            .into_iter()
            .map(|(wanted, name)| {
                let lamps = lamps(wanted);
                (!lamps.is_empty())
                    .then(|| {
                        view! {
                            <fieldset class="lamps">
                                <legend>{name}</legend>
                                <div>
                                    {lamps
                                        .into_iter()
                                        .map(|lamp| view! { <OneLamp situation=id.clone() lamp wanted /> })
                                        .collect_view()}
                                </div>
                            </fieldset>
                        }
                    })
            })
            .collect_view()}
    }
}

/// One lamp: its name, what it did, and whether that is wrong; a tap takes it a state on.
#[component]
fn OneLamp(situation: String, lamp: Lamp, wanted: Should) -> impl IntoView {
    let Lamp { id, name } = lamp;
    let (of, mine) = (situation.clone(), id.clone());
    let lit = memo(move || desk().worksheet.with(|worksheet| worksheet.lamps.get(&of)?.get(&mine).copied()));
    let wrong = move || lit.get().is_some_and(|lit| differs(wanted, lit));
    let state = move || match lit.get() {
        None => ("—", t("not watched")),
        Some(true) => ("●", t("lit")),
        Some(false) => ("○", t("dark")),
    };
    view! {
        <button
            type="button"
            class="lamp"
            class:differs=wrong
            on:click=move |_| {
                let next = tapped(wanted, lit.get_untracked());
                desk().edit(Edit::Lamp(situation.clone(), id.clone(), next));
            }
        >
            <span class="mark" aria-hidden="true">{live(move || state().0)}</span>
            <span>
                {name}
                <span class="quiet">
                    " " {live(move || state().1)} {live(move || wrong().then(|| format!(", {}", t("should not be"))))}
                </span>
            </span>
        </button>
    }
}
