//! Firing frequency: half the cylinders fire each turn of a four-stroke (maker's text, myvehicle.help), all of them of a
//! two-stroke (frequencydetector.com).

use kerbworth_core::readings::idle::{Strokes, firing_frequency, firings_per_turn, from_frequency};
use kerbworth_core::readings::outcome::{Circumstances, read};
use kerbworth_core::readings::{Given, Rule};
use kerbworth_core::units::{Rotation, Unit};

use crate::{close, reading, spec};

#[test]
fn frequency_and_speed() {
    // TV-6.25, computed.
    for (rpm, cylinders, hertz) in [(800.0, 4, 26.667), (750.0, 6, 37.5), (600.0, 8, 40.0), (850.0, 2, 14.167)] {
        let speed = Rotation::of(rpm, Unit::RevolutionPerMinute);
        let found = firing_frequency(speed, cylinders, Strokes::Four).expect("an engine");
        close(found.0, hertz, 5e-4, &format!("{rpm} rpm, {cylinders}"));
        let back = from_frequency(Rotation(hertz), cylinders, Strokes::Four).expect("an engine");
        close(back.to(Unit::RevolutionPerMinute), rpm, 0.05, &format!("{hertz} Hz, {cylinders}"));
        let two = firing_frequency(speed, cylinders, Strokes::Two).expect("an engine");
        close(two.0, 2.0 * found.0, 1e-12, "two-stroke");
    }
}

#[test]
fn orders() {
    // V8 4th order, six 3rd, four 2nd.
    for (cylinders, order) in [(8, 4.0), (6, 3.0), (4, 2.0)] {
        close(firings_per_turn(cylinders, Strokes::Four).expect("an engine"), order, 0.0, &cylinders.to_string());
    }
}

#[test]
fn a_beat_counted_by_ear() {
    let given = [("frequency", Given::Number(37.5)), ("cylinders", Given::Number(6.0))];
    let outcome = read(&spec(Rule::Idle, None, Vec::new()), &reading(&given), &Circumstances::default());
    close(outcome.result("idle").expect("an idle") * 60.0, 750.0, 1e-9, "750 rpm");
}
