//! Student's t, upper critical values.
//!
//! Sources: 10 CFR Part 429, Subpart B, Appendix A (one-sided percentage points, 1 to 20 degrees of freedom); NIST/SEMATECH
//! e-Handbook of Statistical Methods, section 1.3.6.7.2, critical values of Student's t (the rest, from a copy credited to it).

use kerbworth_core::statistics::{normal, student};

const BELOW: [f64; 5] = [0.90, 0.95, 0.975, 0.99, 0.995];

const TABLE: [(f64, [f64; 5]); 15] = [
    (1.0, [3.078, 6.314, 12.706, 31.821, 63.657]),
    (2.0, [1.886, 2.920, 4.303, 6.965, 9.925]),
    (3.0, [1.638, 2.353, 3.182, 4.541, 5.841]),
    (4.0, [1.533, 2.132, 2.776, 3.747, 4.604]),
    (5.0, [1.476, 2.015, 2.571, 3.365, 4.032]),
    (6.0, [1.440, 1.943, 2.447, 3.143, 3.707]),
    (7.0, [1.415, 1.895, 2.365, 2.998, 3.499]),
    (8.0, [1.397, 1.860, 2.306, 2.896, 3.355]),
    (9.0, [1.383, 1.833, 2.262, 2.821, 3.250]),
    (10.0, [1.372, 1.812, 2.228, 2.764, 3.169]),
    (12.0, [1.356, 1.782, 2.179, 2.681, 3.055]),
    (15.0, [1.341, 1.753, 2.131, 2.602, 2.947]),
    (20.0, [1.325, 1.725, 2.086, 2.528, 2.845]),
    (30.0, [1.310, 1.697, 2.042, 2.457, 2.750]),
    (60.0, [1.296, 1.671, 2.000, 2.390, 2.660]),
];

const INFINITE: [f64; 5] = [1.282, 1.645, 1.960, 2.326, 2.576];

#[track_caller]
fn three_decimals(found: f64, printed: f64, case: &str) {
    assert!((found - printed).abs() <= 0.000_501, "{case}: found {found}, printed {printed}");
}

#[test]
fn every_cell() {
    for (degrees, row) in TABLE {
        for (below, printed) in BELOW.into_iter().zip(row) {
            three_decimals(student::quantile(below, degrees), printed, &format!("{degrees} degrees, {below}"));
        }
    }
    for (below, printed) in BELOW.into_iter().zip(INFINITE) {
        three_decimals(student::quantile(below, 1e12), printed, &format!("infinite degrees, {below}"));
        three_decimals(normal::upper_quantile(1.0 - below), printed, &format!("normal, {below}"));
    }
}

/// Points at fractional degrees of freedom, from the description of the valuation method, section 3.
#[test]
fn fractional_degrees() {
    for (degrees, at_90, at_75) in [
        (2.5, 1.73025, 0.785014),
        (3.3263, 1.59532, 0.755272),
        (4.0, 1.53321, 0.740697),
        (6.86013, 1.41792, 0.711922),
        (12.25, 1.35461, 0.695044),
    ] {
        assert!((student::quantile(0.9, degrees) - at_90).abs() <= 5.01e-6, "{degrees}");
        assert!((student::quantile(0.75, degrees) - at_75).abs() <= 5.01e-7, "{degrees}");
    }
}
