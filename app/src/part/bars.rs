//! What frames every screen: the head with the car's name, and at the thumb the strip with worth, cover and
//! hold above the places to go.

use kerbworth_core::hand_over::file::{file_name, worksheet_file};
use kerbworth_core::sheet::Stage;
use leptos::prelude::*;

use crate::browser::storage::Refused;
use crate::browser::{file, page};
use crate::ids;
use crate::live::{Derived, Shown, live, memo};
use crate::part::keys::Keys;
use crate::part::tally::UnsafeMark;
use crate::route::Screen;
use crate::store::Theme;
use crate::store::desk::desk;
use crate::store::keep::Kept;
use crate::words::{own, t};

/// The head: shelf, name of the car, whether everything is stored, type sheets, settings.
#[component]
pub fn Head(
    /// The screen that is shown.
    screen: Derived<Screen>,
) -> impl IntoView {
    let desk = desk();
    let current = move |to: Screen| move || screen.with(|screen| *screen == to).then_some("page");
    let sheets = move || screen.with(|screen| matches!(screen, Screen::Sheets(_))).then_some("page");
    let about_car = move || desk.is_open.get() && screen.with(Screen::needs_worksheet);
    let name = move || {
        if about_car() { desk.worksheet.with(|worksheet| own(&worksheet.title())) } else { "Kerbworth".to_owned() }
    };
    view! {
        <a class="skip" href=format!("#{}", ids::MAIN) on:click=move |event| {
            event.prevent_default();
            page::focus(ids::MAIN);
        }>{t("Skip to the worksheet")}</a>
        <header class="head">
            <a class="button" href=Screen::Shelf.fragment() aria-current=current(Screen::Shelf)>{t("Shelf")}</a>
            <div class="title">
                <span class="name" class:wide-only=move || !about_car()>{live(name)}</span>
                <Saved about_car=memo(about_car) />
            </div>
            <Shown when=memo(about_car)>
                <button type="button" class="bare" id="undo" disabled=move || desk.track.can.get().0 == 0 on:click=move |_| desk.undo()>
                    {t("Undo")}
                </button>
                <button type="button" class="bare wide-only" id="redo" disabled=move || desk.track.can.get().1 == 0 on:click=move |_| desk.redo()>
                    {t("Redo")}
                </button>
            </Shown>
            <Sun />
            // On a phone the car's name needs the room; the shelf has both ways.
            <nav class="apart" class:wide-only=about_car aria-label=t("Apart from the worksheet")>
                <a class="button" href=Screen::Sheets(None).fragment() aria-current=sheets>{t("Types")}</a>
                <a class="button" href=Screen::Settings.fragment() aria-current=current(Screen::Settings)>
                    {t("Settings")}
                </a>
            </nav>
            <Keys />
        </header>
    }
}

/// The look for full sun, one tap away; another tap goes back to the look before.
#[component]
fn Sun() -> impl IntoView {
    let desk = desk();
    let look = memo(move || desk.preferences.with(|wanted| wanted.theme));
    let before = StoredValue::new(Theme::default());
    let press = move |_| {
        let now = look.get_untracked();
        let to = if now == Theme::Sun { before.get_value() } else { Theme::Sun };
        before.set_value(if now == Theme::Sun { Theme::default() } else { now });
        desk.prefer(|wanted| wanted.theme = to);
    };
    view! {
        <button type="button" class="bare" id="sun" aria-label=t("Full sun") aria-pressed=move || (look.get() == Theme::Sun).to_string() on:click=press>
            <svg class="sun" viewBox="0 0 24 24" aria-hidden="true">
                <path d="M12 7.5 A4.5 4.5 0 1 0 12.01 7.5 M12 1 V4 M12 20 V23 M1 12 H4 M20 12 H23 M4.2 4.2 L6.3 6.3 M17.7 17.7 L19.8 19.8 M4.2 19.8 L6.3 17.7 M17.7 6.3 L19.8 4.2" />
            </svg>
        </button>
    }
}

/// Whether what is on the screen is stored; those who hear the page are told once it rests (`rest.rs`).
#[component]
fn Saved(about_car: Derived<bool>) -> impl IntoView {
    let kept = desk().keeper.kept;
    let said = move || match kept.get() {
        Kept::Saved => t("saved"),
        Kept::Waiting | Kept::Writing => t("saving…"),
        Kept::Refused(_) => t("not saved"),
    };
    view! { <span class="quiet" class:unseen=move || !about_car.get() && kept.get() == Kept::Saved id="saved">{live(said)}</span> }
}

/// What to do about a store that refuses; nothing while it does not.
#[component]
pub fn StoreTrouble() -> impl IntoView {
    let desk = desk();
    live(move || {
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
            desk.is_in_file();
        };
        let held = desk.held.get().then(|| {
            view! { <p>{t("Another worksheet can be opened once this one is stored or saved as a file.")}</p> }
        });
        let offer = desk.is_open.get().then(|| {
            view! { <button type="button" on:click=save>{t("Save this worksheet as a file")}</button> }
        });
        Some(view! {
            <div class="notice hold" role="alert" id=ids::TROUBLE tabindex="-1">
                <p>{said}</p>
                {held}
                {offer}
            </div>
        })
    })
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
            (
                Screen::Checks(_) | Screen::Plan | Screen::Lamps | Screen::Departures | Screen::Blank,
                Screen::Checks(_),
            ) => true,
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

/// The worth as the strip has it.
pub fn worth_in_short() -> String {
    let desk = desk();
    desk.appraisal.with(|appraisal| desk.show.with(|show| appraisal.worth_in_short(show)))
}

/// The cover as the strip has it.
pub fn cover_in_short() -> String {
    let desk = desk();
    desk.appraisal.with(|appraisal| desk.show.with(|show| show.share(appraisal.condition.overall.cover)))
}

/// Worth, cover and hold, always in sight; each leads to where it is told how it came about.
#[component]
fn Strip() -> impl IntoView {
    let (worth, cover) = (memo(worth_in_short), memo(cover_in_short));
    let holds = memo(move || desk().appraisal.with(|appraisal| appraisal.holds.len()));
    let score = move |_| page::show_at(&Screen::Worth.fragment(), ids::SCORE);
    view! {
        <section class="strip" aria-label=t("Worth, cover and hold")>
            <a href=Screen::Worth.fragment()>
                <span class="quiet">{t("Worth")}</span>
                " "
                <strong id="strip-worth">{live(move || worth.get())}</strong>
            </a>
            <a href=Screen::Worth.fragment() on:click=score>
                <span class="quiet">{t("Cover")}</span>
                " "
                <strong id="strip-cover">{live(move || cover.get())}</strong>
            </a>
            <a href=Screen::Checks(Stage::RoadTest).fragment()>
                <span class="quiet">{t("Hold")}</span>
                " "
                <strong id="strip-hold">
                    {live(move || match holds.get() {
                        0 => t("none").into_any(),
                        count => view! { <UnsafeMark /> " " {count} }.into_any(),
                    })}
                </strong>
            </a>
        </section>
    }
}
