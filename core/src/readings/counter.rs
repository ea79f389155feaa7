//! The counter: what it may have rolled over to, what a year's use comes to, and whether that is credible.

use crate::figure::Amount;
use crate::phrase;
use crate::phrase::{Phrase, Say, display};
use crate::units::{Duration, Length, Unit};

use super::desk::Desk;
use super::vehicle_age;

/// Why a counter cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CounterError {
    /// It shows less than nothing or more than its digits can.
    Shown,
    /// Not a number of digits that counters have.
    Digits,
    /// It counts neither miles nor kilometres.
    CountsIn,
    /// The age is not that of a car.
    Years,
    /// Papers show less than nothing or more than any car has done.
    Previous,
}

display!(CounterError);

impl Say for CounterError {
    fn phrase(&self) -> Phrase {
        match self {
            Self::Shown => phrase!("the counter shows 0 or more, and no more than its digits can; leave tenths out"),
            Self::Digits => phrase!("a counter has 4 to 7 digits without the tenths, as a whole number"),
            Self::CountsIn => phrase!("write mi or km, as it stands on the dial"),
            Self::Years => phrase!("a car is 0 to 150 years old"),
            Self::Previous => phrase!("papers show 0 to 5 million km; leave this empty if there are none"),
        }
    }
}

impl core::error::Error for CounterError {}

/// A distance counter: what one of its units is, and how many digits it has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Counter {
    unit: Unit,
    digits: u8,
}

impl Counter {
    /// A counter of miles or kilometres with 4 to 7 digits, tenths not counted.
    ///
    /// # Errors
    /// [`CounterError`] for another unit or number of digits.
    pub fn new(unit: Unit, digits: u8) -> Result<Self, CounterError> {
        if !matches!(unit, Unit::Mile | Unit::Kilometre) {
            return Err(CounterError::CountsIn);
        }
        if (4..=7).contains(&digits) { Ok(Self { unit, digits }) } else { Err(CounterError::Digits) }
    }

    /// The distance after which it shows nothing again: 100,000 of its unit for five digits.
    #[must_use]
    pub fn full_turn(self) -> Length {
        Length::of(libm::pow(10.0, f64::from(self.digits)), self.unit)
    }

    fn checked(self, shown: Length) -> Result<Length, CounterError> {
        if shown.0 >= 0.0 && shown < self.full_turn() { Ok(shown) } else { Err(CounterError::Shown) }
    }

    /// What the car may have covered: as shown, and after one rollover, two, …
    ///
    /// # Errors
    /// [`CounterError::Shown`] if it cannot show that.
    pub fn candidates(self, shown: Length, rollovers: u8) -> Result<Vec<Length>, CounterError> {
        let shown = self.checked(shown)?;
        Ok((0..=rollovers).map(|turns| Length(shown.0 + f64::from(turns) * self.full_turn().0)).collect())
    }

    /// The distance between two showings, the later one `shown`, with as few rollovers as will do: none where it
    /// rose, one where it fell.
    ///
    /// # Errors
    /// [`CounterError::Shown`] if it cannot show one of them.
    pub fn gained(self, earlier: Length, shown: Length) -> Result<Length, CounterError> {
        let (earlier, shown) = (self.checked(earlier)?, self.checked(shown)?);
        let rolled = if shown < earlier { self.full_turn().0 } else { 0.0 };
        Ok(Length(shown.0 + rolled - earlier.0))
    }
}

/// What a year's use of a car comes to: 8,420 miles, the mean of Great Britain in 2009 (National Travel Survey,
/// webarchive.nationalarchives.gov.uk). A car kept for pleasure does far less.
#[must_use]
pub fn typical_year() -> Length {
    Length::of(8420.0, Unit::Mile)
}

/// Years of ordinary use that an old car has behind it before it is spared (common practice, no source).
const WORKING_YEARS: f64 = 15.0;

/// What a counter most likely stands for.
///
/// With papers: the least candidate that is not less than they show. Without: as shown, but a car of fifteen years
/// or more whose counter shows less than half of what fifteen ordinary years come to has been round once: five
/// digits at 39,000 on an old car are read as 139,000 (common practice, no source).
///
/// # Errors
/// [`CounterError`] if the counter cannot show that, or age or papers are out of reach.
pub fn likely(
    counter: Counter,
    shown: Length,
    age: Option<Duration>,
    papers: Option<Length>,
) -> Result<Length, CounterError> {
    let years = age.map(|age| age.0 / Unit::Year.to_si(1.0));
    if years.is_some_and(|years| !(0.0..=150.0).contains(&years)) {
        return Err(CounterError::Years);
    }
    let shown = counter.checked(shown)?;
    if let Some(papers) = papers {
        if !(0.0..=5e9).contains(&papers.0) {
            return Err(CounterError::Previous);
        }
        // A rollover is not counted for what rounding takes off a converted figure.
        let turns = libm::ceil((papers.0 - shown.0) / counter.full_turn().0 - 1e-9).max(0.0);
        return Ok(Length(shown.0 + turns * counter.full_turn().0));
    }
    let little = shown.0 < 0.5 * WORKING_YEARS * typical_year().0;
    let old = years.is_some_and(|years| years >= WORKING_YEARS);
    Ok(if old && little && counter.digits <= 5 { Length(shown.0 + counter.full_turn().0) } else { shown })
}

