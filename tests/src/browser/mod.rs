//! A headless Chromium, driven as a person would: find by what assistive technology calls a part, act, and wait until what
//! should be there is there. Nothing sleeps; whatever is awaited and does not come stops the test and says what was there.
//!
//! The verbs are spread over files by what they do: [`find`](self) and act (`find.rs`, `part.rs`), look (`watch.rs`), bend the
//! device (`device.rs`), check accessibility (`axe.rs`).

use std::cell::{Cell, RefCell};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};
use std::{env, fs, process, thread};

use serde_json::{Value, json};
use thirtyfour::WebDriver;
use thirtyfour::common::capabilities::desiredcapabilities::Capabilities;
use thirtyfour::error::WebDriverResult;
use tokio::runtime::{Builder, Runtime};

pub use thirtyfour::Key;

mod axe;
mod chromedriver;
mod device;
mod faint;
mod find;
mod pace;
mod part;
mod tabs;
mod thumb;
mod watch;

pub use axe::Violation;
pub use device::{A4, DARK, DESK, FORCED, LETTER, LIGHT, NARROW, PHONE, Paper, STILL, Screen, TABLET, ZOOMED};
pub use part::Part;
pub use tabs::Tab;

use crate::dist::shots;
use crate::host::Host;
use chromedriver::Chromedriver;

/// How long anything awaited may take. Generous: on a loaded machine a browser is slow, and a test that passes never waits long.
const PATIENCE: Duration = Duration::from_secs(15);

const SWITCHES: [&str; 11] = [
    // Dates and numbers are shown as the browser's region has them.
    "--lang=en-GB",
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--force-color-profile=srgb",
];

/// One browser with a profile of its own, which goes when it is dropped. A test that fails leaves a screenshot.
pub struct Browser {
    origin: String,
    folder: PathBuf,
    chromedriver: Chromedriver,
    runtime: Runtime,
    // None only while it is being closed.
    driver: Option<WebDriver>,
    log: RefCell<watch::Log>,
    // It has opened a page of a build, and is judged by what such pages may do.
    strict: Cell<bool>,
    forgiven: Cell<bool>,
}

impl Browser {
    /// Starts a browser for a host's pages, with nothing stored yet.
    ///
    /// # Panics
    /// When Chromium or its driver is missing or does not start.
    #[must_use]
    #[track_caller]
    pub fn start(host: &Host) -> Self {
        static STARTED: AtomicUsize = AtomicUsize::new(0);
        let number = STARTED.fetch_add(1, Ordering::Relaxed);
        let folder = env::temp_dir().join(format!("kerbworth-browser-{}-{number}", process::id()));
        fs::create_dir_all(folder.join("downloads")).expect("a folder for the profile can be made");
        let runtime =
            Builder::new_current_thread().enable_all().build().expect("a runtime for the driver's client starts");
        let chromedriver = Chromedriver::start();
        let mut browser = Self {
            origin: host.origin(),
            folder,
            chromedriver,
            runtime,
            driver: None,
            log: RefCell::default(),
            strict: Cell::default(),
            forgiven: Cell::default(),
        };
        browser.launch();
        browser
    }

    /// Closes the browser and starts it again with all that it stored, as on another day.
    ///
    /// # Panics
    /// When it does not start again.
    #[track_caller]
    pub fn restart(&mut self) {
        self.close();
        self.launch();
    }

    /// Opens an address below the host's origin (`""`, `"#sales"`) and waits until the app has started.
    ///
    /// # Panics
    /// When the app does not start: with what the page says instead.
    #[track_caller]
    pub fn open(&self, address: &str) {
        self.visit(address);
        self.until("the app has started", || self.started());
        self.keeps_to_itself();
    }

    /// Loads the page anew and waits until the app has started.
    ///
    /// # Panics
    /// As [`Browser::open`].
    #[track_caller]
    pub fn reload(&self) {
        self.wait(self.driver().refresh());
        self.until("the app has started", || self.started());
    }

    /// Opens a file of this machine and waits until the app in it has started.
    ///
    /// # Panics
    /// As [`Browser::open`].
    #[track_caller]
    pub fn open_from_disk(&self, file: &Path) {
        self.wait(self.driver().goto(format!("file://{}", file.display())));
        self.until("the app has started", || self.started());
    }

    /// Opens an address without waiting for the app: for pages on which it should not start.
    ///
    /// # Panics
    /// When the browser cannot go there.
    #[track_caller]
    pub fn visit(&self, address: &str) {
        self.wait(self.driver().goto(format!("{}/{address}", self.origin)));
    }

    /// Runs JavaScript in the page (`arguments[0]` … are `args`) and gives what it returns.
    ///
    /// # Panics
    /// When the script throws.
    #[track_caller]
    pub fn run(&self, script: &str, args: &[Value]) -> Value {
        self.wait(self.driver().execute(script, args.to_vec())).json().clone()
    }

    /// Looks again and again until `look` gives something.
    ///
    /// # Panics
    /// When it does not in good time: with `what` was awaited and the text of the page.
    #[track_caller]
    pub fn until<T>(&self, what: &str, look: impl FnMut() -> Option<T>) -> T {
        self.patiently(look).unwrap_or_else(|| {
            panic!(
                "waited in vain until {what}; the page reads:\n{}\nthe console:\n{}",
                self.text(),
                self.console().join("\n")
            )
        })
    }

