//! The one way in which a type sheet changes, and ids for what is new in it.

use std::collections::BTreeSet;

use super::TypeSheet;
use super::part::{Part, Section};

/// Most letters of an id.
const LONGEST_ID: usize = 64;

/// A change: one part of a sheet becomes something else. Applying it gives the change that undoes it.
#[derive(Debug, Clone, PartialEq)]
pub enum SheetEdit {
    /// The head, or the first entry with this id, becomes this; a new id is added at the end of its section.
    Put(Part),
    /// This entry is put in at a place of its section.
    Insert(usize, Part),
    /// The entry at a place of a section goes.
    Take(Section, usize),
    /// Several changes, in order.
    Several(Vec<SheetEdit>),
}

impl SheetEdit {
    /// Takes the first entry with an id out of a sheet; nothing if there is none.
    #[must_use]
    pub fn take(sheet: &TypeSheet, section: Section, id: &str) -> Self {
        match section.ids(sheet).iter().position(|known| *known == id) {
            Some(place) => Self::Take(section, place),
            None => Self::Several(Vec::new()),
        }
    }

    /// Makes the change and gives the one that undoes it.
    ///
    /// ```
    /// use kerbworth_core::sheet::TypeSheet;
    /// use kerbworth_core::sheet::edit::SheetEdit;
    /// use kerbworth_core::sheet::part::{Part, Section};
    /// let mut sheet = TypeSheet::default();
    /// let sills = Part::new(Section::Checks, "sills".into(), "Sills from below".into());
    /// let undo = SheetEdit::Put(sills).apply(&mut sheet);
    /// assert_eq!(sheet.checks.len(), 1);
    /// undo.apply(&mut sheet);
    /// assert_eq!(sheet, TypeSheet::default());
    /// ```
    pub fn apply(self, sheet: &mut TypeSheet) -> Self {
        let insert = match self {
            Self::Several(edits) => {
                let mut undo: Vec<Self> = edits.into_iter().map(|edit| edit.apply(sheet)).collect();
                undo.reverse();
                return Self::Several(undo);
            }
            Self::Put(Part::Head(head)) | Self::Insert(_, Part::Head(head)) => {
                return Self::Put(Part::Head(Box::new(head.put_on(sheet))));
            }
            Self::Put(part) => (None, part),
            Self::Insert(place, part) => (Some(place), part),
            Self::Take(section, place) => {
                let taken = match section {
                    Section::Checks => removed(&mut sheet.checks, place).map(Part::Check),
                    Section::Faults => removed(&mut sheet.faults, place).map(Part::Fault),
                    Section::Jobs => removed(&mut sheet.jobs, place).map(Part::Job),
                    Section::Access => removed(&mut sheet.access, place).map(Part::Access),
                    Section::Readings => removed(&mut sheet.readings, place).map(Part::Reading),
                    Section::Departures => removed(&mut sheet.departures, place).map(Part::Departure),
                    Section::Combinations => removed(&mut sheet.combinations, place).map(Part::Combination),
                };
                return taken.map_or(Self::Several(Vec::new()), |part| Self::Insert(place, part));
            }
        };
        match insert {
            // Applied above, on every way to it.
            (_, Part::Head(_)) => Self::Several(Vec::new()),
            (at, Part::Check(it)) => put(&mut sheet.checks, at, *it, |it| &it.id, Section::Checks, Part::Check),
            (at, Part::Fault(it)) => put(&mut sheet.faults, at, *it, |it| &it.id, Section::Faults, Part::Fault),
            (at, Part::Job(it)) => put(&mut sheet.jobs, at, *it, |it| &it.id, Section::Jobs, Part::Job),
            (at, Part::Access(it)) => put(&mut sheet.access, at, *it, |it| &it.id, Section::Access, Part::Access),
            (at, Part::Reading(it)) => put(&mut sheet.readings, at, *it, |it| &it.id, Section::Readings, Part::Reading),
            (at, Part::Departure(it)) => {
                put(&mut sheet.departures, at, *it, |it| &it.id, Section::Departures, Part::Departure)
            }
            (at, Part::Combination(it)) => {
                put(&mut sheet.combinations, at, *it, |it| &it.id, Section::Combinations, Part::Combination)
            }
        }
    }

    /// Whether two changes are to the same part and neither begins or ends a row of it, so that typing on in one
    /// field is one step to undo.
    #[must_use]
    pub fn same_part(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Put(Part::Head(a)), Self::Put(Part::Head(b))) => a.without == b.without,
            (Self::Put(a), Self::Put(b)) => a.section() == b.section() && a.id() == b.id() && a.rows() == b.rows(),
            _ => false,
        }
    }
}

