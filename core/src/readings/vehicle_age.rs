//! The age of a car on a day.

use crate::units::{Date, Duration};

/// Whole years from one day to another, by anniversaries; negative if the other lies before.
///
/// A car first used on 29 February has its anniversary on 1 March in a common year.
#[must_use]
pub fn completed_years(first_used: Date, on: Date) -> i32 {
    let before = (on.month(), on.day()) < (first_used.month(), first_used.day());
    on.year() - first_used.year() - i32::from(before)
}

/// The time from one day to another; nil if the other lies before.
#[must_use]
pub fn age(first_used: Date, on: Date) -> Duration {
    let days = on.day_number() - first_used.day_number();
    Duration(f64::from(days.max(0)) * 86_400.0)
}

/// Whether a transfer in a year needs no odometer statement in the United States: 49 CFR 580.17(a)(3) frees model
/// years to 2010 ten years after the first of January of the model year, (a)(4) later ones after twenty.
#[must_use]
pub fn needs_no_odometer_statement(model_year: i32, transfer_year: i32) -> bool {
    transfer_year.saturating_sub(model_year) >= if model_year <= 2010 { 10 } else { 20 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn anniversaries_count() {
        let date = |text| Date::parse(text).unwrap();
        assert_eq!(completed_years(date("1964-02-29"), date("2025-02-28")), 60);
        assert_eq!(completed_years(date("1964-02-29"), date("2025-03-01")), 61);
        assert_eq!(completed_years(date("2026-01-01"), date("2025-12-31")), -1);
        assert_eq!(age(date("2026-01-01"), date("2025-12-31")), Duration(0.0));
        assert_eq!(age(date("2000-01-01"), date("2004-01-01")), Duration(1461.0 * 86_400.0));
    }
}
