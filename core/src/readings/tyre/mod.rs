//! Tyres: what stands on the side wall, and what follows from it for rim, load, speed and age.

pub mod age;
pub mod designation;
pub mod load;
pub mod rim;
pub mod size;

mod reader;

pub(super) use age::read as read_age;
pub(super) use load::read as read_load;
pub(super) use size::read as read_size;
