//! The honest listing: what a seller tells, in plain words, from what was recorded.
//!
//! It declares every fault that is known, whether it is wanted or not: a fault cannot be left out of the listing without
//! being taken out of the worksheet. Chassis and engine number stay out, since a listing is read by anyone and numbers are
//! what a stolen identity is made of; a buyer reads them on the car.

use super::Case;
use super::document::{Block, Document};
use super::found::{Found, by_system, combined, found};
use super::report::{departure_points, hold_in_short, lamp_points, no_comparison, outside};
use super::words::{and, count, sentence, sentences, within};
use crate::appraise::asking::asking;
use crate::appraise::valuation::Worth;
use crate::ordered;
use crate::units::{Money, Quantity};
use crate::worksheet::{Receipt, Ruling};
use crate::{phrase, say};

/// How long the listing is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Length {
    /// Every fault with its note, what came out right, what was not checked, by name.
    #[default]
    Full,
    /// Every fault in a line, the rest in sums.
    Short,
}

impl Length {
    /// Both lengths.
    pub const ALL: [Self; 2] = [Self::Short, Self::Full];

    /// The length as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Full => "Full",
            Self::Short => "Short",
        }
    }
}

/// The listing.
#[must_use]
pub fn listing(case: Case<'_>, length: Length) -> Document {
    let all = found(case);
    let mut document =
        Document::titled(phrase!("For sale: {0}", case.show.word(&case.worksheet.title()).to_owned()), case.show);
    what_it_is(&mut document, case);
    faults(&mut document, case, &all, length);
    put_right(&mut document, case, length);
    came_out_right(&mut document, case, &all, length);
    not_checked(&mut document, case, &all, length);
    price(&mut document, case, length);
    document.paragraph(
        "This tells what was found on the day named, as far as it was looked at. It is an opinion, not a certificate and \
         not a warranty; come and look, and bring somebody who knows.",
    );
    document
}

fn what_it_is(document: &mut Document, case: Case<'_>) {
    let Case { worksheet, show, .. } = case;
    let (car, visit) = (&worksheet.car, &worksheet.visit);
    let mileage = car.mileage.value().map(|mileage| show.quantity(Quantity::Distance, mileage.0));
    document.paragraph(sentences(&[
        if car.registration.trim().is_empty() {
            String::new()
        } else {
            say!(case.show, "Registration mark {0}", car.registration.trim().to_owned())
        },
        car.colour.trim().to_owned(),
        mileage.map_or_else(
            || case.show.word("Mileage not known").to_owned(),
            |mileage| say!(case.show, "About {0}, as far as counter and papers can be believed", mileage),
        ),
        car.note.trim().to_owned(),
    ]));
    if let Some(day) = visit.date.value() {
        document.paragraph(match visit.by.trim() {
            "" => phrase!("Looked over on {0}.", day),
            by => phrase!("Looked over on {0} by {1}.", day, by.trim_end_matches('.').to_owned()),
        });
    }
}

/// Every known fault, the gravest first.
fn faults(document: &mut Document, case: Case<'_>, all: &[Found<'_>], length: Length) {
    document.part("Known faults");
    let mut wrong: Vec<&Found<'_>> = all.iter().filter(|found| found.is_wrong()).collect();
    // The sort is stable: within a grade the order of the sheet stays.
    ordered::sort(&mut wrong, |a, b| (b.is_unsafe, b.grade()).cmp(&(a.is_unsafe, a.grade())));
    let mut points: Vec<String> = wrong.iter().map(|found| fault(case, found, length)).collect();
    points.extend(confirmed_apart(case, all));
    let none = points.is_empty();
    let holds: Vec<String> = case.appraisal.holds.iter().map(|hold| hold_in_short(case, hold)).collect();
    if !holds.is_empty() {
        let said = say!(
            case.show,
            "This car is not to be driven until it is put right; bring a trailer. {0}.",
            holds.join("; ")
        );
        document.block(Block::Caution(said));
    }
    if none {
        document.paragraph(if case.appraisal.condition.overall.made == 0 {
            "None is known, but no check has been made."
        } else {
            "None was found at the checks that were made."
        });
    }
    document.list(points);
    let measured = outside(case);
    if length == Length::Full && !measured.is_empty() {
        document.section("Measured, and outside what is right");
        document.list(measured);
    }
    let lamps = lamp_points(case);
    if !lamps.is_empty() {
        document.section("Lamps");
        document.list(lamps);
    }
    departures(document, case, length);
}

