//! Camber from a plumb line and toe from a difference (formulas from memory, figures computed).

use kerbworth_core::readings::outcome::{Circumstances, read};
use kerbworth_core::readings::{Given, Rule, camber, toe};
use kerbworth_core::units::{Angle, Length, NumberStyle, Unit};

use crate::{close, reading, spec};

fn millimetres(amount: f64) -> Length {
    Length::of(amount, Unit::Millimetre)
}

fn minutes(angle: Angle) -> f64 {
    angle.to(Unit::Degree) * 60.0
}

#[test]
fn camber_by_two_gaps() {
    // TV-6.21: 5 mm over 380 is 0.7538° or 0° 45.2′; 10 over 400 is 1.4321° or 1° 25.9′. Leaning in is negative.
    for (offset, height, degrees, shown_minutes) in [(5.0, 380.0, 0.7538, 45.2), (10.0, 400.0, 1.4321, 85.9)] {
        let lean =
            |top, bottom| camber::from_gaps(millimetres(top), millimetres(bottom), millimetres(height)).expect("gaps");
        let out = lean(20.0, 20.0 + offset);
        close(out.to(Unit::Degree), degrees, 5e-5, "degrees");
        close(minutes(out), shown_minutes, 0.05, "minutes");
        close(lean(20.0 + offset, 20.0).0, -out.0, 1e-12, "leaning in");
    }
}

/// Both wheels want the height between the gaps.
#[test]
fn a_height_that_is_missing_is_asked_for_once() {
    let gaps = ["left-top", "left-bottom", "right-top", "right-bottom"].map(|gap| (gap, Given::Number(0.02)));
    let outcome = read(&spec(Rule::Camber, None, Vec::new()), &reading(&gaps), &Circumstances::default());
    assert_eq!(outcome.problems.iter().map(|problem| problem.input).collect::<Vec<_>>(), ["height"]);
}

#[test]
fn toe_by_difference() {
    // TV-6.22: 2 mm at 381 is 0.3008° or 18.05′; 1 mm at 254 is 13.53′, at 381 9.02′.
    let angle = |difference, at| toe::angle(millimetres(difference), millimetres(at)).expect("a toe");
    close(angle(2.0, 381.0).to(Unit::Degree), 0.3008, 5e-5, "2 at 381");
    for (difference, at, wanted) in [(2.0, 381.0, 18.05), (1.0, 254.0, 13.53), (1.0, 381.0, 9.02)] {
        close(minutes(angle(difference, at)), wanted, 5e-3, &format!("{difference} at {at}"));
    }
    // TV-6.23: a page's 10′ on a 10-inch wheel and 8′ on a 15-inch one were measured at 344 and 430 mm, outside the rim.
    close(minutes(angle(1.0, 344.0)), 10.0, 0.01, "344");
    close(minutes(angle(1.0, 430.0)), 8.0, 0.01, "430");
}

#[test]
fn minutes_carry() {
    // TV-6.24: 0.99992° prints as 1° 00′, never 0° 60′.
    assert_eq!(Unit::Degree.show(Unit::Degree.to_si(0.99992), NumberStyle::POINT), "1° 00′");
}
