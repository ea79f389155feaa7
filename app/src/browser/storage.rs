//! The browser's local storage, by gloo-storage, made safe: it is tried before it is used, since gloo stops the
//! program where storage is refused; and it hands back texts as they are, since only core decides what they mean.

use gloo_storage::{LocalStorage, Storage as _};
use wasm_bindgen::JsValue;

/// Why something was not stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refused {
    /// The browser lets this page store nothing.
    NoStorage,
    /// The storage is full.
    Full,
    /// Something else; what the browser says.
    Other(String),
}

/// Local storage that was tried and works.
#[derive(Debug, Clone, Copy)]
pub struct Local(());

impl Local {
    /// Local storage, if this page may use it.
    pub fn open() -> Option<Self> {
        // Asked of the browser first: gloo cannot be asked without a risk.
        let storage = web_sys::window()?.local_storage().ok()??;
        const PROBE: &str = "kerbworth/probe";
        storage.set_item(PROBE, "1").ok()?;
        storage.remove_item(PROBE).ok()?;
        Some(Self(()))
    }

    /// The text under a key, exactly as it is stored.
    pub fn text(self, key: &str) -> Option<String> {
        LocalStorage::raw().get_item(key).ok()?
    }

    /// Stores a text under a key: the whole of it, or nothing and what was there stays.
    pub fn put(self, key: &str, text: &str) -> Result<(), Refused> {
        LocalStorage::raw().set_item(key, text).map_err(|error| {
            let name = js_sys::Reflect::get(&error, &JsValue::from_str("name")).ok().and_then(|name| name.as_string());
            let name = name.unwrap_or_default();
            // The three names that browsers give a full store.
            if ["QuotaExceededError", "NS_ERROR_DOM_QUOTA_REACHED", "QUOTA_EXCEEDED_ERR"].contains(&name.as_str()) {
                Refused::Full
            } else {
                Refused::Other(name)
            }
        })
    }

    /// Takes a key away.
    pub fn remove(self, key: &str) {
        // Taking away what is not there is no error.
        let _ = LocalStorage::raw().remove_item(key);
    }

    /// Every key that begins with a prefix.
    pub fn keys(self, prefix: &str) -> Vec<String> {
        let storage = LocalStorage::raw();
        let all = 0..storage.length().unwrap_or(0);
        all.filter_map(|place| storage.key(place).ok().flatten()).filter(|key| key.starts_with(prefix)).collect()
    }
}
