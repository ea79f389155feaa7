//! The device that the browser pretends to be.

use std::fs;
use std::path::Path;

use serde_json::{Value, json};

use super::Browser;

/// A screen, in CSS pixels.
#[derive(Debug, Clone, Copy)]
pub struct Screen {
    /// Its width.
    pub width: u32,
    /// Its height.
    pub height: u32,
    /// Whether it is touched, and lays pages out as phones do.
    pub touch: bool,
}

/// A phone held upright.
pub const PHONE: Screen = Screen { width: 390, height: 844, touch: true };
/// A small laptop.
pub const DESK: Screen = Screen { width: 1280, height: 800, touch: false };

/// A tablet held upright.
pub const TABLET: Screen = Screen { width: 768, height: 1024, touch: true };
/// A small laptop's window at a zoom of 200 %: half as many CSS pixels either way.
pub const ZOOMED: Screen = Screen { width: 640, height: 400, touch: false };
/// The narrowest window in which nothing may be lost: that laptop at 400 %.
pub const NARROW: Screen = Screen { width: 320, height: 568, touch: true };

/// A sheet of paper, in inches.
#[derive(Debug, Clone, Copy)]
pub struct Paper {
    /// Its width.
    pub width: f64,
    /// Its height.
    pub height: f64,
}

/// ISO 216.
pub const A4: Paper = Paper { width: 210.0 / 25.4, height: 297.0 / 25.4 };
/// North America's.
pub const LETTER: Paper = Paper { width: 8.5, height: 11.0 };

/// A preference of the device for [`Browser::prefer`].
pub const LIGHT: (&str, &str) = ("prefers-color-scheme", "light");
/// A preference of the device for [`Browser::prefer`].
pub const DARK: (&str, &str) = ("prefers-color-scheme", "dark");
/// A preference of the device for [`Browser::prefer`]: the person's own colours in the place of the page's.
pub const FORCED: (&str, &str) = ("forced-colors", "active");
/// A preference of the device for [`Browser::prefer`].
pub const STILL: (&str, &str) = ("prefers-reduced-motion", "reduce");

impl Browser {
    /// Gives the window this screen.
    ///
    /// # Panics
    /// When the browser refuses.
    #[track_caller]
    pub fn screen(&self, Screen { width, height, touch }: Screen) {
        let metrics = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": touch });
        self.devtools("Emulation.setDeviceMetricsOverride", metrics);
        self.devtools("Emulation.setTouchEmulationEnabled", json!({ "enabled": touch }));
    }

    /// Shows the page as it is printed, or as on a screen again.
    ///
    /// # Panics
    /// When the browser refuses.
    #[track_caller]
    pub fn as_printed(&self, printed: bool) {
        self.devtools("Emulation.setEmulatedMedia", json!({ "media": if printed { "print" } else { "" } }));
    }

    /// Saves all of the page, from its head to its foot, as a picture.
    ///
    /// # Panics
    /// When it cannot be saved.
    #[track_caller]
    pub fn whole_picture(&self, path: &Path) {
        let clip = self.run(
            "const { scrollWidth, scrollHeight } = document.documentElement;
             return { x: 0, y: 0, width: scrollWidth, height: scrollHeight, scale: 1 }",
            &[],
        );
        let taken = self.devtools("Page.captureScreenshot", json!({ "captureBeyondViewport": true, "clip": clip }));
        fs::write(path, bytes(&taken)).expect("the picture can be saved");
    }

    /// Sets a media feature, such as [`DARK`] or `("prefers-reduced-motion", "reduce")`, in the place of all set before.
    ///
    /// # Panics
    /// When the browser refuses.
    #[track_caller]
    pub fn prefer(&self, (name, value): (&str, &str)) {
        let features = json!({ "features": [{ "name": name, "value": value }] });
        self.devtools("Emulation.setEmulatedMedia", features);
    }

    /// Tells the page that it has no network. The worker that answers it is not told: to prove that a page opens without a
    /// network, use [`Host::cut`](crate::host::Host::cut).
    ///
    /// # Panics
    /// When the browser refuses.
    #[track_caller]
    pub fn offline(&self, offline: bool) {
        self.devtools("Network.enable", json!({}));
        let conditions = json!({ "offline": offline, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 });
        self.devtools("Network.emulateNetworkConditions", conditions);
    }

    /// Runs JavaScript in every page before anything of its own, as a browser that is set up otherwise.
    ///
    /// # Panics
    /// When the browser refuses.
    #[track_caller]
    pub fn before_every_page(&self, script: &str) {
        self.devtools("Page.addScriptToEvaluateOnNewDocument", json!({ "source": script }));
    }

    /// What was copied: the text on the clipboard.
    ///
    /// # Panics
    /// When the browser refuses, or there is no text on it.
    #[must_use]
    #[track_caller]
    pub fn copied(&self) -> String {
        let text = self.run("return navigator.clipboard.readText()", &[]);
        text.as_str().unwrap_or_else(|| panic!("there is no text on the clipboard: {text}")).to_owned()
    }

    /// Lets the page write on the clipboard and read it, as a person at the keyboard may.
    ///
    /// # Panics
    /// When the browser refuses.
    #[track_caller]
    pub fn allow_clipboard(&self) {
        let permissions = ["clipboardReadWrite", "clipboardSanitizedWrite"];
        self.devtools("Browser.grantPermissions", json!({ "permissions": permissions, "origin": self.origin }));
    }

    /// Makes the processor so many times slower: 4 is about a cheap phone.
    ///
    /// # Panics
    /// When the browser refuses.
    #[track_caller]
    pub fn slow_down(&self, times: u32) {
        self.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": times }));
    }

    /// The page as a person prints it on this paper, with the margins that the page asks for: the bytes of a PDF.
    ///
    /// # Panics
    /// When the browser refuses.
    #[must_use]
    #[track_caller]
    pub fn print(&self, Paper { width, height }: Paper) -> Vec<u8> {
        let wanted = json!({ "paperWidth": width, "paperHeight": height, "printBackground": true });
        let printed = self.devtools("Page.printToPDF", wanted);
        bytes(&printed)
    }
}

/// The bytes of a file that the browser sends as text.
fn bytes(sent: &Value) -> Vec<u8> {
    let base64 = sent.get("data").and_then(|data| data.as_str()).expect("a file is sent as text");
    let base64url = base64.trim_end_matches('=').replace('+', "-").replace('/', "_");
    kerbworth_core::link::letters::bytes(&base64url).expect("what the browser sends can be read")
}
