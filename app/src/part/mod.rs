//! Parts that several screens use.

pub mod bars;
pub mod choice;
pub mod conflicts;
pub mod entry;
pub mod field;
pub mod figure;
pub mod photo;
pub mod plot;
pub mod tally;
pub mod unfold;
pub mod window;
