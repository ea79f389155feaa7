//! One file a screen. What two screens share is in `part`.

pub mod car;
pub mod settings;
pub mod shelf;
