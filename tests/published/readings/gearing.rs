//! Road speed from engine speed: team.net fot 2005-07 message 142, the370z.com 305607, fordterritory.info, ecomodder.com.

use kerbworth_core::readings::gearing::Gearing;
use kerbworth_core::readings::outcome::{Circumstances, read};
use kerbworth_core::readings::tyre::designation::Designation;
use kerbworth_core::readings::tyre::size::size;
use kerbworth_core::readings::{Given, Rule};
use kerbworth_core::units::{Length, Rotation, Speed, Unit};

use crate::{close, reading, spec};

#[track_caller]
fn speed(circumference: Length, gear: f64, final_drive: f64, rpm: f64) -> Speed {
    let gearing = Gearing { circumference, gear, final_drive };
    gearing.road_speed(Rotation::of(rpm, Unit::RevolutionPerMinute)).expect("a speed")
}

#[test]
fn worked_speeds() {
    // TV-6.7: 24.7 in, final drive 3.7, top 1, 5800 rpm.
    let round = Length::of(24.7 * core::f64::consts::PI, Unit::Inch);
    close(speed(round, 1.0, 3.7, 5800.0).to(Unit::MilePerHour), 115.19, 5e-3, "TV-6.7");
    // TV-6.8: circumference 77.5 in.
    close(speed(Length::of(77.5, Unit::Inch), 1.0, 3.7, 5800.0).to(Unit::MilePerHour), 115.044, 5e-4, "TV-6.8");
    // TV-6.9: 6.96 ft, 0.794 × 3.692, 3000 rpm; and 73 mph back.
    let feet = Length::of(6.96, Unit::Foot);
    close(speed(feet, 0.794, 3.692, 3000.0).to(Unit::MilePerHour), 80.94, 5e-3, "TV-6.9");
    let gearing = Gearing { circumference: feet, gear: 0.794, final_drive: 3.692 };
    let engine = gearing.engine_speed(Speed::of(73.0, Unit::MilePerHour)).expect("an engine speed");
    close(engine.to(Unit::RevolutionPerMinute), 2706.0, 0.5, "TV-6.9");
    // TV-6.10: 2.288 m, 0.76 × 4.10.
    let metres = Length(2.288);
    close(speed(metres, 0.76, 4.10, 2200.0).to(Unit::KilometrePerHour), 96.92, 5e-3, "TV-6.10");
    close(speed(metres, 0.76, 4.10, 1000.0).to(Unit::KilometrePerHour), 44.06, 5e-3, "TV-6.10");
}

fn tyre(text: &str) -> Designation {
    Designation::parse(text).expect(text)
}

#[test]
fn by_tyre() {
    // TV-6.11, computed: 165/80R15 off the road, final drive 3.909, top 1.
    let free = size(&tyre("165/80R15")).expect("a size").circumference();
    let found = speed(free, 1.0, 3.909, 1000.0);
    close(found.to(Unit::MilePerHour), 19.326, 5e-4, "TV-6.11");
    close(found.to(Unit::KilometrePerHour), 31.102, 5e-4, "TV-6.11");
    // The reading takes the rolling circumference, 3.05 D (from memory), a little less.
    let given = [
        ("tyre", Given::Text("165/80R15".to_owned())),
        ("gear", Given::Number(1.0)),
        ("final", Given::Number(3.909)),
        ("engine-speed", Given::Number(Unit::RevolutionPerMinute.to_si(2500.0))),
    ];
    let outcome = read(&spec(Rule::Gearing, None, Vec::new()), &reading(&given), &Circumstances::default());
    let per_thousand = outcome.result("per-thousand").expect("a speed");
    close(per_thousand / found.0, 3.05 / core::f64::consts::PI, 1e-12, "rolling against free");
    close(outcome.result("road-speed").expect("a speed"), 2.5 * per_thousand, 1e-9, "at 2500 rpm");
    // TV-6.12 (ecomodder.com prints 733.33 after rounding): turns a mile of 225/65-16.
    let size = size(&tyre("225/65-16")).expect("a size");
    close(size.diameter.to(Unit::Inch), 27.52, 5e-3, "TV-6.12");
    close(Unit::Mile.to_si(1.0) / size.circumference().0, 732.96, 0.05, "TV-6.12");
}
