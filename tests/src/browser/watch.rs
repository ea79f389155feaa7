//! What the page shows, asks for and complains of.

use serde_json::Value;
use thirtyfour::Key;

use super::Browser;

/// What Chromium has logged so far; it forgets what it has told.
#[derive(Default)]
pub(super) struct Log {
    console: Vec<String>,
    requests: Vec<String>,
}

impl Browser {
    /// The text of the page, as it is seen.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn text(&self) -> String {
        self.run("return document.body?.innerText ?? ''", &[]).as_str().unwrap_or_default().to_owned()
    }

    /// Waits until the page shows this text.
    ///
    /// # Panics
    /// When it does not come: with the text that is there.
    #[track_caller]
    pub fn shows(&self, text: &str) {
        self.until(&format!("the page shows “{text}”"), || self.text().contains(text).then_some(()));
    }

    /// Waits until the page no longer shows this text.
    ///
    /// # Panics
    /// When it stays.
    #[track_caller]
    pub fn no_longer_shows(&self, text: &str) {
        self.until(&format!("“{text}” is gone"), || (!self.text().contains(text)).then_some(()));
    }

    /// Sends keys to whatever has the focus.
    ///
    /// # Panics
    /// When the browser does not take them.
    #[track_caller]
    pub fn press(&self, keys: impl Into<thirtyfour::TypingData>) {
        let driver = self.driver();
        self.wait(async { driver.active_element().await?.send_keys(keys).await });
    }

    /// Goes from part to part with the Tab key until this one has the focus: it can be reached without a pointer.
    ///
    /// # Panics
    /// When a hundred steps do not lead there.
    #[track_caller]
    pub fn tab_to(&self, role: &str, name: &str) {
        let part = self.find(role, name);
        let reached = (0..100).any(|_| {
            part.has_focus() || {
                self.press(Key::Tab);
                false
            }
        });
        assert!(reached, "the Tab key does not lead to the {role} “{name}”");
    }

    /// What the page's local storage holds under a key.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn stored(&self, key: &str) -> Option<String> {
        self.run("return localStorage.getItem(arguments[0])", &[key.into()]).as_str().map(ToOwned::to_owned)
    }

    /// Puts a text under a key of the page's local storage.
    ///
    /// # Panics
    /// When the browser refuses.
    #[track_caller]
    pub fn store(&self, key: &str, text: &str) {
        self.run("localStorage.setItem(arguments[0], arguments[1])", &[key.into(), text.into()]);
    }

    /// Every error and warning in the console since the browser started.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn console(&self) -> Vec<String> {
        let entries = self.wait(self.driver().browser_log());
        let mut log = self.log.borrow_mut();
        let complaints = entries.into_iter().filter(|entry| matches!(entry.level.as_str(), "SEVERE" | "WARNING"));
        log.console.extend(complaints.map(|entry| format!("{}: {}", entry.level, entry.message)));
        log.console.clone()
    }

    /// Every address that the page asked for since the browser started.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn requests(&self) -> Vec<String> {
        let entries = self.wait(self.driver().handle().get_log("performance"));
        let mut log = self.log.borrow_mut();
        log.requests.extend(entries.iter().filter_map(|entry| asked_for(&entry.message)));
        log.requests.clone()
    }

    /// Nothing in the console, and nothing asked for but the host's own files.
    ///
    /// # Panics
    /// When there is: with what it is.
    #[track_caller]
    pub fn clean(&self) {
        let console = self.console();
        assert!(console.is_empty(), "the console has:\n{}", console.join("\n"));
        self.asks_nobody_else();
    }

    /// Nothing was asked for but the host's own files.
    ///
    /// # Panics
    /// When something was: with its address.
    #[track_caller]
    pub fn asks_nobody_else(&self) {
        let own = format!("{}/", self.origin);
        let inside = |address: &str| {
            address.starts_with(&own) || address.starts_with("data:") || address.starts_with(&format!("blob:{own}"))
        };
        let requests = self.requests();
        assert!(!requests.is_empty(), "the browser told of no request at all, not even the page's own");
        let foreign: Vec<&String> = requests.iter().filter(|address| !inside(address)).collect();
        assert!(foreign.is_empty(), "the page asked for what is not its own: {foreign:?}");
    }
}

fn asked_for(entry: &str) -> Option<String> {
    let entry: Value = serde_json::from_str(entry).ok()?;
    let at = match entry.pointer("/message/method")?.as_str()? {
        "Network.requestWillBeSent" => "/message/params/request/url",
        "Network.webSocketCreated" | "Network.webTransportCreated" => "/message/params/url",
        _ => return None,
    };
    // What the browser shows before the first page is its own affair; no page of a host can ask for it.
    let address = entry.pointer(at)?.as_str()?;
    (!address.starts_with("chrome://")).then(|| address.to_owned())
}
