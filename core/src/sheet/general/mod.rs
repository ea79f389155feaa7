//! The general type sheet, shipped with the app: any older car with a combustion engine.
//!
//! It is written as JSON, one file a system beside this one; `build.rs` joins them.

use super::{FORMAT, TypeSheet};
use crate::restore::{RestoreError, restore};

/// The id by which worksheets and other sheets name it.
pub const ID: &str = "general";

/// The sheet's JSON, compact.
pub const JSON: &str = include_str!(concat!(env!("OUT_DIR"), "/general.json"));

/// The general sheet.
///
/// # Errors
/// None for the sheet that is shipped: a test reads it. The type says so rather than stopping the program.
pub fn general() -> Result<TypeSheet, RestoreError> {
    restore(JSON, FORMAT).map(|(sheet, _)| sheet)
}
