//! Parts that several screens use.

pub mod bars;
pub mod choice;
pub mod conflicts;
pub mod entry;
pub mod field;
pub mod figure;
pub mod keys;
pub mod photo;
pub mod plot;
pub mod rest;
pub mod tally;
pub mod unfold;
pub mod window;
