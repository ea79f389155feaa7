//! Which jobs are needed: a job is needed if any of the faults that it cures is there.
//!
//! Exact, and across components too. What is worked with is the opposite, that none of a group's faults is
//! there: over independent faults and components it is a product, and within a component it is one clamped
//! pass (two pairs of probabilities do where the groups are single faults, as most are).

use super::component::Weight;
use super::exact::{Inference, Place, Solved};
use super::sweep::Sweep;

/// For groups of faults: how likely each is needed, and each two together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Needs {
    /// Probability that any of the group's faults is there; 0 for a group without faults.
    pub probability: Vec<f64>,
    /// Pairs of groups that share a fault or a component, lower number first, in rising order, each with the
    /// probability that both are needed. All other pairs are independent: of a whole car's jobs nearly all.
    pub dependent: Vec<((usize, usize), f64)>,
}

impl Needs {
    /// The probability that two groups are both needed; of a group with itself, that it is.
    #[must_use]
    pub fn both(&self, a: usize, b: usize) -> f64 {
        let alone = |group: usize| self.probability.get(group).copied().unwrap_or(0.0);
        if a == b {
            return alone(a);
        }
        let place = self.dependent.binary_search_by(|(pair, _)| pair.cmp(&(a.min(b), a.max(b))));
        match place.ok().and_then(|place| self.dependent.get(place)) {
            Some((_, both)) => *both,
            None => alone(a) * alone(b),
        }
    }
}

/// Faults that are independent of all other units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Unit {
    /// A component, by number.
    Part(usize),
    /// A fault that is alone, by index.
    Alone(usize),
}

impl Unit {
    /// Its number, the components coming first.
    fn number(self, parts: usize) -> usize {
        match self {
            Self::Part(part) => part,
            Self::Alone(fault) => parts + fault,
        }
    }
}

/// The faults of a group within one unit.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub unit: Unit,
    /// Places within the component, rising; none for a fault alone.
    pub members: Vec<usize>,
    /// Probability that none of them is there.
    pub none: f64,
    /// With none of them there; only where several are in one component.
    given: Option<Sweep>,
}

/// A group of faults laid out over the units.
#[derive(Debug, Clone)]
pub(super) struct Laid {
    /// One of its faults is confirmed.
    pub certain: bool,
    /// In the order of their units.
    pub pieces: Vec<Piece>,
}

impl Laid {
    pub fn new(inference: &Inference<'_>, group: &[usize]) -> Self {
        let mut certain = false;
        let mut places: Vec<(Unit, usize)> = Vec::with_capacity(group.len());
        for &fault in group {
            let place = match inference.places.get(fault) {
                Some(Place::Alone(_)) => (Unit::Alone(fault), 0),
                Some(&Place::In { part, at }) => (Unit::Part(part), at),
                fixed => {
                    certain |= matches!(fixed, Some(Place::Fixed(true)));
                    continue;
                }
            };
            if let Err(before) = places.binary_search(&place) {
                places.insert(before, place);
            }
        }
        let piece = |places: &[(Unit, usize)]| {
            let &(unit, _) = places.first()?;
            Some(Piece::new(inference, unit, places))
        };
        let pieces = places.chunk_by(|(a, _), (b, _)| a == b).filter_map(piece).collect();
        Self { certain, pieces }
    }

    /// Probability that none of its faults is there.
    pub fn none(&self) -> f64 {
        if self.certain { 0.0 } else { self.pieces.iter().map(|piece| piece.none).product() }
    }
}

impl Piece {
    fn new(inference: &Inference<'_>, unit: Unit, places: &[(Unit, usize)]) -> Self {
        let (members, none, given) = match unit {
            Unit::Alone(fault) => (Vec::new(), 1.0 - inference.posterior().probability(fault), None),
            Unit::Part(number) => {
                let members: Vec<usize> = places.iter().map(|&(_, member)| member).collect();
                let (none, given) = match (inference.parts.get(number), members.as_slice()) {
                    (None, _) => (1.0, None),
                    (Some(solved), &[only]) => (1.0 - solved.pairs.get(only, only), None),
                    (Some(solved), several) => {
                        let sweep = solved.engine.sweep(&without(&solved.part.weights, several));
                        (sweep.total, Some(sweep))
                    }
                };
                (members, none, given)
            }
        };
        Self { unit, members, none: none.clamp(0.0, 1.0), given }
    }

