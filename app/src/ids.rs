//! Ids of elements on the page, made from the place in the worksheet that they stand for, so that a label, a
//! message, a test and a link find the same one.

/// The id of the field for a place such as `sales[2].price`.
pub fn field(place: &str) -> String {
    let plain = |sign: char| if sign.is_ascii_alphanumeric() || sign == '-' { sign } else { '-' };
    format!("field-{}", place.chars().map(plain).collect::<String>().trim_end_matches('-'))
}

/// The id of the message beside that field.
pub fn message(place: &str) -> String {
    format!("{}-message", field(place))
}

/// The id of a check's row.
pub fn check(id: &str) -> String {
    format!("check-{id}")
}

/// The main part of the page: where the skip link goes.
pub const MAIN: &str = "main";

/// What to do about a store that refuses.
pub const TROUBLE: &str = "trouble";

/// The heading of the score: where the strip's cover leads.
pub const SCORE: &str = "score";
