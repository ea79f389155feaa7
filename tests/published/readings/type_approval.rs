//! Type-approval braking: UN R13-H and FMVSS 135, an upper yardstick; mean fully developed deceleration.

use kerbworth_core::readings::brake::{Approval, approval_distance, from_distance, fully_developed};
use kerbworth_core::units::{Length, Speed, Unit};

use crate::close;

fn kilometres_per_hour(amount: f64) -> Speed {
    Speed::of(amount, Unit::KilometrePerHour)
}

#[test]
fn r13h_distances() {
    // TV-1.15: 0.1 v + 0.0060 v² and 0.1 v + 0.0158 v²; FMVSS 135 S7.5 "within 70 meters from a speed of 100 kph"
    // (NHTSA interpretation 11409).
    let limit = |approval| approval_distance(kilometres_per_hour(100.0), approval).expect("a speed").0;
    close(limit(Approval::Service), 70.0, 1e-9, "service");
    close(limit(Approval::Secondary), 168.0, 1e-9, "secondary");
    // The square term alone is the deceleration that stands beside it: 6.43 (from memory) and 2.44 m/s².
    for (square, deceleration) in [(0.0060 * 1e4, 6.43), (0.0158 * 1e4, 2.442)] {
        let found = from_distance(kilometres_per_hour(100.0), Length(square)).expect("a stop");
        close(found.0, deceleration, 5e-4, "deceleration");
    }
}

#[test]
fn mean_fully_developed_deceleration() {
    // TV-1.16: 71/320/EEC annex II 1.1.2: (vb² − ve²) / 25.92 (se − sb).
    let found = fully_developed(kilometres_per_hour(100.0), Length(25.0), Length(60.0)).expect("a stop");
    close(found.0, (80.0 * 80.0 - 10.0 * 10.0) / (25.92 * 35.0), 1e-12, "formula");
    close(found.0, 6.9444, 5e-5, "TV-1.16");
}
