//! Load index and speed symbol: UN R30 annex, ISO 4000-1.

use kerbworth_core::readings::outcome::{Circumstances, read};
use kerbworth_core::readings::tyre::load::{SpeedRating, load};
use kerbworth_core::readings::{Given, Rule};
use kerbworth_core::units::{Mass, Speed, Unit};

use crate::{close, limit, reading, spec};

/// 60 to 67 from memory; 68 to 70 pledgetimes.com (whose 103 and 105 are misprints); 71 to 110 barretire.com.
const TABLE: [(u8, [u16; 10]); 5] = [
    (60, [250, 257, 265, 272, 280, 290, 300, 307, 315, 325]),
    (70, [335, 345, 355, 365, 375, 387, 400, 412, 425, 437]),
    (80, [450, 462, 475, 487, 500, 515, 530, 545, 560, 580]),
    (90, [600, 615, 630, 650, 670, 690, 710, 730, 750, 775]),
    (100, [800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030]),
];

#[test]
fn load_index_in_kilograms() {
    for (first, row) in TABLE {
        for (index, kilograms) in (first..).zip(row) {
            assert_eq!(load(index), Ok(Mass(f64::from(kilograms))), "{index}");
        }
    }
    assert_eq!(load(110), Ok(Mass(1060.0)));
}

#[test]
fn load_index_in_pounds() {
    // barretire.com: 91 is 1356 lb, 86 is 1168 lb.
    for (index, pounds) in [(91, 1356.0), (86, 1168.0)] {
        assert_eq!(load(index).expect("an index").to(Unit::Pound).round(), pounds, "{index}");
    }
}

#[test]
fn speed_symbols() {
    // L to Y pledgetimes.com, F to K from memory.
    for (symbol, speed) in [
        ('F', 80.0),
        ('G', 90.0),
        ('J', 100.0),
        ('K', 110.0),
        ('L', 120.0),
        ('M', 130.0),
        ('N', 140.0),
        ('P', 150.0),
        ('Q', 160.0),
        ('R', 170.0),
        ('S', 180.0),
        ('T', 190.0),
        ('U', 200.0),
        ('H', 210.0),
        ('V', 240.0),
        ('W', 270.0),
        ('Y', 300.0),
    ] {
        let rating = SpeedRating::of_symbol(symbol).expect("a symbol");
        close(rating.speed.to(Unit::KilometrePerHour), speed, 1e-9, &symbol.to_string());
    }
    for symbol in ['A', 'I', 'O', 'X', 'Z'] {
        assert_eq!(SpeedRating::of_symbol(symbol), None);
    }
}

#[test]
fn load_at_speed() {
    // myengineerings.com: a V tyre carries 91 % at 240 km/h, a W tyre 85 % at 270.
    let share = |symbol, speed| {
        let rating = SpeedRating::of_symbol(symbol).expect("a symbol");
        rating.share_of_load(Speed::of(speed, Unit::KilometrePerHour))
    };
    close(share('V', 240.0), 0.91, 1e-12, "V at 240");
    close(share('V', 210.0), 1.0, 1e-12, "V at 210");
    close(share('W', 270.0), 0.85, 1e-12, "W at 270");
    close(share('H', 210.0), 1.0, 1e-12, "H at 210");
}

#[test]
fn an_axle_against_its_two_tyres() {
    let spec = spec(Rule::TyreLoad, None, vec![limit("load-margin", Some(1.0), None)]);
    for (axle, margin, signs) in [(1060.0, 1.0, 0), (1061.0, 1060.0 / 1061.0, 1), (900.0, 1060.0 / 900.0, 0)] {
        let given = [
            ("designation", Given::Text("165R15 86H".to_owned())),
            ("axle-mass", Given::Number(axle)),
            ("top-speed", Given::Number(Speed::of(175.0, Unit::KilometrePerHour).0)),
        ];
        let outcome = read(&spec, &reading(&given), &Circumstances::default());
        close(outcome.result("load-margin").expect("a margin"), margin, 1e-12, "margin");
        close(outcome.result("speed-margin").expect("a margin"), 1.2, 1e-12, "210 over 175");
        assert_eq!(outcome.signs().len(), signs, "{axle}");
    }
}
