//! The asking price of an honest listing: the worth as it stands, and how much room above its middle.
//!
//! The rule, a judgement: the room is the way from the middle to the upper end of the 50 % range, times the cover.
//! One such car in four fetches more than that end, so an opening there can be defended; and a buyer who may look
//! for himself at what the seller did not look at takes that part of the room back. With one or two sales the
//! range is an assumption, and an assumption is no reason to ask for more: there is no room. The price is rounded
//! up to the worth's own step.

use crate::{phrase, say};
use serde::Serialize;

use super::Appraisal;
use super::comparison::Comparison;
use super::valuation::Worth;
use crate::figure::{Amount, Figure};
use crate::market::diagnostics::Warning;
use crate::show::Show;
use crate::units::Money;

/// Cover from which the listing may say that the car was gone through. Judgement.
const WELL_COVERED: f64 = 0.8;

/// An asking price and what stands behind it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct AskingPrice {
    /// What to ask, as the car stands.
    pub price: Money,
    /// Room above the middle before rounding.
    pub room: Money,
    /// The price below which the seller gives away what the sales support: the lower end of the 50 % range.
    pub hold_to: Money,
    /// What to ask once the chosen work is done; nothing if none is chosen.
    pub when_done: Option<Money>,
    /// The reasons, a sentence each.
    pub reasons: Vec<String>,
    /// How the price came about.
    pub working: Figure,
}

/// Rounded up to a step.
fn up_to_step(amount: f64, step: Money) -> Money {
    let step = step.minor().max(1.0);
    Money::nearest(libm::ceil(amount / step - 1e-9) * step)
}

/// The asking price; nothing if there is no worth.
#[must_use]
pub fn asking(appraisal: &Appraisal, show: &Show) -> Option<AskingPrice> {
    let worth = appraisal.worth.as_ref()?;
    let comparison = appraisal.comparison.as_ref().ok()?;
    let cover = appraisal.condition.overall.cover.clamp(0.0, 1.0);
    let allowed = if is_assumed(comparison) { 0.0 } else { cover };
    let quarter = (worth.inner.high - worth.inner.middle).max(0.0);
    let room = allowed * quarter;
    let step = worth.rounded.step;
    let price = up_to_step(worth.stands.middle + room, step);
    let chosen = appraisal.repairs.items.iter().any(|repair| repair.chosen);
    let when_done = chosen.then(|| up_to_step(worth.when_done.middle + room, step));
    Some(AskingPrice {
        price,
        room: Money::nearest(room),
        hold_to: Money::nearest(worth.inner.low).to_nearest(step),
        when_done,
        reasons: reasons(appraisal, comparison, worth, show),
        working: working(worth, quarter, allowed, price),
    })
}

/// Whether the range is the assumed one.
fn is_assumed(comparison: &Comparison) -> bool {
    comparison.warnings.contains(&Warning::PriorDriven)
}

fn reasons(appraisal: &Appraisal, comparison: &Comparison, worth: &Worth, show: &Show) -> Vec<String> {
    let money = |amount: Money| show.whole_money(amount);
    let (outer, inner) = (worth.rounded, worth.inner_rounded());
    let sales = match comparison.rows.len() {
        1 => "One comparable sale puts".into(),
        count => phrase!("{0} comparable sales put", count),
    };
    let mut reasons = vec![say!(
        show,
        "{0} the worth as it stands at about {1}, and four in five such cars between {2} and {3}.",
        sales,
        money(outer.middle),
        money(outer.low),
        money(outer.high)
    )];
    let cover = appraisal.condition.overall.cover;
    if is_assumed(comparison) {
        reasons.push(
            show.word(
                "With so few sales the width of the range is assumed, so nothing is asked above the middle; add sales.",
            )
            .to_owned(),
        );
    } else {
        reasons.push(say!(
            show,
            "One such car in four fetches more than {0}: an opening up to there can be defended.",
            money(inner.high)
        ));
        let looked = show.share(cover);
        reasons.push(if cover >= WELL_COVERED {
            say!(show, "{0} of the checks, by weight, were made, so nearly all of that room is used.", looked)
        } else {
            say!(
                show,
                "Only {0} of the checks, by weight, were made, so only that part of the room is used: a buyer \
                 takes off for what was not looked at.",
                looked
            )
        });
    }
    if worth.deduction > Money::ZERO {
        reasons.push(say!(
            show,
            "{0} is already taken off for the faults that the listing declares.",
            money(worth.deduction)
        ));
    }
    if !appraisal.holds.is_empty() {
        reasons.push(show.word("The car is not to be driven as it stands; the listing must say so.").to_owned());
    }
    reasons.push(show.word("How long it takes to sell is not known: nothing entered here can tell it.").to_owned());
    reasons
}

