//! Three-point costs.
//!
//! Sources: the beta-PERT mean and shape, manual of the R package mc2d (`rpert`); its variance from memory, agreeing with the
//! beta distribution's; quantiles recomputed with SciPy. Classic PERT examples: schematex.js.org (TV-5.2, 5.3), calhub.xyz
//! (TV-5.1); core uses their mean and not their spread, because (h − l)/6 is only an approximation.

use kerbworth_core::repair::deduction::{Item, deduction};
use kerbworth_core::repair::three_point::ThreePoint;

#[track_caller]
fn near(found: f64, expected: f64, unit: f64) {
    assert!((found - expected).abs() <= 0.501 * unit, "found {found}, expected {expected}");
}

fn cost(low: f64, likely: f64, high: f64) -> ThreePoint {
    ThreePoint::new(low, likely, high).unwrap()
}

/// TV-5.1, 5.2, 5.6, 5.8.
#[test]
fn beta_pert_moments() {
    near(cost(4.0, 6.0, 12.0).mean(), 6.67, 0.01);
    assert_eq!(cost(4.0, 6.0, 12.0).shape(), Some((2.0, 4.0)));
    near(cost(4.0, 6.0, 12.0).variance(), 2.031_746, 1e-6);
    near(cost(4.0, 6.0, 12.0).sd(), 1.425_393, 1e-6);
    near(cost(5.0, 8.0, 14.0).mean(), 8.5, 1e-9);
    near(cost(5.0, 8.0, 14.0).variance(), 2.75, 1e-9);
    near(cost(300.0, 450.0, 900.0).mean(), 500.0, 1e-9);
    near(cost(300.0, 450.0, 900.0).variance(), 11_428.571_4, 1e-4);
    assert_eq!(cost(-1.0, 0.0, 1.0).shape(), Some((3.0, 3.0)));
    near(cost(-1.0, 0.0, 1.0).variance(), 1.0 / 7.0, 1e-12);
}

/// TV-5.6.
#[test]
fn beta_pert_quantiles() {
    for (below, expected) in [(0.1, 367.341), (0.5, 488.286), (0.9, 650.334)] {
        near(cost(300.0, 450.0, 900.0).quantile(below), expected, 0.001);
    }
}

/// TV-5.3: means add. (The source's spreads are classic PERT's and are not compared.)
#[test]
fn means_of_tasks_add() {
    let tasks = [(2.0, 3.0, 5.0), (5.0, 8.0, 14.0), (3.0, 4.0, 6.0), (1.0, 2.0, 3.0)];
    let items = tasks.map(|(low, likely, high)| Item {
        probability: 1.0,
        base_rate: 0.0,
        share: 1.0,
        cost: cost(low, likely, high),
        group: None,
    });
    for (item, mean) in items.iter().zip([3.17, 8.5, 4.17, 2.0]) {
        near(item.cost.mean(), mean, 0.01);
    }
    near(deduction(&items).unwrap().mean, 17.83, 0.01);
}