/// A fault in a line: what, how bad, what shows it, what is behind it, and the note.
fn fault(case: Case<'_>, found: &Found<'_>, length: Length) -> String {
    let grade = case.show.word(found.grade_word());
    let grade = if found.is_unsafe { say!(case.show, "{0}, unsafe", grade.to_owned()) } else { grade.to_owned() };
    let mut said = vec![found.signs(case)];
    // What is confirmed is known, and told at every length.
    if length == Length::Full || !found.confirmed.is_empty() {
        said.push(found.likely_in_short(case));
    }
    // A grade alone says nothing of what is wrong.
    if length == Length::Full || found.seen.is_empty() {
        said.push(found.note());
    }
    format!("{} ({grade}): {}", found.check.name, sentences(&said)).trim_end_matches([' ', ':']).to_owned()
}

/// Confirmed faults that no sign at a check tells of.
fn confirmed_apart(case: Case<'_>, all: &[Found<'_>]) -> Vec<String> {
    let told = |id: &str| all.iter().any(|found| found.confirmed.iter().any(|fault| fault.id == id));
    let confirmed = case.worksheet.rulings.iter().filter(|(id, ruling)| **ruling == Ruling::Confirmed && !told(id));
    confirmed
        .filter_map(|(id, _)| case.sheet.fault(id))
        .filter(|fault| !fault.normal)
        .map(|fault| say!(case.show, "{0} (confirmed)", fault.name))
        .collect()
}

fn departures(document: &mut Document, case: Case<'_>, length: Length) {
    let Case { worksheet, sheet, appraisal, .. } = case;
    let there: Vec<String> = match length {
        Length::Full => departure_points(case),
        Length::Short => sheet
            .departures
            .iter()
            .filter(|departure| worksheet.departures.get(&departure.id) == Some(&true))
            .map(|departure| departure.name.clone())
            .collect(),
    };
    if there.is_empty() {
        return;
    }
    document.section("Not as it was made");
    let bad = appraisal.combinations.iter().filter_map(|id| sheet.combinations.iter().find(|it| it.id == *id));
    let bad = bad.map(|bad| say!(case.show, "{0} together. {1}", combined(case, bad), sentence(&bad.effect)));
    document.list(there.into_iter().chain(bad).collect());
}

/// Receipts, and work that is meant to be done.
fn put_right(document: &mut Document, case: Case<'_>, length: Length) {
    let Case { worksheet, appraisal, show, .. } = case;
    let mut receipts: Vec<&Receipt> = worksheet.receipts.iter().collect();
    ordered::sort(&mut receipts, |a, b| a.date.value().cmp(&b.date.value()));
    let point = |receipt: &&Receipt| {
        let date = receipt.date.value().map_or_else(|| case.show.word("No date").to_owned(), |date| show.date(date));
        let cost = receipt.cost.value().map(|cost| format!(" ({})", show.whole_money(cost))).unwrap_or_default();
        format!("{date}: {}{cost}", receipt.what.trim().trim_end_matches('.'))
    };
    document.part("Put right, with receipts");
    if receipts.is_empty() {
        document.paragraph("There are no receipts.");
    }
    document.list(receipts.iter().map(point).collect());
    let chosen: Vec<String> =
        appraisal.repairs.items.iter().filter(|repair| repair.chosen).map(|repair| repair.name.clone()).collect();
    if !chosen.is_empty() && length == Length::Full {
        document.paragraph(phrase!("Meant to be done before the sale, and not done yet: {0}.", chosen.join("; ")));
    }
}

