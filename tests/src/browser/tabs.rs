//! Several tabs of one browser, which share what is stored.

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
}
