//! From signs to causes.

mod component;
mod eliminate;
pub mod exact;
pub mod joint;
pub mod need;
pub mod network;
pub mod next_look;
mod order;
mod quickscore;
mod sweep;
pub mod why;

#[cfg(test)]
mod brute;
#[cfg(test)]
mod exact_tests;
