//! Two people's changes to one thing, or one person's in two windows, made into one: field by field.
//!
//! What only one side changed is taken. What both changed to the same is that. What both changed differently stays as
//! it is on this side, and is told as a [`Conflict`] with both values.
//!
//! It goes by JSON, which is the same for every type: a field, an entry of a table and an element of a list by its id are
//! each merged on their own; any other list, and what is one choice, is taken whole.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::{Map, Value};

use crate::ledger::Ledger;
use crate::restore::{self, Restore, Unread};
use crate::sheet::TypeSheet;
use crate::steps::Steps;
use crate::worksheet::Worksheet;

/// What several windows can have open and change.
pub trait Shared: Restore + Serialize + Clone {
    /// Keeps what could not be read, where it has a place for that.
    fn keep_unread(&mut self, _unread: Vec<Unread>) {}
}

impl Shared for Worksheet {
    fn keep_unread(&mut self, unread: Vec<Unread>) {
        self.unread.extend(unread);
    }
}

impl Shared for Ledger {
    fn keep_unread(&mut self, unread: Vec<Unread>) {
        self.unread.extend(unread);
    }
}

impl Shared for TypeSheet {}

impl Shared for Steps {}

/// A place that both sides changed differently.
#[derive(Debug, Clone, PartialEq)]
pub struct Conflict {
    /// Where: names of fields, keys of tables and ids.
    place: Vec<String>,
    mine: Option<Value>,
    theirs: Option<Value>,
}

impl Conflict {
    /// Where it is, as in `findings · sills · note`.
    #[must_use]
    pub fn place(&self) -> String {
        self.place.join(" · ")
    }

    /// What stands here, and stays. Blank if there is nothing.
    #[must_use]
    pub fn mine(&self) -> String {
        shown(self.mine.as_ref())
    }

    /// What stands on the other side. Blank if there is nothing.
    #[must_use]
    pub fn theirs(&self) -> String {
        shown(self.theirs.as_ref())
    }

    /// It with what stands on the other side at this place. As it is if it has no such place any more.
    #[must_use]
    pub fn take_theirs<T: Shared>(&self, it: &T) -> T {
        let mut json = json(it);
        put(&mut json, &self.place, self.theirs.as_ref());
        read(&json, it)
    }
}

/// What became of two sides.
#[derive(Debug, Clone, PartialEq)]
pub struct Merged<T> {
    /// Both in one.
    pub both: T,
    /// Where this side's word stands against the other's.
    pub conflicts: Vec<Conflict>,
    /// Whether this side gets something new.
    pub is_news_here: bool,
    /// Whether the other side would get something new.
    pub is_news_there: bool,
}

/// Merges two sides that began from one.
///
/// ```
/// use kerbworth_core::{merge::merge, worksheet::Worksheet};
/// let base = Worksheet::default();
/// let (mut mine, mut theirs) = (base.clone(), base.clone());
/// mine.car.maker = "Halberd".into();
/// theirs.car.model = "Plover".into();
/// let merged = merge(&base, &mine, &theirs);
/// assert_eq!(merged.both.title(), "Halberd Plover");
/// assert!(merged.conflicts.is_empty());
/// ```
#[must_use]
pub fn merge<T: Shared>(base: &T, mine: &T, theirs: &T) -> Merged<T> {
    let [base, its_mine, theirs] = [base, mine, theirs].map(json);
    let mut conflicts = Vec::new();
    let merged = both(Some(&base), Some(&its_mine), Some(&theirs), &mut Vec::new(), &mut conflicts);
    let merged = merged.unwrap_or_default();
    let (is_news_here, is_news_there) = (merged != its_mine, merged != theirs);
    Merged { both: read(&merged, mine), conflicts, is_news_here, is_news_there }
}

/// By its text and not by serde's own way to values, which would be code of its own for each type.
fn json<T: Serialize>(it: &T) -> Value {
    serde_json::to_string(it).map(|text| restore::own(&text)).unwrap_or_default()
}

/// What cannot be read again, which nothing made of such things can cause, leaves this side as it is.
fn read<T: Shared>(json: &Value, mine: &T) -> T {
    let Ok((mut it, unread)) = restore::restore_value::<T>(json, u32::MAX) else { return mine.clone() };
    it.keep_unread(unread);
    it
}

type Side<'a> = Option<&'a Value>;