/// The distance a year. A car younger than half a year counts as half a year old.
///
/// # Errors
/// [`CounterError::Years`] if the age is no car's.
pub fn per_year(distance: Length, age: Duration) -> Result<Length, CounterError> {
    let years = age.0 / Unit::Year.to_si(1.0);
    if !(0.0..=150.0).contains(&years) {
        return Err(CounterError::Years);
    }
    Ok(Length(distance.0 / years.max(0.5)))
}

/// The unit in which a counter shows whole numbers, where a showing is whole in one of the two only. What was typed
/// in miles is no whole number of kilometres, and the other way about.
fn unit_in_which_whole(shown: Length) -> Option<Unit> {
    let whole = |unit: Unit| {
        let amount = shown.to(unit);
        (amount - libm::round(amount)).abs() < 1e-6
    };
    match (whole(Unit::Mile), whole(Unit::Kilometre)) {
        (true, false) => Some(Unit::Mile),
        (false, true) => Some(Unit::Kilometre),
        _ => None,
    }
}

fn unit_named(text: &str) -> Result<Unit, CounterError> {
    match text.trim().to_lowercase().trim_end_matches('.') {
        "mi" | "mile" | "miles" | "m" => Ok(Unit::Mile),
        "km" | "kilometre" | "kilometres" | "kilometer" | "kilometers" => Ok(Unit::Kilometre),
        _ => Err(CounterError::CountsIn),
    }
}

/// The rule `counter`.
pub(super) fn read(desk: &mut Desk) {
    let Some(shown) = desk.number("shown").map(Length) else { return };
    let Some(unit) = counter_unit(desk, shown) else { return };
    let digits = match desk.number("digits") {
        Some(typed) => desk.take("digits", (4..=7_u8).find(|n| f64::from(*n) == typed).ok_or(CounterError::Digits)),
        None if desk.has("digits") => None,
        None => {
            // Six digits need no guess; five are what older cars have.
            let six = shown.to(unit) >= 99_999.5;
            desk.note(phrase!(
                "Read as a counter of {0} digits: count them, without the tenths.",
                if six { 6 } else { 5 }
            ));
            Some(if six { 6 } else { 5 })
        }
    };
    let Some(digits) = digits else { return };
    let Some(counter) = desk.take("digits", Counter::new(unit, digits)) else { return };
    let age = match desk.number("years") {
        Some(years) => Some(Duration(years)),
        None => desk.first_used().zip(desk.on()).map(|(first, on)| vehicle_age::age(first, on)),
    };
    let papers = desk.number("previous").map(Length);
    let distance = match likely(counter, shown, age, papers) {
        Ok(distance) => distance,
        Err(error) => {
            let field = match error {
                CounterError::Years => "years",
                CounterError::Previous => "previous",
                CounterError::Shown | CounterError::Digits | CounterError::CountsIn => "shown",
            };
            desk.problem(field, error.phrase());
            return;
        }
    };
    desk.result("likely", distance.0);
    note_candidates(desk, counter, shown, distance, papers.is_some());
    if papers.is_none()
        && let (Some(first), Some(on)) = (desk.first_used(), desk.on())
        && vehicle_age::needs_no_odometer_statement(first.year(), on.year())
    {
        desk.note("American papers of a car of this age need not state its distance: their silence says nothing.");
    }
    let Some(age) = age else {
        desk.note("Enter the car's age to see what a year's use comes to.");
        return;
    };
    if let Some(yearly) = desk.take("years", per_year(distance, age)) {
        desk.result("per-year", yearly.0);
        desk.result("against-typical", yearly.0 / typical_year().0);
    }
}

fn counter_unit(desk: &mut Desk, shown: Length) -> Option<Unit> {
    if desk.has("counts-in") {
        let text = desk.text("counts-in")?;
        return desk.take("counts-in", unit_named(text));
    }
    let (unit, note) = match unit_in_which_whole(shown) {
        Some(Unit::Kilometre) => (Unit::Kilometre, "Read as a counter of kilometres, of which the figure is whole."),
        Some(_) => (Unit::Mile, "Read as a counter of miles, of which the figure is whole."),
        None => (Unit::Mile, "Read as a counter of miles: enter what it counts if that is not so."),
    };
    desk.note(note);
    Some(unit)
}

