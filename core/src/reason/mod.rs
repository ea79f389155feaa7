//! From signs to causes: what the signs seen, the signs looked for and absent, and the causes settled so far say
//! of every fault; and from there which jobs are needed, why, and what to look at next.
//!
//! The knowledge is a two-layer noisy-OR network ([`network::Network`]; J. Pearl, *Probabilistic Reasoning in
//! Intelligent Systems*, 1988, page 184; the QMR-DT network of M. Shwe and others, 1991): independent faults
//! with priors, and signs that each fault shows with a strength of its own, or that show by themselves (leak).
//! [`network_of`] builds it from a type sheet. [`exact::Inference`] works the evidence in, and the rest asks it:
//! [`need::needs`] for jobs, [`why::why`] for reasons, [`next_look::next_looks`] and [`plan::plan`] for what to do.
//!
//! # Exact, and how
//!
//! Absent signs, fixed faults and signs with one free fault simplify the network (`component`); the seen signs
//! that are left split it into components. Each is worked by whichever way is less work (`sweep`):
//!
//! - **Quickscore** (`quickscore`), an alternating sum over the 2^signs subsets of its seen signs, where that keeps
//!   its digits: nearly all components of up to five seen signs, and signs with very many faults. Measured on one
//!   seen sign of four faults: 0.3 µs with all pairs, elimination 4 µs.
//! - **Elimination** (`eliminate`, in the order that `order` finds) for the rest. Its tables grow with how the signs
//!   overlap, not with their number, and nothing cancels: fifteen faults under ten signs take 3.6 µs a sweep, where
//!   Quickscore takes over fifteen thousand products and loses its digits. Enumeration is never less work.
//!
//! Both give everything relative to the evidence, so "none of these faults" or "and that sign absent" is the same
//! pass with smaller weights. All of it is proven equal to enumeration on random networks, the two ways to each
//! other, and one network to a general-purpose library's answers (`core/tests/noisy_or.rs`).
//!
//! # Bounds
//!
//! No table spans more than 16 faults, and a component's pairs take at most 2²¹ table entries or products, some
//! ten milliseconds. Where seen signs hang together beyond that, those of the thickest crowd that could change the
//! odds least are left out until it fits; [`exact::Posterior::left_out`] has them and
//! [`network_of::SheetNetwork::left_out`] names them. On networks built like the general sheet, system by system with two to seven
//! faults a sign, that does not happen. Measured natively on a busy machine (`tests/benches/reason.rs`): posterior,
//! needs, next looks and a plan for 220 faults and 385 signs take 0.6 ms with 30 signs seen and 2 ms with 100; for
//! 660 faults and 825 signs 1.8 ms and 6 ms. [`why::why`] comes on top, and is only for whoever asks. Tangled at
//! random instead, 220 faults and 390 signs took at worst 90 ms.
//!
//! # Refused
//!
//! - *Sampling or variational answers*: a figure that people argue over must not change between two looks.
//! - *One table a sign for its leak and every fault, without splitting*: the same answers, but a whole car in one
//!   component.

mod component;
mod eliminate;
pub mod exact;
pub mod joint;
pub mod need;
pub mod network;
pub mod network_of;
pub mod next_look;
mod order;
pub mod plan;
mod quickscore;
mod sweep;
pub mod why;

#[cfg(test)]
mod brute;
#[cfg(test)]
mod exact_tests;
#[cfg(test)]
mod next_look_tests;
