//! Several tabs of one browser, which share what is stored.

use std::process::Command;
use std::{fs, path::PathBuf};

use serde_json::json;
use thirtyfour::WindowHandle;

use super::Browser;

/// A tab; its browser acts in one of them at a time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tab(WindowHandle);

impl Browser {
    /// The tab that is acted in.
    ///
    /// # Panics
    /// When the browser does not answer.
    #[must_use]
    #[track_caller]
    pub fn tab(&self) -> Tab {
        Tab(self.wait(self.driver().window()))
    }

    /// Opens another tab and goes to it.
    ///
    /// # Panics
    /// When the browser does not open one.
    #[track_caller]
    pub fn new_tab(&self) -> Tab {
        let handle = self.wait(self.driver().new_tab());
        let tab = Tab(handle);
        self.to_tab(&tab);
        tab
    }

    /// Goes to a tab.
    ///
    /// # Panics
    /// When it is closed.
    #[track_caller]
    pub fn to_tab(&self, tab: &Tab) {
        self.wait(self.driver().switch_to_window(tab.0.clone()));
    }

    /// Kills the process of the tab that is acted in, as when the device runs out of memory: nothing of the page gets to
    /// run any more. Go to another tab afterwards.
    pub fn crash(&self) {
        let cdp = self.driver().cdp();
        // The answer is that there is nobody left to answer.
        let _ = self.runtime.block_on(cdp.send_raw("Page.crash", json!({})));
    }

    /// Kills every process of this browser, as when the device's power fails but for what the system itself still writes:
    /// nothing gets to run any more. [`Browser::restart`] starts it again with what is on the disk.
    ///
    /// # Panics
    /// When there is no such process, or it cannot be killed.
    #[track_caller]
    pub fn kill(&self) {
        let processes = self.processes();
        assert!(!processes.is_empty(), "the browser has a process");
        // The first is the browser's own. Of the others some are gone with it before their turn.
        for process in processes {
            let _ = Command::new("kill").args(["-KILL", &process]).stderr(std::process::Stdio::null()).status();
        }
        self.patiently(|| self.processes().is_empty().then_some(())).expect("all processes of the browser are gone");
    }

    // Those that were started on this browser's profile, the oldest first. A process that has ended and that nobody has asked
    // for yet has no command line any more.
    fn processes(&self) -> Vec<String> {
        let profile = format!("--user-data-dir={}", self.folder.join("profile").display());
        let mut found: Vec<u32> = fs::read_dir("/proc")
            .into_iter()
            .flatten()
            .flatten()
            .filter_map(|entry| Some((entry.file_name().to_str()?.parse().ok()?, entry.path())))
            .filter(|(_, path): &(u32, PathBuf)| {
                let line = fs::read(path.join("cmdline")).unwrap_or_default();
                line.split(|sign| [0, b' '].contains(sign)).any(|word| word == profile.as_bytes())
            })
            .map(|(process, _)| process)
            .collect();
        found.sort_unstable();
        found.iter().map(ToString::to_string).collect()
    }
}
