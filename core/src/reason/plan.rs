//! A plan for the minutes one has: which unmade checks, in walking order.
//!
//! The checks are chosen by value a minute, the best first, each that still fits. If a single check that fits
//! is worth more than all those together, it is taken instead: so the plan is never worth less than half of the
//! best possible one. Values are those of each check made alone; two checks that tell the same fault together
//! tell less than their sum.
//!
//! Value is the variance that a check removes, and a floor for its weight, so that checks that no money hangs on
//! still come, after the others, heavier ones first. All floors together make [`FLOOR`] of all the variance.
//!
//! Safety checks are not put first: value decides. Those that the plan leaves out are named
//! ([`Plan::gate_left`]) so that the person can be offered them.

use crate::ordered;
use crate::sheet::Stage;

use super::next_look::LEAST_MINUTES;

/// Share of the whole value that goes by weight alone. Judgement: small against any check that money hangs on.
pub const FLOOR: f64 = 1e-3;

/// An unmade check.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unmade {
    /// Where one stands.
    pub stage: Stage,
    /// Its place among all checks of the sheet; within a stage one walks in this order.
    pub place: usize,
    /// Minutes it takes.
    pub minutes: f64,
    /// Variance that it would remove, as in [`Gain::variance`](super::next_look::Gain::variance).
    pub variance: f64,
    /// Its weight in the score.
    pub weight: f64,
    /// Whether the road test stays shut until it is made.
    pub before_driving: bool,
}

/// Checks to make, and what stays unseen.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plan {
    /// Places in the list of unmade checks, in walking order.
    pub checks: Vec<usize>,
    /// Minutes they take together.
    pub minutes: f64,
    /// Share of the unmade checks' weight that stays unseen, 0 to 1.
    pub unseen_weight: f64,
    /// Share of the unmade checks' variance (each alone) that stays, 0 to 1.
    pub unseen_variance: f64,
    /// Safety checks that the plan leaves out, in walking order.
    pub gate_left: Vec<usize>,
}

/// Plans for so many minutes.
///
/// ```
/// use kerbworth_core::reason::plan::{Unmade, plan};
/// use kerbworth_core::sheet::Stage;
/// let check = |stage, place, minutes, variance| Unmade {
///     stage, place, minutes, variance, weight: 5.0, before_driving: false,
/// };
/// let unmade = [
///     check(Stage::RoadTest, 0, 4.0, 900.0),
///     check(Stage::WalkRound, 1, 5.0, 800.0),
///     check(Stage::Papers, 2, 9.0, 100.0),
/// ];
/// let plan = plan(&unmade, 10.0);
/// assert_eq!(plan.checks, [1, 0], "the drive is worth more, the walk-round is walked first");
/// assert_eq!(plan.minutes, 9.0);
/// ```
#[must_use]
pub fn plan(unmade: &[Unmade], minutes: f64) -> Plan {
    let weight: f64 = unmade.iter().map(|check| sound(check.weight)).sum();
    let variance: f64 = unmade.iter().map(|check| sound(check.variance)).sum();
    // With no money anywhere weight alone decides.
    let floor = if variance > 0.0 { FLOOR * variance } else { 1.0 };
    let value =
        |check: &Unmade| sound(check.variance) + if weight > 0.0 { floor * sound(check.weight) / weight } else { 0.0 };
    let rate = |check: &Unmade| value(check) / check.minutes.max(LEAST_MINUTES);
    let mut ranked: Vec<(usize, &Unmade)> =
        unmade.iter().enumerate().filter(|(_, check)| sound(check.minutes) <= minutes).collect();
    ordered::sort(&mut ranked, |(a, one), (b, other)| rate(other).total_cmp(&rate(one)).then_with(|| a.cmp(b)));

    let mut taken: Vec<(usize, &Unmade)> = Vec::new();
    let mut used = 0.0;
    for &(place, check) in &ranked {
        if used + sound(check.minutes) <= minutes {
            used += sound(check.minutes);
            taken.push((place, check));
        }
    }
    let together: f64 = taken.iter().map(|(_, check)| value(check)).sum();
    let best = ranked.iter().max_by(|(a, one), (b, other)| value(one).total_cmp(&value(other)).then_with(|| b.cmp(a)));
    if let Some(&(place, check)) = best.filter(|(_, check)| value(check) > together) {
        taken = vec![(place, check)];
        used = sound(check.minutes);
    }

    let in_walking_order = |places: &mut Vec<(usize, &Unmade)>| {
        let key = |&(place, check): &(usize, &Unmade)| (check.stage, check.place, place);
        ordered::sort(places, |a, b| key(a).cmp(&key(b)));
    };
    in_walking_order(&mut taken);
    let mut gate_left: Vec<(usize, &Unmade)> = unmade
        .iter()
        .enumerate()
        .filter(|(place, check)| check.before_driving && !taken.iter().any(|(known, _)| known == place))
        .collect();
    in_walking_order(&mut gate_left);
    let seen = |of: fn(&Unmade) -> f64| taken.iter().map(|(_, check)| sound(of(check))).sum::<f64>();
    let left = |seen: f64, all: f64| if all > 0.0 { (1.0 - seen / all).clamp(0.0, 1.0) } else { 0.0 };
    Plan {
        unseen_weight: left(seen(|check| check.weight), weight),
        unseen_variance: left(seen(|check| check.variance), variance),
        checks: taken.into_iter().map(|(place, _)| place).collect(),
        minutes: used,
        gate_left: gate_left.into_iter().map(|(place, _)| place).collect(),
    }
}