fn working(worth: &Worth, quarter: f64, allowed: f64, price: Money) -> Figure {
    let money = |label: &'static str, minor: f64| Figure::new(label, Amount::Money(Money::nearest(minor)));
    let parts = vec![
        money("Worth as it stands, middle", worth.stands.middle),
        money("From the middle to the upper end of the 50 % range", quarter),
        Figure::new("Part of it that is used", Amount::Share(allowed))
            .noted("The cover; none while one or two sales leave the range to assumption"),
        money("Room above the middle", quarter * allowed),
        Figure::new("Rounded up to a multiple of", Amount::Money(worth.rounded.step)),
    ];
    Figure::new("Asking price", Amount::Money(price))
        .noted("The middle of the worth, and of the way to the upper end of its 50 % range as much as was looked at")
        .from_parts(parts)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::appraise;
    use crate::sheet::{TypeSheet, demo, extend::extend, general::general};
    use crate::worksheet::{Finding, JobChoice, Look, Worksheet};

    fn demo() -> (Worksheet, TypeSheet) {
        (demo::worksheet().unwrap(), extend(&general().unwrap(), &demo::curlew().unwrap()))
    }

    fn asked(worksheet: &Worksheet, sheet: &TypeSheet) -> (Appraisal, AskingPrice) {
        let appraisal = appraise(worksheet, sheet);
        let price = asking(&appraisal, &Show::default()).unwrap();
        (appraisal, price)
    }

    /// Grades every check that was not made as right.
    fn looked_at_all(worksheet: &mut Worksheet, sheet: &TypeSheet) {
        for check in &sheet.checks {
            let finding = worksheet.findings.entry(check.id.clone()).or_default();
            if finding.grade().is_none() {
                finding.look = Some(Look::Grade(crate::grade::Grade::Right));
            }
        }
    }

    #[test]
    fn lies_between_the_middle_and_a_step_above_the_upper_quarter() {
        let (worksheet, sheet) = demo();
        let (appraisal, price) = asked(&worksheet, &sheet);
        let worth = appraisal.worth.unwrap();
        assert!(price.price.minor() >= worth.stands.middle);
        assert!(price.price.minor() < worth.inner.high + worth.rounded.step.minor());
        assert_eq!(price.price.0 % worth.rounded.step.0, 0);
        assert!(price.hold_to < worth.rounded.middle);
        assert_eq!(price.working.amount, Amount::Money(price.price));
    }

    #[test]
    fn the_room_is_the_cover() {
        let (mut worksheet, sheet) = demo();
        let share = |worksheet: &Worksheet| {
            let (appraisal, price) = asked(worksheet, &sheet);
            let worth = appraisal.worth.unwrap();
            let quarter = worth.inner.high - worth.inner.middle;
            assert!((price.room.minor() - quarter * appraisal.condition.overall.cover).abs() <= 0.5);
            appraisal.condition.overall.cover
        };
        let before = share(&worksheet);
        looked_at_all(&mut worksheet, &sheet);
        assert!(before < share(&worksheet));
        let said = asked(&worksheet, &sheet).1.reasons.join(" ");
        assert!(said.contains("100 % of the checks, by weight, were made"), "{said}");
    }

    #[test]
    fn an_assumed_range_gives_no_room() {
        let (mut worksheet, sheet) = demo();
        worksheet.sales.truncate(1);
        let (appraisal, price) = asked(&worksheet, &sheet);
        let worth = appraisal.worth.unwrap();
        assert_eq!(price.room, Money::ZERO);
        assert!(price.price.minor() < worth.stands.middle + worth.rounded.step.minor());
        assert!(price.reasons[0].starts_with("One comparable sale puts the worth"), "{:?}", price.reasons);
        assert!(price.reasons[1].starts_with("With so few sales"), "{:?}", price.reasons);
    }

    #[test]
    fn chosen_work_has_its_own_price() {
        let (mut worksheet, sheet) = demo();
        worksheet.jobs.clear();
        let (appraisal, price) = asked(&worksheet, &sheet);
        assert_eq!(price.when_done, None);
        let dearest = appraisal.repairs.items.iter().find(|repair| repair.raised).unwrap();
        let super::super::repairs::Work::Job(job) = &dearest.work else { panic!("{dearest:?}") };
        worksheet.jobs.insert(job.clone(), JobChoice { do_it: true, ..JobChoice::default() });
        assert!(asked(&worksheet, &sheet).1.when_done.unwrap() > price.price);
    }

    #[test]
    fn says_what_it_does_not_know_and_what_must_be_declared() {
        let (mut worksheet, sheet) = demo();
        let last = |worksheet: &Worksheet| asked(worksheet, &sheet).1.reasons;
        assert!(last(&worksheet).last().unwrap().starts_with("How long it takes to sell is not known"));
        worksheet.findings.clear();
        worksheet.rulings.clear();
        worksheet.readings.clear();
        worksheet.departures.clear();
        let unsafe_said = |reasons: Vec<String>| reasons.iter().any(|reason| reason.contains("not to be driven"));
        assert!(!unsafe_said(last(&worksheet)));
        let check = sheet.checks[0].id.clone();
        worksheet.findings.insert(check, Finding { is_unsafe: Some(true), ..Finding::default() });
        assert!(unsafe_said(last(&worksheet)));
    }

    #[track_caller]
    fn rounds(amount: f64, step: i64, expected: i64) {
        assert_eq!(up_to_step(amount, Money(step)), Money(expected), "{amount} by {step}");
    }

    #[test]
    fn rounds_up() {
        rounds(2_182_670.0, 50_000, 2_200_000);
        rounds(2_200_000.0, 50_000, 2_200_000);
        rounds(2_200_000.1, 50_000, 2_250_000);
        rounds(12.2, 0, 13);
    }

    #[test]
    fn no_worth_no_price() {
        let (mut worksheet, sheet) = demo();
        worksheet.sales.clear();
        assert_eq!(asking(&appraise(&worksheet, &sheet), &Show::default()), None);
    }
}
