//! Kerbworth's judgement.

pub mod appraise;
pub mod bid;
pub mod condition;
pub mod figure;
pub mod grade;
pub mod lamps;
pub mod ledger;
pub mod market;
mod ordered;
pub mod plot;
pub mod readings;
pub mod reason;
pub mod repair;
pub mod restore;
pub mod sheet;
pub mod show;
pub mod statistics;
pub mod units;
pub mod worksheet;
pub mod worth;
