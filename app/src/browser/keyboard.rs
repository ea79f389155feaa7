//! Keys pressed anywhere on the page, and what they reach on it.

use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Document, HtmlElement, KeyboardEvent};

/// What takes the letters itself.
const TYPED_INTO: &str = "input:not([type=checkbox]), select, textarea, [contenteditable]";

fn document() -> Option<Document> {
    web_sys::window()?.document()
}

/// Calls back with each key that is pressed alone, outside of fields and dialogs, as long as the page lives. A key that is
/// taken does nothing else.
pub fn listen(take: impl Fn(&str) -> bool + 'static) {
    let Some(document) = document() else { return };
    let page = document.clone();
    let call = Closure::<dyn Fn(KeyboardEvent)>::new(move |event: KeyboardEvent| {
        let typing = page.active_element().is_some_and(|at| at.matches(TYPED_INTO).unwrap_or(false));
        let aside = event.ctrl_key() || event.alt_key() || event.meta_key() || event.is_composing();
        let covered = page.query_selector("dialog[open]").ok().flatten().is_some();
        if !typing && !aside && !covered && take(&event.key()) {
            event.prevent_default();
        }
    });
    if document.add_event_listener_with_callback("keydown", call.as_ref().unchecked_ref()).is_ok() {
        call.forget();
    }
}

/// Whether a selector finds anything.
pub fn is_there(selector: &str) -> bool {
    found(selector).is_some()
}

fn found(selector: &str) -> Option<HtmlElement> {
    document()?.query_selector(selector).ok().flatten()?.dyn_into().ok()
}

/// Does what a press on the first element does that a selector finds; a field gets the focus.
pub fn press(selector: &str) {
    if let Some(element) = found(selector) {
        if element.matches(TYPED_INTO).unwrap_or(false) {
            // Without the focus, nothing is lost.
            let _ = element.focus();
        } else {
            element.click();
        }
    }
}

/// Moves the focus to the next of like elements, or the one before, and brings it into view: from the one whose parent has
/// the focus, or else from the end.
pub fn step(selector: &str, back: bool) {
    let Some(all) = document().and_then(|document| document.query_selector_all(selector).ok()) else { return };
    let nodes = (0..all.length()).filter_map(|place| all.get(place)?.dyn_into::<HtmlElement>().ok());
    let all: Vec<HtmlElement> =
        if back { nodes.collect::<Vec<_>>().into_iter().rev().collect() } else { nodes.collect() };
    let focused = document().and_then(|document| document.active_element());
    let around =
        |element: &HtmlElement| element.parent_element().is_some_and(|around| around.contains(focused.as_deref()));
    let here = all.iter().position(|element| focused.is_some() && around(element));
    let to = all.get(here.map_or(0, |here| here + 1));
    if let Some(to) = to {
        let _ = to.focus();
        to.scroll_into_view();
    }
}
