//! The device's own way of sharing, where it has one.

use js_sys::Reflect;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;
use web_sys::ShareData;

/// What came of sharing.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Shared {
    /// It was handed on.
    Done,
    /// The person thought better of it.
    Left,
    /// The device would not.
    Refused,
}

/// Whether there is a way of sharing.
pub fn is_there() -> bool {
    let navigator = web_sys::window().map(|window| window.navigator());
    navigator.is_some_and(|navigator| {
        Reflect::get(&navigator, &JsValue::from_str("share")).is_ok_and(|share| share.is_function())
    })
}

/// Shares a text. To be called while a press of a button is being handled, and only where [`is_there`] says so.
pub async fn share(title: &str, text: &str) -> Shared {
    let Some(navigator) = web_sys::window().map(|window| window.navigator()) else { return Shared::Refused };
    let data = ShareData::new();
    data.set_title(title);
    data.set_text(text);
    match JsFuture::from(navigator.share_with_data(&data)).await {
        Ok(_) => Shared::Done,
        Err(error) => {
            let name = Reflect::get(&error, &JsValue::from_str("name")).ok().and_then(|name| name.as_string());
            if name.as_deref() == Some("AbortError") { Shared::Left } else { Shared::Refused }
        }
    }
}