/// What came out right: by name in full, in a count in short.
fn came_out_right(document: &mut Document, case: Case<'_>, all: &[Found<'_>], length: Length) {
    let right = by_system(all, Found::is_right);
    let number: usize = right.iter().map(|(_, of)| of.len()).sum();
    if number == 0 {
        return;
    }
    document.part("Looked at and right");
    if length == Length::Short {
        let systems: Vec<String> =
            right.iter().map(|(system, of)| format!("{} {}", within(case.show, system.name()), of.len())).collect();
        document.paragraph(phrase!(
            "{0} came out right: {1}.",
            count(number, "{0} check", "{0} checks"),
            and(case.show, &systems)
        ));
        return;
    }
    let names = |of: &[&Found<'_>]| of.iter().map(|found| &*found.check.name).collect::<Vec<_>>().join("; ");
    document
        .list(right.iter().map(|(system, of)| format!("{}: {}", case.show.word(system.name()), names(of))).collect());
}

/// What was not checked, and why.
fn not_checked(document: &mut Document, case: Case<'_>, all: &[Found<'_>], length: Length) {
    document.part("Not checked");
    let overall = &case.appraisal.condition.overall;
    if overall.made == 0 {
        document.paragraph("No check has been made.");
        return;
    }
    document.paragraph(phrase!(
        "{0} of {1} made; by weight that is {2}. What was not checked may hide faults.",
        overall.made,
        count(overall.of, "{0} check was", "{0} checks were"),
        case.show.share(overall.cover)
    ));
    let unseen = by_system(all, Found::is_unseen);
    let line = |of: &[&Found<'_>]| match length {
        Length::Short => of.len().to_string(),
        Length::Full => {
            let name = |found: &&Found<'_>| match found.why_not() {
                Some(why) => format!("{} ({})", found.check.name, case.show.word(why.name())),
                None => found.check.name.clone(),
            };
            of.iter().map(name).collect::<Vec<_>>().join("; ")
        }
    };
    if length == Length::Short {
        let systems: Vec<String> =
            unseen.iter().map(|(system, of)| format!("{} {}", within(case.show, system.name()), line(of))).collect();
        if !systems.is_empty() {
            document.paragraph(phrase!("Checks not made: {0}.", and(case.show, &systems)));
        }
    } else {
        document.list(
            unseen.iter().map(|(system, of)| format!("{}: {}", case.show.word(system.name()), line(of))).collect(),
        );
    }
}

/// The price and its reasons. Where the seller has named none, it is the one that the sales support ([`asking`]).
fn price(document: &mut Document, case: Case<'_>, length: Length) {
    let Case { worksheet, appraisal, show, .. } = case;
    document.part("Price");
    let asked = worksheet.car.asked.value().or_else(|| asking(appraisal, show).map(|asking| asking.price));
    let named = asked.map_or_else(
        || case.show.word("No price is named yet.").to_owned(),
        |asked| say!(case.show, "Asking {0}.", show.whole_money(asked)),
    );
    let (worth, comparison) = match (&appraisal.worth, &appraisal.comparison) {
        (Some(worth), Ok(comparison)) => (worth, comparison),
        (_, Err(why)) => {
            document.paragraph(phrase!("{0} No sales stand behind it: {1}.", named, no_comparison(case, why)));
            return;
        }
        (None, Ok(_)) => return document.paragraph(named),
    };
    let reason = say!(
        case.show,
        "The price goes by {0} of comparable cars, brought to this car's mileage and condition, less what buyers take off for the \
         faults above. As it stands that puts it between {1} and {2}, with a middle of {3}; eight of ten such sales should fall \
         in that range.",
        count(comparison.rows.len(), "{0} sale", "{0} sales"),
        show.whole_money(worth.rounded.low),
        show.whole_money(worth.rounded.high),
        show.whole_money(worth.rounded.middle)
    );
    let place = asked.map_or("", |asked| against(asked, worth));
    document.paragraph(format!("{named} {reason}"));
    document.paragraph(place);
    if length == Length::Full {
        document.paragraph("The list of sales and the working can be seen on request.");
    }
}

/// How the price asked lies to the worth, said to the reader's face.
fn against(asked: Money, worth: &Worth) -> &'static str {
    let at = |minor: f64| Money::nearest(minor);
    if asked > at(worth.stands.high) {
        "The price asked is above that range: it is more than the sales support."
    } else if asked > at(worth.inner.high) {
        "The price asked is in the upper part of that range."
    } else if asked >= at(worth.inner.low) {
        "The price asked is in the inner half of that range."
    } else if asked >= at(worth.stands.low) {
        "The price asked is in the lower part of that range."
    } else {
        "The price asked is below that range."
    }
}
