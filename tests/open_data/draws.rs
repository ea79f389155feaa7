//! The draws: a generator and a protocol that give the same cases in any language.

use kerbworth_core::market::fit::Comparable;
use kerbworth_tests::scatter::Scatter;

use crate::sets::{Row, Set};

/// Draws for each group, count and scenario.
pub const DRAWS: usize = 2000;

/// What is done to the comparables.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scenario {
    /// Nothing.
    Clean,
    /// One price is made wild: times or over 1.8.
    Wild,
    /// The first comparable's mileage is not known.
    Missing,
}

impl Scenario {
    pub fn named(name: &str) -> Self {
        match name {
            "clean" => Self::Clean,
            "contam" => Self::Wild,
            "missing" => Self::Missing,
            other => panic!("no scenario {other}"),
        }
    }
}

/// Draws of the protocol.
pub struct Draws(Scatter);

impl Draws {
    pub fn seeded(seed: u64) -> Self {
        Self(Scatter(seed))
    }

    /// A whole number below `end`.
    pub fn below(&mut self, end: usize) -> usize {
        let unit = (self.0.next() >> 11) as f64 * 2.0_f64.powi(-53);
        (unit * end as f64) as usize
    }

    /// The first `wanted` places of a fresh shuffle of 0 to `size` − 1.
    pub fn choose(&mut self, wanted: usize, size: usize) -> Vec<usize> {
        let mut places: Vec<usize> = (0..size).collect();
        for i in 0..wanted {
            let j = i + self.below(size - i);
            places.swap(i, j);
        }
        places.truncate(wanted);
        places
    }
}

/// One case: comparables as differences from the subject, and what the subject really fetched.
pub struct Case {
    pub comparables: Vec<Comparable>,
    pub log_price: f64,
}

/// Every case of a set for a count and a scenario, group after group.
pub fn cases(set: &Set, count: usize, scenario: Scenario) -> Vec<Case> {
    let of_group = |(index, rows): (usize, &Vec<Row>)| {
        let seed = set.number * 1_000_000 + index as u64 * 10_000 + count as u64;
        let (mut generator, mut wildness) = (Draws::seeded(seed), Draws::seeded(seed + 500));
        (0..DRAWS)
            .map(|_| {
                let places = generator.choose(count + 1, rows.len());
                let mut case = case(set, rows, &places, scenario);
                if scenario == Scenario::Wild {
                    let (which, up) = wild(&mut wildness, count);
                    let factor = if up { 1.8_f64 } else { 1.0 / 1.8 };
                    case.comparables[which].log_price += factor.ln();
                }
                case
            })
            .collect::<Vec<Case>>()
    };
    set.groups.iter().enumerate().flat_map(of_group).collect()
}

/// Which comparable goes wild, and whether upwards.
fn wild(generator: &mut Draws, count: usize) -> (usize, bool) {
    let which = generator.below(count);
    (which, generator.below(2) == 0)
}

fn case(set: &Set, rows: &[Row], places: &[usize], scenario: Scenario) -> Case {
    let subject = &rows[places[0]];
    let mut comparables: Vec<Comparable> = places[1..]
        .iter()
        .map(|place| Comparable {
            log_price: rows[*place].log_price,
            differences: rows[*place].covariates.iter().zip(&subject.covariates).map(|(c, own)| c - own).collect(),
            measurement_variance: 0.0,
        })
        .collect();
    if scenario == Scenario::Missing {
        let (mileage, age) = set.mileage_and_age.expect("a set with mileage and age");
        let imputed = 11.0 * rows[places[1]].covariates[age];
        comparables[0].differences[mileage] = imputed - subject.covariates[mileage];
        comparables[0].measurement_variance = set.rates[mileage].variance_of_doubt(8.0 + 0.3 * imputed);
    }
    Case { comparables, log_price: subject.log_price }
}

/// The vectors that the protocol states.
#[test]
fn generator_and_draws() {
    let mut generator = Draws::seeded(11_010_006);
    let first: Vec<u64> = (0..3).map(|_| generator.0.next()).collect();
    assert_eq!(first, [0x4a8f_673e_27c8_5815, 0x91cf_3a32_f3cb_b3d1, 0xbea2_9363_de11_32c2]);
    let mut generator = Draws::seeded(11_010_006);
    assert_eq!(generator.choose(7, 30), [8, 17, 22, 20, 6, 29, 9]);
    assert_eq!(generator.choose(7, 30), [11, 27, 9, 22, 28, 26, 17]);
    let mut flips = Draws::seeded(11_010_506);
    let first: Vec<(usize, bool)> = (0..4).map(|_| wild(&mut flips, 6)).collect();
    assert_eq!(first, [(2, false), (1, true), (3, true), (2, false)]);
}
