//! The type sheet: reusable knowledge of one kind of car.
//!
//! A sheet is plain data. It says what to look at ([`Check`]), what may be noticed there ([`Sign`]), what can
//! stand behind it ([`Fault`]), what cures it ([`Job`]) and what is measured ([`ReadingSpec`]). It holds no
//! arithmetic: a rule of the trade that a club could want otherwise lives here, as data; the rest of core
//! computes with it. The general sheet ships with the app ([`general`]); a club's own sheet `extends` it and
//! says only what differs ([`extend`]).

pub mod car_tags;
pub mod demo;
pub mod departures;
pub mod difference;
pub mod edit;
pub mod extend;
pub mod form;
pub mod general;
pub mod lamps;
pub mod lint;
pub mod outline;
pub mod part;

use serde::Serialize;
use serde_json::Value;

pub use car_tags::{Tag, TagGroup};
pub use departures::{Combination, Departure};
pub use lamps::LampTable;

use crate::grade::Grade;
use crate::readings::Rule;
use crate::restore::{Restore, Trail, record, words};
use crate::units::{Currency, Money, Quantity};

/// The sheet format this build writes. A sheet with a higher number was made by a newer build.
pub const FORMAT: u32 = 1;

/// Where one stands while looking, in walking order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// Documents and numbers, before anything is opened.
    Papers,
    /// Round the car with the engine cold.
    WalkRound,
    /// Below the car, on level ground and proper supports.
    Underneath,
    /// Seats, pedals, instruments, lamps and switches.
    Cabin,
    /// From the first turn of the key to a steady idle.
    StartUp,
    /// On the road.
    RoadTest,
    /// Parked again, with everything hot.
    AfterDrive,
}

// Every stage in walking order.
words! { Stage { Papers, WalkRound, Underneath, Cabin, StartUp, RoadTest, AfterDrive } }

impl Stage {
    /// The stage's name as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Papers => "Papers",
            Self::WalkRound => "Walk-round, cold",
            Self::Underneath => "Underneath",
            Self::Cabin => "Cabin",
            Self::StartUp => "Start-up",
            Self::RoadTest => "Road test",
            Self::AfterDrive => "After the drive, hot",
        }
    }
}

/// What part of the car a check, fault or job belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)] // the names are the brief's own and say it all
pub enum System {
    Structure,
    BodyAndPaint,
    Engine,
    FuelAndExhaust,
    Driveline,
    Brakes,
    SteeringAndSuspension,
    WheelsAndTyres,
    Electrics,
    Cabin,
    PapersAndIdentity,
}

// Every system, in the order in which they are listed.
words! { System {
    Structure, BodyAndPaint, Engine, FuelAndExhaust, Driveline, Brakes, SteeringAndSuspension, WheelsAndTyres,
    Electrics, Cabin, PapersAndIdentity,
} }

impl System {
    /// The system's name as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Structure => "Structure",
            Self::BodyAndPaint => "Body and paint",
            Self::Engine => "Engine",
            Self::FuelAndExhaust => "Fuel and exhaust",
            Self::Driveline => "Driveline",
            Self::Brakes => "Brakes",
            Self::SteeringAndSuspension => "Steering and suspension",
            Self::WheelsAndTyres => "Wheels and tyres",
            Self::Electrics => "Electrics",
            Self::Cabin => "Cabin",
            Self::PapersAndIdentity => "Papers and identity",
        }
    }
}

/// What a check needs beside eyes and hands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)] // plain tools, named as the trade names them
pub enum Need {
    Helper,
    Torch,
    Mirror,
    Magnet,
    PaintGauge,
    Level,
    Rule,
    PressureGauge,
    TreadGauge,
    Voltmeter,
    CompressionGauge,
    LeakDownTester,
    AngleGauge,
    Stopwatch,
    Jack,
    Stands,
    Ramp,
    ClearRoad,
}

words! { Need {
    Helper, Torch, Mirror, Magnet, PaintGauge, Level, Rule, PressureGauge, TreadGauge, Voltmeter, CompressionGauge,
    LeakDownTester, AngleGauge, Stopwatch, Jack, Stands, Ramp, ClearRoad,
} }

