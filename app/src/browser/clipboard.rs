//! The clipboard.

use js_sys::Reflect;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::HtmlTextAreaElement;

/// Puts a text on the clipboard. `false` if the browser has none for this page, or would not.
///
/// To be called while a press of a button is being handled: browsers refuse it at other times.
pub async fn copy(text: &str) -> bool {
    let Some(navigator) = web_sys::window().map(|window| window.navigator()) else { return false };
    // A page that came over plain http has no clipboard, and the bare call would throw.
    let there = Reflect::get(&navigator, &JsValue::from_str("clipboard")).is_ok_and(|clipboard| clipboard.is_object());
    there && JsFuture::from(navigator.clipboard().write_text(text)).await.is_ok()
}

/// Selects all of the text area with an id and puts the focus there, so that the person can copy it by hand.
pub fn select(id: &str) {
    let area =
        web_sys::window().and_then(|window| window.document()).and_then(|document| document.get_element_by_id(id));
    if let Some(area) = area.and_then(|area| area.dyn_into::<HtmlTextAreaElement>().ok()) {
        // Without the focus there is still the selection.
        let _ = area.focus();
        area.select();
    }
}
