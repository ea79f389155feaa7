//! 49 CFR part 570, vehicle in use inspection standards, subpart A (GVWR 10,000 lb or less), copy current to
//! October 2024: 570.7 steering; 570.55(c) (subpart B, also RCW 46.37.360) for the pedal.

use kerbworth_core::readings::outcome::{Circumstances, Verdict, read};
use kerbworth_core::readings::{Given, Rule, pedal, steering, toe};
use kerbworth_core::units::{Length, Unit};

use crate::{close, limit, reading, spec};

fn inches(amount: f64) -> Length {
    Length::of(amount, Unit::Inch)
}

#[test]
fn table_1_steering_lash_by_wheel_diameter() {
    // 570.7(a) table 1: "16 or less | 2", 18: 2 1/4, 20: 2 1/2, 22: 2 3/4.
    for (wheel, lash) in [(14.0, 2.0), (15.0, 2.0), (16.0, 2.0), (18.0, 2.25), (20.0, 2.5), (22.0, 2.75)] {
        let limit = steering::limit_570_7(inches(wheel)).expect("a wheel");
        close(limit.to(Unit::Inch), lash, 1e-12, &format!("wheel {wheel}"));
    }
    // TV-1.2: 17 in is not tabulated; an eighth of the diameter, which fits every row.
    close(steering::limit_570_7(inches(17.0)).expect("a wheel").to(Unit::Inch), 2.125, 1e-12, "wheel 17");
}

#[test]
fn lash_at_the_limit_passes_and_beyond_it_fails() {
    // TV-1.1: wheel 16 in, lash 2.0 in passes, 2.1 fails.
    let spec = spec(Rule::FreePlay, None, vec![limit("over-limit", None, Some(0.0))]);
    for (lash, verdict) in [(1.5, Verdict::Within), (2.0, Verdict::AtTheEdge), (2.1, Verdict::Above)] {
        let given = [("play", Given::Number(inches(lash).0)), ("wheel-diameter", Given::Number(inches(16.0).0))];
        let outcome = read(&spec, &reading(&given), &Circumstances::default());
        assert_eq!(outcome.judged.first().map(|judged| judged.verdict), Some(verdict), "{lash}");
        assert_eq!(outcome.signs().is_empty(), verdict != Verdict::Above, "{lash}");
        // Arc over radius.
        close(outcome.result("play-angle").expect("an angle"), lash / 8.0, 1e-12, "angle");
    }
}

#[test]
fn pedal_travel_used() {
    // TV-1.3, 570.55(c): (A − B) / A, not more than 80 %.
    for (pressed, used, passes) in [(0.045, 0.70, true), (0.030, 0.80, true), (0.029, 0.806_666_667, false)] {
        let share = pedal::travel_used(Length(0.150), Length(pressed)).expect("a pedal");
        close(share, used, 1e-8, "used");
        assert_eq!(Verdict::of(share, None, Some(0.8)) != Verdict::Above, passes, "{pressed}");
    }
}

#[test]
fn toe_up_to_one_and_a_half_times_the_makers_figure() {
    // TV-1.4, 570.7(d): specified 2 mm; 3.0 passes, 3.1 fails.
    for (measured, passes) in [(0.0030, true), (0.0031, false)] {
        let ratio = toe::against_specified(Length(measured), Length(0.002)).expect("a figure");
        assert_eq!(Verdict::of(ratio, None, Some(1.5)) != Verdict::Above, passes, "{measured}");
    }
}
