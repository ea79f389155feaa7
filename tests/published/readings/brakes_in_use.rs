//! Limits for cars in use outside 49 CFR 570: state stopping-distance tables, the British inspection, EU 2014/45.

use kerbworth_core::readings::brake::{self, efficiency, efficiency_of_efforts, from_distance};
use kerbworth_core::readings::outcome::Verdict;
use kerbworth_core::readings::steering::{self, Gear};
use kerbworth_core::readings::vehicle_age::completed_years;
use kerbworth_core::units::{Acceleration, Length, Mass, Speed, Unit};

use crate::{close, date};

fn stop(miles_per_hour: f64, feet: f64) -> Acceleration {
    from_distance(Speed::of(miles_per_hour, Unit::MilePerHour), Length::of(feet, Unit::Foot)).expect("a stop")
}

fn feet_per_second_squared(deceleration: Acceleration) -> f64 {
    Length(deceleration.0).to(Unit::Foot)
}

#[test]
fn guam_table() {
    // TV-1.5: 22 GCA 1109 (new.asbar.org/code-annotated/22-1109).
    for (speed, feet, deceleration) in
        [(10.0, 9.3, 11.57), (15.0, 20.8, 11.63), (20.0, 37.0, 11.63), (25.0, 58.0, 11.59), (30.0, 83.3, 11.62)]
    {
        let found = stop(speed, feet);
        close(feet_per_second_squared(found), deceleration, 0.005, &format!("{speed} mph"));
        // 0.360 to 0.362 g; a distance rounded to a tenth of a foot is good to half a per cent.
        close(efficiency(found), 0.361, 0.002, &format!("{speed} mph"));
    }
}

#[test]
fn pennsylvania_percentages() {
    // TV-1.6: 67 Pa. Code 175 table I: 17, 21 and 14 ft/s² beside 52.8, 65.2 and 43.5 %. The table divides by 32.2.
    for (feet, percent) in [(17.0, 52.8), (21.0, 65.2), (14.0, 43.5)] {
        let deceleration = Acceleration(Length::of(feet, Unit::Foot).0);
        close(efficiency(deceleration) * 100.0, percent, 0.1, &format!("{feet} ft/s²"));
    }
}

#[test]
fn state_distances_from_twenty_miles_an_hour() {
    // TV-1.7, TV-1.8: Virginia Code 46.2-1067 (25 and 45 ft), N.J.S.A. 39:3-68 (30 ft beside 14 ft/s², 45 beside 9.5),
    // R.I. G.L. 31-23-5 (30 beside 14, 40 beside 10.7).
    for (feet, deceleration, share, beside) in [
        (25.0, 17.209, 0.5349, 17.0),
        (30.0, 14.341, 0.4457, 14.0),
        (40.0, 10.756, 0.3343, 10.7),
        (45.0, 9.560, 0.2971, 9.5),
    ] {
        let found = stop(20.0, feet);
        close(feet_per_second_squared(found), deceleration, 5e-4, &format!("{feet} ft"));
        close(efficiency(found), share, 5e-5, &format!("{feet} ft"));
        // The laws round down.
        close(feet_per_second_squared(found), beside, 0.35, &format!("{feet} ft beside the law's figure"));
    }
    close(stop(20.0, 25.0).0, 5.2453, 5e-5, "m/s²");
}

#[test]
fn british_service_brake_and_imbalance() {
    // TV-1.9: 2012 manual 3.8, total effort / test weight × 100; 50 % for older cars, 58 % for M1 from 1 September 2010
    // (mattersoftesting.blog.gov.uk).
    let efforts = [250.0, 240.0, 130.0, 125.0].map(Mass);
    let share = efficiency_of_efforts(&efforts, Mass(1400.0)).expect("efforts");
    close(share * 100.0, 53.2, 0.05, "efficiency");
    assert_eq!(Verdict::of(share, Some(0.50), None), Verdict::Within);
    assert_eq!(Verdict::of(share, Some(0.58), None), Verdict::Below);
    // TV-1.10: (high − low) / high (from memory); failed above 30 % (mattersoftesting.blog.gov.uk).
    for (left, right) in [(250.0, 170.0), (170.0, 250.0)] {
        let imbalance = brake::imbalance(Mass(left), Mass(right)).expect("efforts");
        close(imbalance, 0.32, 1e-12, "imbalance");
        assert_eq!(Verdict::of(imbalance, None, Some(0.30)), Verdict::Above);
    }
}

#[test]
fn british_free_play_and_eu_example() {
    // 2012 manual 2.2 (ukmot.com/manual/2.2): 13 mm rack, 75 mm others at 380 mm, in proportion.
    let limit = |wheel, gear| steering::limit_uk_2012(Length(wheel), gear).expect("a wheel").0;
    close(limit(0.380, Gear::Rack), 0.013, 1e-12, "rack");
    close(limit(0.380, Gear::Box), 0.075, 1e-12, "box");
    close(limit(0.760 / 2.0 * 1.1, Gear::Box), 0.0825, 1e-12, "box, larger wheel");
    // TV-1.14: EU 2014/45 annex I 2.3 (from memory): a fifth of 380 mm.
    close(steering::limit_eu_example(Length(0.380)).expect("a wheel").0, 0.076, 1e-12, "EU");
}

#[test]
fn british_historic_vehicle_is_forty_years_old() {
    // TV-1.11: DfT letter of 11 January 2019: at least 40 years from manufacture or first registration.
    let years = |on| completed_years(date("1986-06-01"), date(on));
    assert!(years("2026-06-02") >= 40);
    assert!(years("2026-06-01") >= 40);
    assert!(years("2026-05-31") < 40);
}