    /// Probability that none of its faults is there, but that one other fault of the component is.
    pub fn none_but(&self, solved: &Solved, fault: usize) -> f64 {
        match (&self.given, self.members.as_slice()) {
            (Some(given), _) => given.with(fault),
            (None, &[only]) => solved.pairs.get(fault, fault) - solved.pairs.get(only, fault),
            (None, _) => 0.0,
        }
    }

    /// Probability that none of two pieces' faults is there.
    fn none_of_both(&self, inference: &Inference<'_>, other: &Self) -> f64 {
        let Unit::Part(number) = self.unit else { return self.none };
        let Some(solved) = inference.parts.get(number) else { return 1.0 };
        let none = match (self.members.as_slice(), other.members.as_slice()) {
            (_, &[fault]) => self.none - self.none_but(solved, fault),
            (&[fault], _) => other.none - other.none_but(solved, fault),
            (ours, theirs) => {
                let weights = without(&solved.part.weights, ours);
                solved.engine.total(&without(&weights, theirs))
            }
        };
        none.clamp(0.0, self.none.min(other.none))
    }
}

/// The weights with some faults not there.
pub(super) fn without(weights: &[Weight], absent: &[usize]) -> Vec<Weight> {
    let mut weights = weights.to_vec();
    for &place in absent {
        if let Some(weight) = weights.get_mut(place) {
            *weight = weight.only_absent();
        }
    }
    weights
}

/// For each unit the pieces in it: the group's number, rising, and the piece's place in the group.
#[derive(Debug, Clone)]
pub(super) struct PiecesOf {
    /// How many components there are; they come first, then the faults.
    parts: usize,
    /// Where each unit's pieces begin, and at the end where the last one's end.
    starts: Vec<usize>,
    pieces: Vec<(usize, usize)>,
}

impl PiecesOf {
    fn new(inference: &Inference<'_>, laid: &[Laid]) -> Self {
        let parts = inference.parts.len();
        let all = || {
            let uncertain = laid.iter().enumerate().filter(|(_, group)| !group.certain);
            uncertain.flat_map(|(group, laid)| {
                laid.pieces.iter().enumerate().map(move |(place, piece)| (group, place, piece))
            })
        };
        // First how many each unit has, kept one further on; then where each begins; then each goes to its place.
        let mut starts = vec![0_usize; parts + inference.places.len() + 1];
        for (.., piece) in all() {
            starts.iter_mut().skip(piece.unit.number(parts) + 1).take(1).for_each(|count| *count += 1);
        }
        let mut before = 0;
        for start in &mut starts {
            before += *start;
            *start = before;
        }
        let mut next = starts.clone();
        let mut pieces = vec![(0, 0); before];
        for (group, place, piece) in all() {
            let Some(next) = next.get_mut(piece.unit.number(parts)) else { continue };
            if let Some(slot) = pieces.get_mut(*next) {
                *slot = (group, place);
            }
            *next += 1;
        }
        Self { parts, starts, pieces }
    }

    /// The pieces in a unit.
    pub fn of(&self, unit: Unit) -> &[(usize, usize)] {
        let number = unit.number(self.parts);
        let (start, end) = (self.starts.get(number), self.starts.get(number + 1));
        start.zip(end).and_then(|(&start, &end)| self.pieces.get(start..end)).unwrap_or(&[])
    }
}

/// The groups, and which of them have a piece in each unit.
pub(super) fn lay(inference: &Inference<'_>, groups: &[Vec<usize>]) -> (Vec<Laid>, PiecesOf) {
    let laid: Vec<Laid> = groups.iter().map(|group| Laid::new(inference, group)).collect();
    let in_unit = PiecesOf::new(inference, &laid);
    (laid, in_unit)
}