impl Need {
    /// The need as it is shown.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Helper => "helper",
            Self::Torch => "torch",
            Self::Mirror => "mirror",
            Self::Magnet => "magnet",
            Self::PaintGauge => "paint-film gauge",
            Self::Level => "level",
            Self::Rule => "rule or tape",
            Self::PressureGauge => "pressure gauge",
            Self::TreadGauge => "tread gauge",
            Self::Voltmeter => "voltmeter",
            Self::CompressionGauge => "compression gauge",
            Self::LeakDownTester => "leak-down tester",
            Self::AngleGauge => "angle gauge",
            Self::Stopwatch => "stopwatch",
            Self::Jack => "jack",
            Self::Stands => "axle stands",
            Self::Ramp => "ramp or pit",
            Self::ClearRoad => "clear, lawful road",
        }
    }
}

/// A danger that a check brings with it; each has one standing sentence, shown wherever the check is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)] // `sentence` says each in full
pub enum Caution {
    LevelGround,
    NeverUnderJack,
    HotParts,
    MovingParts,
    HighVoltage,
    FuelVapour,
    BatteryGas,
    OldDust,
    PassengerWrites,
    ClearRoad,
    BrakeFluid,
    ExhaustGas,
}

words! { Caution {
    LevelGround, NeverUnderJack, HotParts, MovingParts, HighVoltage, FuelVapour, BatteryGas, OldDust,
    PassengerWrites, ClearRoad, BrakeFluid, ExhaustGas,
} }

impl Caution {
    /// The sentence to show.
    #[must_use]
    pub const fn sentence(self) -> &'static str {
        match self {
            Self::LevelGround => "Level, firm ground; wheels chocked; parking brake on and a gear engaged.",
            Self::NeverUnderJack => "Never put any part of yourself under a car that only a jack holds up.",
            Self::HotParts => "Radiator, exhaust and oil burn; never open a hot cooling system.",
            Self::MovingParts => "Keep hands, hair and clothing clear of fan, belts and pulleys.",
            Self::HighVoltage => "Ignition voltage can injure; do not touch leads or coil while the engine turns.",
            Self::FuelVapour => "Fuel vapour burns: no flame, no smoking, nothing that sparks.",
            Self::BatteryGas => "A battery gives off gas that explodes, and holds acid: no sparks, cover the eyes.",
            Self::OldDust => "Old brake, clutch and gasket dust may hold asbestos: do not brush it or blow it.",
            Self::PassengerWrites => "The driver drives; a seat-belted passenger writes.",
            Self::ClearRoad => "Only where it is lawful and the road is clear; low speed first.",
            Self::BrakeFluid => "Brake fluid strips paint and irritates skin: wipe it up and wash.",
            Self::ExhaustGas => "Exhaust gas kills in a closed space: run the engine outdoors.",
        }
    }
}

/// One thing to look at or do.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Check {
    /// Unique among checks; lower-case words joined by hyphens.
    pub id: String,
    /// Where one stands to make it.
    pub stage: Stage,
    /// What it belongs to.
    pub system: System,
    /// A short name, as in "Sills from below".
    pub name: String,
    /// How to do it.
    pub how: String,
    /// What is right, so that a newcomer can tell.
    pub right: String,
    /// Minutes it takes a careful person.
    pub minutes: f64,
    /// What it needs beside eyes and hands.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<Need>,
    /// How much it counts in the score, 1 to 10.
    pub weight: u8,
    /// Dangers to name beside it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
    /// Cars it applies to: tags of one group are alternatives, groups must all fit. Empty: every car.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub when: Vec<Tag>,
    /// Whether the road test stays shut until this check is made and not unsafe.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub before_driving: bool,
    /// What may be noticed here.
    pub signs: Vec<Sign>,
    /// Where the check comes from.
    pub source: String,
}

record! { Check {
    id, stage, system, name, how, right, minutes, weight, signs, source,
} may {
    needs, cautions, when, before_driving,
} }

/// Something that may be noticed at a check.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Sign {
    /// Unique among signs.
    pub id: String,
    /// What is noticed, as a short statement: "Pedal sinks under steady pressure".
    pub name: String,
    /// Probability of noticing it although none of the listed faults is there, in (0, 1).
    pub leak: f64,
    /// The grade it usually earns; the person may choose another.
    pub grade: Grade,
    /// Whether the car is not to be driven while it shows.
    #[serde(default, rename = "unsafe", skip_serializing_if = "std::ops::Not::not")]
    pub is_unsafe: bool,
}

