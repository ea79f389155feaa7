//! The truth table of lamps read: what lit against what should, and the signs that the differences are.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::sheet::LampTable;
use crate::sheet::lamps::Situation;
use crate::walk::lamp_marks::differs;

/// What should happen to a lamp in a situation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Should {
    /// It should light.
    Light,
    /// It should stay dark.
    StayDark,
    /// Either is how the type is made.
    Either,
}

/// A lamp that did not do what it should.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Difference {
    /// The situation's id.
    pub situation: String,
    /// The lamp's id.
    pub lamp: String,
    /// Whether it lit.
    pub lit: bool,
    /// The sign that it is taken as; empty if the table names none.
    pub sign: String,
}

/// Which lamps lit, by situation id and lamp id.
pub type Observed = BTreeMap<String, BTreeMap<String, bool>>;

/// What should happen to a lamp in a situation.
#[must_use]
pub fn should(situation: &Situation, lamp: &str) -> Should {
    if situation.either.iter().any(|either| either == lamp) {
        Should::Either
    } else if situation.lit.iter().any(|lit| lit == lamp) {
        Should::Light
    } else {
        Should::StayDark
    }
}

/// The differences between what was seen and what should be, each with its sign.
///
/// A pattern that was seen whole takes every difference that it names; patterns come first to last, and a
/// difference is taken once. What no pattern takes is the table's `dark` or `stray` sign.
#[must_use]
pub fn differences(table: &LampTable, seen: &Observed) -> Vec<Difference> {
    let lit = |situation: &str, lamp: &str| seen.get(situation).and_then(|lamps| lamps.get(lamp)).copied();
    let mut found: Vec<Difference> = table
        .situations
        .iter()
        .flat_map(|situation| table.lamps.iter().map(move |lamp| (situation, lamp)))
        .filter_map(|(situation, lamp)| {
            let lit = lit(&situation.id, &lamp.id)?;
            differs(should(situation, &lamp.id), lit).then(|| Difference {
                situation: situation.id.clone(),
                lamp: lamp.id.clone(),
                lit,
                sign: String::new(),
            })
        })
        .collect();
    for pattern in &table.patterns {
        let whole = pattern.seen.iter().all(|state| lit(&state.situation, &state.lamp) == Some(state.lit));
        if !whole {
            continue;
        }
        for difference in found.iter_mut().filter(|difference| difference.sign.is_empty()) {
            let named = pattern
                .seen
                .iter()
                .any(|state| state.situation == difference.situation && state.lamp == difference.lamp);
            if named {
                difference.sign.clone_from(&pattern.sign);
            }
        }
    }
    for difference in found.iter_mut().filter(|difference| difference.sign.is_empty()) {
        difference.sign.clone_from(if difference.lit { &table.stray } else { &table.dark });
    }
    found
}

/// Whether everything in the table was watched and came out as it should.
#[must_use]
pub fn all_right(table: &LampTable, seen: &Observed) -> bool {
    let watched = table.situations.iter().all(|situation| {
        let lamps = seen.get(&situation.id);
        table.lamps.iter().all(|lamp| {
            should(situation, &lamp.id) == Should::Either || lamps.is_some_and(|lamps| lamps.contains_key(&lamp.id))
        })
    });
    watched && !table.lamps.is_empty() && differences(table, seen).is_empty()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::lamps::{Lamp, LampPattern, LampState};

    fn table() -> LampTable {
        let lamp = |id: &str| Lamp { id: id.into(), name: id.into() };
        let state = |lamp: &str, lit| LampState { situation: "dipped".into(), lamp: lamp.into(), lit };
        LampTable {
            check: "lamps".into(),
            lamps: ["left", "right", "tell-tale"].map(lamp).to_vec(),
            situations: vec![
                Situation {
                    id: "off".into(),
                    name: "Off".into(),
                    how: String::new(),
                    lit: vec![],
                    either: vec!["tell-tale".into()],
                },
                Situation {
                    id: "dipped".into(),
                    name: "Dipped".into(),
                    how: String::new(),
                    lit: vec!["left".into(), "right".into()],
                    either: vec![],
                },
            ],
            patterns: vec![
                LampPattern { sign: "both-dark".into(), seen: vec![state("left", false), state("right", false)] },
                LampPattern { sign: "one-dark".into(), seen: vec![state("left", false), state("right", true)] },
            ],
            dark: "dark".into(),
            stray: "stray".into(),
        }
    }

    fn seen(states: &[(&str, &str, bool)]) -> Observed {
        let mut seen = Observed::new();
        for (situation, lamp, lit) in states {
            seen.entry((*situation).to_owned()).or_default().insert((*lamp).to_owned(), *lit);
        }
        seen
    }

    #[track_caller]
    fn signs(states: &[(&str, &str, bool)], want: &[&str]) {
        let found = differences(&table(), &seen(states));
        let signs: Vec<&str> = found.iter().map(|difference| difference.sign.as_str()).collect();
        assert_eq!(signs, want);
    }

    #[test]
    fn a_pattern_takes_what_it_names_and_the_rest_falls_back() {
        signs(&[("dipped", "left", false), ("dipped", "right", true)], &["one-dark"]);
        signs(&[("dipped", "left", false), ("dipped", "right", false)], &["both-dark", "both-dark"]);
        signs(&[("dipped", "left", false)], &["dark"]);
        signs(&[("off", "left", true), ("off", "tell-tale", true)], &["stray"]);
        signs(&[("dipped", "left", true), ("dipped", "right", true)], &[]);
    }

    #[test]
    fn all_right_only_when_all_was_watched() {
        let right = [
            ("off", "left", false),
            ("off", "right", false),
            ("dipped", "left", true),
            ("dipped", "right", true),
            ("dipped", "tell-tale", false),
        ];
        assert!(all_right(&table(), &seen(&right)));
        assert!(!all_right(&table(), &seen(&right[..4])));
        assert!(!all_right(&LampTable::default(), &Observed::new()));
    }
}
