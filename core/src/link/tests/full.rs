//! A worksheet as full as they come: 150 findings, every other one with a note, and twelve sales. The words are none of
//! the sample's.

use crate::grade::Grade;
use crate::market::imputed::ScoreSource;
use crate::sheet::general::general;
use crate::units::{Date, Length, Money, Unit};
use crate::worksheet::*;

const NOTES: &str = include_str!("notes.txt");

const SOURCES: [&str; 12] = [
    "Marlow Vale spring sale, lot 27",
    "Dealer at Cotterby, card in the window",
    "Club magazine, small advertisements",
    "Neighbour's car, sold to a friend",
    "Autumn auction at Felbridge, lot 140",
    "Online listing, seen twice",
    "Sold by letter between members",
    "Estate sale, told by the executor",
    "Felbridge auction, lot 12",
    "Trader at the Cotterby jumble",
    "Club register, price from the buyer",
    "Marlow Vale winter sale, lot 9",
];

/// Numbers without a pattern that a model could learn, the same each time.
struct Draws(u32);

impl Draws {
    fn below(&mut self, most: usize) -> usize {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 8) as usize % most
    }

    fn fresh_id(&mut self) -> String {
        let letters = b"abcdefghijkmnpqrstuvwxyz23456789";
        (0..16).map(|_| char::from(letters[self.below(32)])).collect()
    }
}

pub fn worksheet() -> Worksheet {
    let mut draws = Draws(7);
    let mut worksheet = Worksheet { id: draws.fresh_id(), ..Worksheet::default() };
    worksheet.car = Car {
        maker: "Thornley".into(),
        model: "Heron saloon".into(),
        year: Entry::Read(1971),
        registration: "KLB 208J".into(),
        chassis_number: "TH/71/003418".into(),
        engine_number: "2H 55102".into(),
        colour: "Dark green".into(),
        mileage: Entry::Read(Length::of(73_412.0, Unit::Mile)),
        asked: Entry::Read(Money(875_000)),
        ..Car::default()
    };
    worksheet.visit = Visit {
        purpose: Purpose::Appraising,
        date: Date::new(2026, 5, 16).into(),
        place: "Owner's garage, Nether Orchard Lane".into(),
        by: "Edwin Marsh".into(),
        on_behalf_of: "Mrs Lydia Fenn".into(),
        ..Visit::default()
    };
    let mut notes = NOTES.lines();
    for (place, check) in general().unwrap().checks.iter().take(150).enumerate() {
        let grade = Grade::ALL[[0, 0, 0, 0, 0, 1, 1, 1, 2, 3][draws.below(10)]];
        let made = draws.below(12) > 0;
        let seen = check.signs.get(draws.below(check.signs.len().max(1))).filter(|_| made && grade != Grade::Right);
        let finding = Finding {
            look: Some(if made { Look::Grade(grade) } else { Look::NotLooked(WhyNot::ALL[draws.below(6)]) }),
            signs: seen.map(|sign| (sign.id.clone(), Seen::Yes)).into_iter().collect(),
            note: if place % 2 == 0 { notes.next().unwrap().into() } else { String::new() },
            ..Finding::default()
        };
        worksheet.findings.insert(check.id.clone(), finding);
    }
    let known = [ScoreSource::Inspected, ScoreSource::Photographs, ScoreSource::Guess];
    worksheet.sales = (1..)
        .zip(SOURCES)
        .map(|(month, source)| Sale {
            id: draws.fresh_id(),
            date: Date::new(2025, month, draws.below(28) as u8 + 1).into(),
            price: Entry::Read(Money((700_000 + 5_000 * draws.below(120)) as i64)),
            kind: SaleKind::ALL[draws.below(5)],
            mileage: Entry::Read(Length::of((40_000 + 500 * draws.below(180)) as f64, Unit::Mile)),
            condition: Entry::Read((60 + draws.below(35)) as f64),
            condition_known: known[draws.below(3)],
            source: source.into(),
            ..Sale::default()
        })
        .collect();
    worksheet
}
