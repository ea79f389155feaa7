//! Every form of designation: maker's owner data ("215/65R15 96H", "T145/80D18 103M", "31x10.50R15 LT"),
//! discountpartcenter.com (155SR13, no ratio), customwheelsmarket.com (inches and letters).

use kerbworth_core::readings::tyre::designation::{Construction, Designation, Purpose, Section};
use kerbworth_core::units::{Length, Unit};

fn millimetres(amount: f64) -> Length {
    Length::of(amount, Unit::Millimetre)
}

fn inches(amount: f64) -> Length {
    Length::of(amount, Unit::Inch)
}

#[track_caller]
fn reads(text: &str, purpose: Purpose, section: Section, construction: Construction, rim: f64) {
    let tyre = Designation::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert_eq!((tyre.purpose, tyre.construction), (purpose, construction), "{text}");
    assert_eq!(tyre.section, section, "{text}");
    assert_eq!(tyre.rim, inches(rim), "{text}");
}

#[track_caller]
fn serves(text: &str, load_index: Option<u8>, speed: Option<(char, f64, bool)>) {
    let tyre = Designation::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert_eq!(tyre.load_index, load_index, "{text}");
    let found =
        tyre.speed.map(|rating| (rating.symbol, rating.speed.to(Unit::KilometrePerHour).round(), rating.or_more));
    assert_eq!(found, speed, "{text}");
}

#[test]
fn sizes_of_every_form() {
    use Construction::{BiasBelted, Diagonal, Radial};
    use Purpose::{LightTruck, Passenger, PassengerMetric, Temporary};
    let metric = |width, ratio| Section::Metric { width: millimetres(width), ratio };
    let inch = |width, low| Section::Inch { width: inches(width), low };
    reads("195/65 R15 91H", Passenger, metric(195.0, Some(0.65)), Radial, 15.0);
    reads("215/65R15 96H", Passenger, metric(215.0, Some(0.65)), Radial, 15.0);
    reads("P215/65R15 95S", PassengerMetric, metric(215.0, Some(0.65)), Radial, 15.0);
    reads("165R15", Passenger, metric(165.0, None), Radial, 15.0);
    reads("165SR15", Passenger, metric(165.0, None), Radial, 15.0);
    reads("155SR13", Passenger, metric(155.0, None), Radial, 13.0);
    reads("165R15 86H", Passenger, metric(165.0, None), Radial, 15.0);
    reads("185VR15", Passenger, metric(185.0, None), Radial, 15.0);
    reads("165-15", Passenger, metric(165.0, None), Diagonal, 15.0);
    reads("T145/80D18 103M", Temporary, metric(145.0, Some(0.80)), Diagonal, 18.0);
    reads("LT235/75R15 104/101S", LightTruck, metric(235.0, Some(0.75)), Radial, 15.0);
    reads("175R14C 99/98N", LightTruck, metric(175.0, None), Radial, 14.0);
    let float = Section::Flotation { diameter: inches(31.0), width: inches(10.5) };
    reads("31x10.50R15 LT", LightTruck, float, Radial, 15.0);
    reads("7.00-14", Passenger, inch(7.0, false), Diagonal, 14.0);
    reads("7.50-14", Passenger, inch(7.5, false), Diagonal, 14.0);
    reads("8.25-15", Passenger, inch(8.25, true), Diagonal, 15.0);
    // From memory.
    reads("6.95-14", Passenger, inch(6.95, true), Diagonal, 14.0);
    reads("5.60S15", Passenger, inch(5.6, false), Diagonal, 15.0);
    let letter = |size, ratio| Section::Letter { size, ratio };
    reads("FR78-15", Passenger, letter('F', 0.78), Radial, 15.0);
    reads("C78-15", Passenger, letter('C', 0.78), Diagonal, 15.0);
    reads("CR78-15", Passenger, letter('C', 0.78), Radial, 15.0);
    reads("E70-14", Passenger, letter('E', 0.70), Diagonal, 14.0);
    reads("G78B15", Passenger, letter('G', 0.78), BiasBelted, 15.0);
}

#[test]
fn load_and_speed_of_every_form() {
    serves("195/65 R15 91H", Some(91), Some(('H', 210.0, false)));
    serves("P215/65R15 95S", Some(95), Some(('S', 180.0, false)));
    serves("T145/80D18 103M", Some(103), Some(('M', 130.0, false)));
    serves("LT235/75R15 104/101S", Some(104), Some(('S', 180.0, false)));
    // Before service descriptions (from memory): SR 180, HR 210, VR over 210, ZR over 240.
    serves("165SR15", None, Some(('S', 180.0, false)));
    serves("165HR15", None, Some(('H', 210.0, false)));
    serves("185VR15", None, Some(('V', 210.0, true)));
    serves("225/50ZR16", None, Some(('Z', 240.0, true)));
    // With one, it decides: VR … 91V is 240.
    serves("205/70VR15 96V", Some(96), Some(('V', 240.0, false)));
    serves("225/50ZR16 (92W)", Some(92), Some(('W', 270.0, false)));
    serves("7.00-14", None, None);
    serves("5.60-15 4PR", None, None);
}
