//! Nominal measures of tyres: D = 25.4 × rim + 2 × width × ratio / 100.

use kerbworth_core::readings::tyre::designation::Designation;
use kerbworth_core::readings::tyre::size::{rolling_circumference, size};
use kerbworth_core::units::{Length, Unit};

use crate::close;

#[test]
fn section_diameter_and_circumference() {
    // Size, section height mm, diameter mm, diameter in, circumference mm.
    for (text, section, millimetres, inches, round) in [
        // TV-2.1, TV-2.2: 2ndhandtyresales.com.au (133 and 647; 749, rounded).
        ("205/65R15", 133.25, 647.5, 25.492, 2034.2),
        ("245/70R16", 171.5, 749.4, 29.504, 2354.3),
        // TV-2.3: fordterritory.info, 728 mm and 2287.
        ("275/40R20", 110.0, 728.0, 28.661, 2287.1),
        // TV-2.4, TV-2.5: encyclopedia text, 24.196850 in and 22.677165 in.
        ("185/70R14", 129.5, 614.6, 24.196_85, 1930.8),
        ("195/50R15", 97.5, 576.0, 22.677_165, 1809.6),
        // TV-2.6, TV-2.9, TV-2.10: computed from the formula.
        ("165/80R15", 132.0, 645.0, 25.394, 2026.3),
        ("205/60R15", 123.0, 627.0, 24.685, 1969.8),
        ("185/70R15", 129.5, 640.0, 25.197, 2010.6),
        // TV-2.7: without a ratio, 82 % (discountpartcenter.com; inspection manual 5.2.3, quoted).
        ("165R15", 135.3, 651.6, 25.654, 2047.1),
        // TV-2.8: section 126.75 at engineerfix.com.
        ("195/65R15", 126.75, 634.5, 24.980, 1993.3),
        // TV-2.11: section 112.75 at oponeo.co.uk.
        ("205/55R16", 112.75, 631.9, 24.878, 1985.2),
    ] {
        let found = size(&Designation::parse(text).expect(text)).expect(text);
        close(Length(found.width.0 * found.ratio).to(Unit::Millimetre), section, 1e-9, text);
        close(found.diameter.to(Unit::Millimetre), millimetres, 1e-9, text);
        close(found.diameter.to(Unit::Inch), inches, 5e-4, text);
        close(found.circumference().to(Unit::Millimetre), round, 0.05, text);
    }
}

#[test]
fn rolling_circumference_of_radials() {
    // ETRTO, from memory: 3.05 D.
    let found = rolling_circumference(&Designation::parse("165/80R15").expect("a size")).expect("a size");
    close(found.to(Unit::Millimetre), 3.05 * 645.0, 1e-9, "165/80R15");
}

#[test]
fn old_and_late_inch_sizes() {
    // customwheelsmarket.com: about 92 % where the width ends in a zero, about 82 % where it does not.
    for (text, ratio) in [("7.00-14", 0.92), ("7.50-14", 0.92), ("8.25-15", 0.82), ("6.95-14", 0.82)] {
        close(size(&Designation::parse(text).expect(text)).expect(text).ratio, ratio, 1e-12, text);
    }
    assert!(size(&Designation::parse("FR78-15").expect("a size")).is_err(), "a letter states no width");
}

#[test]
fn flotation_states_its_diameter() {
    let found = size(&Designation::parse("31x10.50R15 LT").expect("a size")).expect("a size");
    close(found.diameter.to(Unit::Inch), 31.0, 1e-12, "diameter");
    close(Length(found.width.0 * found.ratio).to(Unit::Inch), 8.0, 1e-12, "side wall");
}
