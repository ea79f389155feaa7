//! Kerbworth's judgement.

pub mod appraise;
pub mod condition;
pub mod figure;
pub mod grade;
pub mod lamps;
pub mod market;
pub mod readings;
pub mod reason;
pub mod restore;
pub mod sheet;
pub mod show;
pub mod units;
pub mod worksheet;
