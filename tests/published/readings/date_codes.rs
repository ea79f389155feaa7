//! Date codes: 49 CFR 574.5 (64 FR 36807, 8 July 1999), viperclub.org, ndarblogs.blogspot.com, owner data of 2006.

use kerbworth_core::readings::outcome::{Circumstances, read};
use kerbworth_core::readings::tyre::age::{DateCode, DateCodeError};
use kerbworth_core::readings::{Given, Rule};
use kerbworth_core::units::Unit;

use crate::{close, date, limit, reading, spec};

#[test]
fn codes_of_four_digits() {
    // TV-2.12, TV-2.13, TV-2.14.
    for (text, week, year) in [("3500", 35, 2000), ("3109", 31, 2009), ("0301", 3, 2001)] {
        assert_eq!(DateCode::parse(text), Ok(DateCode::Year { week, year }), "{text}");
    }
}

#[test]
fn codes_of_three_digits_leave_the_decade_open() {
    // TV-2.15: 031 is week 3 of 1981 or 1991; TV-2.16: 439 is week 43 of 1999 if it is of the 1990s.
    let old = DateCode::parse("031").expect("a code");
    assert_eq!(old, DateCode::Decade { week: 3, digit: 1 });
    assert!(old.years().contains(&1981) && old.years().contains(&1991));
    assert_eq!(DateCode::parse("439").expect("a code").years().first(), Some(&1999));
}

#[test]
fn week_nought_is_refused_and_week_53_warned_of() {
    // TV-2.17 prints 5300 and 0012 together: 5300 is week 53 of 2000, taken with a warning; 0012 is week 00, refused.
    assert_eq!(DateCode::parse("0012"), Err(DateCodeError::Week(0)));
    assert_eq!(DateCode::parse("5300"), Ok(DateCode::Year { week: 53, year: 2000 }));
    let outcome = ages("5300", None);
    assert!(outcome.notes.iter().any(|note| note.to_string().contains("Week 53 is rare")), "{:?}", outcome.notes);
    let outcome = ages("0012", None);
    assert_eq!(outcome.problems.len(), 1);
    assert!(outcome.results.is_empty());
}

fn ages(front: &str, spare: Option<&str>) -> kerbworth_core::readings::Outcome {
    let year = Unit::Year.to_si(1.0);
    // BRMA, June 2001 (quoted at fabalabse.com): six years to go into service, ten to be replaced.
    let spec = spec(
        Rule::TyreAge,
        None,
        vec![limit("greatest-age", None, Some(6.0 * year)), limit("greatest-age", None, Some(10.0 * year))],
    );
    let mut given = vec![("front", Given::Text(front.to_owned()))];
    given.extend(spare.map(|text| ("spare", Given::Text(text.to_owned()))));
    let circumstances = Circumstances { on: Some(date("2026-10-04")), ..Circumstances::default() };
    read(&spec, &reading(&given), &circumstances)
}

#[test]
fn the_oldest_tyre_counts() {
    // Week 31 of 2009 began on Sunday 2 August: the first full week of 2009 on 4 January.
    let outcome = ages("3524 3524", Some("3109"));
    let age = outcome.result("greatest-age").expect("an age");
    close(age / 86_400.0, f64::from(date("2026-10-04").day_number() - date("2009-08-02").day_number()), 1e-9, "days");
    assert_eq!(outcome.judged.iter().filter(|judged| judged.sign.is_some()).count(), 2);
    assert!(ages("3524", None).signs().is_empty());
    let three = ages("439", None);
    assert!(three.notes.iter().any(|note| note.to_string().contains("do not tell the decade")), "{:?}", three.notes);
}
