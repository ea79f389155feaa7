//! What to look at next: by how much each unmade check would be expected to narrow the deduction, per minute.
//!
//! The deduction D is the sum over the needs of `deduction` · (needed or not). Making a check splits what may be
//! into its outcomes (which of its signs show), and the variance of D falls, on average over the outcomes, by
//! Σ P(outcome) · (mean of D then − mean of D now)². For one sign that is
//! P(seen) · P(absent) · (mean if seen − mean if absent)²; for a check that surely tells one fault of probability p
//! and cost c it is c² · p · (1 − p), the variance version of the valuation method's next look.
//!
//! An absent sign only multiplies into the odds of its faults, so it changes no more than the components that
//! they are in, and each of those by one reweighted pass at most. Seen outcomes follow by inclusion and
//! exclusion over the absent ones. Up to [`TOGETHER`] signs of a check are taken together, exactly; of a check
//! with more, the [`TOGETHER`] that tell most alone. Looking at fewer signs never narrows more, so the value then
//! errs low, and [`Gain::whole`] says so.

use std::collections::BTreeSet;

use super::component::with_free_faults;
use super::exact::{Inference, Place};
use super::need::{Laid, Piece, PiecesOf, Unit, lay, without};
use crate::ordered;

/// So many signs of one check are taken together: 2⁴ outcomes.
pub const TOGETHER: usize = 4;

/// A check that takes less counts as so many minutes, so that no value per minute is without bound.
pub const LEAST_MINUTES: f64 = 0.25;

/// An outcome rarer than this is passed over: what it adds drowns in rounding.
const RARE: f64 = 1e-12;

/// Something that the market would take off the price if it is needed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Need {
    /// Faults any of which calls for it.
    pub faults: Vec<usize>,
    /// What is taken off: the market's share of the mean cost, in minor units.
    pub deduction: f64,
}

/// A check that could be made.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Look {
    /// Its signs; those already looked for are passed over.
    pub signs: Vec<usize>,
    /// Minutes it takes.
    pub minutes: f64,
}

/// What a check would tell about the deduction.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Gain {
    /// Expected fall of the deduction's variance, in squared minor units.
    pub variance: f64,
    /// The same a minute.
    pub per_minute: f64,
    /// Probability that nothing shows.
    pub chance_clear: f64,
    /// The expected deduction if nothing shows, in minor units.
    pub clear: f64,
    /// The expected deduction if something shows, in minor units.
    pub found: f64,
    /// Whether all signs were taken together; otherwise `variance` errs low.
    pub whole: bool,
}

impl Gain {
    /// How far the worth's centre would move between something and nothing showing, in minor units.
    #[must_use]
    pub fn swing(&self) -> f64 {
        self.found - self.clear
    }
}

/// What the absence of a sign, or of several, says: a constant and a factor for each free fault.
#[derive(Debug, Clone, PartialEq)]
struct Absence {
    constant: f64,
    /// Faults, rising, with their factors.
    kept: Vec<(usize, f64)>,
}

impl Absence {
    fn new(inference: &Inference<'_>, signs: &[usize]) -> Self {
        let mut absence = Self { constant: 1.0, kept: Vec::new() };
        for &sign in signs {
            let sign = with_free_faults(inference.network, inference.evidence, sign);
            absence.constant *= 1.0 - sign.none;
            sign.parents.iter().for_each(|&(fault, strength)| multiply_in(&mut absence.kept, fault, 1.0 - strength));
        }
        absence
    }
}

/// Puts a factor among others, which are sorted by what they are of; of the same thing they multiply.
fn multiply_in(factors: &mut Vec<(usize, f64)>, of: usize, factor: f64) {
    match factors.binary_search_by(|(known, _)| known.cmp(&of)) {
        Ok(place) => factors.iter_mut().skip(place).take(1).for_each(|(_, known)| *known *= factor),
        Err(place) => factors.insert(place, (of, factor)),
    }
}

/// A factor on a fault of a unit, by one of the absences.
#[derive(Debug, Clone, Copy)]
struct Tilt {
    unit: Unit,
    absence: usize,
    /// Place within the component; 0 for a fault alone.
    at: usize,
    kept: f64,
}

