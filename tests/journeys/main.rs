//! A browser uses the built page as the people of the brief do. Needs `dist`: `sh .ci/build` first.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop at the first surprise"
)]

mod backup;
mod compare;
mod departures;
mod harness;
mod injection;
mod keep;
mod keys;
mod lamps;
mod languages;
mod link;
mod offline;
mod on_paper;
mod one_file;
mod paper;
mod photos;
mod pictures;
mod sales;
mod screens;
mod second_build;
mod seller;
mod sights;
mod smoke;
mod storage;
mod tabs;
mod taps;
mod ten_minutes;
mod top_bid;
mod twin;
mod type_sheet;
mod wrong_input;
