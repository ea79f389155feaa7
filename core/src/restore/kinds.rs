//! Reading of the kinds of value that everything else is made of.

use std::collections::BTreeMap;

use serde_json::Value;

use super::{Restore, Trail};

/// Reads simple values by what `serde_json` says of them.
macro_rules! simple {
    ($($kind:ty: $read:expr, $wanted:literal;)*) => {
        $(
            impl Restore for $kind {
                fn blank() -> Self {
                    Self::default()
                }

                fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool {
                    let read: fn(&Value) -> Option<$kind> = $read;
                    trail.put(self, read(json), json, $wanted)
                }
            }
        )*
    };
}

simple! {
    bool: Value::as_bool, "true or false";
    String: |json| json.as_str().map(ToOwned::to_owned), "a text";
    f64: |json| json.as_f64().filter(|number| number.is_finite()), "a number";
    i64: Value::as_i64, "a whole number";
    u64: Value::as_u64, "a whole number, 0 or more";
    i32: |json| json.as_i64().and_then(|whole| whole.try_into().ok()), "a whole number from -2147483648 to 2147483647";
    u32: |json| json.as_u64().and_then(|whole| whole.try_into().ok()), "a whole number from 0 to 4294967295";
    u8: |json| json.as_u64().and_then(|whole| whole.try_into().ok()), "a whole number from 0 to 255";
}

/// Anything is itself.
impl Restore for Value {
    fn blank() -> Self {
        Self::Null
    }

    fn restore(&mut self, json: &Value, _: &mut Trail) -> bool {
        self.clone_from(json);
        true
    }
}

/// `null` is nothing.
impl<T: Restore> Restore for Option<T> {
    fn blank() -> Self {
        None
    }

    fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool {
        *self = None;
        if json.is_null() {
            return true;
        }
        let mut value = T::blank();
        let read = value.restore(json, trail);
        if read {
            *self = Some(value);
        }
        read
    }
}

/// Elements that do not fit are left out.
impl<T: Restore> Restore for Vec<T> {
    fn blank() -> Self {
        Self::new()
    }

    fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool {
        let Some(list) = trail.list(json) else { return false };
        self.clear();
        for (index, json) in list.iter().enumerate() {
            let mut element = T::blank();
            if trail.element(index, json, &mut element) {
                self.push(element);
            }
        }
        true
    }
}

/// Pairs that do not fit are left out.
impl<K: Restore + Ord, V: Restore> Restore for BTreeMap<K, V> {
    fn blank() -> Self {
        Self::new()
    }

    fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool {
        let Some(object) = trail.object(json) else { return false };
        self.clear();
        for (name, json) in object {
            let (mut key, mut value) = (K::blank(), V::blank());
            if trail.pair(name, json, &mut key, &mut value) {
                self.insert(key, value);
            }
        }
        true
    }
}
