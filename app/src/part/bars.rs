//! What frames every screen: the head with the car's name, and at the thumb the strip with worth, cover and
//! hold above the places to go.

use kerbworth_core::hand_over::file::{file_name, worksheet_file};
use kerbworth_core::sheet::Stage;
use leptos::prelude::*;

use crate::browser::file;
use crate::browser::storage::Refused;
use crate::ids;
use crate::live::{Derived, Shown, live, memo};
use crate::part::tally::UnsafeMark;
use crate::route::Screen;
use crate::store::desk::desk;
use crate::store::keep::Kept;
use crate::words::t;

/// The head: shelf, name of the car, whether everything is stored, type sheets, settings.
#[component]
pub fn Head(
    /// The screen that is shown.
    screen: Derived<Screen>,
) -> impl IntoView {
    let desk = desk();
    let current = move |to: Screen| move || screen.with(|screen| *screen == to).then_some("page");
    let sheets = move || screen.with(|screen| matches!(screen, Screen::Sheets(_))).then_some("page");
    let name = move || {
        let open = desk.is_open.get() && screen.with(Screen::needs_worksheet);
        if open { desk.worksheet.with(kerbworth_core::worksheet::Worksheet::title) } else { "Kerbworth".to_owned() }
    };
    view! {
        <a class="skip" href=format!("#{}", ids::MAIN) on:click=move |event| {
            event.prevent_default();
            crate::browser::page::focus(ids::MAIN);
        }>{t("Skip to the worksheet")}</a>
        <header class="head">
            <a class="button" href=Screen::Shelf.fragment() aria-current=current(Screen::Shelf)>{t("Shelf")}</a>
            <span class="name">{live(name)}</span>
            <Shown when=memo(move || screen.with(Screen::needs_worksheet) && desk.is_open.get())>
                <button type="button" class="bare" disabled=move || desk.track.can.get().0 == 0 on:click=move |_| desk.undo()>
                    {t("Undo")}
                </button>
                <button type="button" class="bare wide-only" disabled=move || desk.track.can.get().1 == 0 on:click=move |_| desk.redo()>
                    {t("Redo")}
                </button>
            </Shown>
            <Saved />
            // On a phone the car's name needs the room; the shelf has both ways.
            <nav class="apart" class:wide-only=move || screen.with(Screen::needs_worksheet) aria-label=t("Apart from the worksheet")>
                <a class="button" href=Screen::Sheets(None).fragment() aria-current=sheets>{t("Types")}</a>
                <a class="button" href=Screen::Settings.fragment() aria-current=current(Screen::Settings)>
                    {t("Settings")}
                </a>
            </nav>
        </header>
    }
}

/// Whether what is on the screen is stored.
#[component]
fn Saved() -> impl IntoView {
    let kept = desk().keeper.kept;
    let said = move || match kept.get() {
        Kept::Saved => t("saved"),
        Kept::Waiting | Kept::Writing => t("saving…"),
        Kept::Refused(_) => t("not saved"),
    };
    view! { <span class="quiet" id="saved" role="status">{live(said)}</span> }
}

/// What to do about a store that refuses; nothing while it does not.
#[component]
pub fn StoreTrouble() -> impl IntoView {
    let desk = desk();
    move || {
        let Kept::Refused(refused) = desk.keeper.kept.get() else { return None };
        let said = match refused {
            Refused::NoStorage => t(
                "This browser lets the page store nothing. The worksheet works until the page is closed; save it as a file before then.",
            )
            .to_owned(),
            Refused::Full => t(
                "The browser's storage is full. Nothing that was stored is lost, but the last change is not stored yet: save this worksheet as a file, then delete old worksheets from the shelf.",
            )
            .to_owned(),
            Refused::Other(said) => format!("{} {said}", t("The browser did not store the last change:")),
        };
        let save = move |_| {
            desk.worksheet.with_untracked(|worksheet| {
                file::save(&file_name(worksheet, "", "json"), "application/json", &worksheet_file(worksheet));
            });
        };
        Some(view! {
            <div class="notice hold" role="alert">
                <p>{said}</p>
                <button type="button" on:click=save>{t("Save this worksheet as a file")}</button>
            </div>
        })
    }
}

/// The strip and the places to go, fixed at the bottom.
#[component]
pub fn Foot(
    /// The screen that is shown.
    screen: Derived<Screen>,
) -> impl IntoView {
    let desk = desk();
    let places = [
        (Screen::Car, t("Car")),
        (Screen::Checks(Stage::Papers), t("Checks")),
        (Screen::Sales, t("Sales")),
        (Screen::Worth, t("Worth")),
        (Screen::HandOver, t("Hand over")),
    ];
    let current = move |to: &Screen| {
        screen.with(|here| match (here, to) {
            (Screen::Checks(_) | Screen::Plan | Screen::Lamps | Screen::Departures, Screen::Checks(_)) => true,
            (here, to) => here == to,
        })
    };
    view! {
        <Shown when=memo(move || desk.is_open.get() && screen.with(Screen::needs_worksheet))>
            <div class="foot">
                <Strip />
                <nav class="places" aria-label=t("Worksheet")>
                    {places
                        .clone()
                        .into_iter()
                        .map(|(to, name)| {
                            let fragment = to.fragment();
                            view! { <a href=fragment aria-current=move || current(&to).then_some("page")>{name}</a> }
                        })
                        .collect_view()}
                </nav>
            </div>
        </Shown>
    }
}

/// Worth, cover and hold, always in sight.
#[component]
fn Strip() -> impl IntoView {
    let desk = desk();
    let worth = memo(move || desk.appraisal.with(|appraisal| desk.show.with(|show| appraisal.worth_in_short(show))));
    let cover = memo(move || {
        desk.appraisal.with(|appraisal| desk.show.with(|show| show.share(appraisal.condition.overall.cover)))
    });
    let holds = memo(move || desk.appraisal.with(|appraisal| appraisal.holds.len()));
    view! {
        <section class="strip" aria-label=t("Worth, cover and hold")>
            <dl>
                <div><dt>{t("Worth")}</dt><dd id="strip-worth">{live(move || worth.get())}</dd></div>
                <div><dt>{t("Cover")}</dt><dd id="strip-cover">{live(move || cover.get())}</dd></div>
                <div>
                    <dt>{t("Hold")}</dt>
                    <dd id="strip-hold">
                        {live(move || match holds.get() {
                            0 => t("none").into_any(),
                            count => view! { <UnsafeMark /> " " {count} }.into_any(),
                        })}
                    </dd>
                </div>
            </dl>
        </section>
    }
}
