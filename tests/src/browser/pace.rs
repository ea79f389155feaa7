//! What the browser tells of the time and the memory that a page takes.

use serde_json::{Value, json};

use super::Browser;

impl Browser {
    /// Runs a script in every page from now on, before the page's own.
    ///
    /// # Panics
    /// When the browser refuses.
    #[track_caller]
    pub fn before_each_page(&self, script: &str) {
        self.devtools("Page.enable", json!({}));
        self.devtools("Page.addScriptToEvaluateOnNewDocument", json!({ "source": script }));
    }

    /// One of the browser's own measures of the page, such as `TaskDuration` in seconds or `JSHeapUsedSize` in bytes. Times
    /// are the processor's: what else runs on the machine is not in them.
    ///
    /// # Panics
    /// When the browser refuses, or has no such measure.
    #[must_use]
    #[track_caller]
    pub fn measure(&self, name: &str) -> f64 {
        self.devtools("Performance.enable", json!({ "timeDomain": "threadTicks" }));
        let measured = self.devtools("Performance.getMetrics", json!({}));
        let all = measured.get("metrics").and_then(Value::as_array).cloned().unwrap_or_default();
        let found = all.iter().find(|one| one.get("name").is_some_and(|is| is == name));
        found
            .and_then(|one| one.get("value")?.as_f64())
            .unwrap_or_else(|| panic!("the browser does not measure {name}"))
    }

    /// Lets the page's memory go that nothing holds any more, so that what is left can be measured.
    ///
    /// # Panics
    /// When the browser refuses.
    #[track_caller]
    pub fn collect_garbage(&self) {
        self.devtools("HeapProfiler.collectGarbage", json!({}));
    }
}
