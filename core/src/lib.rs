//! Kerbworth's judgement.

pub mod appraise;
pub mod bid;
pub mod bundle;
pub mod condition;
pub mod figure;
pub mod grade;
pub mod hand_over;
pub mod lamps;
pub mod ledger;
pub mod market;
mod ordered;
pub mod plot;
pub mod readings;
pub mod reason;
pub mod repair;
pub mod restore;
#[cfg(feature = "schema")]
pub mod schema;
pub mod sheet;
pub mod show;
pub mod statistics;
pub mod units;
pub mod walk;
pub mod worksheet;
pub mod worth;
