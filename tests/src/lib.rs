//! What the checks share: the built page, a host that serves it, and a browser that uses it as a person would.
//!
//! A journey reads like its story:
//!
//! ```no_run
//! use kerbworth_tests::{browser::{Browser, PHONE}, host::Host};
//!
//! let host = Host::of_dist();
//! let browser = Browser::start(&host);
//! browser.screen(PHONE);
//! browser.open("");
//! browser.field("Counter").fill("61 240");
//! browser.find("button", "Next").click();
//! browser.shows("61 240 mi");
//! browser.clean();
//! ```

// A harness exists to stop a test with a clear sentence: its panics are its answers.
#![allow(clippy::expect_used, clippy::panic, reason = "a harness stops the test that uses it")]

pub mod app;
pub mod browser;
pub mod dist;
pub mod document;
pub mod envelope;
pub mod host;
pub mod newer;
pub mod photos;
pub mod qr;
pub mod scatter;
pub mod twin;
pub mod worksheets;