/// A unit that some of the absences touch.
struct Touched<'t> {
    unit: Unit,
    /// Bit k: the kth touches it.
    absences: usize,
    pieces: &'t [(usize, usize)],
    /// Where its answers begin, one for each subset of the absences that touch it. Each is the probability of those
    /// absences, as far as this unit has a say in it, then for each piece that none of its faults is there.
    answers: usize,
}

/// A set of absences as the number of one of the subsets of another set: of the absences in both, counted in the
/// order of the bits.
#[derive(Debug, Clone)]
struct Within(Vec<usize>);

impl Within {
    fn new() -> Self {
        let sets = 1_usize << TOGETHER;
        let number = |place: usize| {
            let (of, set) = (place / sets, place % sets);
            let shared = (0..TOGETHER).filter(|bit| of >> bit & 1 == 1).enumerate();
            shared.fold(0, |number, (to, from)| number | (set >> from & 1) << to)
        };
        Self((0..sets * sets).map(number).collect())
    }

    fn number(&self, of: usize, set: usize) -> usize {
        self.0.get((of << TOGETHER) + set).copied().unwrap_or(0)
    }
}

struct Field<'i, 'n> {
    inference: &'i Inference<'n>,
    laid: Vec<Laid>,
    in_unit: PiecesOf,
    within: Within,
    deductions: Vec<f64>,
    mean: f64,
}

/// What each check would tell, in the order of the checks.
///
/// ```
/// use kerbworth_core::reason::exact::Inference;
/// use kerbworth_core::reason::network::{Evidence, Network, SignNode};
/// use kerbworth_core::reason::next_look::{Look, Need, next_looks};
/// let network = Network::new(vec![0.25], vec![SignNode { leak: 0.0, parents: vec![(0, 1.0)] }]);
/// let nothing = Evidence::none(&network);
/// let needs = [Need { faults: vec![0], deduction: 2000.0 }];
/// let looks = [Look { signs: vec![0], minutes: 5.0 }];
/// let gain = &next_looks(&Inference::new(&network, &nothing), &needs, &looks)[0];
/// assert!((gain.variance - 2000.0_f64.powi(2) * 0.25 * 0.75).abs() < 1e-3);
/// assert!((gain.swing() - 2000.0).abs() < 1e-6);
/// ```
#[must_use]
pub fn next_looks(inference: &Inference<'_>, needs: &[Need], looks: &[Look]) -> Vec<Gain> {
    let groups: Vec<Vec<usize>> = needs.iter().map(|need| need.faults.clone()).collect();
    let (laid, in_unit) = lay(inference, &groups);
    let deductions: Vec<f64> = needs.iter().map(|need| need.deduction).collect();
    let mean = laid.iter().zip(&deductions).map(|(group, deduction)| deduction * (1.0 - group.none())).sum();
    let field = Field { inference, laid, in_unit, within: Within::new(), deductions, mean };
    looks.iter().map(|look| field.gain(look)).collect()
}

impl Field<'_, '_> {
    fn gain(&self, look: &Look) -> Gain {
        let signs: BTreeSet<usize> = look.signs.iter().copied().collect();
        let known = self.inference.network.signs().len();
        let signs: Vec<usize> =
            signs.into_iter().filter(|&sign| sign < known && self.inference.evidence.sign(sign).is_none()).collect();
        if signs.is_empty() {
            return Gain { chance_clear: 1.0, clear: self.mean, found: self.mean, whole: true, ..Gain::default() };
        }
        let absence = |sign: usize| Absence::new(self.inference, &[sign]);
        let whole = signs.len() <= TOGETHER;
        let taken = if whole { signs.clone() } else { self.telling_most(&signs) };
        let taken: Vec<Absence> = taken.into_iter().map(absence).collect();
        let (mut chance, mut shift) = self.absences(&taken);
        let all = |list: &[f64]| list.last().copied().unwrap_or(0.0);
        let (clear_chance, clear_shift) = if whole {
            (all(&chance), all(&shift))
        } else {
            let (chance, shift) = self.absences(&[Absence::new(self.inference, &signs)]);
            (all(&chance), all(&shift))
        };
        exclude(&mut chance);
        exclude(&mut shift);
        let variance = variance(&chance, &shift);
        let seen = 1.0 - clear_chance;
        Gain {
            variance,
            per_minute: variance / if look.minutes > LEAST_MINUTES { look.minutes } else { LEAST_MINUTES },
            chance_clear: clear_chance,
            clear: if clear_chance > RARE { self.mean + clear_shift / clear_chance } else { self.mean },
            found: if seen > RARE { self.mean - clear_shift / seen } else { self.mean },
            whole,
        }
    }

