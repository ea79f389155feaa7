//! What only the browser can do, one capability a file. Nothing outside this folder touches `web_sys`.

pub mod clipboard;
pub mod clock;
pub mod database;
pub mod file;
pub mod keyboard;
pub mod locale;
pub mod page;
pub mod picture;
pub mod random;
pub mod sealing;
pub mod share;
pub mod storage;
