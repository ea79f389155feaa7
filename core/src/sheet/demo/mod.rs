//! The demonstration: an invented car, its type sheet and a worksheet that uses everything.

use super::{FORMAT, TypeSheet};
use crate::restore::{RestoreError, restore};
use crate::worksheet::{self, Worksheet};

/// JSON of the demo's type sheet, which extends the general one.
pub const SHEET_JSON: &str = include_str!(concat!(env!("OUT_DIR"), "/demo-curlew.json"));

/// JSON of the demo's worksheet.
pub const WORKSHEET_JSON: &str = include_str!(concat!(env!("OUT_DIR"), "/demo-worksheet.json"));

/// The demo's photographs, by the ids that its findings name them by. Drawings: the car was never built.
pub const PHOTOS: [(&str, &str); 3] = [
    ("demo-sill", include_str!("photos/demo-sill.svg")),
    ("demo-hood", include_str!("photos/demo-hood.svg")),
    ("demo-hose", include_str!("photos/demo-hose.svg")),
];

/// The demo's type sheet as written, without what it extends.
///
/// # Errors
/// None for the sheet that is shipped: a test reads it.
pub fn curlew() -> Result<TypeSheet, RestoreError> {
    restore(SHEET_JSON, FORMAT).map(|(sheet, _)| sheet)
}

/// The demo's worksheet.
///
/// # Errors
/// None for the worksheet that is shipped: a test reads it.
pub fn worksheet() -> Result<Worksheet, RestoreError> {
    restore(WORKSHEET_JSON, worksheet::FORMAT).map(|(worksheet, _)| worksheet)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_photograph_of_the_worksheet_is_there_and_no_other() {
        let worksheet = worksheet().unwrap();
        let shown = worksheet.findings.values().flat_map(|finding| &finding.photos);
        let mut shown: Vec<&str> = shown.map(|photo| photo.id.as_str()).collect();
        let mut there = PHOTOS.map(|(id, _)| id);
        shown.sort_unstable();
        there.sort_unstable();
        assert_eq!(shown, there);
    }
}
