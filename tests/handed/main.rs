//! What is handed over, judged by things that did not make it: a reader of QR codes and a signer of its own.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test, helpers included, stops at the first surprise"
)]

mod qr;
mod rfc_8032;
mod seal;
