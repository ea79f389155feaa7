//! Rims that tyres belong on: ETRTO standards manual (list at fr.doczz.net/doc/812046, first three entries read),
//! trade lists, and memory; then the trade's own judgement on a 5 1/2-inch rim.

use kerbworth_core::readings::outcome::{Circumstances, Verdict, read};
use kerbworth_core::readings::tyre::designation::Designation;
use kerbworth_core::readings::tyre::rim::{Basis, by_rule, fit, range};
use kerbworth_core::readings::tyre::size::size;
use kerbworth_core::readings::{Given, Rule};
use kerbworth_core::units::{Length, Unit};

use crate::{close, limit, reading, spec};

fn tyre(text: &str) -> Designation {
    Designation::parse(text).expect(text)
}

fn inches(amount: f64) -> Length {
    Length::of(amount, Unit::Inch)
}

#[test]
fn published_rims_lie_in_the_range() {
    for (text, rims) in [
        // ETRTO, '80' series: the first three rims of each row.
        ("155/80R15", [4.0, 4.5, 5.0]),
        ("165/80R14", [4.0, 4.5, 5.0]),
        ("165/80R15", [4.0, 4.5, 5.0]),
        ("165/80R16", [4.0, 4.5, 5.0]),
        ("175/80R14", [4.5, 5.0, 5.5]),
        // wheelstire.com 5.0 to 6.5; tyresizecalculator.com 5.5 to 7.0.
        ("185/65R15", [5.0, 6.0, 6.5]),
        ("195/65R15", [5.5, 6.0, 7.0]),
        // From memory: 4.5 to 6, 5.5 to 7.5.
        ("185/70R15", [4.5, 5.5, 6.0]),
        ("205/60R15", [5.5, 6.0, 7.5]),
        // tirerack.com techid 199: measuring rims.
        ("P195/75R15", [5.5, 5.5, 5.5]),
        ("P225/60R15", [6.5, 6.5, 6.5]),
    ] {
        let range = range(&tyre(text)).expect(text);
        for rim in rims {
            let inside = Verdict::of(inches(rim).0, Some(range.least.0), Some(range.greatest.0));
            assert!(matches!(inside, Verdict::Within | Verdict::AtTheEdge), "{text} on {rim}: {range:?}");
        }
    }
}

#[test]
fn the_rule_gives_back_the_lists() {
    for (text, least, greatest) in [
        ("185/65R15", 5.0, 6.5),
        ("185/70R15", 4.5, 6.0),
        ("195/65R15", 5.5, 7.0),
        ("205/60R15", 5.5, 7.5),
        // First rim of the ETRTO row; the pairing of 165HR15 with 5 1/2J from memory.
        ("165/80R15", 4.0, 5.5),
    ] {
        let ruled = by_rule(size(&tyre(text)).expect(text));
        assert_eq!(ruled.basis, Basis::Rule);
        close(ruled.least.to(Unit::Inch), least, 1e-9, text);
        close(ruled.greatest.to(Unit::Inch), greatest, 1e-9, text);
        close(range(&tyre(text)).expect(text).least.to(Unit::Inch), least, 1e-9, text);
    }
    // The first rim of the ETRTO rows.
    for (text, least) in [("155/80R15", 4.0), ("165/80R14", 4.0), ("175/80R14", 4.5)] {
        close(by_rule(size(&tyre(text)).expect(text)).least.to(Unit::Inch), least, 1e-9, text);
    }
}

#[test]
fn on_a_five_and_a_half_inch_rim() {
    // common practice, no source: the widest sensible is 195/65R15; 205/60R15 is too wide although handbook ranges list
    // both at their minimum; 165R15 was an original size there.
    let rim = inches(5.5);
    for (text, verdict, too_wide) in [
        ("165/80R15", Verdict::AtTheEdge, false),
        ("165R15", Verdict::AtTheEdge, false),
        ("175/80R14", Verdict::Within, false),
        ("185/70R15", Verdict::Within, false),
        ("195/65R15", Verdict::AtTheEdge, false),
        ("205/60R15", Verdict::AtTheEdge, true),
    ] {
        let fit = fit(&tyre(text), rim, Some(&tyre("165SR15"))).expect(text);
        assert_eq!((fit.verdict, fit.too_wide), (verdict, too_wide), "{text}");
        assert_eq!(fit.original, text == "165R15", "{text}");
        if verdict == Verdict::AtTheEdge {
            close(fit.margin.0, 0.0, 1e-12, text);
        }
    }
}

#[test]
fn what_the_reading_says() {
    let spec = spec(Rule::TyreSize, None, vec![limit("rim-margin", Some(0.0), None)]);
    let said = |front: &str, rim: f64| {
        let given = [
            ("front", Given::Text(front.to_owned())),
            ("original", Given::Text("165R15".to_owned())),
            ("rim-width", Given::Number(inches(rim).0)),
        ];
        let outcome = read(&spec, &reading(&given), &Circumstances::default());
        (
            outcome.notes.iter().map(ToString::to_string).collect::<Vec<_>>().join(" "),
            outcome.judged.first().map(|judged| judged.verdict),
        )
    };
    let (notes, verdict) = said("195/65R15 91H", 5.5);
    assert!(
        notes.contains("at the edge of 5.5 to 7 in") && notes.contains("original size is to be preferred"),
        "{notes}"
    );
    assert!(!notes.contains("wider than"), "{notes}");
    assert_eq!(verdict, Some(Verdict::AtTheEdge));
    let (notes, verdict) = said("205/60R15 91H", 5.5);
    assert!(
        notes.contains("at the edge of 5.5 to 7.5 in") && notes.contains("wider than this rim carries well"),
        "{notes}"
    );
    assert_eq!(verdict, Some(Verdict::AtTheEdge));
    let (notes, _) = said("165R15 86H", 5.5);
    assert!(notes.contains("size that the car was made with"), "{notes}");
    let (notes, verdict) = said("195/65R15 91H", 5.0);
    assert!(notes.contains("too narrow"), "{notes}");
    assert_eq!(verdict, Some(Verdict::Below));
    // common practice, no source: the P size has the softer side wall.
    assert!(said("P195/65R15 91H", 6.0).0.contains("side wall is softer"));
}
