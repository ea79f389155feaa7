//! The quick log of the drive: one large button stamps the time, the notes are filled in when parked.

use kerbworth_core::phrase;
use kerbworth_core::worksheet::{Edit, LogEntry};
use leptos::prelude::*;

use crate::browser::clock;
use crate::live::{Derived, Each, Shown, live, memo};
use crate::part::field::Field;
use crate::store::desk::desk;
use crate::words::{say, t};

fn put(change: impl FnOnce(&mut Vec<LogEntry>)) {
    let desk = desk();
    let mut log = desk.worksheet.with_untracked(|worksheet| worksheet.log.clone());
    change(&mut log);
    desk.edit(Edit::Log(log));
}

/// The log. What is in it shows even while the gate is shut; the button does not.
#[component]
pub fn Log(
    /// Whether the drive may begin.
    #[prop(into)]
    open: Derived<bool>,
) -> impl IntoView {
    let times = memo(move || {
        desk().worksheet.with(|worksheet| worksheet.log.iter().map(|entry| entry.at.clone()).collect::<Vec<_>>())
    });
    let count = memo(move || times.with(Vec::len));
    view! {
        <Shown when=memo(move || open.get() || count.get() != 0)>
            <section class="log">
                <h2>{t("Quick log")}</h2>
                <p>
                    {t("The driver does not touch the phone. A belted passenger presses the button whenever the driver says so, and writes; the notes are filled in when parked.")}
                </p>
                <Shown when=memo(move || open.get())>
                    <button type="button" class="stamp" on:click=move |_| {
                        put(|log| log.push(LogEntry { at: clock::now(), note: String::new() }));
                    }>{t("Stamp the time")}</button>
                </Shown>
                <p class="unseen" role="status">
                    {live(move || match count.get() {
                        0 => String::new(),
                        count => say(&phrase!("{0} times in the log", count)),
                    })}
                </p>
                <ol class="plain ruled entries">
                    // The last first: it is the one that was just stamped.
                    <Each each=move || times.get().into_iter().enumerate().rev().collect() key=Clone::clone let((place, at))>
                        <Entry place at />
                    </Each>
                </ol>
            </section>
        </Shown>
    }
}

/// The time that an entry was stamped, and its note.
#[component]
fn Entry(place: usize, at: String) -> impl IntoView {
    let note = memo(move || {
        desk().worksheet.with(|worksheet| worksheet.log.get(place).map(|entry| entry.note.clone()).unwrap_or_default())
    });
    view! {
        <li class="entry">
            <Field
                place=format!("log[{place}].note")
                label=at.clone()
                stored=note
                typed=move |text: String| {
                    put(|log| {
                        if let Some(entry) = log.get_mut(place) {
                            entry.note = text;
                        }
                    });
                }
            />
            <button
                type="button"
                class="bare"
                aria-label=format!("{} {at}", t("Take away"))
                on:click=move |_| {
                    put(|log| {
                        if place < log.len() {
                            log.remove(place);
                        }
                    });
                }
            >
                {t("Take away")}
            </button>
        </li>
    }
}
