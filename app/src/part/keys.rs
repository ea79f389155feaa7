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

/// Keys, what they do in words, and what they press.
const KEYS: [(&str, &str, &str); 20] = [
    ("j", "Next check", ""),
    ("k", "Check before", ""),
    ("0", "Right", "fieldset.grades button:nth-child(1)"),
    ("1", "Slight", "fieldset.grades button:nth-child(2)"),
    ("2", "Moderate", "fieldset.grades button:nth-child(3)"),
    ("3", "Serious", "fieldset.grades button:nth-child(4)"),
    ("4", "Failed", "fieldset.grades button:nth-child(5)"),
    ("x", "Not looked at: why", "select"),
    ("u", "Unsafe, or not", "button.unsafe"),
    ("n", "Write a note", "textarea"),
    ("/", "Find a check, sign, fault or note", "#field-search"),
    ("z", "Undo", "#undo"),
    ("y", "Redo", "#redo"),
    ("c", "Checks", ".places a:nth-child(2)"),
    ("p", "Plan", ".beside-walk a"),
    ("s", "Sales", ".places a:nth-child(3)"),
    ("w", "Worth", ".places a:nth-child(4)"),
    ("h", "Hand over", ".places a:nth-child(5)"),
    ("d", "Full sun, or not", "#sun"),
    ("?", "These keys", "#keys"),
];

/// Keys from the first to this one are for the check that has the focus.
const LAST_OF_CHECK: usize = 9;

/// Does what a key does; whether it does anything.
fn press(key: &str) -> bool {
    let Some(place) = KEYS.iter().position(|(own, ..)| *own == key) else { return false };
    let Some((_, _, presses)) = KEYS.get(place) else { return false };
    match place {
        0 | 1 => keyboard::step(NAMES, place == 1),
        2..=LAST_OF_CHECK => press_in_check(presses),
        _ => press_elsewhere(presses),
    }
    true
}

/// Presses in the check that has the focus; what is inside of it is there once it is open.
fn press_in_check(presses: &'static str) {
    let inside = format!(".check:focus-within {presses}");
    if keyboard::is_there(&inside) {
        keyboard::press(&inside);
    } else {
        keyboard::press(".check:focus-within > .name[aria-expanded=false]");
        set_timeout(move || keyboard::press(&inside), core::time::Duration::ZERO);
    }
}

/// Presses outside of the list; what only the screen of the checks has is pressed there.
fn press_elsewhere(presses: &'static str) {
    if keyboard::is_there(presses) {
        keyboard::press(presses);
    } else {
        keyboard::press(".places a:nth-child(2)");
        set_timeout(move || keyboard::press(presses), core::time::Duration::from_millis(100));
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