fn both(
    base: Side<'_>,
    mine: Side<'_>,
    theirs: Side<'_>,
    place: &mut Vec<String>,
    out: &mut Vec<Conflict>,
) -> Option<Value> {
    if mine == theirs || theirs == base {
        return mine.cloned();
    }
    if mine == base {
        return theirs.cloned();
    }
    let nothing = Map::new();
    let is_table = is_table(place);
    if let (Some(mine), Some(theirs)) = (fields(mine, &nothing, is_table), fields(theirs, &nothing, is_table)) {
        let base = base.and_then(Value::as_object).unwrap_or(&nothing);
        let mut merged = Map::new();
        for name in mine.keys().chain(theirs.keys().filter(|name| !mine.contains_key(*name))) {
            place.push(name.clone());
            if let Some(value) = both(base.get(name), mine.get(name), theirs.get(name), place, out) {
                merged.insert(name.clone(), value);
            }
            place.pop();
        }
        return (!merged.is_empty()).then_some(Value::Object(merged));
    }
    if let (Some((order, its_mine)), Some((beside, its_theirs))) = (by_id(mine), by_id(theirs)) {
        let (_, base) = by_id(base).unwrap_or_default();
        let mut merged = Vec::new();
        // In this side's order; what the other side has beside comes last, in its own order.
        for id in order.iter().chain(beside.iter().filter(|id| !its_mine.contains_key(*id))) {
            let [base, mine, theirs] = [&base, &its_mine, &its_theirs].map(|side| side.get(id).copied());
            place.push((*id).to_owned());
            merged.extend(both(base, mine, theirs, place, out));
            place.pop();
        }
        if merged.is_empty() {
            // What is empty is not written, unless this side does.
            return mine.filter(|_| order.is_empty()).cloned();
        }
        return Some(Value::Array(merged));
    }
    out.push(Conflict { place: place.clone(), mine: mine.cloned(), theirs: theirs.cloned() });
    mine.cloned()
}

/// The fields of a record or table; those of a table that is not there, which is how tables without entries are written.
fn fields<'a>(side: Side<'a>, nothing: &'a Map<String, Value>, is_table: bool) -> Option<&'a Map<String, Value>> {
    match side {
        Some(Value::Object(fields)) if !is_one_choice(fields) => Some(fields),
        None if is_table => Some(nothing),
        _ => None,
    }
}

/// Whether an object is one choice among several, and not a record or a table: its fields belong together.
fn is_one_choice(object: &Map<String, Value>) -> bool {
    let mut names = object.keys().map(String::as_str);
    matches!((names.next(), names.next()), (Some("grade" | "not-looked" | "unread"), None))
}

/// Whether what stands at a place is a table and not a record.
fn is_table(place: &[String]) -> bool {
    let last = place.last().map_or("", String::as_str);
    place.len() == 1
        || place.len() == 2 && place.starts_with(&["lamps".to_owned()])
        || ["signs", "exchange", "rates"].contains(&last)
}

/// The ids of a list's elements in their order, and the elements by them; nothing if one has none or one that another
/// has. A moment of the log goes by its time, a known key by itself. A list that is not there yet is empty.
fn by_id(list: Side<'_>) -> Option<(Vec<&str>, BTreeMap<&str, &Value>)> {
    let (mut order, mut elements) = (Vec::new(), BTreeMap::new());
    for element in list.map_or(Some(&[][..]), |list| list.as_array().map(Vec::as_slice))? {
        let id = id(element)?;
        order.push(id);
        if elements.insert(id, element).is_some() {
            return None;
        }
    }
    Some((order, elements))
}

fn id(element: &Value) -> Option<&str> {
    ["id", "at", "key"].into_iter().find_map(|name| element.get(name)).and_then(Value::as_str)
}

fn is_called(element: &Value, name: &str) -> bool {
    id(element) == Some(name)
}

/// Puts a value at a place, or takes it away there.
fn put(json: &mut Value, place: &[String], value: Option<&Value>) {
    let Some((name, rest)) = place.split_first() else { return };
    match json {
        Value::Object(object) if rest.is_empty() => {
            match value {
                Some(value) => object.insert(name.clone(), value.clone()),
                None => object.remove(name),
            };
        }
        Value::Object(object) => {
            // What is empty is not written, lists and tables alike.
            let is_element = matches!((rest, value), ([id], Some(value)) if is_called(value, id));
            let empty = || if is_element { Value::Array(Vec::new()) } else { Value::Object(Map::new()) };
            put(object.entry(name.clone()).or_insert_with(empty), rest, value);
        }
        Value::Array(list) => {
            let at = list.iter().position(|element| is_called(element, name));
            match (at.and_then(|at| list.get_mut(at)), value) {
                (Some(element), _) if !rest.is_empty() => put(element, rest, value),
                (Some(element), Some(value)) => *element = value.clone(),
                (None, Some(value)) if rest.is_empty() => list.push(value.clone()),
                (Some(_), None) => list.retain(|element| !is_called(element, name)),
                (None, _) => {}
            }
        }
        _ => {}
    }
}

fn shown(value: Side<'_>) -> String {
    match value {
        None | Some(Value::Null) => String::new(),
        Some(Value::String(text)) => text.clone(),
        Some(Value::Object(choice)) if is_one_choice(choice) => shown(choice.values().next()),
        Some(value) => value.to_string(),
    }
}

#[cfg(test)]
mod tests;
