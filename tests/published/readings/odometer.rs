//! The counter: 49 CFR 580.17 (law.lawstack.com), COMAR 11.12.01.19 for its five digits, typical use by the National
//! Travel Survey and FHWA Highway Statistics.

use kerbworth_core::readings::counter::{Counter, per_year, typical_year};
use kerbworth_core::readings::vehicle_age::needs_no_odometer_statement;
use kerbworth_core::units::{Duration, Length, Unit};

use crate::close;

fn miles(amount: f64) -> Length {
    Length::of(amount, Unit::Mile)
}

#[test]
fn exemption_by_model_year() {
    // TV-7.1, TV-7.2: the examples of 580.17.
    assert!(needs_no_odometer_statement(2010, 2020));
    assert!(!needs_no_odometer_statement(2010, 2019));
    assert!(needs_no_odometer_statement(2011, 2031));
    assert!(!needs_no_odometer_statement(2011, 2030));
    // TV-7.3 (iara.biz): 2012 to 2020 become exempt from 2032 to 2040.
    for model_year in 2012..=2020 {
        assert!(needs_no_odometer_statement(model_year, model_year + 20));
        assert!(!needs_no_odometer_statement(model_year, model_year + 19));
    }
}

#[test]
fn five_digits_roll_over() {
    let counter = Counter::new(Unit::Mile, 5).expect("a counter");
    // COMAR 11.12.01.19: "mechanical odometer limit of 99,999".
    assert!(counter.candidates(miles(99_999.0), 0).is_ok());
    assert!(counter.candidates(miles(100_000.0), 0).is_err());
    // TV-7.4.
    let found = counter.candidates(miles(34_210.0), 2).expect("candidates");
    for (distance, wanted) in found.iter().zip([34_210.0, 134_210.0, 234_210.0]) {
        close(distance.to(Unit::Mile), wanted, 1e-6, "candidate");
    }
    assert_eq!(found.len(), 3);
    // TV-7.5.
    let gained = counter.gained(miles(98_700.0), miles(2_150.0)).expect("a gain");
    close(gained.to(Unit::Mile), 3_450.0, 1e-6, "gained");
}

#[test]
fn a_years_use() {
    // DfT NTS summary (webarchive.nationalarchives.gov.uk): Great Britain 2009, 8,420 mi. FHWA VM-1 2009 prints 18,054
    // km beside 11,218 mi, and 16,704 beside 10,379.
    close(typical_year().to(Unit::Mile), 8420.0, 1e-9, "typical");
    for (kilometres, shown_miles) in [(18_054.0, 11_218.0), (16_704.0, 10_379.0), (18_698.0, 11_618.0)] {
        close(Length::of(kilometres, Unit::Kilometre).to(Unit::Mile), shown_miles, 1.0, "VM-1");
    }
    let yearly = per_year(miles(84_200.0), Duration(Unit::Year.to_si(10.0))).expect("an age");
    close(yearly.0 / typical_year().0, 1.0, 1e-12, "ten typical years");
}
