//! What is made again equals what is made from nothing, and what a change does not touch is kept.

use std::sync::{Arc, LazyLock};

use proptest::prelude::*;

use super::again::Appraised;
use super::{Appraisal, appraise};
use crate::grade::Grade;
use crate::market::rates::{Column, Spread};
use crate::sheet::{Tag, TypeSheet, demo, extend::extend, general::general};
use crate::units::{Currency, Date, Length, Money};
use crate::worksheet::settings::RateChoice;
use crate::worksheet::{Door, Entry, Finding, JobChoice, Look, Ruling, Sale, SaleKind, Seen, WhyNot, Worksheet};

static SHEET: LazyLock<Arc<TypeSheet>> =
    LazyLock::new(|| Arc::new(extend(&general().unwrap(), &demo::curlew().unwrap())));

/// One of a few currencies, the demo's among them.
fn currency(place: usize) -> Currency {
    Currency::parse(["GBP", "EUR", "JPY"][place % 3]).unwrap()
}

/// One change somewhere in the worksheet: `part` says where, `place` at which of those there are, `value` to what.
fn change(worksheet: &mut Worksheet, part: usize, place: usize, value: u8) {
    let number = f64::from(value);
    let even = value.is_multiple_of(2);
    let check = &SHEET.checks[place % SHEET.checks.len()];
    let fault = SHEET.faults[place % SHEET.faults.len()].id.clone();
    let job = SHEET.jobs[place % SHEET.jobs.len()].id.clone();
    let sales = worksheet.sales.len();
    let finding = |worksheet: &mut Worksheet, change: &dyn Fn(&mut Finding)| {
        change(worksheet.findings.entry(check.id.clone()).or_default());
    };
    let sale = |worksheet: &mut Worksheet, change: &dyn Fn(&mut Sale)| {
        if sales > 0 {
            change(&mut worksheet.sales[place % sales]);
        }
    };
    let choice = |worksheet: &mut Worksheet, change: &dyn Fn(&mut JobChoice)| {
        change(worksheet.jobs.entry(job.clone()).or_default());
    };
    match part {
        0..5 => finding(worksheet, &|finding| {
            let seen = [Seen::Yes, Seen::No, Seen::Unsure][usize::from(value) % 3];
            finding.signs.extend(check.signs.first().map(|sign| (sign.id.clone(), seen)));
        }),
        5..8 => finding(worksheet, &|finding| {
            let grade = Grade::ALL[usize::from(value) % Grade::ALL.len()];
            finding.look = Some(if value > 240 { Look::NotLooked(WhyNot::NotFitted) } else { Look::Grade(grade) });
        }),
        8 => finding(worksheet, &|finding| finding.door = Some(if even { Door::Score } else { Door::Itemised })),
        9 => finding(worksheet, &|finding| finding.is_unsafe = Some(even)),
        10 => finding(worksheet, &|finding| finding.note.push('x')),
        11 => drop(worksheet.findings.remove(&check.id)),
        12 => worksheet.rulings.extend([(fault, if even { Ruling::Confirmed } else { Ruling::RuledOut })]),
        13 => worksheet.rulings.retain(|ruled, _| *ruled != fault),
        14 => drop(worksheet.readings.pop_first()),
        15 => drop(worksheet.lamps.pop_first()),
        16 => worksheet.departures.values_mut().for_each(|there| *there = even),
        17 => choice(worksheet, &|choice| choice.do_it = even),
        18 => choice(worksheet, &|choice| choice.leave_out = even),
        19 => choice(worksheet, &|choice| {
            choice.low = Money(1000).into();
            choice.likely = Money(2000).into();
            choice.high = Money(3000 + i64::from(value)).into();
        }),
        20 => sale(worksheet, &|sale| sale.price = Money::nearest(500_000.0 + 10_000.0 * number).into()),
        21 => sale(worksheet, &|sale| sale.kind = SaleKind::ALL[usize::from(value) % SaleKind::ALL.len()]),
        22 => sale(worksheet, &|sale| sale.left_out = even),
        23 => sale(worksheet, &|sale| sale.condition = (number / 2.56).into()),
        24 => sale(worksheet, &|sale| sale.mileage = Length(1.0e6 * number).into()),
        25 => sale(worksheet, &|sale| sale.source.push('x')),
        26 => sale(worksheet, &|sale| sale.currency = currency(usize::from(value))),
        27 => sale(worksheet, &|sale| sale.date = Entry::Unread("spring".to_owned())),
        28 => drop(worksheet.sales.pop()),
        29 => worksheet.settings.labour_rate = Money(2000 + 20 * i64::from(value)).into(),
        30 => worksheet.settings.margin = (number / 255.0).into(),
        31 => worksheet.settings.spread = Spread::ALL[usize::from(value) % Spread::ALL.len()],
        32 => {
            let rate = RateChoice { mean: (number / 1e4).into(), spread: Entry::Empty };
            worksheet.settings.rates.insert(Column::Score, rate);
        }
        33 => worksheet.settings.fees.least_premium = Money(i64::from(value) * 100).into(),
        34 => worksheet.settings.currency = currency(usize::from(value)),
        35 => drop(worksheet.settings.exchange.insert(currency(place), (1.0 + number).into())),
        36 => worksheet.car.mileage = Length(1.0e6 * number).into(),
        37 => worksheet.car.year = (1900 + i32::from(value) / 4).into(),
        38 => worksheet.car.tags = Tag::ALL.into_iter().skip(place % Tag::ALL.len()).take(2).collect(),
        39 => worksheet.visit.date = Entry::from(Date::new(2025, 1 + value % 12, 3)),
        40 => worksheet.visit.minutes = number.into(),
        41 => worksheet.gate_passed_over.push('x'),
        _ => worksheet.car.note.push('x'),
    }
}

