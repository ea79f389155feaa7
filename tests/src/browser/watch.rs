//! What the page shows, asks for and complains of.

use serde_json::{Value, json};
use thirtyfour::Key;

use super::Browser;

/// What Chromium has logged so far; it forgets what it has told.
#[derive(Default)]
pub(super) struct Log {
    console: Vec<String>,
    requests: Vec<String>,
    /// What a request says of the page that it comes from.
    referrers: Vec<String>,
}

/// The policy that every page of a build has (`app/index.html`): nothing but its own files runs or loads, nothing is sent.
const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; \
    connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'";

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
        self.listen();
        self.log.borrow().console.clone()
    }

    /// Takes down what Chromium has logged since the last time. A browser that was killed tells nothing more.
    pub(super) fn listen(&self) {
        let mut log = self.log.borrow_mut();
        let Some(driver) = &self.driver else { return };
        let entries = self.runtime.block_on(driver.browser_log()).unwrap_or_default();
        let complaints = entries.into_iter().filter(|entry| matches!(entry.level.as_str(), "SEVERE" | "WARNING"));
        log.console.extend(complaints.map(|entry| format!("{}: {}", entry.level, entry.message)));
        let entries = self.runtime.block_on(driver.handle().get_log("performance")).unwrap_or_default();
        for entry in entries.iter().filter_map(|entry| serde_json::from_str::<Value>(&entry.message).ok()) {
            log.requests.extend(asked_for(&entry));
            let referrer = entry.pointer("/message/params/request/headers/Referer").and_then(Value::as_str);
            // A picture opened as a page has no policy of its own.
            let is_page = |said: &&str| !said.is_empty() && !said.ends_with(".svg");
            log.referrers.extend(referrer.filter(is_page).map(ToOwned::to_owned));
        }
    }

    /// The page keeps to itself: it has the strict policy and tells nobody where a request comes from.
    ///
    /// # Panics
    /// When it does not.
    #[track_caller]
    pub(super) fn keeps_to_itself(&self) {
        let script = "const content = (meta) => document.querySelector(`meta[${meta}]`)?.content;
            return [content('http-equiv=Content-Security-Policy'), content('name=referrer'), document.referrer]";
        assert_eq!(self.run(script, &[]), json!([POLICY, "no-referrer", ""]), "policy and referrer");
        self.strict.set(true);
    }

    /// What a journey did that no page of a build may ever do, found when its browser ends: every journey is judged by it.
    pub(super) fn complaint(&self) -> Option<String> {
        self.listen();
        let log = self.log.borrow();
        let policy: Vec<&String> = log.console.iter().filter(|line| line.contains("Content Security Policy")).collect();
        // Browsers ask for that name by themselves, for a picture that is opened as a page.
        let is_error = |line: &&String| line.starts_with("SEVERE") && !line.contains("/favicon.ico ");
        let errors: Vec<&String> = log.console.iter().filter(is_error).collect();
        let foreign: Vec<&String> = log.requests.iter().filter(|address| !self.is_own(address)).collect();
        if !self.strict.get() {
            None
        } else if !foreign.is_empty() {
            Some(format!("the page asked for what is not its own: {foreign:?}"))
        } else if !log.referrers.is_empty() {
            Some(format!("requests said where they come from: {:?}", log.referrers))
        } else if !policy.is_empty() {
            Some(format!("the page broke its own policy: {policy:?}"))
        } else if !self.forgiven.get() && !errors.is_empty() {
            Some(format!("the console has errors: {errors:?}"))
        } else {
            None
        }
    }

    /// Errors in the console are what this journey is about.
    pub fn expects_errors(&self) {
        self.forgiven.set(true);
    }

    /// Every address that the page asked for since the browser started.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn requests(&self) -> Vec<String> {
        self.listen();
        self.log.borrow().requests.clone()
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
        let requests = self.requests();
        assert!(!requests.is_empty(), "the browser told of no request at all, not even the page's own");
        let foreign: Vec<&String> = requests.iter().filter(|address| !self.is_own(address)).collect();
        assert!(foreign.is_empty(), "the page asked for what is not its own: {foreign:?}");
    }

    fn is_own(&self, address: &str) -> bool {
        let own = format!("{}/", self.origin);
        address.starts_with(&own) || address.starts_with("data:") || address.starts_with(&format!("blob:{own}"))
    }
}

fn asked_for(entry: &Value) -> Option<String> {
    let at = match entry.pointer("/message/method")?.as_str()? {
        "Network.requestWillBeSent" => "/message/params/request/url",
        "Network.webSocketCreated" | "Network.webTransportCreated" => "/message/params/url",
        _ => return None,
    };
    // What the browser shows before the first page is its own affair; no page of a host can ask for it.
    let address = entry.pointer(at)?.as_str()?;
    (!address.starts_with("chrome://")).then(|| address.to_owned())
}
