//! Rest voltage (discoverbattery.com article 120, tables 6 and 7, at 80 °F) and charging voltage (Westerbeke 33A data,
//! manualshelf.com; BMW training text, wds.psjr.org).

use kerbworth_core::readings::battery::{Nominal, at_reference, charge, reference_temperature};
use kerbworth_core::readings::charging::at_twenty;
use kerbworth_core::readings::outcome::{Circumstances, Verdict, read};
use kerbworth_core::readings::{Given, Rule};
use kerbworth_core::sheet::Tag;
use kerbworth_core::units::{Temperature, Unit, Voltage};

use crate::{close, reading, spec};

#[test]
fn rest_table() {
    for (volts, share) in [(12.65, 1.0), (12.45, 0.75), (12.24, 0.50), (12.06, 0.25), (11.89, 0.0)] {
        close(charge(Voltage(volts), Nominal::Twelve).expect("volts"), share, 1e-12, &format!("{volts} V"));
        // A 6 V battery: half of each voltage (from memory).
        close(charge(Voltage(volts / 2.0), Nominal::Six).expect("volts"), share, 1e-9, &format!("half of {volts} V"));
    }
    // TV-6.5: between rows by a straight line.
    close(charge(Voltage(12.50), Nominal::Twelve).expect("volts"), 0.8125, 1e-9, "12.50 V");
}

#[test]
fn temperature_correction() {
    // Table 7, voltage: 50 °F −0.072, 60 °F −0.048, 100 °F +0.048.
    for (fahrenheit, correction) in [(50.0, -0.072), (60.0, -0.048), (80.0, 0.0), (100.0, 0.048)] {
        let temperature = Temperature::of(fahrenheit, Unit::Fahrenheit);
        let found = at_reference(Voltage(12.5), temperature, Nominal::Twelve).expect("volts");
        close(found.0 - 12.5, correction, 1e-9, &format!("{fahrenheit} °F"));
    }
    close(reference_temperature().to(Unit::Celsius), 26.7, 0.05, "reference");
    // TV-6.6: 12.50 V at 60 °F is 12.452 V at 80 °F and 75.25 %.
    let given = [("voltage", Given::Number(12.50)), ("temperature", Given::Number(Unit::Fahrenheit.to_si(60.0)))];
    let twelve = Circumstances { tags: vec![Tag::TwelveVolt], ..Circumstances::default() };
    let outcome = read(&spec(Rule::BatteryRest, None, Vec::new()), &reading(&given), &twelve);
    close(outcome.result("voltage-at-reference").expect("volts"), 12.452, 1e-9, "TV-6.6");
    // The row prints 75.25 %: 0.002 V of the 0.20 V between 75 and 100 %.
    close(outcome.result("charge").expect("a share"), 0.7525, 1e-9, "TV-6.6");
}

#[test]
fn charging_bands() {
    // Westerbeke: 14.4 ± 0.3 V at 20 °C, −0.1 V per 10 °C: hot at 60 °C the same regulator holds 14.0.
    for (celsius, shown) in [(20.0, 14.4), (60.0, 14.0), (0.0, 14.6)] {
        let temperature = Temperature::of(celsius, Unit::Celsius);
        let held = at_twenty(Voltage(shown), temperature, Nominal::Twelve).expect("volts");
        close(held.0, 14.4, 1e-9, &format!("{celsius} °C"));
        assert_eq!(Verdict::of(held.0, Some(14.1), Some(14.7)), Verdict::Within);
    }
    // BMW training text: 13.5 to 14.5 V.
    for (volts, verdict) in
        [(13.4, Verdict::Below), (13.5, Verdict::AtTheEdge), (14.0, Verdict::Within), (14.6, Verdict::Above)]
    {
        assert_eq!(Verdict::of(volts, Some(13.5), Some(14.5)), verdict, "{volts}");
    }
}
