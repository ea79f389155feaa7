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

use std::collections::{BTreeMap, BTreeSet};

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
    kept: BTreeMap<usize, f64>,
}

impl Absence {
    fn new(inference: &Inference<'_>, signs: &[usize]) -> Self {
        let mut absence = Self { constant: 1.0, kept: BTreeMap::new() };
        for &sign in signs {
            let sign = with_free_faults(inference.network, inference.evidence, sign);
            absence.constant *= 1.0 - sign.none;
            for (fault, strength) in sign.parents {
                *absence.kept.entry(fault).or_insert(1.0) *= 1.0 - strength;
            }
        }
        absence
    }
}

/// A unit under some absences: their probability, and that of none of each piece's faults being there.
#[derive(Debug, Clone)]
struct Answer {
    chance: f64,
    none: Vec<f64>,
}

/// A unit that some of the absences touch, with its answer for each subset of those.
struct Touched<'t> {
    absences: Vec<usize>,
    pieces: &'t [(usize, usize)],
    answers: Vec<Answer>,
}

impl Touched<'_> {
    fn answer(&self, absent: usize) -> Option<&Answer> {
        let own = self.absences.iter().enumerate();
        self.answers.get(own.fold(0, |subset, (bit, &absence)| subset | (absent >> absence & 1) << bit))
    }
}

/// A need in the units that are touched.
struct Affected {
    deduction: f64,
    none: f64,
    /// Of its pieces in units not touched.
    rest: f64,
    /// Touched unit, and the piece's place among those of the unit.
    pieces: Vec<(usize, usize)>,
}

struct Field<'i, 'n> {
    inference: &'i Inference<'n>,
    laid: Vec<Laid>,
    in_unit: PiecesOf,
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
    let field = Field { inference, laid, in_unit, deductions, mean };
    looks.iter().map(|look| field.gain(look)).collect()
}

