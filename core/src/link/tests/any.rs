//! Any worksheet at all.

use std::collections::BTreeMap;

use proptest::collection::{btree_map, vec};
use proptest::option;
use proptest::prelude::*;
use serde_json::Value;

use crate::grade::Grade;
use crate::readings::{Given, Reading};
use crate::units::{Currency, Date, Length, Money};
use crate::worksheet::*;

fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        2 => "[A-Za-z ,.']{0,40}",
        1 => "\\PC{0,12}",
        1 => any::<String>(),
        1 => "[a-km-np-z2-9]{16}",
        1 => Just("slight".to_owned()),
    ]
}

fn id() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("structure-sills".to_owned()),
        Just("brakes-hoses".to_owned()),
        Just("worksheet".to_owned()),
        "[a-z-]{1,20}",
        any::<String>(),
    ]
}

fn number() -> impl Strategy<Value = f64> {
    let finite = any::<f64>().prop_filter("JSON has no other", |number| number.is_finite());
    let whole = prop_oneof![-1000_i32..1000, 0_i32..1_000_000, Just(0)];
    prop_oneof![finite, whole.prop_map(f64::from)]
}

fn entry<T: Clone + std::fmt::Debug + 'static>(value: impl Strategy<Value = T> + 'static) -> BoxedStrategy<Entry<T>> {
    prop_oneof![Just(Entry::Empty), value.prop_map(Entry::Read), text().prop_map(Entry::Unread)].boxed()
}

fn money() -> BoxedStrategy<Entry<Money>> {
    entry(any::<i64>().prop_map(Money))
}

fn date() -> BoxedStrategy<Entry<Date>> {
    entry((1_i32..9999, 1_u8..=12, 1_u8..=28).prop_map(|(year, month, day)| Date::new(year, month, day).unwrap()))
}

fn finding() -> impl Strategy<Value = Finding> {
    let look = prop_oneof![
        prop::sample::select(&Grade::ALL[..]).prop_map(Look::Grade),
        prop::sample::select(&WhyNot::ALL[..]).prop_map(Look::NotLooked)
    ];
    let seen = prop::sample::select(vec![Seen::Yes, Seen::No, Seen::Unsure]);
    (option::of(look), btree_map(id(), seen, 0..4), option::of(any::<bool>()), text())
        .prop_map(|(look, signs, is_unsafe, note)| Finding { look, signs, is_unsafe, note, ..Finding::default() })
}

fn given() -> impl Strategy<Value = Given> {
    prop_oneof![
        number().prop_map(Given::Number),
        vec(number(), 0..4).prop_map(Given::Numbers),
        text().prop_map(Given::Text),
        text().prop_map(Given::Unread)
    ]
}

fn sale() -> impl Strategy<Value = Sale> {
    let kind = prop::sample::select(&SaleKind::ALL[..]);
    let currency = "[A-Z]{3}".prop_map(|code| Currency::parse(&code).unwrap());
    (text(), date(), money(), currency, kind, entry(number().prop_map(Length)), entry(number()), any::<bool>(), text())
        .prop_map(|(id, date, price, currency, kind, mileage, condition, left_out, reason)| Sale {
            id,
            date,
            price,
            currency,
            kind,
            mileage,
            condition,
            left_out,
            reason,
            ..Sale::default()
        })
}

pub fn worksheet() -> impl Strategy<Value = Worksheet> {
    let reading = (btree_map(id(), given(), 0..4), text()).prop_map(|(given, note)| Reading { given, note });
    let car = (text(), text(), entry(any::<i32>()), entry(number().prop_map(Length)), money(), text()).prop_map(
        |(maker, model, year, mileage, asked, note)| Car { maker, model, year, mileage, asked, note, ..Car::default() },
    );
    let visit = (date(), text(), entry(number())).prop_map(|(date, place, minutes)| Visit {
        date,
        place,
        minutes,
        ..Visit::default()
    });
    let ruling = prop::sample::select(vec![Ruling::Confirmed, Ruling::RuledOut]);
    let job = (any::<bool>(), money(), money(), money()).prop_map(|(do_it, low, likely, high)| JobChoice {
        do_it,
        low,
        likely,
        high,
        ..JobChoice::default()
    });
    let log = (text(), text()).prop_map(|(at, note)| LogEntry { at, note });
    let lamps: BoxedStrategy<BTreeMap<String, BTreeMap<String, bool>>> =
        btree_map(id(), btree_map(id(), any::<bool>(), 0..4), 0..3).boxed();
    (
        (id(), id(), car, visit, text()),
        btree_map(id(), finding(), 0..6),
        btree_map(id(), ruling, 0..3),
        btree_map(id(), reading, 0..4),
        lamps,
        btree_map(id(), any::<bool>(), 0..3),
        btree_map(id(), job, 0..3),
        vec(sale(), 0..4).prop_map(apart),
        vec(log, 0..3),
    )
        .prop_map(
            |(
                (id, type_sheet, car, visit, gate_passed_over),
                findings,
                rulings,
                readings,
                lamps,
                departures,
                jobs,
                sales,
                log,
            )| {
                Worksheet {
                    id,
                    type_sheet,
                    car,
                    visit,
                    findings,
                    rulings,
                    readings,
                    lamps,
                    departures,
                    jobs,
                    sales,
                    log,
                    gate_passed_over,
                    ..Worksheet::default()
                }
            },
        )
}

/// The same but for the last bits of a number, which links of older versions gave up.
pub fn same(have: &Value, want: &Value) -> Result<(), TestCaseError> {
    match (have, want) {
        (Value::Object(have), Value::Object(want)) => {
            prop_assert_eq!(have.len(), want.len(), "{:?} for {:?}", have, want);
            // By name: whether their order is kept depends on what else is built.
            want.iter().try_for_each(|(name, want)| same(have.get(name).unwrap_or(&Value::Null), want))
        }
        (Value::Array(have), Value::Array(want)) => {
            prop_assert_eq!(have.len(), want.len());
            have.iter().zip(want).try_for_each(|(have, want)| same(have, want))
        }
        (Value::Number(a), Value::Number(b)) if a.is_f64() && b.is_f64() => {
            let (a, b) = (a.as_f64().unwrap().to_bits(), b.as_f64().unwrap().to_bits());
            prop_assert!(a.abs_diff(b) <= 4, "{have} for {want}");
            Ok(())
        }
        _ => {
            prop_assert_eq!(have, want);
            Ok(())
        }
    }
}

/// Every worksheet that was read has sales with ids of their own.
fn apart(mut sales: Vec<Sale>) -> Vec<Sale> {
    crate::worksheet::tell_apart(&mut sales);
    sales
}