/// Puts an entry in at a place, or in the place of the one with its id, or at the end; gives the undoing change.
fn put<T>(
    list: &mut Vec<T>,
    at: Option<usize>,
    entry: T,
    id: fn(&T) -> &str,
    section: Section,
    part: fn(Box<T>) -> Part,
) -> SheetEdit {
    if at.is_none()
        && let Some(known) = list.iter_mut().find(|known| id(known) == id(&entry))
    {
        return SheetEdit::Put(part(Box::new(core::mem::replace(known, entry))));
    }
    let place = at.unwrap_or(list.len()).min(list.len());
    list.insert(place, entry);
    SheetEdit::Take(section, place)
}

fn removed<T>(list: &mut Vec<T>, place: usize) -> Option<Box<T>> {
    (place < list.len()).then(|| Box::new(list.remove(place)))
}

/// Every id of a sheet's entries and signs.
#[must_use]
pub fn ids(sheet: &TypeSheet) -> BTreeSet<&str> {
    let entries = Section::ALL.into_iter().flat_map(|section| section.ids(sheet));
    let signs = sheet.checks.iter().flat_map(|check| check.signs.iter().map(|sign| sign.id.as_str()));
    entries.chain(signs).collect()
}

/// An id for something new, made of its name: lower-case words joined by hyphens after the id of the sheet, so
/// that two clubs' entries never meet, and numbered if that id is taken.
///
/// ```
/// use kerbworth_core::sheet::edit::fresh_id;
/// let free = |_: &str| false;
/// assert_eq!(fresh_id("curlew", "Front outriggers, nearside", free), "curlew-front-outriggers-nearside");
/// assert_eq!(fresh_id("curlew", "Curlew crunches", |id| id == "curlew-crunches"), "curlew-crunches-2");
/// ```
#[must_use]
pub fn fresh_id(prefix: &str, name: &str, taken: impl Fn(&str) -> bool) -> String {
    let name = hyphened(name);
    let whole = match prefix {
        "" => name,
        _ if name == prefix || name.starts_with(&format!("{prefix}-")) => name,
        _ if name.is_empty() => prefix.to_owned(),
        _ => format!("{prefix}-{name}"),
    };
    let whole = if whole.is_empty() { "new".to_owned() } else { shortened(&whole) };
    if !taken(&whole) {
        return whole;
    }
    // One of these is free: nobody holds more ids than numbers.
    let mut numbered = (2_u32..).map(|number| format!("{whole}-{number}"));
    numbered.find(|id| !taken(id)).unwrap_or(whole)
}

/// Lower-case words joined by hyphens. Letters with a mark lose it where that is usual.
fn hyphened(name: &str) -> String {
    let mut id = String::with_capacity(name.len());
    for letter in name.chars().flat_map(char::to_lowercase) {
        match letter {
            'a'..='z' | '0'..='9' => id.push(letter),
            'à' | 'á' | 'â' | 'ã' | 'å' => id.push('a'),
            'ä' | 'æ' => id.push_str("ae"),
            'è' | 'é' | 'ê' | 'ë' => id.push('e'),
            'ì' | 'í' | 'î' | 'ï' => id.push('i'),
            'ò' | 'ó' | 'ô' | 'õ' | 'ø' => id.push('o'),
            'ö' | 'œ' => id.push_str("oe"),
            'ù' | 'ú' | 'û' => id.push('u'),
            'ü' => id.push_str("ue"),
            'ç' => id.push('c'),
            'ñ' => id.push('n'),
            'ß' => id.push_str("ss"),
            // An apostrophe stands inside a word.
            '\'' | '’' => {}
            _ if id.is_empty() || id.ends_with('-') => {}
            _ => id.push('-'),
        }
    }
    id.trim_end_matches('-').to_owned()
}

