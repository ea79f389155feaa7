//! A part of a sheet as a form: which fields it has, what each holds, how that is shown and how what is typed is
//! read. An editor draws any part from this, without knowing what a check or a fault is.

mod listed;
mod rows;
mod slots;

use crate::show::Show;
use crate::units::{Currency, Money, NumberError, Quantity, number};

use super::part::{Part, Section};
pub use listed::Choice;
pub use rows::Rows;

/// What an id in a field names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Target {
    /// A sign of any check.
    Sign,
    /// An entry of a section.
    Entry(Section),
}

/// What a field takes.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A line of text.
    Line,
    /// Several lines of text.
    Lines,
    /// A number, with its unit.
    Number(&'static str),
    /// A whole number from 0 to 255.
    Whole,
    /// A probability or share: `30 %` or `0.3`.
    Share,
    /// An amount in the sheet's currency.
    Money,
    /// A currency by its code.
    Currency,
    /// A value of a quantity in the person's unit, or nothing; whether it is a difference of two values.
    Measure(Quantity, bool),
    /// Yes or no.
    Flag,
    /// One of these.
    One(Vec<&'static str>),
    /// Any of these.
    Several(Vec<Choice>),
    /// What an id names.
    Id(Target),
    /// The same, or nothing.
    MaybeId(Target),
    /// What several ids name.
    Ids(Target),
}

/// What a field holds.
#[derive(Debug, Clone, PartialEq)]
pub enum Content {
    /// Text.
    Text(String),
    /// A number in the units of the sheet, or nothing.
    Number(Option<f64>),
    /// Yes or no.
    Flag(bool),
    /// Places of what is chosen among what the kind offers.
    Chosen(Vec<usize>),
    /// Ids.
    Ids(Vec<String>),
}

/// A field of a part.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Field {
    /// Its name, as the last word of its place.
    pub name: &'static str,
    /// What it is called.
    pub label: &'static str,
    /// What it takes.
    pub kind: Kind,
}

impl Part {
    /// Its fields in the order in which they are filled in; of one of its rows ([`Part::rows`]) if one is named.
    #[must_use]
    pub fn fields(&self, row: Option<usize>) -> Vec<Field> {
        let mut part = self.clone();
        part.slots(row)
            .iter()
            .map(|slot| Field { name: slot.name, label: slot.label, kind: slot.holds.kind() })
            .collect()
    }

    /// What a field holds; nothing if there is no such field.
    #[must_use]
    pub fn field(&self, row: Option<usize>, name: &str) -> Option<Content> {
        let mut part = self.clone();
        part.slots(row).iter().find(|slot| slot.name == name).map(|slot| slot.holds.content())
    }

    /// Puts something into a field. `false` if there is no such field or it does not take that.
    pub fn fill(&mut self, row: Option<usize>, name: &str, content: &Content) -> bool {
        let slot = self.slots(row).into_iter().find(|slot| slot.name == name);
        slot.is_some_and(|slot| slot.holds.fill(content))
    }
}

impl Kind {
    /// What a field of this kind shows for what it holds: what [`Kind::read`] reads back to the same.
    #[must_use]
    pub fn show(&self, content: &Content, show: &Show) -> String {
        let style = show.style();
        match (content, self) {
            (Content::Text(text), _) => text.clone(),
            (Content::Number(Some(value)), Self::Share) => format!("{} %", number::show_short(value * 100.0, 6, style)),
            (Content::Number(Some(minor)), Self::Money) => show.currency.show_plain(Money::nearest(*minor), style),
            (Content::Number(Some(si)), Self::Measure(quantity, difference)) => {
                let zero = if *difference { show.unit(*quantity).to_si(0.0) } else { 0.0 };
                show.unit(*quantity).show_plain(si + zero, style)
            }
            (Content::Number(Some(value)), _) => number::show_short(*value, 6, style),
            _ => String::new(),
        }
    }

    /// Reads what was typed.
    ///
    /// # Errors
    /// What is wrong with it, as a sentence that says how to mend it.
    pub fn read(&self, text: &str, show: &Show) -> Result<Content, String> {
        let style = show.style();
        let said = |error: NumberError| error.to_string();
        let number = match self {
            Self::Measure(..) if text.trim().is_empty() => return Ok(Content::Number(None)),
            Self::Number(_) => number::parse(text, style).map_err(said)?,
            Self::Whole => {
                let whole = number::parse_scaled(text, 0, style).map_err(said)?;
                u8::try_from(whole).map_err(|_| "a whole number from 0 to 255 is wanted here")?.into()
            }
            Self::Share => read_share(text, show)?,
            Self::Money => show.currency.read(text, style).map_err(said)?.minor(),
            Self::Measure(quantity, difference) => {
                let unit = show.unit(*quantity);
                let zero = if *difference { unit.to_si(0.0) } else { 0.0 };
                unit.read(text, style).map_err(said)? - zero
            }
            Self::Currency => {
                let code = Currency::parse(text).ok_or("a currency is a code of three letters, such as GBP")?;
                return Ok(Content::Text(code.code().to_owned()));
            }
            _ => return Ok(Content::Text(text.to_owned())),
        };
        Ok(Content::Number(Some(number)))
    }

    /// The unit to name beside the field; blank for none.
    #[must_use]
    pub fn unit(&self, show: &Show) -> String {
        match self {
            Self::Number(unit) => (*unit).to_owned(),
            Self::Money => show.currency.code().to_owned(),
            Self::Measure(quantity, _) => show.unit(*quantity).symbol().to_owned(),
            _ => String::new(),
        }
    }

    /// What is chosen after the choice at a place was made or taken back.
    #[must_use]
    pub fn toggled(&self, chosen: &[usize], place: usize) -> Vec<usize> {
        if chosen.contains(&place) {
            return chosen.iter().copied().filter(|kept| *kept != place).collect();
        }
        let Self::Several(options) = self else { return vec![place] };
        let alone = options.get(place).filter(|option| option.alone).map(|option| option.group);
        let stays = |kept: &usize| alone.is_none() || options.get(*kept).map(|option| option.group) != alone;
        chosen.iter().copied().filter(stays).chain([place]).collect()
    }
}

/// A share as people write it: `30 %` and `30` are 0.3, and so is `0.3`. Below 1 a bare number is the share itself,
/// since less than one in a hundred is written with its sign.
fn read_share(text: &str, show: &Show) -> Result<f64, String> {
    let trimmed = text.trim();
    let bare = trimmed.strip_suffix('%');
    let value = number::parse(bare.unwrap_or(trimmed), show.style()).map_err(|error| error.to_string())?;
    Ok(if bare.is_some() || value >= 1.0 { value / 100.0 } else { value })
}

#[cfg(test)]
mod tests;