/// Kinds of change that [`change`] knows.
const PARTS: usize = 43;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn again_is_the_same_as_from_nothing(changes in prop::collection::vec((0..PARTS, 0_usize..800, any::<u8>()), 1..16)) {
        let mut worksheet = demo::worksheet().unwrap();
        let mut appraised = Appraised::new(Arc::clone(&SHEET), &worksheet);
        for (part, place, value) in changes {
            change(&mut worksheet, part, place, value);
            appraised = appraised.again(&worksheet);
            prop_assert!(**appraised.appraisal() == appraise(&worksheet, &SHEET), "part {part} place {place} value {value}");
        }
    }
}

/// The larger parts that two appraisals do not share.
fn made_again(before: &Appraisal, after: &Appraisal) -> Vec<&'static str> {
    let comparison = before.comparison.as_ref().ok().zip(after.comparison.as_ref().ok());
    let worth = before.worth.as_ref().zip(after.worth.as_ref());
    [
        ("condition", Arc::ptr_eq(&before.condition, &after.condition)),
        ("signs", Arc::ptr_eq(&before.signs, &after.signs)),
        ("causes", Arc::ptr_eq(&before.causes, &after.causes)),
        ("repairs", Arc::ptr_eq(&before.repairs, &after.repairs)),
        ("looking", Arc::ptr_eq(&before.looking, &after.looking)),
        ("comparison", comparison.is_some_and(|(before, after)| Arc::ptr_eq(before, after))),
        ("worth", worth.is_some_and(|(before, after)| Arc::ptr_eq(before, after))),
    ]
    .into_iter()
    .filter_map(|(part, same)| (!same).then_some(part))
    .collect()
}

#[track_caller]
fn touches(change: impl FnOnce(&mut Worksheet), parts: &[&str]) {
    let mut worksheet = demo::worksheet().unwrap();
    let before = Appraised::new(Arc::clone(&SHEET), &worksheet);
    change(&mut worksheet);
    let after = before.again(&worksheet);
    assert_eq!(made_again(before.appraisal(), after.appraisal()), parts);
}

#[test]
fn words_touch_nothing() {
    touches(|worksheet| worksheet.car.maker.push('x'), &[]);
    touches(|worksheet| worksheet.visit.place.push('x'), &[]);
    touches(|worksheet| worksheet.findings.values_mut().for_each(|finding| finding.note.push('x')), &[]);
    touches(|worksheet| worksheet.sales[0].source.push('x'), &[]);
}

#[test]
fn nothing_new_is_the_same_appraisal() {
    let mut worksheet = demo::worksheet().unwrap();
    let before = Appraised::new(Arc::clone(&SHEET), &worksheet);
    worksheet.car.note.push('x');
    let after = before.again(&worksheet);
    assert!(before == after);
    // What cannot be read is said beside its field, although nothing larger changes.
    worksheet.car.asked = Entry::Unread("a lot".to_owned());
    let unread = after.again(&worksheet);
    assert!(unread != after);
    let problems = unread.appraisal().problems.len();
    assert_eq!(problems, before.appraisal().problems.len() + 1);
}

#[test]
fn sales_touch_the_market_and_the_worth() {
    let parts = ["comparison", "worth"];
    touches(|worksheet| worksheet.sales[0].price = Money(1_234_500).into(), &parts);
    touches(|worksheet| worksheet.settings.spread = Spread::Wide, &parts);
    touches(|worksheet| worksheet.settings.margin = 0.1.into(), &[]);
}

#[test]
fn costs_do_not_touch_the_reasoning() {
    let parts = ["repairs", "looking", "worth"];
    touches(|worksheet| worksheet.settings.labour_rate = Money(9900).into(), &parts);
    touches(|worksheet| worksheet.visit.minutes = 7.0.into(), &["looking"]);
}

#[test]
fn signs_touch_all_that_rests_on_them() {
    let fault = SHEET.faults.last().unwrap().id.clone();
    let all = ["condition", "signs", "causes", "repairs", "looking", "worth"];
    touches(|worksheet| worksheet.rulings.extend([(fault, Ruling::Confirmed)]), &all);
}
