//! A sheet at a glance: its entries with whose they are, names to choose from, and where a slip is.

use std::collections::BTreeMap;

use super::TypeSheet;
use super::form::Target;
use super::part::{Part, Section};

/// Whose an entry is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Whose {
    /// The sheet's own.
    Own,
    /// An entry of the extended sheet that this one words otherwise.
    Changed,
    /// An entry of the extended sheet, as it stands there.
    Inherited,
}

/// An entry in a list.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Line {
    /// Its id.
    pub id: String,
    /// How many entries before it have the same id: none, unless there is a slip.
    pub twin: usize,
    /// Whose it is.
    pub whose: Whose,
    /// What it is called.
    pub name: String,
    /// The stage of a check, the system of a fault or job; blank for what has none.
    pub belongs: &'static str,
}

/// The entries of a section: the sheet's own ones first, then those of the extended sheet that it neither words
/// otherwise nor does without.
#[must_use]
pub fn outline(own: &TypeSheet, base: Option<&TypeSheet>, section: Section) -> Vec<Line> {
    let of_base = base.map(|base| section.ids(base)).unwrap_or_default();
    let of_own = section.ids(own);
    let mut met = BTreeMap::new();
    let mut lines = Vec::with_capacity(of_own.len() + of_base.len());
    for (place, id) in of_own.iter().enumerate() {
        let twin = met.entry(*id).and_modify(|twins| *twins += 1).or_insert(0_usize);
        let whose = if of_base.contains(id) { Whose::Changed } else { Whose::Own };
        lines.push(line(own, section, place, id, *twin, whose));
    }
    let Some(base) = base else { return lines };
    for (place, id) in of_base.iter().enumerate() {
        if !met.contains_key(id) && !own.without.iter().any(|gone| gone == id) {
            lines.push(line(base, section, place, id, 0, Whose::Inherited));
        }
    }
    lines
}

fn line(sheet: &TypeSheet, section: Section, place: usize, id: &str, twin: usize, whose: Whose) -> Line {
    let (name, belongs) = match section {
        Section::Checks => sheet.checks.get(place).map(|check| (&check.name, check.stage.name())),
        Section::Faults => sheet.faults.get(place).map(|fault| (&fault.name, fault.system.name())),
        Section::Jobs => sheet.jobs.get(place).map(|job| (&job.name, job.system.name())),
        Section::Access => sheet.access.get(place).map(|access| (&access.name, "")),
        Section::Readings => sheet.readings.get(place).map(|reading| (&reading.name, "")),
        Section::Departures => sheet.departures.get(place).map(|departure| (&departure.name, "")),
        Section::Combinations => sheet.combinations.get(place).map(|combination| (&combination.effect, "")),
    }
    .map_or((String::new(), ""), |(name, belongs)| (name.clone(), belongs));
    Line { id: id.to_owned(), twin, whose, name, belongs }
}

/// What an id in a field can name: ids with what they are called.
#[must_use]
pub fn names(sheet: &TypeSheet, target: Target) -> Vec<(String, String)> {
    match target {
        Target::Sign => {
            let signs = sheet.checks.iter().flat_map(|check| &check.signs);
            signs.map(|sign| (sign.id.clone(), sign.name.clone())).collect()
        }
        Target::Entry(section) => outline(sheet, None, section).into_iter().map(|line| (line.id, line.name)).collect(),
    }
}

/// What something is called; its id if nothing has that id.
#[must_use]
pub fn name_of(sheet: &TypeSheet, target: Target, id: &str) -> String {
    let name = match target {
        Target::Sign => sheet.sign(id).map(|(_, sign)| sign.name.clone()),
        Target::Entry(section) => Part::of(sheet, section, id).map(|part| part.name().to_owned()),
    };
    name.unwrap_or_else(|| id.to_owned())
}

/// Everything that a sheet can do without when it extends this one: id, name, and what it is.
#[must_use]
pub fn dispensable(base: &TypeSheet) -> Vec<(String, String, &'static str)> {
    let entries = Section::ALL.into_iter().flat_map(|section| {
        names(base, Target::Entry(section)).into_iter().map(move |(id, name)| (id, name, section.name()))
    });
    let signs = names(base, Target::Sign).into_iter().map(|(id, name)| (id, name, "Signs"));
    entries.chain(signs).collect()
}

