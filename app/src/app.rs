//! The whole page: opens the desk, and shows the screen that the address names.

use leptos::prelude::*;

use crate::browser::page;
use crate::ids;
use crate::live::{Shown, live, memo};
use crate::part::bars::{Foot, Head, StoreTrouble};
use crate::part::conflicts::Conflicts;
use crate::route::Screen;
use crate::screen::car::CarScreen;
use crate::screen::checks::ChecksScreen;
use crate::screen::compare::CompareScreen;
use crate::screen::departures::DeparturesScreen;
use crate::screen::hand_over::HandOverScreen;
use crate::screen::lamps::LampsScreen;
use crate::screen::ledger::LedgerScreen;
use crate::screen::plan::PlanScreen;
use crate::screen::received::ReceivedScreen;
use crate::screen::sales::SalesScreen;
use crate::screen::settings::SettingsScreen;
use crate::screen::sheets::SheetsScreen;
use crate::screen::shelf::ShelfScreen;
use crate::screen::worth::WorthScreen;
use crate::store::Desk;
use crate::words::t;

/// The page.
#[component]
pub fn App() -> impl IntoView {
    let desk = Desk::open();
    provide_context(desk);
    let asked = RwSignal::new(Screen::of(&page::fragment()));
    page::listen("hashchange", move || {
        asked.set(Screen::of(&page::fragment()));
        page::to_top();
        page::focus(ids::MAIN);
    });
    // Without an open worksheet, its screens have nothing to show.
    let screen = memo(move || {
        let asked = asked.get();
        if asked.needs_worksheet() && !desk.is_open.get() { Screen::Shelf } else { asked }
    });
    Effect::new(move |_| page::set_root("data-theme", desk.preferences.with(|wanted| wanted.theme.word())));
    Effect::new(move |_| {
        let title = desk.worksheet.with(kerbworth_core::worksheet::Worksheet::title);
        let open = desk.is_open.get() && screen.with(Screen::needs_worksheet);
        page::set_title(&if open { format!("{title} · Kerbworth") } else { "Kerbworth".to_owned() });
    });
    view! {
        <Head screen />
        <main id=ids::MAIN tabindex="-1">
            <Update />
            <StoreTrouble />
            <Conflicts />
            {live(move || match screen.get() {
                Screen::Shelf => view! { <ShelfScreen /> }.into_any(),
                Screen::Car => view! { <CarScreen /> }.into_any(),
                Screen::Checks(stage) => view! { <ChecksScreen stage /> }.into_any(),
                Screen::Plan => view! { <PlanScreen /> }.into_any(),
                Screen::Lamps => view! { <LampsScreen /> }.into_any(),
                Screen::Departures => view! { <DeparturesScreen /> }.into_any(),
                Screen::Sales => view! { <SalesScreen /> }.into_any(),
                Screen::Worth => view! { <WorthScreen /> }.into_any(),
                Screen::HandOver => view! { <HandOverScreen /> }.into_any(),
                Screen::Received(link) => view! { <ReceivedScreen link /> }.into_any(),
                Screen::Compare => view! { <CompareScreen /> }.into_any(),
                Screen::Ledger => view! { <LedgerScreen /> }.into_any(),
                Screen::Sheets(open) => view! { <SheetsScreen open /> }.into_any(),
                Screen::Settings => view! { <SettingsScreen /> }.into_any(),
            })}
        </main>
        <Foot screen />
    }
}

/// Offers a new version of the program once it is stored; what is typed is stored first.
#[component]
fn Update() -> impl IntoView {
    let ready = RwSignal::new(page::root("data-update").is_some());
    page::listen("kerbworth-update", move || ready.set(true));
    let desk = crate::store::desk::desk();
    view! {
        <Shown when=memo(move || ready.get())>
            <div class="notice row" role="status">
                <span>{t("A new version of Kerbworth is ready.")}</span>
                <button type="button" on:click=move |_| {
                    desk.store_now();
                    page::tell("kerbworth-take-over", "");
                }>{t("Change to it")}</button>
            </div>
        </Shown>
    }
}
