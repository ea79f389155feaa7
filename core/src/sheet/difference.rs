//! What one type sheet changes against another, as JSON: what a link carries of a sheet that was copied and edited.
//!
//! It goes by the JSON and not by the types, so that a new field needs nothing here. A field that differs stands with what it
//! is to be, `null` if it is to go; a record within stands with its own difference. A list whose entries have ids goes by them,
//! so that it still fits where a later program's sheet has more:
//!
//! ```json
//! { "name": "Of mine", "checks": {
//!     "but": { "body-level": { "minutes": 4 } }, "gone": ["body-hood"], "new": [{ "id": "body-screen", "name": "…" }] } }
//! ```
//!
//! New entries come last; where the order is another, or more is gone than stays, `order` names all ids instead of `gone`.

use std::collections::BTreeMap;

use serde_json::{Map, Value};

const BUT: &str = "but";
const GONE: &str = "gone";
const NEW: &str = "new";
const ORDER: &str = "order";

/// What makes `own` of `base`; nothing if it cannot be said so, which no type sheet causes.
#[must_use]
pub fn difference(base: &Value, own: &Value) -> Option<Value> {
    let difference = Value::Object(of_fields(base.as_object()?, own.as_object()?));
    (applied(base, &difference) == *own).then_some(difference)
}

/// What a difference makes of `base`. What does not fit is passed over.
#[must_use]
pub fn applied(base: &Value, difference: &Value) -> Value {
    match (base, difference) {
        (Value::Object(base), Value::Object(changes)) => {
            let mut fields = base.clone();
            for (name, change) in changes {
                match base.get(name) {
                    _ if change.is_null() => drop(fields.remove(name)),
                    Some(from) => drop(fields.insert(name.clone(), applied(from, change))),
                    None => drop(fields.insert(name.clone(), change.clone())),
                }
            }
            Value::Object(fields)
        }
        (Value::Array(list), Value::Object(changes)) => match by_id(list) {
            Some(base) => Value::Array(list_of(&base, changes)),
            None => difference.clone(),
        },
        _ => difference.clone(),
    }
}

fn of_fields(base: &Map<String, Value>, own: &Map<String, Value>) -> Map<String, Value> {
    let mut changes = Map::new();
    for name in base.keys().filter(|name| !own.contains_key(*name)) {
        changes.insert(name.clone(), Value::Null);
    }
    for (name, to) in own {
        let change = match base.get(name) {
            Some(from) if from == to => continue,
            Some(from) => of_values(from, to),
            None => to.clone(),
        };
        changes.insert(name.clone(), change);
    }
    changes
}

fn of_values(base: &Value, own: &Value) -> Value {
    match (base, own) {
        (Value::Object(base), Value::Object(own)) => Value::Object(of_fields(base, own)),
        (Value::Array(base), Value::Array(own)) => match (by_id(base), by_id(own)) {
            (Some(base), Some(own)) => Value::Object(of_lists(&base, &own)),
            _ => Value::Array(own.clone()),
        },
        _ => own.clone(),
    }
}

type Entries<'a> = Vec<(&'a str, &'a Value)>;

/// The entries of a list, each with its id; nothing if one has none, or one that another has.
fn by_id(list: &[Value]) -> Option<Entries<'_>> {
    let entries: Option<Entries<'_>> = list.iter().map(|entry| Some((entry.get("id")?.as_str()?, entry))).collect();
    entries.filter(|entries| found(entries).len() == entries.len())
}

fn found<'a>(entries: &[(&'a str, &'a Value)]) -> BTreeMap<&'a str, &'a Value> {
    entries.iter().copied().collect()
}