    fn telling_most(&self, signs: &[usize]) -> Vec<usize> {
        let alone = |&sign: &usize| {
            let (mut chance, mut shift) = self.absences(&[Absence::new(self.inference, &[sign])]);
            exclude(&mut chance);
            exclude(&mut shift);
            (variance(&chance, &shift), sign)
        };
        let mut ranked: Vec<(f64, usize)> = signs.iter().map(alone).collect();
        ordered::sort(&mut ranked, |a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        ranked.into_iter().take(TOGETHER).map(|(_, sign)| sign).collect()
    }

    /// For each subset of the absences (bit k: the kth): its probability, and that times how far it moves the
    /// expected deduction. The signs outside the subset are not looked for.
    fn absences(&self, absences: &[Absence]) -> (Vec<f64>, Vec<f64>) {
        let mut tilts = Vec::new();
        for (absence, said) in absences.iter().enumerate() {
            tilts.extend(said.kept.iter().filter_map(|&(fault, kept)| match self.inference.places.get(fault) {
                Some(Place::Alone(_)) => Some(Tilt { unit: Unit::Alone(fault), absence, at: 0, kept }),
                Some(&Place::In { part, at }) => Some(Tilt { unit: Unit::Part(part), absence, at, kept }),
                _ => None,
            }));
        }
        ordered::sort(&mut tilts, |a, b| a.unit.cmp(&b.unit));
        let mut answers = Vec::with_capacity(4 * tilts.len());
        let touched: Vec<Touched<'_>> =
            tilts.chunk_by(|a, b| a.unit == b.unit).filter_map(|tilts| self.touch(tilts, &mut answers)).collect();
        let answer = |unit: &Touched<'_>, absent: usize, place: usize| {
            let subset = self.within.number(unit.absences, absent);
            answers.get(unit.answers + subset * (unit.pieces.len() + 1) + place).copied().unwrap_or(1.0)
        };
        let mut chance = vec![1.0; 1 << absences.len()];
        for unit in &touched {
            for (absent, chance) in chance.iter_mut().enumerate() {
                *chance *= answer(unit, absent, 0);
            }
        }
        for (absent, chance) in chance.iter_mut().enumerate() {
            let taken = absences.iter().enumerate().filter(|(number, _)| absent >> number & 1 == 1);
            *chance *= taken.map(|(_, absence)| absence.constant).product::<f64>();
        }
        // The needs that are affected, each with its pieces in touched units.
        let mut places = Vec::new();
        for (number, unit) in touched.iter().enumerate() {
            places.extend(unit.pieces.iter().enumerate().map(|(place, &(group, _))| (group, number, place)));
        }
        ordered::sort(&mut places, Ord::cmp);
        let is_touched = |piece: &&Piece| touched.binary_search_by(|touched| touched.unit.cmp(&piece.unit)).is_ok();
        let mut shift = vec![0.0; chance.len()];
        let mut moved = Vec::with_capacity(chance.len());
        for pieces in places.chunk_by(|(a, ..), (b, ..)| a == b) {
            let group = pieces.first().map_or(0, |&(group, ..)| group);
            let (Some(laid), Some(deduction)) = (self.laid.get(group), self.deductions.get(group)) else { continue };
            let none = laid.none();
            let rest: f64 = laid.pieces.iter().filter(|piece| !is_touched(piece)).map(|piece| piece.none).product();
            let pieces = || pieces.iter().filter_map(|&(_, unit, place)| Some((touched.get(unit)?, place + 1)));
            // A need is moved by those absences only that touch its units: mostly by one, which leaves two cases.
            let touching = pieces().fold(0, |touching, (unit, _)| touching | unit.absences);
            moved.clear();
            moved.extend(subsets(touching).map(|absent| {
                let none_then = pieces().fold(rest, |product, (unit, place)| product * answer(unit, absent, place));
                deduction * (none - none_then)
            }));
            for (absent, shift) in shift.iter_mut().enumerate() {
                *shift += moved.get(self.within.number(touching, absent)).copied().unwrap_or(0.0);
            }
        }
        shift.iter_mut().zip(&chance).for_each(|(shift, chance)| *shift *= chance);
        (chance, shift)
    }

