//! The last word of a program that must stop: `public/boot.js` hears it and shows what happened.

use wasm_bindgen::JsValue;

/// From now on a panic is told to the page as the event `kerbworth-panic`, beside its line in the console.
pub fn tell_the_page() {
    std::panic::set_hook(Box::new(|panic| {
        console_error_panic_hook::hook(panic);
        let told = web_sys::CustomEventInit::new();
        told.set_detail(&JsValue::from_str(&panic.to_string()));
        // Nothing to be done if this fails: the trap that follows reaches boot.js as well, only with fewer words.
        if let (Some(window), Ok(event)) =
            (web_sys::window(), web_sys::CustomEvent::new_with_event_init_dict("kerbworth-panic", &told))
        {
            let _ = window.dispatch_event(&event);
        }
    }));
}