/// What is negative or not a number counts as nothing.
fn sound(figure: f64) -> f64 {
    figure.max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn check(stage: Stage, minutes: f64, variance: f64, weight: f64) -> Unmade {
        Unmade { stage, place: 0, minutes, variance, weight, before_driving: false }
    }

    #[track_caller]
    fn plans(unmade: &[Unmade], minutes: f64, want: &[usize]) {
        assert_eq!(plan(unmade, minutes).checks, want);
    }

    #[test]
    fn value_a_minute_decides_and_the_rest_is_filled() {
        let unmade = [
            check(Stage::Papers, 6.0, 60.0, 1.0),
            check(Stage::Papers, 1.0, 30.0, 1.0),
            check(Stage::Papers, 3.0, 33.0, 1.0),
            check(Stage::Papers, 2.0, 2.0, 1.0),
        ];
        plans(&unmade, 10.0, &[0, 1, 2]);
        plans(&unmade, 6.0, &[1, 2, 3]);
        plans(&unmade, 1.5, &[1]);
        plans(&unmade, 0.5, &[]);
        plans(&[], 10.0, &[]);
    }

    #[test]
    fn one_large_check_beats_crumbs() {
        let unmade = [check(Stage::Papers, 1.0, 3.0, 1.0), check(Stage::Papers, 10.0, 25.0, 1.0)];
        plans(&unmade, 10.0, &[1]);
        plans(&unmade, 11.0, &[0, 1]);
    }

    #[test]
    fn without_money_weight_decides_and_comes_after_money() {
        let unmade = [
            check(Stage::Papers, 2.0, 0.0, 10.0),
            check(Stage::Papers, 2.0, 0.0, 3.0),
            check(Stage::Papers, 2.0, 5.0, 1.0),
        ];
        plans(&unmade, 2.0, &[2]);
        plans(&unmade, 4.0, &[0, 2]);
        plans(&[unmade[1], unmade[0]], 2.0, &[1]);
    }

    #[test]
    fn one_walks_forwards() {
        let unmade = [
            check(Stage::AfterDrive, 1.0, 9.0, 1.0),
            check(Stage::WalkRound, 1.0, 5.0, 1.0),
            Unmade { place: 9, ..check(Stage::RoadTest, 1.0, 8.0, 1.0) },
            Unmade { place: 2, ..check(Stage::RoadTest, 1.0, 1.0, 1.0) },
        ];
        plans(&unmade, 9.0, &[1, 3, 2, 0]);
    }

    #[test]
    fn it_says_what_stays_unseen_and_offers_the_safety_checks() {
        let unmade = [
            check(Stage::Papers, 2.0, 60.0, 1.0),
            Unmade { before_driving: true, ..check(Stage::Cabin, 2.0, 40.0, 3.0) },
            Unmade { before_driving: true, ..check(Stage::WalkRound, 2.0, 0.0, 4.0) },
        ];
        let plan = plan(&unmade, 2.0);
        assert_eq!((plan.checks, plan.gate_left), (vec![0], vec![2, 1]));
        assert!((plan.unseen_weight - 7.0 / 8.0).abs() < 1e-12 && (plan.unseen_variance - 0.4).abs() < 1e-12);
    }

    #[test]
    fn odd_figures_do_no_harm() {
        let odd = [
            check(Stage::Papers, f64::NAN, f64::NAN, f64::NAN),
            check(Stage::Papers, -3.0, -1.0, -1.0),
            check(Stage::Papers, f64::INFINITY, 1.0, 1.0),
        ];
        let plan = plan(&odd, 5.0);
        assert_eq!((plan.minutes, plan.unseen_weight, plan.unseen_variance), (0.0, 1.0, 1.0));
        assert!(super::plan(&odd, f64::NAN).checks.is_empty());
    }

    proptest! {
        #[test]
        fn never_less_than_half_of_the_best(
            given in prop::collection::vec((0.5_f64..15.0, 0.0_f64..100.0, 1_u8..10), 0..10),
            minutes in 0.0_f64..40.0,
        ) {
            let unmade: Vec<Unmade> = given
                .iter()
                .map(|&(minutes, variance, weight)| check(Stage::Cabin, minutes, variance, f64::from(weight)))
                .collect();
            let plan = plan(&unmade, minutes);
            prop_assert!(plan.minutes <= minutes);
            let sum = |set: &mut dyn Iterator<Item = usize>| {
                set.map(|place| unmade[place]).fold((0.0, 0.0), |(minutes, variance), check| {
                    (minutes + check.minutes, variance + check.variance)
                })
            };
            let all: f64 = unmade.iter().map(|check| check.variance).sum();
            let have = sum(&mut plan.checks.iter().copied()).1;
            for subset in 0..1_usize << unmade.len() {
                let (takes, gives) = sum(&mut (0..unmade.len()).filter(|place| subset >> place & 1 == 1));
                prop_assert!(takes > minutes || have >= 0.5 * gives - FLOOR * all);
            }
        }
    }
}
