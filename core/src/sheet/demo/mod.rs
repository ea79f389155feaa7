//! The demonstration: an invented car, its type sheet and a worksheet that uses everything.

use super::{FORMAT, TypeSheet};
use crate::restore::{RestoreError, restore};
use crate::worksheet::{self, Worksheet};

/// JSON of the demo's type sheet, which extends the general one.
pub const SHEET_JSON: &str = include_str!(concat!(env!("OUT_DIR"), "/demo-curlew.json"));

/// JSON of the demo's worksheet.
pub const WORKSHEET_JSON: &str = include_str!(concat!(env!("OUT_DIR"), "/demo-worksheet.json"));

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