/// The id cut at a word so that it can be read.
fn shortened(id: &str) -> String {
    match id.get(..LONGEST_ID) {
        Some(head) if head.len() < id.len() => head.rsplit_once('-').map_or(head, |(words, _)| words).to_owned(),
        _ => id.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::part::Head;
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn id(name: &str, want: &str) {
        assert_eq!(fresh_id("club", name, |_| false), want, "{name:?}");
    }

    #[test]
    fn ids_are_made_of_names() {
        id("Sills", "club-sills");
        id("  Sills -- from below!", "club-sills-from-below");
        id("Owner's Süd-Façade № 5", "club-owners-sued-facade-5");
        id("Club sills", "club-sills");
        id("Clubbed sills", "club-clubbed-sills");
        id("検査", "club");
        id("", "club");
        id(&"very long ".repeat(20), "club-very-long-very-long-very-long-very-long-very-long-very");
        assert_eq!(fresh_id("", "", |_| false), "new");
        assert_eq!(fresh_id("club", "Sills", |id| ["club-sills", "club-sills-2"].contains(&id)), "club-sills-3");
    }

    #[test]
    fn a_new_entry_is_found_under_its_section_and_id() {
        for section in Section::ALL {
            let mut sheet = TypeSheet::default();
            let part = Part::new(section, "club-new".into(), "New".into());
            assert_eq!((part.section(), part.id()), (Some(section), "club-new"));
            SheetEdit::Put(part.clone()).apply(&mut sheet);
            assert_eq!(Part::of(&sheet, section, "club-new"), Some(part));
            assert!(ids(&sheet).contains("club-new"));
            SheetEdit::take(&sheet, section, "club-new").apply(&mut sheet);
            assert_eq!(sheet, TypeSheet::default());
        }
    }

    #[test]
    fn putting_replaces_where_the_entry_stands() {
        let part = |id: &str, name: &str| Part::new(Section::Jobs, id.into(), name.into());
        let mut sheet = TypeSheet::default();
        for id in ["a", "b", "c"] {
            SheetEdit::Put(part(id, "old")).apply(&mut sheet);
        }
        SheetEdit::Put(part("b", "new")).apply(&mut sheet);
        let names: Vec<&str> = sheet.jobs.iter().map(|job| job.name.as_str()).collect();
        assert_eq!(names, ["old", "new", "old"]);
    }

    #[test]
    fn typing_on_is_one_step_and_a_row_is_another() {
        let check = |name: &str| Part::new(Section::Checks, "a".into(), name.into());
        let mut with_sign = check("Sills");
        with_sign.add_row("odd".into(), "Odd".into());
        let put = SheetEdit::Put;
        assert!(put(check("Sil")).same_part(&put(check("Sill"))));
        assert!(!put(check("Sills")).same_part(&put(with_sign)));
        assert!(!put(check("Sills")).same_part(&put(Part::new(Section::Jobs, "a".into(), "Sills".into()))));
        let head = |without: &[&str]| {
            let without = without.iter().map(ToString::to_string).collect();
            put(Part::Head(Box::new(Head { without, ..Head::default() })))
        };
        assert!(head(&[]).same_part(&head(&[])));
        assert!(!head(&[]).same_part(&head(&["a"])));
    }

    fn edit() -> impl Strategy<Value = SheetEdit> {
        let id = prop_oneof![Just("a".to_owned()), Just("b".to_owned()), Just("c".to_owned())];
        let section = prop::sample::select(Section::ALL.to_vec());
        let entry = (section.clone(), id, "[a-z]{0,3}").prop_map(|(section, id, name)| Part::new(section, id, name));
        let head = ("[a-z]{0,3}", prop::collection::vec("[ab]", 0..3))
            .prop_map(|(name, without)| Part::Head(Box::new(Head { name, without, ..Head::default() })));
        let part = prop_oneof![6 => entry, 1 => head];
        let leaf = prop_oneof![
            part.clone().prop_map(SheetEdit::Put),
            (0..4_usize, part).prop_map(|(place, part)| SheetEdit::Insert(place, part)),
            (section, 0..4_usize).prop_map(|(section, place)| SheetEdit::Take(section, place)),
        ];
        leaf.prop_recursive(1, 8, 4, |inner| prop::collection::vec(inner, 0..4).prop_map(SheetEdit::Several))
    }

    proptest! {
        #[test]
        fn undo_gives_back_what_was(edits in prop::collection::vec(edit(), 0..16)) {
            let mut sheet = TypeSheet::default();
            let mut before = Vec::new();
            for edit in edits {
                before.push((sheet.clone(), edit.clone().apply(&mut sheet), edit));
            }
            while let Some((was, undo, edit)) = before.pop() {
                let now = sheet.clone();
                let redo = undo.apply(&mut sheet);
                prop_assert_eq!(&sheet, &was);
                let mut again = sheet.clone();
                redo.apply(&mut again);
                prop_assert_eq!(again, now, "redo of {:?}", edit);
            }
        }

        #[test]
        fn an_id_is_plain_and_free(prefix in "[a-z]{1,8}", name in "\\PC{0,90}", held in 0..4_usize) {
            let taken: Vec<String> = (0..held).fold(Vec::new(), |mut taken, _| {
                let id = fresh_id(&prefix, &name, |id| taken.iter().any(|held| held == id));
                taken.push(id);
                taken
            });
            let id = fresh_id(&prefix, &name, |id| taken.iter().any(|held| held == id));
            prop_assert!(!taken.contains(&id));
            prop_assert!(id.starts_with(&prefix));
            prop_assert!(id.chars().all(|sign| sign.is_ascii_lowercase() || sign.is_ascii_digit() || sign == '-'), "{}", id);
        }
    }
}
