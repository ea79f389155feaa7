//! The page itself: its address, title, theme, timers and events.

use std::cell::RefCell;

use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use wasm_bindgen_futures::JsFuture;
use web_sys::{Document, HtmlElement};

fn document() -> Option<Document> {
    web_sys::window()?.document()
}

/// The fragment of the address, with its `#`, as it was before the browser encoded spaces and the like.
pub fn fragment() -> String {
    let hash = web_sys::window().and_then(|window| window.location().hash().ok()).unwrap_or_default();
    js_sys::decode_uri_component(&hash).map_or(hash, String::from)
}

/// The address without its fragment.
pub fn address() -> String {
    let whole = web_sys::window().and_then(|window| window.location().href().ok()).unwrap_or_default();
    whole.split('#').next().unwrap_or_default().to_owned()
}

/// Goes to a fragment.
pub fn go_to(fragment: &str) {
    if let Some(window) = web_sys::window() {
        // A refusal leaves the person where they are, which they see.
        let _ = window.location().set_hash(fragment);
    }
}

/// Names the page in the browser's tab.
pub fn set_title(title: &str) {
    if let Some(document) = document() {
        document.set_title(title);
    }
}

/// Sets an attribute of the root element: theme and language.
pub fn set_root(name: &str, value: &str) {
    if let Some(root) = document().and_then(|document| document.document_element()) {
        let _ = root.set_attribute(name, value);
    }
}

/// An attribute of the root element.
pub fn root(name: &str) -> Option<String> {
    document()?.document_element()?.get_attribute(name)
}

/// Moves the focus to the element with an id, and scrolls it into view.
pub fn focus(id: &str) {
    let element = document().and_then(|document| document.get_element_by_id(id));
    if let Some(element) = element.and_then(|element| element.dyn_into::<HtmlElement>().ok()) {
        let _ = element.focus();
    }
}

/// Moves the focus to the element with an id and brings its top into view, once the page has drawn what is new.
pub fn show_soon(id: String) {
    leptos::prelude::set_timeout(
        move || {
            focus(&id);
            if let Some(element) = document().and_then(|document| document.get_element_by_id(&id)) {
                element.scroll_into_view();
            }
        },
        core::time::Duration::ZERO,
    );
}

thread_local! {
    /// Where the screen that is gone to is shown from.
    static SHOWN_FROM: RefCell<Option<&'static str>> = const { RefCell::new(None) };
}

/// Goes to a fragment and there to the element with an id.
pub fn show_at(to: &str, id: &'static str) {
    if fragment() == to {
        show_soon(id.to_owned());
    } else {
        SHOWN_FROM.set(Some(id));
    }
}

/// Shows a screen that was gone to: from the element that was asked for, or else from its top.
pub fn arrive(main: &str) {
    match SHOWN_FROM.take() {
        Some(id) => show_soon(id.to_owned()),
        None => {
            to_top();
            focus(main);
        }
    }
}

/// Scrolls what scrolls sideways so far that its current part stands in the middle.
pub fn centre_current(id: &str) {
    let bar = document().and_then(|document| document.get_element_by_id(id));
    let current = bar.as_ref().and_then(|bar| bar.query_selector("[aria-current]").ok().flatten());
    let Some((bar, current)) = bar.zip(current.and_then(|current| current.dyn_into::<HtmlElement>().ok())) else {
        return;
    };
    bar.set_scroll_left(current.offset_left() + current.offset_width() / 2 - bar.client_width() / 2);
}

/// Whether the `details` element that an event comes from is open.
pub fn is_open(event: &web_sys::Event) -> bool {
    let element = event.target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
    element.is_some_and(|element| element.has_attribute("open"))
}

fn to_top() {
    if let Some(window) = web_sys::window() {
        window.scroll_to_with_x_and_y(0.0, 0.0);
    }
}

/// Opens the browser's print dialog.
pub fn print() {
    if let Some(window) = web_sys::window() {
        let _ = window.print();
    }
}

/// Tells the page something by an event on the window, with what more there is to say.
pub fn tell(event: &str, detail: &str) {
    let told = web_sys::CustomEventInit::new();
    told.set_detail(&detail.into());
    // Who listens is on this page: nothing can be done where even that fails.
    if let (Some(window), Ok(event)) = (web_sys::window(), web_sys::CustomEvent::new_with_event_init_dict(event, &told))
    {
        let _ = window.dispatch_event(&event);
    }
}

/// Calls back whenever the window has an event, as long as the page lives.
pub fn listen(event: &str, call: impl Fn() + 'static) {
    if let Some(window) = web_sys::window() {
        let call = Closure::<dyn Fn()>::new(call);
        if window.add_event_listener_with_callback(event, call.as_ref().unchecked_ref()).is_ok() {
            call.forget();
        }
    }
}

/// Calls back whenever the page is hidden or left: the last chance to store.
pub fn listen_leaving(call: impl Fn() + Clone + 'static) {
    listen("pagehide", call.clone());
    if let Some(document) = document() {
        let hidden = document.clone();
        let call = Closure::<dyn Fn()>::new(move || {
            if hidden.visibility_state() == web_sys::VisibilityState::Hidden {
                call();
            }
        });
        if document.add_event_listener_with_callback("visibilitychange", call.as_ref().unchecked_ref()).is_ok() {
            call.forget();
        }
    }
}

/// A `dialog` element.
pub type Dialog = web_sys::HtmlDialogElement;

/// Opens a dialog over the page.
pub fn open(dialog: &Dialog) {
    // It is open already if this fails.
    let _ = dialog.show_modal();
}

/// The text of the element with an id.
pub fn text(id: &str) -> Option<String> {
    document()?.get_element_by_id(id)?.text_content()
}

/// Opens the page anew.
pub fn reload() {
    if let Some(window) = web_sys::window() {
        // A refusal leaves the page as it is.
        let _ = window.location().reload();
    }
}

/// A text file of this page's own, by its path.
pub async fn fetch(path: &str) -> Option<String> {
    let response = JsFuture::from(web_sys::window()?.fetch_with_str(path)).await.ok()?;
    let response: web_sys::Response = response.dyn_into().ok()?;
    let text = response.ok().then(|| response.text().ok()).flatten()?;
    JsFuture::from(text).await.ok()?.as_string()
}
