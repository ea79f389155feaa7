//! Braking arithmetic: a = v² / 2s (HyperPhysics, motx2), against worked examples of others.

use kerbworth_core::readings::brake::{from_distance, from_time, stopping_distance};
use kerbworth_core::units::{Acceleration, Duration, Length, Speed, Unit};

use crate::close;

#[test]
#[allow(clippy::approx_constant)] // 3.14 s, not pi
fn worked_stops() {
    let distance =
        |speed, deceleration| stopping_distance(Speed(speed), Acceleration(deceleration), 0.0).expect("a stop").0;
    // TV-6.15 (230nsc1.phy-astr.gsu.edu): 24.6 m/s at 7.84 m/s² takes 3.14 s and 38.6 m.
    close(distance(24.6, 7.84), 38.6, 0.05, "TV-6.15");
    close(from_time(Speed(24.6), Duration(3.14)).expect("a stop").0, 7.84, 0.01, "TV-6.15, by time");
    // TV-6.16 (askanewquestion.com): 30 m/s, 0.75 × 9.81.
    close(distance(30.0, 7.3575), 61.1621, 5e-5, "TV-6.16");
    // TV-6.17 (univerkov.com): 30 m at 0.5 × 10 came from 17.32 m/s.
    close(from_distance(Speed(17.32), Length(30.0)).expect("a stop").0, 5.0, 5e-3, "TV-6.17");
    // TV-6.18 (algebra.com): 16 m at 15 m/s² came from 21.91 m/s.
    close(distance(21.91, 15.0), 16.0, 5e-3, "TV-6.18");
}

#[test]
fn downhill() {
    // TV-6.19 (chat.pavlok.com): 40 mph, a/g 0.35, 2 % down: 161.6 ft with the page's rounded 30 for 2g in mph and ft,
    // which is 29.9.
    let speed = Speed::of(40.0, Unit::MilePerHour);
    let found = stopping_distance(speed, Acceleration(0.35 * 9.80665), 0.02).expect("a stop").to(Unit::Foot);
    close(found, 161.6, 0.6, "TV-6.19");
}

#[test]
fn twice_the_speed_four_times_the_distance() {
    // TV-6.20 (brainmass.com): 120 ft from 30 mph, 480 from 60.
    let speed = |amount| Speed::of(amount, Unit::MilePerHour);
    let held = from_distance(speed(30.0), Length::of(120.0, Unit::Foot)).expect("a stop");
    close(stopping_distance(speed(60.0), held, 0.0).expect("a stop").to(Unit::Foot), 480.0, 1e-9, "TV-6.20");
}