/// Whether a text has every word that is searched for, in any order and case.
#[must_use]
pub fn has_words(text: &str, sought: &str) -> bool {
    let text = text.to_lowercase();
    sought.to_lowercase().split_whitespace().all(|word| text.contains(word))
}

/// The entry that a slip's place is about.
#[must_use]
pub fn entry_at(sheet: &TypeSheet, place: &str) -> Option<(Section, String)> {
    let (list, rest) = place.split_once('.')?;
    // Ids should have no full stop; one that has is a slip, and is found all the same.
    let is = |id: &str| rest.strip_prefix(id).is_some_and(|after| after.is_empty() || after.starts_with('.'));
    if list == "signs" {
        let holds = |id: &str| sheet.check(id).is_some_and(|check| check.signs.iter().any(|sign| is(&sign.id)));
        let check = sheet.checks.iter().find(|check| holds(&check.id))?;
        return Some((Section::Checks, check.id.clone()));
    }
    let section = Section::ALL.into_iter().find(|section| section.word() == list)?;
    let id = section.ids(sheet).into_iter().filter(|id| is(id)).max_by_key(|id| id.len())?;
    Some((section, id.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::super::edit::SheetEdit;
    use super::super::lint::lint;
    use super::super::{extend, general};
    use super::*;

    fn sheet(ids: &[&str]) -> TypeSheet {
        let mut sheet = TypeSheet::default();
        for id in ids {
            SheetEdit::Put(Part::new(Section::Checks, (*id).into(), id.to_uppercase())).apply(&mut sheet);
        }
        sheet
    }

    #[test]
    fn own_entries_come_first_and_what_is_left_out_is_not_there() {
        let base = sheet(&["a", "b", "c", "d"]);
        let mut own = sheet(&["x", "c"]);
        own.without = vec!["b".into()];
        let said: Vec<String> = outline(&own, Some(&base), Section::Checks)
            .iter()
            .map(|line| format!("{} {:?} {}", line.id, line.whose, line.name))
            .collect();
        assert_eq!(said, ["x Own X", "c Changed C", "a Inherited A", "d Inherited D"]);
        let whole = extend::extend(&base, &own);
        assert_eq!(outline(&own, Some(&base), Section::Checks).len(), whole.checks.len());
    }

    #[test]
    fn entries_of_one_id_are_told_apart() {
        let mut own = sheet(&["a"]);
        own.checks.push(own.checks[0].clone());
        let twins: Vec<usize> = outline(&own, None, Section::Checks).iter().map(|line| line.twin).collect();
        assert_eq!(twins, [0, 1]);
    }

    #[test]
    fn words_are_found_in_any_order() {
        assert!(has_words("Pedal sinks under steady pressure", "sinks PEDAL"));
        assert!(has_words("Pedal", "  "));
        assert!(!has_words("Pedal sinks", "pedal soft"));
    }

    #[test]
    fn every_slip_of_an_entry_leads_to_it() {
        let mut sheet = general::general().unwrap();
        for check in &mut sheet.checks {
            check.minutes = 0.0;
            check.how.clear();
            for sign in &mut check.signs {
                sign.leak = 2.0;
            }
        }
        sheet.faults.retain(|fault| fault.normal);
        sheet.jobs.clear();
        sheet.departures.clear();
        let slips = lint(&sheet);
        assert!(slips.len() > 1000);
        for slip in slips.iter().filter(|slip| !slip.place.starts_with("lamps")) {
            let (section, id) = entry_at(&sheet, &slip.place).unwrap_or_else(|| panic!("{slip}"));
            assert!(section.ids(&sheet).contains(&id.as_str()), "{slip}");
        }
        assert_eq!(entry_at(&sheet, "checks.nowhere.minutes"), None);
        assert_eq!(entry_at(&sheet, "attic"), None);
    }

    #[test]
    fn names_are_those_of_the_whole_sheet() {
        let sheet = general::general().unwrap();
        let signs = names(&sheet, Target::Sign);
        let (id, name) = &signs[0];
        assert_eq!(name_of(&sheet, Target::Sign, id), *name);
        assert_eq!(name_of(&sheet, Target::Entry(Section::Jobs), "no-such-job"), "no-such-job");
        // A few ids are those of two kinds of entry, and are left out together.
        let left_out = dispensable(&sheet);
        assert!(super::super::edit::ids(&sheet).iter().all(|id| left_out.iter().any(|(known, ..)| known == id)));
    }
}
