//! A worksheet and a type sheet with every field filled in.

use std::collections::BTreeMap;

use crate::grade::Grade;
use crate::market::imputed::ScoreSource;
use crate::market::rates::{Column, Spread};
use crate::readings::{Given, Reading, Rule};
use crate::restore::Unread;
use crate::sheet::{self, lamps, *};
use crate::units::{Currency, Date, Length, Money, Quantity};
use crate::worksheet::{self, *};

fn text(it: &str) -> String {
    it.to_owned()
}

fn date(day: u8) -> Entry<Date> {
    Date::new(2026, 10, day).into()
}

fn money(amount: i64) -> Entry<Money> {
    Entry::Read(Money(amount))
}

fn map<K: Ord, V>(key: K, value: V) -> BTreeMap<K, V> {
    BTreeMap::from([(key, value)])
}

pub fn worksheet() -> Worksheet {
    let car = Car {
        maker: text("maker"),
        model: text("model"),
        year: Entry::Read(1967),
        registration: text("registration"),
        chassis_number: text("chassis"),
        engine_number: text("engine"),
        colour: text("colour"),
        mileage: Entry::Read(Length(1.5e8)),
        asked: money(1),
        tags: vec![Tag::AirCooled, Tag::SteeringBox],
        note: text("note"),
    };
    let visit = Visit {
        purpose: Purpose::Appraising,
        date: date(4),
        place: text("place"),
        by: text("by"),
        on_behalf_of: text("for"),
        minutes: Entry::Read(90.0),
    };
    let finding = Finding {
        look: Some(Look::NotLooked(WhyNot::NoTool)),
        signs: map(text("sign"), Seen::Unsure),
        is_unsafe: Some(false),
        door: Some(Door::Itemised),
        note: text("finding"),
        photos: vec![Photo { id: text("photo"), caption: text("caption") }],
    };
    let given = BTreeMap::from([
        (text("a"), Given::Number(1.5)),
        (text("b"), Given::Numbers(vec![1.0, 2.0])),
        (text("c"), Given::Text(text("165R15"))),
        (text("d"), Given::Unread(text("12x"))),
    ]);
    let job = JobChoice { do_it: true, leave_out: true, low: money(2), likely: money(3), high: money(4) };
    let sale = Sale {
        id: text("sale"),
        date: date(5),
        price: Entry::Unread(text("12k")),
        currency: Currency::parse("EUR").unwrap(),
        kind: SaleKind::AuctionHammer,
        mileage: Entry::Read(Length(2.5e8)),
        condition: Entry::Read(61.5),
        condition_known: ScoreSource::Photographs,
        departures: text("departures"),
        source: text("source"),
        left_out: true,
        reason: text("reason"),
    };
    let fees = SaleFees {
        premium: vec![PremiumStep { up_to: money(5), rate: Entry::Read(0.15) }],
        on_whole_price: true,
        least_premium: money(6),
        tax_on_premium: Entry::Read(0.2),
        tax_on_hammer: Entry::Read(0.05),
        fixed: money(7),
        transport: money(8),
        increment: money(9),
    };
    let settings = Settings {
        currency: Currency::parse("USD").unwrap(),
        labour_rate: money(10),
        exchange: map(Currency::parse("JPY").unwrap(), Entry::Read(0.005)),
        spread: Spread::Wide,
        rates: map(Column::ThousandMiles, RateChoice { mean: Entry::Read(-0.1), spread: Entry::Read(0.01) }),
        fees,
        margin: Entry::Read(0.25),
    };
    Worksheet {
        format: worksheet::FORMAT,
        id: text("id"),
        type_sheet: text("sheet"),
        car,
        visit,
        findings: map(text("check"), finding),
        rulings: map(text("fault"), Ruling::RuledOut),
        readings: map(text("reading"), Reading { given, note: text("read") }),
        lamps: map(text("situation"), map(text("lamp"), true)),
        departures: map(text("departure"), true),
        jobs: map(text("job"), job),
        sales: vec![sale],
        receipts: vec![Receipt { date: date(6), what: text("what"), cost: money(11), job: text("receipt") }],
        log: vec![LogEntry { at: text("at"), note: text("log") }],
        gate_passed_over: text("gate"),
        settings,
        unread: vec![Unread { place: text("p"), text: text("t"), why: text("w") }],
    }
}

