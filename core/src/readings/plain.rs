//! A value that is measured and means itself: tread depth, brake fluid's boiling point, a tyre's pressure.

use super::desk::Desk;

/// The rule `plain`: the value as it was given.
pub(super) fn read(desk: &mut Desk) {
    if let Some(value) = desk.number("value") {
        desk.result("value", value);
    }
}