record! { Sign { id, name, leak, grade } may { is_unsafe as "unsafe" } }

/// Whether a car with a fault may be driven.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Driving {
    /// As usual.
    Yes,
    /// Gently and not far.
    Care,
    /// Not until it is put right.
    No,
}

words! { Driving { Yes, Care, No } }

/// A cause that can stand behind signs. "Normal for the type" is a cause too, and costs nothing.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Fault {
    /// Unique among faults.
    pub id: String,
    /// What it belongs to.
    pub system: System,
    /// A short name, as in "Worn rear wheel cylinder".
    pub name: String,
    /// Share of such cars that have it, in (0, 1): the ordinary rate for the type.
    pub prior: f64,
    /// How to tell it from its neighbours.
    pub tell: String,
    /// Whether the car may be driven with it.
    pub drive: Driving,
    /// It is how the type is made: no defect, no cost.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub normal: bool,
    /// Anyone looking sees it, so that buyers of comparable cars had already seen theirs: no ordinary hidden
    /// rate is allowed for in the deduction.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub visible: bool,
    /// Signs that it shows, each with the probability that it does.
    pub links: Vec<Link>,
    /// Ids of the jobs that cure it, all of them needed. Empty only if `normal`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub jobs: Vec<String>,
    /// Cars it can happen to, as for a check.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub when: Vec<Tag>,
    /// Where it comes from.
    pub source: String,
}

record! { Fault { id, system, name, prior, tell, drive, links, source } may { normal, visible, jobs, when } }

/// A fault shows a sign with this probability.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Link {
    /// The sign's id.
    pub sign: String,
    /// Probability that the fault, being there, shows the sign, in (0, 1).
    pub strength: f64,
}

record! { Link { sign, strength } may {} }

/// Low, likely and high: three figures in rising order.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Spread<T>(
    /// Low.
    pub T,
    /// Likely.
    pub T,
    /// High.
    pub T,
);

impl<T: Restore> Restore for Spread<T> {
    fn blank() -> Self {
        Self(T::blank(), T::blank(), T::blank())
    }

    fn restore(&mut self, json: &Value, trail: &mut Trail) -> bool {
        trail.three(json, [&mut self.0, &mut self.1, &mut self.2])
    }
}

/// How much of a job's cost the market takes off the price.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum MarketShare {
    /// Safety and structure: all of it.
    Safety,
    /// Mechanical: three quarters.
    Mechanical,
    /// Trim and finish: half.
    Trim,
}

words! { MarketShare { Safety, Mechanical, Trim } }

impl MarketShare {
    /// The share as a number; method, section 4 (judgement).
    #[must_use]
    pub const fn share(self) -> f64 {
        match self {
            Self::Safety => 1.0,
            Self::Mechanical => 0.75,
            Self::Trim => 0.5,
        }
    }
}

/// A repair. Costs are estimates from memory that the user may overwrite.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Job {
    /// Unique among jobs.
    pub id: String,
    /// What it belongs to.
    pub system: System,
    /// A short name, as in "Renew rear wheel cylinders".
    pub name: String,
    /// Hours of work, without those of `access`.
    pub hours: Spread<f64>,
    /// Parts and materials, in minor units of the sheet's currency.
    pub parts: Spread<Money>,
    /// Id of the strip-down that it shares with other jobs; its hours count once.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub access: Option<String>,
    /// How much of the cost the market takes off.
    pub market: MarketShare,
}

record! { Job { id, system, name, hours, parts, market } may { access } }

/// A strip-down that several jobs share.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Access {
    /// Unique among accesses.
    pub id: String,
    /// What is taken apart, as in "Gearbox out and back".
    pub name: String,
    /// Hours of work.
    pub hours: Spread<f64>,
}

record! { Access { id, name, hours } may {} }

