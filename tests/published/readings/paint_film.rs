//! Paint film: trade pages (autopia.org posts 1899960 and 1936804; engineerfix.com); no standard gives a range.

use kerbworth_core::readings::outcome::{Circumstances, read};
use kerbworth_core::readings::paint_film::judge;
use kerbworth_core::readings::{Given, Rule};
use kerbworth_core::units::{Length, Unit};

use crate::{close, limit, reading, spec};

#[test]
fn mils_and_micrometres() {
    // autopia.org post 1936804: a car of 1977, 2.5 to 3 mil, that is 64 to 76 µm; engineerfix.com: 100 to 180 µm is 3.5
    // (rounded down) to 7 mil.
    for (mil, micrometres, tolerance) in [(2.5, 64.0, 0.5), (3.0, 76.0, 0.5), (7.0, 180.0, 2.5), (1.0, 25.4, 1e-9)] {
        close(Unit::Micrometre.from_si(Unit::Mil.to_si(mil)), micrometres, tolerance, &format!("{mil} mil"));
    }
}

#[test]
fn layers_add_up() {
    // autopia.org post 1899960: 33 + 18 + 15 + 48 = 114 µm: the film that a gauge shows on an untouched panel.
    let layers: f64 = [33.0, 18.0, 15.0, 48.0].iter().map(|layer| Unit::Micrometre.to_si(*layer)).sum();
    let film = judge(&[Length(layers); 5]).expect("films");
    close(film.median.to(Unit::Micrometre), 114.0, 1e-9, "median");
    close(film.spread.0, 0.0, 1e-12, "spread");
}

#[test]
fn over_two_hundred_asks_for_an_explanation_and_over_a_thousand_is_filler() {
    // ok.com answers; the 1000 from memory.
    let spec =
        spec(Rule::PaintFilm, None, vec![limit("greatest", None, Some(200e-6)), limit("greatest", None, Some(1e-3))]);
    for (thickest, signs) in [(180.0, 0), (260.0, 1), (1400.0, 2)] {
        let films = [110.0, 118.0, 105.0, 121.0, thickest].map(|film| Unit::Micrometre.to_si(film)).to_vec();
        let outcome = read(&spec, &reading(&[("film", Given::Numbers(films))]), &Circumstances::default());
        assert_eq!(outcome.judged.iter().filter(|judged| judged.sign.is_some()).count(), signs, "{thickest}");
        close(outcome.result("greatest-ratio").expect("a ratio"), thickest / 118.0, 1e-9, "ratio");
    }
}
