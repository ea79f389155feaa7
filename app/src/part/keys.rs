//! Single keys for those who sit at a keyboard: what each does, the dialog that lists them, and the switch that turns them off.
//!
//! A key presses what is on the page: what a thumb cannot press there, a key cannot either.

use leptos::html;
use leptos::prelude::*;

use crate::browser::{keyboard, page};
use crate::live::{Shown, memo};
use crate::store::desk::desk;
use crate::words::t;

/// Steps through the checks of a stage.
const NAMES: &str = ".check > .name";

/// The way to the checks.
const CHECKS: &str = ".places a:nth-child(2)";

/// What a key presses.
#[derive(Clone, Copy)]
enum Presses {
    /// The next check, or the one before.
    Step { back: bool },
    /// What a selector finds in the check that has the focus.
    InCheck(&'static str),
    /// What a selector finds on the page.
    OnPage(&'static str),
}

use Presses::{InCheck, OnPage, Step};

/// Keys, what they do in words, and what they press.
const KEYS: [(&str, &str, Presses); 20] = [
    ("j", "Next check", Step { back: false }),
    ("k", "Check before", Step { back: true }),
    ("0", "Right", InCheck("fieldset.grades button:nth-child(1)")),
    ("1", "Slight", InCheck("fieldset.grades button:nth-child(2)")),
    ("2", "Moderate", InCheck("fieldset.grades button:nth-child(3)")),
    ("3", "Serious", InCheck("fieldset.grades button:nth-child(4)")),
    ("4", "Failed", InCheck("fieldset.grades button:nth-child(5)")),
    ("x", "Not looked at: why", InCheck("select")),
    ("u", "Unsafe, or not", InCheck("button.unsafe")),
    ("n", "Write a note", InCheck("textarea")),
    ("/", "Find a check, sign, fault or note", OnPage("#field-search")),
    ("z", "Undo", OnPage("#undo")),
    ("y", "Redo", OnPage("#redo")),
    ("c", "Checks", OnPage(CHECKS)),
    ("p", "Plan", OnPage(".beside-walk a")),
    ("s", "Sales", OnPage(".places a:nth-child(3)")),
    ("w", "Worth", OnPage(".places a:nth-child(4)")),
    ("h", "Hand over", OnPage(".places a:nth-child(5)")),
    ("d", "Full sun, or not", OnPage("#sun")),
    ("?", "These keys", OnPage("#keys")),
];

/// Does what a key does; whether it does anything.
fn press(key: &str) -> bool {
    let Some((_, _, presses)) = KEYS.into_iter().find(|(own, ..)| *own == key) else { return false };
    match presses {
        Step { back } => keyboard::step(NAMES, back),
        InCheck(selector) => press_in_check(selector),
        OnPage(selector) => press_on_page(selector),
    }
    true
}

/// Presses in the check that has the focus; what is inside of it is there once it is open.
fn press_in_check(selector: &str) {
    let inside = format!(".check:focus-within {selector}");
    if keyboard::is_there(&inside) {
        keyboard::press(&inside);
    } else {
        keyboard::press(".check:focus-within > .name[aria-expanded=false]");
        set_timeout(move || keyboard::press(&inside), core::time::Duration::ZERO);
    }
}

/// Presses anywhere; what only the screen of the checks has is pressed there.
fn press_on_page(selector: &'static str) {
    if keyboard::is_there(selector) {
        keyboard::press(selector);
    } else {
        keyboard::press(CHECKS);
        set_timeout(move || keyboard::press(selector), core::time::Duration::from_millis(100));
    }
}

/// Whether keys do anything.
#[component]
pub fn KeySwitch() -> impl IntoView {
    let desk = desk();
    view! {
        <label class="tick">
            <input
                type="checkbox"
                prop:checked=move || desk.preferences.with(|wanted| !wanted.keys_off)
                on:change=move |event| desk.prefer(|wanted| wanted.keys_off = !event_target_checked(&event))
            />
            {t("Single keys do something, outside of fields")}
        </label>
    }
}

/// Hears the keys, and lists them in a dialog that a button opens.
#[component]
pub fn Keys() -> impl IntoView {
    let desk = desk();
    keyboard::listen(move |key| {
        // The list itself opens all the same: that is where they are switched on again.
        let heard = key == "?" || desk.preferences.with_untracked(|wanted| !wanted.keys_off);
        heard && press(key)
    });
    let dialog = NodeRef::<html::Dialog>::new();
    let shown = RwSignal::new(false);
    let open = move |_| {
        shown.set(true);
        if let Some(dialog) = dialog.get_untracked() {
            page::open(&dialog);
        }
    };
    let close = move |_| {
        if let Some(dialog) = dialog.get_untracked() {
            dialog.close();
        }
    };
    view! {
        <button type="button" class="bare with-keys wide-only" id="keys" aria-label=t("Keys") aria-haspopup="dialog" on:click=open>"?"</button>
        <dialog node_ref=dialog aria-labelledby="keys-title" on:close=move |_| shown.set(false)>
            <h2 id="keys-title">{t("Keys")}</h2>
            <Shown when=memo(move || shown.get())>
                <div class="scroll" role="region" tabindex="0" aria-label=t("Keys")>
                    <table>
                        <tbody>
                            {KEYS
                                .into_iter()
                                .map(|(key, does, _)| view! { <tr><th scope="row"><kbd>{key}</kbd></th><td>{t(does)}</td></tr> })
                                .collect_view()}
                        </tbody>
                    </table>
                </div>
                <KeySwitch />
            </Shown>
            <div class="row">
                <button type="button" on:click=close>{t("Close")}</button>
            </div>
        </dialog>
    }
}
