//! Files out and in.

use wasm_bindgen::JsCast;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, File, HtmlAnchorElement, HtmlInputElement, Url};

/// Hands a text to the person as a file. `false` if the browser would not.
pub fn save(name: &str, kind: &str, text: &str) -> bool {
    save_parts(name, kind, &JsValue::from_str(text)).is_some()
}

/// A text or bytes as a file that has no name yet.
pub fn blob(kind: &str, content: &JsValue) -> Option<Blob> {
    let bag = BlobPropertyBag::new();
    bag.set_type(kind);
    Blob::new_with_str_sequence_and_options(&js_sys::Array::of1(content), &bag).ok()
}

/// Hands bytes to the person as a file. `false` if the browser would not.
pub fn save_bytes(name: &str, kind: &str, bytes: &[u8]) -> bool {
    save_parts(name, kind, &js_sys::Uint8Array::from(bytes).into()).is_some()
}

/// The bytes of a file; nothing if they cannot be read.
pub async fn bytes(file: &Blob) -> Option<Vec<u8>> {
    let buffer = JsFuture::from(file.array_buffer()).await.ok()?;
    Some(js_sys::Uint8Array::new(&buffer).to_vec())
}

fn save_parts(name: &str, kind: &str, content: &JsValue) -> Option<()> {
    let blob = blob(kind, content)?;
    let url = Url::create_object_url_with_blob(&blob).ok()?;
    let document = web_sys::window()?.document()?;
    let link: HtmlAnchorElement = document.create_element("a").ok()?.dyn_into().ok()?;
    link.set_href(&url);
    link.set_download(name);
    link.click();
    // The browser has taken the content by the time a minute has passed; a leak of one text if it has not.
    leptos::prelude::set_timeout(
        move || {
            let _ = Url::revoke_object_url(&url);
        },
        core::time::Duration::from_secs(60),
    );
    Some(())
}

/// A file that the person chose.
pub struct Chosen(File);

impl Chosen {
    /// The file in a file field, which is emptied so that the same file can be chosen again.
    pub fn of(field: &HtmlInputElement) -> Option<Self> {
        let file = field.files()?.get(0)?;
        field.set_value("");
        Some(Self(file))
    }

    /// Its name.
    pub fn name(&self) -> String {
        self.0.name()
    }

    /// The file itself.
    pub fn blob(&self) -> &Blob {
        &self.0
    }

    /// Its size in bytes, asked before it is read.
    pub fn bytes(&self) -> f64 {
        self.0.size()
    }

    /// Its text; nothing if it cannot be read.
    pub async fn text(&self) -> Option<String> {
        JsFuture::from(self.0.text()).await.ok()?.as_string()
    }
}