pub fn type_sheet() -> TypeSheet {
    let sign = Sign { id: text("sign"), name: text("Sign"), leak: 0.1, grade: Grade::Failed, is_unsafe: true };
    let check = Check {
        id: text("check"),
        stage: Stage::AfterDrive,
        system: System::PapersAndIdentity,
        name: text("Check"),
        how: text("how"),
        right: text("right"),
        minutes: 2.5,
        needs: vec![Need::PaintGauge],
        weight: 7,
        cautions: vec![Caution::NeverUnderJack],
        when: vec![Tag::SixVolt],
        before_driving: true,
        signs: vec![sign],
        source: text("check source"),
    };
    let fault = Fault {
        id: text("fault"),
        system: System::FuelAndExhaust,
        name: text("Fault"),
        prior: 0.2,
        tell: text("tell"),
        drive: Driving::Care,
        normal: true,
        visible: true,
        links: vec![Link { sign: text("sign"), strength: 0.7 }],
        jobs: vec![text("job")],
        when: vec![Tag::Dynamo],
        source: text("fault source"),
    };
    let job = Job {
        id: text("job"),
        system: System::Cabin,
        name: text("Job"),
        hours: sheet::Spread(1.0, 2.0, 4.5),
        parts: sheet::Spread(Money(1), Money(2), Money(3)),
        access: Some(text("access")),
        market: MarketShare::Mechanical,
    };
    let limit = Limit {
        of: text("result"),
        low: Some(0.5),
        high: Some(1.5),
        below: Some(text("below")),
        above: Some(text("above")),
    };
    let reading = ReadingSpec {
        id: text("reading"),
        check: text("check"),
        name: text("Reading"),
        rule: Rule::LeakDown,
        quantity: Some(Quantity::Film),
        limits: vec![limit],
        when: vec![Tag::Alternator],
        source: text("reading source"),
    };
    let situation = lamps::Situation {
        id: text("situation"),
        name: text("Situation"),
        how: text("set"),
        lit: vec![text("lit")],
        either: vec![text("either")],
    };
    let seen = lamps::LampState { situation: text("situation"), lamp: text("lamp"), lit: true };
    let lamps = LampTable {
        check: text("check"),
        lamps: vec![lamps::Lamp { id: text("lamp"), name: text("Lamp") }],
        situations: vec![situation],
        patterns: vec![lamps::LampPattern { sign: text("pattern"), seen: vec![seen] }],
        dark: text("dark"),
        stray: text("stray"),
    };
    let departure =
        Departure { id: text("departure"), name: text("Departure"), tell: text("tell"), effect: text("effect") };
    let combination = Combination {
        id: text("combination"),
        all: vec![text("departure")],
        effect: text("worse"),
        hold: true,
        source: text("combination source"),
    };
    TypeSheet {
        format: sheet::FORMAT,
        id: text("id"),
        name: text("name"),
        author: text("author"),
        extends: Some(text("extends")),
        without: vec![text("without")],
        currency: Currency::parse("EUR").unwrap(),
        labour_rate: Money(100),
        tags: vec![Tag::RackSteering],
        checks: vec![check],
        faults: vec![fault],
        jobs: vec![job],
        access: vec![Access { id: text("access"), name: text("Access"), hours: sheet::Spread(0.5, 1.0, 1.5) }],
        readings: vec![reading],
        lamps,
        departures: vec![departure],
        combinations: vec![combination],
    }
}
