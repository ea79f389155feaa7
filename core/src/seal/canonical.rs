//! One text for one value, whatever wrote it: what is signed.
//!
//! JSON with the fields of each object in the order of their bytes, no space, strings as `serde_json` writes them
//! (escapes only where JSON must), whole numbers in full. A number with a fraction is told by its 64 bits (IEEE 754) in
//! hexadecimal after an `f`, rounded to 34 bits of fraction, about ten digits: the seventeenth may change when a store's
//! text is read again, and no reading is that fine.
//!
//! | value | text |
//! | --- | --- |
//! | `{"b": [1, true], "a": "é\n"}` | `{"a":"é\n","b":[1,true]}` |
//! | `0.5` | `f3fe0000000000000` |

use serde_json::Value;

use crate::ordered;

/// Bits of a number's fraction that are rounded off.
const OFF: u32 = 18;

/// Adds a value's text.
pub fn write(value: &Value, out: &mut String) {
    let mut between = "";
    match value {
        Value::Number(number) => match number.as_f64().filter(|_| number.is_f64()) {
            Some(float) => out.push_str(&format!("f{:016x}", rounded(float))),
            None => out.push_str(&number.to_string()),
        },
        Value::Array(list) => {
            out.push('[');
            for element in list {
                out.push_str(between);
                write(element, out);
                between = ",";
            }
            out.push(']');
        }
        Value::Object(object) => {
            let mut fields: Vec<(&String, &Value)> = object.iter().collect();
            ordered::sort(&mut fields, |a, b| a.0.cmp(b.0));
            out.push('{');
            for (name, value) in fields {
                out.push_str(between);
                write(&Value::from(name.as_str()), out);
                out.push(':');
                write(value, out);
                between = ",";
            }
            out.push('}');
        }
        Value::Null | Value::Bool(_) | Value::String(_) => out.push_str(&value.to_string()),
    }
}

const fn rounded(float: f64) -> u64 {
    // A carry into the exponent is the next power of two, as it should be.
    (float.to_bits() + (1 << (OFF - 1))) >> OFF << OFF
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[track_caller]
    fn is(value: &Value, want: &str) {
        let mut out = String::new();
        write(value, &mut out);
        assert_eq!(out, want);
    }

    #[test]
    fn one_text_for_one_value() {
        is(&json!({"b": [1, true, null], "a": "é\n\"", "": {}}), "{\"\":{},\"a\":\"é\\n\\\"\",\"b\":[1,true,null]}");
        is(&json!([-7, u64::MAX, 0.5, -0.0]), "[-7,18446744073709551615,f3fe0000000000000,f8000000000000000]");
    }

    #[test]
    fn numbers_of_ten_digits_are_told_apart_and_last_bits_are_not() {
        let text = |number: f64| {
            let mut out = String::new();
            write(&json!(number), &mut out);
            out
        };
        let psi = 179_263.689_622_377_4_f64;
        assert_eq!(text(psi), text(f64::from_bits(psi.to_bits() + 1)));
        assert_ne!(text(psi), text(psi * 1.000_000_000_1));
        assert_ne!(text(60.0), text(60.000_000_01));
    }
}
