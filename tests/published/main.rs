//! Checks against published values: one file a source, which names its title, section, table and edition.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test, helpers included, stops at the first surprise"
)]

mod iaao;
mod next_look;
mod nist;
mod student_table;
mod three_point;
mod worked_example;