/// The checks' places, most variance a minute first; of equals the earlier.
#[must_use]
pub fn ranked(gains: &[Gain]) -> Vec<usize> {
    let mut places: Vec<(f64, usize)> = gains.iter().map(|gain| gain.per_minute).zip(0..).collect();
    ordered::sort(&mut places, |a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
    places.into_iter().map(|(_, place)| place).collect()
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
        let mut by_unit: BTreeMap<Unit, Vec<(usize, usize, f64)>> = BTreeMap::new();
        for (number, absence) in absences.iter().enumerate() {
            for (&fault, &kept) in &absence.kept {
                match self.inference.places.get(fault) {
                    Some(Place::Alone(_)) => {
                        by_unit.entry(Unit::Alone(fault)).or_default().push((number, 0, kept));
                    }
                    Some(&Place::In { part, at }) => {
                        by_unit.entry(Unit::Part(part)).or_default().push((number, at, kept));
                    }
                    _ => {}
                }
            }
        }
        let touched: Vec<Touched<'_>> = by_unit.iter().map(|(&unit, tilts)| self.touch(unit, tilts)).collect();
        let affected = self.affected(&touched, by_unit.keys());
        let outcomes = 1_usize << absences.len();
        let mut chance = Vec::with_capacity(outcomes);
        let mut shift = Vec::with_capacity(outcomes);
        let mut answers = Vec::with_capacity(touched.len());
        for absent in 0..outcomes {
            answers.clear();
            answers.extend(touched.iter().map(|unit| unit.answer(absent)));
            let taken = absences.iter().enumerate().filter(|(number, _)| absent >> number & 1 == 1);
            let constant: f64 = taken.map(|(_, absence)| absence.constant).product();
            let likely = constant * answers.iter().flatten().map(|answer| answer.chance).product::<f64>();
            let moved: f64 = affected
                .iter()
                .map(|need| {
                    let none = need.pieces.iter().fold(need.rest, |product, &(unit, place)| {
                        let answer = answers.get(unit).copied().flatten();
                        product * answer.and_then(|answer| answer.none.get(place)).copied().unwrap_or(1.0)
                    });
                    need.deduction * (need.none - none)
                })
                .sum();
            chance.push(likely);
            shift.push(likely * moved);
        }
        (chance, shift)
    }

    /// A unit's answers to every subset of the absences that touch it.
    fn touch(&self, unit: Unit, tilts: &[(usize, usize, f64)]) -> Touched<'_> {
        let pieces = self.in_unit.get(&unit).map_or(&[][..], Vec::as_slice);
        let mut absences: Vec<usize> = tilts.iter().map(|&(number, _, _)| number).collect();
        absences.dedup();
        let answers = (0..1_usize << absences.len())
            .map(|subset| {
                let mut kept: BTreeMap<usize, f64> = BTreeMap::new();
                let inside = |number: usize| {
                    absences.iter().position(|&absence| absence == number).is_some_and(|bit| subset >> bit & 1 == 1)
                };
                for &(_, at, factor) in tilts.iter().filter(|&&(number, _, _)| inside(number)) {
                    *kept.entry(at).or_insert(1.0) *= factor;
                }
                self.answer(unit, pieces, &kept)
            })
            .collect();
        Touched { absences, pieces, answers }
    }

    fn answer(&self, unit: Unit, pieces: &[(usize, usize)], kept: &BTreeMap<usize, f64>) -> Answer {
        let piece = |&(group, place): &(usize, usize)| self.laid.get(group).and_then(|group| group.pieces.get(place));
        let mut tilts = kept.iter().map(|(&at, &kept)| (at, kept));
        let (Some((at, factor)), second) = (tilts.next(), tilts.next()) else {
            let none = pieces.iter().map(|place| piece(place).map_or(1.0, |piece| piece.none)).collect();
            return Answer { chance: 1.0, none };
        };
        let solved = match unit {
            Unit::Alone(fault) => {
                let there = self.inference.posterior().probability(fault);
                let chance = 1.0 - there * (1.0 - factor);
                return Answer { chance, none: vec![(1.0 - there) / chance; pieces.len()] };
            }
            Unit::Part(number) => match self.inference.parts.get(number) {
                Some(solved) => solved,
                None => return Answer { chance: 1.0, none: vec![1.0; pieces.len()] },
            },
        };
        if second.is_none() {
            // One fault's odds: the pairs already hold all that it can change.
            let chance = 1.0 - solved.pairs.get(at, at) * (1.0 - factor);
            let none = |piece: &Piece| (piece.none - (1.0 - factor) * piece.none_but(solved, at)) / chance;
            return Answer { chance, none: pieces.iter().map(|place| piece(place).map_or(1.0, none)).collect() };
        }
        let mut weights = solved.part.weights.clone();
        for (&at, factor) in kept {
            if let Some(weight) = weights.get_mut(at) {
                weight.present *= factor;
            }
        }
        if pieces.is_empty() {
            return Answer { chance: solved.engine.total(&weights), none: Vec::new() };
        }
        let sweep = solved.engine.sweep(&weights);
        let none = |piece: &Piece| match piece.members.as_slice() {
            &[only] => (sweep.total - sweep.with(only)) / sweep.total,
            several => solved.engine.total(&without(&weights, several)) / sweep.total,
        };
        Answer { chance: sweep.total, none: pieces.iter().map(|place| piece(place).map_or(1.0, none)).collect() }
    }

    /// The needs with a piece in a touched unit.
    fn affected<'u>(&self, touched: &[Touched<'_>], units: impl Iterator<Item = &'u Unit>) -> Vec<Affected> {
        let units: Vec<Unit> = units.copied().collect();
        let mut places: BTreeMap<usize, Vec<(usize, usize)>> = BTreeMap::new();
        for (number, unit) in touched.iter().enumerate() {
            for (place, &(group, _)) in unit.pieces.iter().enumerate() {
                places.entry(group).or_default().push((number, place));
            }
        }
        let affected = |(group, pieces): (usize, Vec<(usize, usize)>)| {
            let laid = self.laid.get(group)?;
            let rest = laid.pieces.iter().filter(|piece| units.binary_search(&piece.unit).is_err());
            let deduction = self.deductions.get(group).copied()?;
            Some(Affected { deduction, none: laid.none(), rest: rest.map(|piece| piece.none).product(), pieces })
        };
        places.into_iter().filter_map(affected).collect()
    }
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