fn note_candidates(desk: &mut Desk, counter: Counter, shown: Length, likely: Length, papers: bool) {
    let say = |distance: Length| Amount::Number(distance.to(counter.unit), 0);
    let unit = counter.unit.symbol();
    if likely > shown {
        let why = if papers { "the papers already show more than the counter" } else { "the papers are silent" };
        desk.note(phrase!(
            "The counter has been round: {0} {1} is taken for {2}, as {3}.",
            say(likely),
            unit,
            say(shown),
            why
        ));
    } else if let Ok(candidates) = counter.candidates(shown, 2)
        && counter.digits <= 5
    {
        let each = candidates.into_iter().map(|distance| phrase!("{0}", say(distance)));
        let list = each.reduce(|before, next| phrase!("{0}, {1}", before, next)).unwrap_or_default();
        desk.note(phrase!("A counter of {0} digits cannot tell {1} {2} apart.", counter.digits, list, unit));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn miles(amount: f64) -> Length {
        Length::of(amount, Unit::Mile)
    }

    fn years(amount: f64) -> Option<Duration> {
        Some(Duration(Unit::Year.to_si(amount)))
    }

    #[track_caller]
    fn reads_as(shown: f64, age: Option<Duration>, papers: Option<f64>, want: f64) {
        let counter = Counter::new(Unit::Mile, 5).unwrap();
        let distance = likely(counter, miles(shown), age, papers.map(miles)).unwrap();
        assert!((distance.to(Unit::Mile) - want).abs() < 1e-6, "{shown}: {}", distance.to(Unit::Mile));
    }

    #[test]
    fn papers_go_before_the_rule_of_thumb() {
        reads_as(39_000.0, years(50.0), None, 139_000.0);
        reads_as(39_000.0, years(50.0), Some(36_500.0), 39_000.0);
        reads_as(39_000.0, years(50.0), Some(112_000.0), 139_000.0);
        reads_as(39_000.0, years(50.0), Some(139_001.0), 239_000.0);
        reads_as(39_000.0, years(50.0), Some(39_000.0), 39_000.0);
        reads_as(39_000.0, years(4.0), None, 39_000.0);
        reads_as(39_000.0, None, None, 39_000.0);
        reads_as(71_000.0, years(50.0), None, 71_000.0);
    }

    #[test]
    fn bad_input_says_how_to_mend_it() {
        let counter = Counter::new(Unit::Mile, 5).unwrap();
        assert_eq!(Counter::new(Unit::Mile, 3), Err(CounterError::Digits));
        assert_eq!(Counter::new(Unit::Metre, 5), Err(CounterError::CountsIn));
        assert_eq!(counter.candidates(miles(100_000.0), 1), Err(CounterError::Shown));
        assert_eq!(counter.gained(miles(-1.0), miles(5.0)), Err(CounterError::Shown));
        assert_eq!(likely(counter, miles(1.0), years(200.0), None), Err(CounterError::Years));
        assert_eq!(likely(counter, miles(1.0), None, Some(miles(-5.0))), Err(CounterError::Previous));
        assert_eq!(unit_named("furlongs"), Err(CounterError::CountsIn));
    }

    proptest! {
        #[test]
        fn the_unit_is_told_from_a_whole_number(amount in 1_u32..99_999) {
            let amount = f64::from(amount);
            // A mile is 25,146/15,625 km: only multiples of these are whole in both.
            let told = |unit, by: f64| Some(unit).filter(|_| amount % by != 0.0);
            prop_assert_eq!(unit_in_which_whole(Length::of(amount, Unit::Mile)), told(Unit::Mile, 15_625.0));
            prop_assert_eq!(unit_in_which_whole(Length::of(amount, Unit::Kilometre)), told(Unit::Kilometre, 25_146.0));
        }

        #[test]
        fn what_is_likely_is_a_candidate_and_not_less_than_papers(
            shown in 0_u32..99_999, papers in 0_u32..2_000_000, known: bool, age in 0_u32..100
        ) {
            let counter = Counter::new(Unit::Kilometre, 5).unwrap();
            let kilometres = |amount: u32| Length::of(f64::from(amount), Unit::Kilometre);
            let papers = known.then(|| kilometres(papers));
            let distance = likely(counter, kilometres(shown), years(f64::from(age)), papers).unwrap();
            let turns = (distance.0 - kilometres(shown).0) / counter.full_turn().0;
            prop_assert!((turns - turns.round()).abs() < 1e-9 && turns >= 0.0);
            if let Some(papers) = papers {
                prop_assert!(distance.0 >= papers.0 - 1.0 && (turns == 0.0 || distance.0 - counter.full_turn().0 < papers.0));
            }
        }
    }
}
