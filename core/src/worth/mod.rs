//! The worth: the market's range at the base score, less what the faults take, as the car stands.
//!
//! Every fault comes in through one door. The grid runs at the base score ([`crate::repair::deduction`] says why), the
//! deduction is taken off here, once; the centre at the score seen is shown beside it and never added.

pub mod cross_check;
pub mod range;
pub mod rounding;
