//! Kerbworth's judgement.

pub mod appraise;
pub mod condition;
pub mod figure;
pub mod grade;
pub mod lamps;
pub mod market;
pub mod readings;
pub mod reason;
pub mod repair;
pub mod restore;
pub mod sheet;
pub mod show;
pub mod statistics;
pub mod units;
pub mod worksheet;
