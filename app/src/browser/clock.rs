//! The day and the time, which core is told and never asks.

use js_sys::Date as Clock;
use kerbworth_core::units::Date;

/// Today, by the device's clock.
pub fn today() -> Option<Date> {
    let now = Clock::new_0();
    let (month, day) = (u8::try_from(now.get_month() + 1).ok()?, u8::try_from(now.get_date()).ok()?);
    Date::new(i32::try_from(now.get_full_year()).ok()?, month, day)
}

/// The moment, as local date and time to the second: `2026-10-04 11:32:07`.
pub fn now() -> String {
    let now = Clock::new_0();
    format!(
        "{:04}-{:02}-{:02} {:02}:{:02}:{:02}",
        now.get_full_year(),
        now.get_month() + 1,
        now.get_date(),
        now.get_hours(),
        now.get_minutes(),
        now.get_seconds()
    )
}
