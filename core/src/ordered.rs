//! Sorted lists and maps, at little cost to the program's size.
//!
//! The standard library's sort is compiled anew for every type and comparison, five kilobytes each, and gathering pairs
//! into a map sorts them first. The lists here are short; one sort of places does for all of them.

use core::cmp::Ordering;
use std::collections::BTreeMap;

/// Sorts a list. Equal elements keep their order. The comparison must be a total order, as for the standard sort.
pub(crate) fn sort<T>(list: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let by_place = |a: usize, b: usize| match (list.get(a), list.get(b)) {
        (Some(a), Some(b)) => compare(a, b),
        _ => Ordering::Equal,
    };
    for (a, b) in swaps(list.len(), &by_place) {
        list.swap(a, b);
    }
}

/// A map of pairs; of two with the same key the later.
pub(crate) fn map<K: Ord, V>(pairs: impl Iterator<Item = (K, V)>) -> BTreeMap<K, V> {
    let mut map = BTreeMap::new();
    pairs.for_each(|(key, value)| {
        map.insert(key, value);
    });
    map
}

/// The swaps, one after the other, that sort a list of this length.
fn swaps(length: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<(usize, usize)> {
    let mut comes_from: Vec<usize> = (0..length).collect();
    comes_from.sort_by(|&a, &b| compare(a, b));
    let mut swaps = Vec::new();
    for start in 0..length {
        // Round the cycle of places that each take the next one's element; a place that has its own points to itself.
        let mut place = start;
        while let Some(slot) = comes_from.get_mut(place) {
            let next = core::mem::replace(slot, place);
            if next == start || next == place {
                break;
            }
            swaps.push((place, next));
            place = next;
        }
    }
    swaps
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn sorts_as_the_standard_library_does(list in prop::collection::vec((0..9_u8, any::<u16>()), 0..60)) {
            let mut ours = list.clone();
            sort(&mut ours, |a, b| b.0.cmp(&a.0));
            let mut theirs = list;
            theirs.sort_by_key(|&(key, _)| core::cmp::Reverse(key));
            prop_assert_eq!(ours, theirs);
        }

        #[test]
        fn maps_as_the_standard_library_does(pairs in prop::collection::vec((0..20_u8, any::<u16>()), 0..40)) {
            prop_assert_eq!(map(pairs.iter().copied()), pairs.iter().copied().collect());
        }
    }
}
