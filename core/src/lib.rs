//! Kerbworth's judgement.

pub mod bid;
pub mod grade;
pub mod market;
pub mod readings;
pub mod reason;
pub mod repair;
pub mod sheet;
pub mod statistics;
pub mod units;
pub mod worth;
