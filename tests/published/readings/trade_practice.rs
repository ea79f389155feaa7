//! What the trade knows without a book: every figure here is common practice, no source.

use kerbworth_core::readings::outcome::{Circumstances, Outcome, Verdict, read};
use kerbworth_core::readings::{Given, Rule, read_typed};
use kerbworth_core::sheet::{Limit, Tag};
use kerbworth_core::units::{NumberStyle, Quantity, Unit};

use crate::{close, date, limit, reading, spec};

/// A reading typed as a person types it, each field in its unit.
#[track_caller]
fn typed(
    rule: Rule,
    quantity: Option<Quantity>,
    limits: Vec<Limit>,
    fields: &[(&str, &str, Unit)],
    circumstances: &Circumstances,
) -> Outcome {
    let spec = spec(rule, quantity, limits);
    let inputs = kerbworth_core::readings::input::inputs_of(&spec);
    let given: Vec<(&str, Given)> = fields
        .iter()
        .map(|(name, text, unit)| {
            let input = inputs.iter().find(|input| input.name == *name).expect(name);
            (*name, read_typed(input, text, *unit, NumberStyle::POINT))
        })
        .collect();
    let outcome = read(&spec, &reading(&given), circumstances);
    assert!(outcome.problems.is_empty(), "{:?}", outcome.problems);
    outcome
}

#[track_caller]
fn verdicts(outcome: &Outcome, wanted: &[Verdict]) {
    let found: Vec<Verdict> = outcome.judged.iter().map(|judged| judged.verdict).collect();
    assert_eq!(found, wanted, "{:?}", outcome.judged);
}

fn nothing() -> Circumstances {
    Circumstances::default()
}

#[test]
fn idle_of_950() {
    // common practice, no source: 950 rpm, fifty either way.
    let rpm = Unit::RevolutionPerMinute;
    let limits = || vec![limit("idle", Some(rpm.to_si(900.0)), Some(rpm.to_si(1000.0)))];
    for (shown, verdict) in
        [("950", Verdict::Within), ("900", Verdict::AtTheEdge), ("1100", Verdict::Above), ("700", Verdict::Below)]
    {
        verdicts(&typed(Rule::Idle, None, limits(), &[("speed", shown, rpm)], &nothing()), &[verdict]);
    }
}

#[test]
fn front_26_rear_29() {
    // common practice, no source: 26 psi in front and 29 behind, with the limits written in another unit.
    let psi = |amount| Unit::Psi.to_si(amount);
    let limits = || {
        ["front-left", "front-right"]
            .map(|wheel| limit(wheel, Some(psi(26.0)), None))
            .into_iter()
            .chain(["rear-left", "rear-right"].map(|wheel| limit(wheel, Some(psi(29.0)), None)))
            .collect::<Vec<_>>()
    };
    let wheels = |front: &'static str, rear: &'static str, unit| {
        [
            ("front-left", front, unit),
            ("front-right", front, unit),
            ("rear-left", rear, unit),
            ("rear-right", rear, unit),
        ]
    };
    let right = typed(Rule::EachWheel, Some(Quantity::Pressure), limits(), &wheels("26", "29", Unit::Psi), &nothing());
    verdicts(&right, &[Verdict::AtTheEdge; 4]);
    close(right.result("rake").expect("a rake"), psi(3.0), 1e-6, "three psi more behind");
    let bar = typed(Rule::EachWheel, Some(Quantity::Pressure), limits(), &wheels("1.8", "1.9", Unit::Bar), &nothing());
    verdicts(&bar, &[Verdict::Within, Verdict::Within, Verdict::Below, Verdict::Below]);
}

#[test]
fn rear_camber_of_half_a_degree() {
    // common practice, no source: rear −0° 30′ where the front stands upright.
    let degrees = |amount| Unit::Degree.to_si(amount);
    let limits = || vec![limit("left", Some(degrees(-0.75)), Some(degrees(-0.25)))];
    for (shown, verdict) in [
        ("-0° 30′", Verdict::Within),
        ("−0.5", Verdict::Within),
        ("-0° 45′", Verdict::AtTheEdge),
        ("0", Verdict::Above),
        ("-1°30'", Verdict::Below),
    ] {
        let outcome = typed(Rule::Camber, None, limits(), &[("left", shown, Unit::Degree)], &nothing());
        verdicts(&outcome, &[verdict]);
    }
    let front = [("left", "0", Unit::Degree), ("right", "0° 00′", Unit::Degree)];
    let upright = typed(Rule::Camber, None, Vec::new(), &front, &nothing());
    assert_eq!(upright.result("side-difference"), Some(0.0));
}

#[test]
fn charging_where_fourteen_is_the_limit() {
    // common practice, no source: 13.6 to 13.8 V is right where the type's limit is 14 V; above it the battery suffers.
    let limits = || vec![limit("voltage", Some(13.6), Some(13.8)), limit("voltage", None, Some(14.0))];
    for (shown, wanted) in [
        ("13.6", [Verdict::AtTheEdge, Verdict::Within]),
        ("13.7", [Verdict::Within, Verdict::Within]),
        ("13.8", [Verdict::AtTheEdge, Verdict::Within]),
        ("13.9", [Verdict::Above, Verdict::Within]),
        ("14.2", [Verdict::Above, Verdict::Above]),
        ("12.9", [Verdict::Below, Verdict::Within]),
    ] {
        let twelve = Circumstances { tags: vec![Tag::TwelveVolt, Tag::Dynamo], ..nothing() };
        verdicts(&typed(Rule::Charging, None, limits(), &[("voltage", shown, Unit::Volt)], &twelve), &wanted);
    }
}

#[test]
fn thirty_nine_thousand_on_an_old_car() {
    // common practice, no source: five digits at 39,000 on an old car are read as 139,000 unless papers show otherwise.
    let old = Circumstances { on: Some(date("2026-10-04")), first_used: Some(date("1967-01-01")), ..nothing() };
    let likely = |fields: &[(&str, &str, Unit)], circumstances: &Circumstances| {
        let outcome = typed(Rule::Counter, None, Vec::new(), fields, circumstances);
        let distance = Unit::Mile.from_si(outcome.result("likely").expect("a distance"));
        (distance.round(), outcome)
    };
    let shown = [("shown", "39,000", Unit::Mile), ("digits", "5", Unit::Each)];
    let (distance, outcome) = likely(&shown, &old);
    assert_eq!(distance, 139_000.0);
    assert!(
        outcome.notes.iter().map(ToString::to_string).collect::<String>().contains("139,000 mi is taken for 39,000"),
        "{:?}",
        outcome.notes
    );
    // Nearly sixty years at 139,000 miles is a fraction of ordinary use.
    close(outcome.result("against-typical").expect("a ratio"), 139_000.0 / 59.756 / 8420.0, 1e-4, "against typical");
    let papers = [shown[0], shown[1], ("previous", "36,200", Unit::Mile)];
    assert_eq!(likely(&papers, &old).0, 39_000.0);
    let six = [shown[0], ("digits", "6", Unit::Each)];
    assert_eq!(likely(&six, &old).0, 39_000.0);
    let young = Circumstances { first_used: Some(date("2020-01-01")), ..old.clone() };
    assert_eq!(likely(&shown, &young).0, 39_000.0);
    // 62,764 km is 39,000 miles, but a counter of kilometres goes round at 100,000 of its own.
    let kilometres = [("shown", "38,000", Unit::Kilometre), ("digits", "5", Unit::Each)];
    let outcome = likely(&kilometres, &old).1;
    close(outcome.result("likely").expect("a distance"), 138e6, 1e-3, "kilometres");
}