/// How likely each group of faults has one that is there, and each two groups together. Groups may overlap and
/// may span components; a fault that does not exist is passed over.
///
/// ```
/// use kerbworth_core::reason::{exact::Inference, need::needs, network::{Evidence, Network}};
/// let network = Network::new(vec![0.1, 0.2, 0.5], vec![]);
/// let nothing = Evidence::none(&network);
/// let needs = needs(&Inference::new(&network, &nothing), &[vec![0, 1], vec![1, 2]]);
/// assert!((needs.probability[0] - 0.28).abs() < 1e-12);
/// // Fault 1 calls for both; or else fault 0 with fault 2.
/// assert!((needs.both(0, 1) - (0.2 + 0.8 * 0.1 * 0.5)).abs() < 1e-12);
/// ```
#[must_use]
pub fn needs(inference: &Inference<'_>, groups: &[Vec<usize>]) -> Needs {
    let (laid, in_unit) = lay(inference, groups);
    let none: Vec<f64> = laid.iter().map(Laid::none).collect();
    let probability: Vec<f64> = none.iter().map(|none| 1.0 - none).collect();
    let of = |list: &[f64], group: usize| list.get(group).copied().unwrap_or(0.0);
    let both = |(a, b): (usize, usize)| {
        let (one, other) = (laid.get(a)?, laid.get(b)?);
        // P(a and b) = 1 − P(none of a) − P(none of b) + P(none of either).
        let needed = of(&probability, a) - of(&none, b) + none_of_either(inference, one, other);
        Some(((a, b), needed.clamp(0.0, of(&probability, a).min(of(&probability, b)))))
    };
    let mut dependent = Vec::new();
    // Two groups may meet in several units, and are one pair all the same.
    let mut meets = vec![false; laid.len()];
    for (a, group) in laid.iter().enumerate().filter(|(_, group)| !group.certain) {
        for &(b, _) in group.pieces.iter().flat_map(|piece| in_unit.of(piece.unit)) {
            if let Some(meets) = meets.get_mut(b) {
                *meets = true;
            }
        }
        for (b, meets) in meets.iter_mut().enumerate() {
            if core::mem::take(meets) && b > a {
                dependent.extend(both((a, b)));
            }
        }
    }
    Needs { probability, dependent }
}

fn none_of_either(inference: &Inference<'_>, one: &Laid, other: &Laid) -> f64 {
    let mut product = 1.0;
    let mut theirs = other.pieces.iter().peekable();
    for piece in &one.pieces {
        while let Some(next) = theirs.next_if(|next| next.unit < piece.unit) {
            product *= next.none;
        }
        product *= match theirs.next_if(|next| next.unit == piece.unit) {
            Some(shared) => piece.none_of_both(inference, shared),
            None => piece.none,
        };
    }
    theirs.fold(product, |product, piece| product * piece.none)
}

#[cfg(test)]
mod tests {
    use super::super::brute::{Brute, cases, near};
    use super::super::network::{Evidence, Network};
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn needs_equal_enumeration(
            (network, evidence) in cases(10, 0..=8),
            groups in prop::collection::vec(prop::collection::vec(0_usize..10, 0..5), 1..7),
        ) {
            let brute = Brute::new(&network, &evidence);
            let needs = needs(&Inference::new(&network, &evidence), &groups);
            let any = |state: usize, group: &[usize]| group.iter().any(|&fault| state >> fault & 1 == 1);
            for (a, one) in groups.iter().enumerate() {
                near(needs.probability[a], brute.given(|state| any(state, one)), "needed");
                for (b, other) in groups.iter().enumerate() {
                    let want = brute.given(|state| any(state, one) && any(state, other));
                    near(needs.both(a, b), want, "both needed");
                }
            }
        }
    }

    #[test]
    fn a_confirmed_fault_makes_its_job_certain() {
        let network = Network::new(vec![0.1, 0.2], Vec::new());
        let evidence = Evidence { signs: Vec::new(), faults: vec![Some(true), None] };
        let needs = needs(&Inference::new(&network, &evidence), &[vec![0, 1], vec![1], vec![]]);
        assert_eq!(needs.probability[0], 1.0);
        near(needs.both(0, 1), 0.2, "certain and likely");
        assert_eq!(needs.probability[2], 0.0);
    }
}