    /// Adds a unit's answers to every subset of the absences that touch it.
    fn touch(&self, tilts: &[Tilt], answers: &mut Vec<f64>) -> Option<Touched<'_>> {
        let unit = tilts.first()?.unit;
        let pieces = self.in_unit.of(unit);
        let absences = tilts.iter().fold(0_usize, |absences, tilt| absences | 1 << tilt.absence);
        let touched = Touched { unit, absences, pieces, answers: answers.len() };
        let mut kept = Vec::with_capacity(tilts.len());
        for subset in subsets(absences) {
            kept.clear();
            for tilt in tilts.iter().filter(|tilt| subset >> tilt.absence & 1 == 1) {
                multiply_in(&mut kept, tilt.at, tilt.kept);
            }
            self.answer(unit, pieces, &kept, answers);
        }
        Some(touched)
    }

    /// Adds a unit's answer with these factors on its faults.
    fn answer(&self, unit: Unit, pieces: &[(usize, usize)], kept: &[(usize, f64)], answers: &mut Vec<f64>) {
        let piece = |&(group, place): &(usize, usize)| self.laid.get(group).and_then(|group| group.pieces.get(place));
        let mut add = |chance: f64, none: &dyn Fn(&Piece) -> f64| {
            answers.push(chance);
            answers.extend(pieces.iter().map(|place| piece(place).map_or(1.0, none)));
        };
        let Some(&(at, factor)) = kept.first() else { return add(1.0, &|piece| piece.none) };
        let solved = match unit {
            Unit::Alone(fault) => {
                let there = self.inference.posterior().probability(fault);
                let chance = 1.0 - there * (1.0 - factor);
                return add(chance, &|_| (1.0 - there) / chance);
            }
            Unit::Part(number) => match self.inference.parts.get(number) {
                Some(solved) => solved,
                None => return add(1.0, &|_| 1.0),
            },
        };
        if kept.len() == 1 {
            // One fault's odds: the pairs already hold all that it can change.
            let chance = 1.0 - solved.pairs.get(at, at) * (1.0 - factor);
            return add(chance, &|piece| (piece.none - (1.0 - factor) * piece.none_but(solved, at)) / chance);
        }
        let mut weights = solved.part.weights.clone();
        for &(at, factor) in kept {
            if let Some(weight) = weights.get_mut(at) {
                weight.present *= factor;
            }
        }
        if pieces.is_empty() {
            return add(solved.engine.total(&weights), &|_| 1.0);
        }
        let sweep = solved.engine.sweep(&weights);
        add(sweep.total, &|piece| match piece.members.as_slice() {
            &[only] => (sweep.total - sweep.with(only)) / sweep.total,
            several => solved.engine.total(&without(&weights, several)) / sweep.total,
        });
    }
}

/// The subsets of a set of bits, rising, from none to all.
fn subsets(of: usize) -> impl Iterator<Item = usize> {
    core::iter::successors(Some(0_usize), move |&subset| (subset != of).then(|| (subset | !of).wrapping_add(1) & of))
}

/// From "these absent, the others not looked for" to "these absent, the others seen", in place.
fn exclude(of_subsets: &mut [f64]) {
    let mut step = 1;
    while step < of_subsets.len() {
        for block in of_subsets.chunks_exact_mut(2 * step) {
            let (without, with) = block.split_at_mut(step);
            for (without, with) in without.iter_mut().zip(with) {
                *without -= *with;
            }
        }
        step *= 2;
    }
}

/// Σ P(outcome) · (mean then − mean now)².
fn variance(chance: &[f64], shift: &[f64]) -> f64 {
    let outcomes = chance.iter().zip(shift).filter(|(chance, _)| **chance > RARE);
    outcomes.map(|(chance, shift)| shift * shift / chance).sum()
}
