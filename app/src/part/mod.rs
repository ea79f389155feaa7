//! Parts that several screens use.

pub mod bars;
pub mod choice;
pub mod entry;
pub mod field;
pub mod figure;
pub mod tally;