fn of_lists(base: &[(&str, &Value)], own: &[(&str, &Value)]) -> Map<String, Value> {
    let (there, mine) = (found(base), found(own));
    let ids = |entries: &[(&str, &Value)]| entries.iter().map(|(id, _)| Value::from(*id)).collect::<Vec<_>>();
    let but: Map<String, Value> = own
        .iter()
        .filter_map(|(id, to)| {
            let from = there.get(id)?;
            (from != to).then(|| ((*id).to_owned(), of_values(from, to)))
        })
        .collect();
    let new: Entries<'_> = own.iter().filter(|(id, _)| !there.contains_key(id)).copied().collect();
    let (kept, gone): (Entries<'_>, Entries<'_>) = base.iter().partition(|(id, _)| mine.contains_key(id));
    let in_order = kept.iter().chain(&new).map(|(id, _)| id).eq(own.iter().map(|(id, _)| id));
    let mut changes = Map::new();
    let mut put = |name: &str, list: Vec<Value>| {
        if !list.is_empty() {
            changes.insert(name.to_owned(), Value::Array(list));
        }
    };
    put(NEW, new.iter().map(|(_, entry)| (*entry).clone()).collect());
    if in_order && gone.len() <= kept.len() {
        put(GONE, ids(&gone));
    } else {
        changes.insert(ORDER.to_owned(), Value::Array(ids(own)));
    }
    if !but.is_empty() {
        changes.insert(BUT.to_owned(), Value::Object(but));
    }
    changes
}

