//! How numbers, dates and money are written where the person lives: asked of the browser, handed on as plain data.

use js_sys::{Array, Date, Intl, Object, Reflect};
use kerbworth_core::show::Locale;
use kerbworth_core::units::NumberStyle;
use wasm_bindgen::JsValue;

/// The language that the browser is set to, as in `de-CH`.
pub fn language() -> String {
    web_sys::window().and_then(|window| window.navigator().language()).unwrap_or_default()
}

/// How things are written in a region, by its tag as in `de-CH`; blank is that of the browser's language.
pub fn locale(tag: &str) -> Locale {
    let tag = if tag.is_empty() { language() } else { tag.to_owned() };
    let tags = Array::new();
    if !tag.is_empty() {
        tags.push(&JsValue::from_str(&tag));
    }
    // An amount of money shows every sign there is.
    let wanted = options(&[("style", "currency"), ("currency", "EUR")]);
    let number = parts(&Intl::NumberFormat::new(&tags, &wanted).format_to_parts(1_234_567.5));
    let wanted = options(&[("day", "numeric"), ("month", "short"), ("year", "numeric")]);
    let date = parts(&Intl::DateTimeFormat::new(&tags, &wanted).format_to_parts(&Date::new_0()));
    let usual = Locale::default();
    let sign = |kind: &str, usual: char| {
        let part = number.iter().find(|(found, _)| found == kind);
        part.and_then(|(_, sign)| sign.chars().next()).unwrap_or(usual)
    };
    let first = number.iter().find(|(kind, _)| kind == "currency" || kind == "integer");
    Locale {
        style: NumberStyle { decimal: sign("decimal", usual.style.decimal), group: sign("group", usual.style.group) },
        date: pattern(&date),
        sign_behind: first.is_some_and(|(kind, _)| kind == "integer"),
        sign_apart: number.iter().any(|(kind, _)| kind == "literal"),
    }
}

/// The order of a date's parts and what stands between them. Where the month is a number there, the words that go with
/// it do not suit the name that it gets here, and spaces take their place.
fn pattern(date: &[(String, String)]) -> String {
    let named =
        date.iter().any(|(kind, value)| kind == "month" && !value.starts_with(|sign: char| sign.is_ascii_digit()));
    let pieces = date.iter().map(|(kind, value)| match kind.as_str() {
        "day" => "{0}",
        "month" => "{1}",
        "year" => "{2}",
        "literal" if named => value,
        _ => " ",
    });
    pieces.collect::<String>().trim().to_owned()
}

fn options(wanted: &[(&str, &str)]) -> Object {
    let options = Object::new();
    // Digits of other scripts are not read here.
    for (name, value) in wanted.iter().chain(&[("numberingSystem", "latn")]) {
        // A plain object takes any property.
        let _ = Reflect::set(&options, &JsValue::from_str(name), &JsValue::from_str(value));
    }
    options
}

/// Kind and text of each part.
fn parts(all: &Array) -> Vec<(String, String)> {
    let text = |part: &JsValue, name: &str| {
        Reflect::get(part, &JsValue::from_str(name)).ok().and_then(|text| text.as_string()).unwrap_or_default()
    };
    all.iter().map(|part| (text(&part, "type"), text(&part, "value"))).collect()
}
