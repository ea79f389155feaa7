//! The speedometer: UN R39 5.3 (quoted), and the encyclopedia's formula for other tyres.

use kerbworth_core::readings::outcome::{Circumstances, Verdict, read};
use kerbworth_core::readings::speedometer::{allowance, judge, shown_over_true};
use kerbworth_core::readings::tyre::designation::Designation;
use kerbworth_core::readings::tyre::size::size;
use kerbworth_core::readings::{Given, Rule};
use kerbworth_core::units::{Length, Speed, Unit};

use crate::{close, limit, reading, spec};

fn kilometres_per_hour(amount: f64) -> Speed {
    Speed::of(amount, Unit::KilometrePerHour)
}

#[test]
fn r39_allowance() {
    // TV-1.17 (taketonews.com, fleetco.co.za): greatest reading at a true speed; R39 itself tests at 40, 80 and 120.
    for (actual, most) in [
        (40.0, 48.0),
        (50.0, 59.0),
        (70.0, 81.0),
        (80.0, 92.0),
        (90.0, 103.0),
        (110.0, 125.0),
        (120.0, 136.0),
        (130.0, 147.0),
    ] {
        let actual = kilometres_per_hour(actual);
        close((actual.0 + allowance(actual).0) * 3.6, most, 1e-9, &format!("{most}"));
        let at = judge(kilometres_per_hour(most), actual).expect("speeds");
        close(at.over_allowance.0, 0.0, 1e-12, "at the most");
        assert!(judge(kilometres_per_hour(most + 1.0), actual).expect("speeds").over_allowance.0 > 0.0);
    }
}

#[test]
fn a_reading_on_the_allowance_passes_and_one_below_the_truth_does_not() {
    let spec =
        spec(Rule::Speedometer, None, vec![limit("over-allowance", None, Some(0.0)), limit("under", None, Some(0.0))]);
    for (shown, signs) in [(92.0, 0), (93.0, 1), (80.0, 0), (79.0, 1)] {
        let given = [
            ("shown", Given::Number(kilometres_per_hour(shown).0)),
            ("actual", Given::Number(kilometres_per_hour(80.0).0)),
        ];
        let outcome = read(&spec, &reading(&given), &Circumstances::default());
        let outside = outcome.judged.iter().filter(|judged| judged.verdict == Verdict::Above).count();
        assert_eq!(outside, signs, "{shown}: {:?}", outcome.judged);
    }
}

fn diameter(text: &str) -> Length {
    size(&Designation::parse(text).expect(text)).expect(text).diameter
}

#[test]
fn other_tyres() {
    // TV-6.13: 185/70R14 to 195/50R15 reads 6.7 % high.
    let small = shown_over_true(diameter("185/70R14"), diameter("195/50R15")).expect("tyres");
    close(small, 1.067_013_9, 5e-8, "TV-6.13");
    // TV-6.14: 165/80R15 to 195/65R15; 60 shown is 59.023 true.
    let wide = shown_over_true(diameter("165/80R15"), diameter("195/65R15")).expect("tyres");
    close(wide, 1.016_548, 5e-7, "TV-6.14");
    close(60.0 / wide, 59.023, 5e-4, "TV-6.14");
}
