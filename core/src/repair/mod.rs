//! Repairs: what the faults cost to put right, and what the market deducts for them.

pub mod deduction;
pub mod three_point;
