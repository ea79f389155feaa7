//! State over core's types: what is open, how it changes, where it is kept.
//!
//! There is one worksheet open at a time, as plain data in one signal ([`desk`]). It changes only by core's
//! `Edit`; everything shown is derived from it. [`shelf`] knows the worksheets that there are, [`keep`] puts
//! them into the browser's storage and takes them out again, [`known`] makes one of what several tabs change, [`track`]
//! has the steps to undo, and [`sheets`] finds type sheets.

pub mod bundles;
pub mod desk;
pub mod envelope;
pub mod keep;
pub mod known;
pub mod latest;
pub mod ledger;
pub mod photos;
pub mod preferences;
pub mod sheets;
pub mod shelf;
pub mod track;

pub use desk::Desk;
pub use keep::Keeper;
pub use preferences::{REGIONS, Theme};