/// Something to measure at a check, with the limits of the type.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct ReadingSpec {
    /// Unique among readings.
    pub id: String,
    /// The check at which it is taken.
    pub check: String,
    /// A short name, as in "Charging voltage at a fast idle".
    pub name: String,
    /// The rule that reads it: what is entered and what is derived.
    pub rule: Rule,
    /// For the rule `plain`: what is measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quantity: Option<Quantity>,
    /// Limits on what the rule derives, and the signs that a value outside them raises.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub limits: Vec<Limit>,
    /// Cars it applies to, as for a check.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub when: Vec<Tag>,
    /// Where the limits come from.
    pub source: String,
}

record! { ReadingSpec { id, check, name, rule, source } may { quantity, limits, when } }

/// A limit on one of the results of a rule, in SI units.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub struct Limit {
    /// Name of the result, as the rule gives it.
    pub of: String,
    /// Least value that is right, in SI units.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low: Option<f64>,
    /// Greatest value that is right, in SI units.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub high: Option<f64>,
    /// Sign raised below `low`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub below: Option<String>,
    /// Sign raised above `high`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub above: Option<String>,
}

record! { Limit { of } may { low, high, below, above } }

/// Most faults, and most jobs, that are reasoned with: four times what a full sheet has. Pairs of them are weighed, so
/// the work and the room grow with the square.
pub const MOST_ENTRIES: usize = 2000;

/// Knowledge of one kind of car. See the module's page.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", default)]
pub struct TypeSheet {
    /// Format of this data, [`FORMAT`].
    pub format: u32,
    /// Identifies the sheet; a worksheet names its sheet by it.
    pub id: String,
    /// What kind of car it is about.
    pub name: String,
    /// Who wrote it, and when; free text.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub author: String,
    /// Id of the sheet that this one extends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub extends: Option<String>,
    /// Ids of entries of the extended sheet that this kind of car does not have.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub without: Vec<String>,
    /// Currency of the parts and of the labour rate.
    pub currency: Currency,
    /// Price of an hour's work.
    pub labour_rate: Money,
    /// Tags that every car of this kind has.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tags: Vec<Tag>,
    /// What to look at or do.
    pub checks: Vec<Check>,
    /// What can stand behind the signs.
    pub faults: Vec<Fault>,
    /// What cures the faults.
    pub jobs: Vec<Job>,
    /// Strip-downs that jobs share.
    pub access: Vec<Access>,
    /// What is measured.
    pub readings: Vec<ReadingSpec>,
    /// Which lamp should light when.
    pub lamps: LampTable,
    /// Ways in which a car may differ from how it was made.
    pub departures: Vec<Departure>,
    /// Departures that combine badly.
    pub combinations: Vec<Combination>,
}

record! { TypeSheet {
    format, id, name, author, extends, without, currency, labour_rate, tags, checks, faults, jobs, access, readings,
    lamps, departures, combinations,
} }

impl Default for TypeSheet {
    fn default() -> Self {
        Self {
            format: FORMAT,
            id: String::new(),
            name: String::new(),
            author: String::new(),
            extends: None,
            without: Vec::new(),
            currency: Currency::default(),
            labour_rate: Money::ZERO,
            tags: Vec::new(),
            checks: Vec::new(),
            faults: Vec::new(),
            jobs: Vec::new(),
            access: Vec::new(),
            readings: Vec::new(),
            lamps: LampTable::default(),
            departures: Vec::new(),
            combinations: Vec::new(),
        }
    }
}

impl TypeSheet {
    /// The check with this id.
    #[must_use]
    pub fn check(&self, id: &str) -> Option<&Check> {
        self.checks.iter().find(|check| check.id == id)
    }

    /// The fault with this id.
    #[must_use]
    pub fn fault(&self, id: &str) -> Option<&Fault> {
        self.faults.iter().find(|fault| fault.id == id)
    }

    /// The job with this id.
    #[must_use]
    pub fn job(&self, id: &str) -> Option<&Job> {
        self.jobs.iter().find(|job| job.id == id)
    }

    /// The sign with this id and the check at which it is noticed.
    #[must_use]
    pub fn sign(&self, id: &str) -> Option<(&Check, &Sign)> {
        self.checks.iter().find_map(|check| check.signs.iter().find(|sign| sign.id == id).map(|sign| (check, sign)))
    }
}