/// Each entry is used once, however often it is named: a short difference makes no long list.
fn list_of(base: &[(&str, &Value)], changes: &Map<String, Value>) -> Vec<Value> {
    let list = |name: &str| changes.get(name).and_then(Value::as_array).map_or(&[] as &[Value], Vec::as_slice);
    let texts = |name: &str| list(name).iter().filter_map(Value::as_str).collect::<Vec<_>>();
    let new: Entries<'_> = list(NEW).iter().filter_map(|entry| Some((entry.get("id")?.as_str()?, entry))).collect();
    let gone = texts(GONE);
    let order = match changes.get(ORDER) {
        Some(_) => texts(ORDER),
        None => base.iter().chain(&new).map(|(id, _)| *id).filter(|id| !gone.contains(id)).collect(),
    };
    let (mut there, mut new) = (found(base), found(&new));
    let but = changes.get(BUT);
    let mut entry = |id: &str| {
        let change = but.and_then(|but| but.get(id));
        match (new.remove(id), there.remove(id), change) {
            (Some(new), _, _) => Some(new.clone()),
            (None, Some(from), Some(change)) => Some(applied(from, change)),
            (None, from, _) => from.cloned(),
        }
    };
    order.into_iter().filter_map(&mut entry).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::json;

    use super::*;
    use crate::restore;
    use crate::sheet::{demo, general};

    #[track_caller]
    fn is(base: &Value, own: &Value, want: &Value) {
        let difference = difference(base, own).unwrap();
        assert_eq!(&difference, want);
        assert_eq!(&applied(base, &difference), own);
    }

    #[test]
    fn says_what_differs_and_nothing_else() {
        let base = json!({"id": "a", "name": "A", "list": [{"id": "x", "n": 1}, {"id": "y", "n": 2}, {"id": "z", "n": 3}],
            "in": {"p": 1, "q": [1, 2]}});
        let with = |change: &dyn Fn(&mut Value)| {
            let mut own = base.clone();
            change(&mut own);
            own
        };
        is(&base, &base, &json!({}));
        is(&base, &with(&|own| own["name"] = json!("B")), &json!({"name": "B"}));
        is(&base, &with(&|own| drop(own.as_object_mut().unwrap().remove("name"))), &json!({"name": null}));
        is(&base, &with(&|own| own["in"]["q"] = json!([1])), &json!({"in": {"q": [1]}}));
        is(&base, &with(&|own| own["list"][1]["n"] = json!(7)), &json!({"list": {"but": {"y": {"n": 7}}}}));
        is(&base, &with(&|own| drop(own["list"].as_array_mut().unwrap().remove(0))), &json!({"list": {"gone": ["x"]}}));
        let more = json!({"id": "v"});
        is(
            &base,
            &with(&|own| own["list"].as_array_mut().unwrap().push(more.clone())),
            &json!({"list": {"new": [more]}}),
        );
        is(
            &base,
            &with(&|own| own["list"].as_array_mut().unwrap().swap(0, 2)),
            &json!({"list": {"order": ["z", "y", "x"]}}),
        );
        is(&base, &with(&|own| own["list"] = json!([{"id": "y", "n": 2}])), &json!({"list": {"order": ["y"]}}));
    }

    #[test]
    fn what_does_not_fit_is_passed_over_and_nothing_is_multiplied() {
        let base = json!({"list": [{"id": "x", "n": 1}, {"id": "y", "n": 2}]});
        let order = vec!["x"; 1000];
        let made = applied(
            &base,
            &json!({"list": {"order": order, "new": [7, {"id": 7}], "but": {"q": {}, "x": 3}}, "gone": null}),
        );
        assert_eq!(made, json!({"list": [3]}));
        assert_eq!(difference(&json!({"a": [{"id": "x"}]}), &json!({"a": {"order": []}})), None);
        // A field that is `null` cannot be told from one that is gone.
        assert_eq!(difference(&json!({}), &json!({"a": null})), None);
    }

    /// One change to a sheet's JSON: an entry taken away, put elsewhere, said twice under another id, or edited.
    fn change(sheet: &mut Value, (list, at, to, how): (usize, usize, usize, u8)) {
        let lists = ["checks", "faults", "jobs", "access", "readings", "departures", "combinations"];
        let list = sheet.get_mut(lists[list % lists.len()]).and_then(Value::as_array_mut);
        let Some(entries) = list.filter(|list| !list.is_empty()) else { return };
        let (at, to) = (at % entries.len(), to % entries.len());
        match how {
            0 => drop(entries.remove(at)),
            1 => entries.swap(at, to),
            2 => {
                let mut entry = entries[at].clone();
                entry["id"] = json!(format!("of-mine-{at}-{to}-{}", entries.len()));
                entries.insert(to, entry);
            }
            3 => entries[at]["name"] = json!(format!("Otherwise {to}")),
            4 => entries[at] = json!({"id": entries[at]["id"].clone(), "name": "Anew", "minutes": 1.5}),
            _ => drop(entries[at].as_object_mut().unwrap().remove("source")),
        }
    }

    fn sheets() -> [Value; 2] {
        [general::JSON, demo::SHEET_JSON].map(restore::own)
    }

    fn json() -> impl Strategy<Value = Value> {
        let leaf = prop_oneof![
            any::<bool>().prop_map(Value::from),
            (0..4).prop_map(Value::from),
            "[a-c]".prop_map(Value::from)
        ];
        let key = prop_oneof![Just("id".to_owned()), Just("order".to_owned()), Just("new".to_owned()), "[a-c]"];
        leaf.prop_recursive(4, 30, 4, move |inner| {
            prop_oneof![
                prop::collection::vec(inner.clone(), 0..4).prop_map(Value::from),
                prop::collection::btree_map(key.clone(), inner, 0..4)
                    .prop_map(|map| Value::Object(map.into_iter().collect())),
            ]
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn an_edited_copy_comes_back(which in 0_usize..2, edits in prop::collection::vec(any::<(usize, usize, usize, u8)>(), 0..12)) {
            let base = sheets()[which].clone();
            let mut own = base.clone();
            edits.into_iter().for_each(|(list, at, to, how)| change(&mut own, (list, at, to, how % 6)));
            let made = difference(&base, &own).map(|difference| applied(&base, &difference));
            prop_assert!(made == Some(own));
        }

        #[test]
        fn whatever_is_said_is_exact(base in json(), own in json()) {
            if let Some(difference) = difference(&base, &own) {
                prop_assert_eq!(applied(&base, &difference), own);
            }
        }

        #[test]
        fn nothing_stops_it(base in json(), difference in json()) {
            let _ = applied(&base, &difference);
        }
    }

    #[test]
    fn sheets_with_nothing_in_common_come_back() {
        let [general, demo] = sheets();
        for (base, own) in [(&general, &demo), (&demo, &general)] {
            let difference = difference(base, own).unwrap();
            assert_eq!(&applied(base, &difference), own);
        }
    }
}
