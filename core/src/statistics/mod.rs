//! The numerical ground under the worth: plain numbers in, plain numbers out, and nothing of cars.
//!
//! Every function is deterministic to the last bit on every machine: the transcendental ones come from `libm`,
//! and iterations stop by a rule that depends on their numbers alone.

pub mod beta;
pub mod cholesky;
pub mod median;
pub mod normal;
pub mod student;
pub mod sums;
