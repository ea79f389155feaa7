//! The worksheets that there are.

use kerbworth_core::merge::Shared;
use kerbworth_core::restore::record;
use kerbworth_core::units::Date;
use kerbworth_core::worksheet::Worksheet;
use leptos::prelude::*;
use serde::Serialize;

use super::Keeper;
use super::keep::Key;
use super::known::Known;

/// Format of the stored list.
pub const FORMAT: u32 = 1;

/// What the shelf shows of a worksheet without opening it.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default, Serialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Card {
    /// The worksheet's id.
    pub id: String,
    /// What the car is called.
    pub title: String,
    /// Where it was seen.
    pub place: String,
    /// The day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<Date>,
    /// Whether it was deleted and can still be brought back.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub deleted: bool,
}

record! { Card { id, title, place, date, deleted } }

impl Card {
    /// The card of a worksheet.
    pub fn of(worksheet: &Worksheet) -> Self {
        Self {
            id: worksheet.id.clone(),
            title: worksheet.title(),
            place: worksheet.visit.place.clone(),
            date: worksheet.visit.date.value(),
            deleted: false,
        }
    }
}

/// The stored list.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Stored {
    /// Cards of all worksheets, newest first.
    pub cards: Vec<Card>,
    /// Id of the worksheet that was open last; blank if none was.
    pub open: String,
}

record! { Stored { cards, open } }

impl Shared for Stored {}

/// The worksheets that there are, newest first, and which was open last.
#[derive(Clone, Copy)]
pub struct Shelf {
    keeper: Keeper,
    /// Cards of all worksheets, deleted ones included.
    pub cards: RwSignal<Vec<Card>>,
    known: StoredValue<Known<Stored>>,
}

impl Shelf {
    /// Reads the list, adds worksheets that are stored but not in it, and says which was open last.
    pub fn open(keeper: Keeper) -> (Self, String) {
        let known: Known<Stored> = Known::open(keeper, &Key::Shelf).unwrap_or_default();
        let Stored { mut cards, open } = known.body();
        for id in keeper.ids(&Key::Worksheet(String::new())) {
            if cards.iter().any(|card| card.id == id) {
                continue;
            }
            if let Some(worksheet) = keeper.get::<Worksheet>(&Key::Worksheet(id)) {
                cards.push(Card::of(&worksheet));
            }
        }
        (Self { keeper, cards: RwSignal::new(cards), known: StoredValue::new(known) }, open)
    }

    /// Takes in what another tab made of the list.
    pub fn hear_others(&self) {
        let mine = self.known.with_value(|known| Stored { cards: self.cards.get_untracked(), ..known.body() });
        let heard = self.known.try_update_value(|known| known.hear(self.keeper, &Key::Shelf, &mine)).flatten();
        if let Some(merged) = heard.filter(|merged| merged.is_news_here) {
            self.cards.set(merged.both.cards);
        }
    }

    /// Puts a worksheet's card first, or brings it up to date where it is.
    pub fn note(&self, worksheet: &Worksheet) {
        let card = Card::of(worksheet);
        if self.cards.with_untracked(|cards| cards.contains(&card)) && !self.keeper.must_store(&Key::Shelf) {
            return;
        }
        self.cards.update(|cards| match cards.iter_mut().find(|known| known.id == card.id) {
            Some(known) => *known = card,
            None => cards.insert(0, card),
        });
        self.store(&worksheet.id);
    }

    /// Takes away the card of a worksheet that was never stored.
    pub fn drop_card(&self, id: &str) {
        self.cards.update(|cards| cards.retain(|card| card.id != id));
    }

    /// Marks a worksheet as deleted, or brings it back.
    pub fn set_deleted(&self, id: &str, deleted: bool, open: &str) {
        self.cards.update(|cards| {
            if let Some(card) = cards.iter_mut().find(|card| card.id == id) {
                card.deleted = deleted;
            }
        });
        self.store(open);
    }

    /// Takes the deleted worksheets away for good.
    pub fn empty_bin(&self, open: &str) {
        let gone = self.cards.with_untracked(|cards| {
            cards.iter().filter(|card| card.deleted).map(|card| card.id.clone()).collect::<Vec<_>>()
        });
        for id in gone {
            self.keeper.remove(&Key::Steps(id.clone()));
            self.keeper.remove(&Key::Worksheet(id));
        }
        self.cards.update(|cards| cards.retain(|card| !card.deleted));
        self.store(open);
    }

    /// Keeps the list, and which worksheet is open.
    pub fn store(&self, open: &str) {
        self.hear_others();
        let stored = Stored { cards: self.cards.get_untracked(), open: open.to_owned() };
        self.known.update_value(|known| _ = known.store(self.keeper, &Key::Shelf, &stored));
    }
}