    /// Saves what the window shows as `<name>.png` among the screenshots (see [`shots`]).
    ///
    /// # Panics
    /// When it cannot be saved.
    #[track_caller]
    pub fn screenshot(&self, name: &str) {
        self.picture(&shots().join(format!("{name}.png")));
    }

    /// Saves what the window shows as a file.
    ///
    /// # Panics
    /// When it cannot be saved.
    #[track_caller]
    pub fn picture(&self, path: &Path) {
        self.wait(self.driver().screenshot(path));
    }

    /// The file whose name begins so, once it is downloaded.
    ///
    /// # Panics
    /// When no such file comes.
    #[track_caller]
    pub fn downloaded(&self, beginning: &str) -> Vec<u8> {
        self.until(&format!("a file {beginning}… is downloaded"), || {
            let files = crate::dist::files(&self.folder.join("downloads"));
            let name = |path: &Path| {
                path.file_name().is_some_and(|name| {
                    let name = name.to_string_lossy();
                    name.starts_with(beginning) && !name.ends_with(".crdownload")
                })
            };
            // Its name is taken with an empty file before it comes.
            fs::read(files.iter().find(|path| name(path))?).ok().filter(|bytes| !bytes.is_empty())
        })
    }

    /// Puts a file where the browser's person can choose it, and gives its path.
    ///
    /// # Panics
    /// When it cannot be written.
    #[must_use]
    #[track_caller]
    pub fn file(&self, name: &str, content: impl AsRef<[u8]>) -> String {
        let path = self.folder.join(name);
        fs::write(&path, content).expect("a file can be written beside the profile");
        path.to_string_lossy().into_owned()
    }

    fn started(&self) -> Option<()> {
        let state = self.run(
            "if (document.querySelector('main.boot:not(#opening)')) return document.body.innerText;
             return document.readyState === 'complete' && !document.getElementById('opening');",
            &[],
        );
        assert!(!state.is_string(), "the app did not start; instead: {state}\n{}", self.console().join("\n"));
        (state == true).then_some(())
    }

    fn patiently<T>(&self, mut look: impl FnMut() -> Option<T>) -> Option<T> {
        let began = Instant::now();
        loop {
            if let Some(found) = look() {
                return Some(found);
            }
            if began.elapsed() > PATIENCE {
                return None;
            }
            // The pace of looking, not a guess at how long something takes.
            thread::sleep(Duration::from_millis(20));
        }
    }

    #[track_caller]
    fn launch(&mut self) {
        let mut switches: Vec<String> = SWITCHES.iter().map(ToString::to_string).collect();
        switches.push(format!("--user-data-dir={}", self.folder.join("profile").display()));
        let mut options = json!({
            "args": switches,
            "perfLoggingPrefs": { "enableNetwork": true, "enablePage": false },
            "prefs": {
                "download.default_directory": self.folder.join("downloads"),
                "intl.accept_languages": "en-GB,en",
                // Begin with an empty page, not with the browser's own.
                "session.restore_on_startup": 4,
                "session.startup_urls": ["about:blank"],
            },
        });
        if let (Some(binary), Some(options)) = (env::var_os("KERBWORTH_CHROMIUM"), options.as_object_mut()) {
            options.insert("binary".into(), binary.to_string_lossy().into());
        }
        let Value::Object(wanted) = json!({
            "browserName": "chrome",
            "goog:loggingPrefs": { "browser": "ALL", "performance": "ALL" },
            "goog:chromeOptions": options,
        }) else {
            return;
        };
        let driver = self.runtime.block_on(WebDriver::new(&self.chromedriver.address, Capabilities::from(wanted)));
        self.driver = Some(driver.unwrap_or_else(|error| {
            panic!("Chromium does not start: run `sh .ci/setup`, which installs it\n{error}");
        }));
        self.screen(DESK);
    }

    fn close(&mut self) {
        self.listen();
        if let Some(driver) = self.driver.take() {
            // A browser that crashed cannot be asked to close, and is gone all the same.
            let _ = self.runtime.block_on(driver.quit());
        }
    }

    fn driver(&self) -> &WebDriver {
        self.driver.as_ref().expect("the browser is open between start and drop")
    }

    #[track_caller]
    fn wait<T>(&self, answer: impl Future<Output = WebDriverResult<T>>) -> T {
        self.runtime.block_on(answer).unwrap_or_else(|error| panic!("the browser refused: {error}"))
    }

    // A command of the DevTools protocol.
    #[track_caller]
    fn devtools(&self, command: &str, parameters: Value) -> Value {
        let cdp = self.driver().cdp();
        self.wait(cdp.send_raw(command, parameters))
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if let (true, Some(driver)) = (thread::panicking(), &self.driver) {
            let test = thread::current().name().unwrap_or("test").replace("::", "-");
            let path = shots().join(format!("failed-{test}.png"));
            if self.runtime.block_on(driver.screenshot(&path)).is_ok() {
                eprintln!("the page at that moment: {}", path.display());
            }
        }
        let complaint = if thread::panicking() { None } else { self.complaint() };
        self.close();
        // What is left behind in the temporary folder does no harm.
        let _ = fs::remove_dir_all(&self.folder);
        if let Some(complaint) = complaint {
            panic!("{complaint}");
        }
    }
}
