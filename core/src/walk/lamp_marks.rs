//! Marking lamps: what one tap does, and how far a situation is watched.

use crate::lamps::{Observed, Should, should};
use crate::sheet::LampTable;
use crate::sheet::lamps::Situation;

/// What a tap makes of a lamp: not watched, then what it should do, then the contrary, then not watched again.
///
/// ```
/// use kerbworth_core::lamps::Should;
/// use kerbworth_core::walk::lamp_marks::tapped;
/// assert_eq!(tapped(Should::StayDark, None), Some(false));
/// assert_eq!(tapped(Should::StayDark, Some(false)), Some(true));
/// assert_eq!(tapped(Should::StayDark, Some(true)), None);
/// ```
#[must_use]
pub const fn tapped(should: Should, lit: Option<bool>) -> Option<bool> {
    let first = !matches!(should, Should::StayDark);
    match lit {
        None => Some(first),
        Some(lit) if lit == first => Some(!first),
        Some(_) => None,
    }
}

/// Every lamp of a situation as it should be; lamps that may be either way are left to the eye.
pub fn as_it_should<'a>(table: &'a LampTable, situation: &'a Situation) -> impl Iterator<Item = (&'a str, bool)> {
    table.lamps.iter().filter_map(|lamp| match should(situation, &lamp.id) {
        Should::Light => Some((lamp.id.as_str(), true)),
        Should::StayDark => Some((lamp.id.as_str(), false)),
        Should::Either => None,
    })
}

/// Whether a lamp did the contrary of what it should.
#[must_use]
pub const fn differs(should: Should, lit: bool) -> bool {
    match should {
        Should::Light => !lit,
        Should::StayDark => lit,
        Should::Either => false,
    }
}

/// How far a situation is watched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Watched {
    /// Lamps that were watched, of those that should do one thing.
    pub watched: usize,
    /// Lamps that should do one thing.
    pub of: usize,
    /// Lamps that did the contrary.
    pub differ: usize,
}

/// How far a situation is watched.
#[must_use]
pub fn watched(table: &LampTable, situation: &Situation, seen: &Observed) -> Watched {
    let mut all = Watched::default();
    for (lamp, wanted) in as_it_should(table, situation) {
        all.of += 1;
        if let Some(lit) = seen.get(&situation.id).and_then(|lamps| lamps.get(lamp)) {
            all.watched += 1;
            all.differ += usize::from(*lit != wanted);
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lamps::{all_right, differences};
    use crate::sheet::general::general;

    #[test]
    fn three_taps_come_back_to_not_watched() {
        for should in [Should::Light, Should::StayDark, Should::Either] {
            let (first, second) = (tapped(should, None), tapped(should, tapped(should, None)));
            assert!(first.is_some() && second.is_some() && first != second, "{should:?}");
            assert_eq!(tapped(should, second), None, "{should:?}");
        }
    }

    #[test]
    fn every_situation_as_it_should_be_is_all_right() {
        let table = general().unwrap().lamps;
        let mut seen = Observed::new();
        for situation in &table.situations {
            assert_eq!(watched(&table, situation, &seen).watched, 0);
            let lamps = as_it_should(&table, situation).map(|(lamp, lit)| (lamp.to_owned(), lit)).collect();
            seen.insert(situation.id.clone(), lamps);
            let Watched { watched, of, differ } = watched(&table, situation, &seen);
            assert!(watched == of && differ == 0 && of > 0, "{}", situation.id);
        }
        assert!(all_right(&table, &seen));
    }

    #[test]
    fn counts_the_differences_that_the_table_finds() {
        let table = general().unwrap().lamps;
        let contrary = |situation: &Situation| {
            let lamps = as_it_should(&table, situation).map(|(lamp, lit)| (lamp.to_owned(), !lit)).collect();
            (situation.id.clone(), lamps)
        };
        let seen: Observed = table.situations.iter().map(contrary).collect();
        let counted: usize = table.situations.iter().map(|it| watched(&table, it, &seen).differ).sum();
        assert_eq!(counted, differences(&table, &seen).len());
    }
}
