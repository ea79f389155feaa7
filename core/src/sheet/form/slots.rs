//! The fields of each kind of part: one table, from which they are shown and filled.

use crate::readings::Rule;
use crate::readings::derived::results_of;
use crate::sheet::form::listed::{OfOneCar, One, Several};
use crate::sheet::form::{Content, Kind, Target};
use crate::sheet::part::{Head, Part, Section};
use crate::sheet::{Access, Check, Combination, Departure, Fault, Job, ReadingSpec, Spread, general};
use crate::units::{Currency, Money, Quantity};

/// A field with the place in the part where its content is.
pub(super) struct Slot<'a> {
    pub name: &'static str,
    pub label: &'static str,
    pub holds: Holds<'a>,
}

/// Where a field's content is, and what it is.
pub(super) enum Holds<'a> {
    Line(&'a mut String),
    Lines(&'a mut String),
    Number(&'a mut f64, &'static str),
    Whole(&'a mut u8),
    Share(&'a mut f64),
    Money(&'a mut Money),
    Currency(&'a mut Currency),
    Measure(&'a mut Option<f64>, Quantity, bool),
    Flag(&'a mut bool),
    /// Whether the sheet extends the general one.
    Extends(&'a mut Option<String>),
    One(&'a mut dyn One),
    Several(Box<dyn Several + 'a>),
    Id(&'a mut String, Target),
    MaybeId(&'a mut Option<String>, Target),
    Ids(&'a mut Vec<String>, Target),
}

impl Holds<'_> {
    pub(super) fn kind(&self) -> Kind {
        match self {
            Self::Line(_) => Kind::Line,
            Self::Lines(_) => Kind::Lines,
            Self::Number(_, unit) => Kind::Number(unit),
            Self::Whole(_) => Kind::Whole,
            Self::Share(_) => Kind::Share,
            Self::Money(_) => Kind::Money,
            Self::Currency(_) => Kind::Currency,
            Self::Measure(_, quantity, difference) => Kind::Measure(*quantity, *difference),
            Self::Flag(_) | Self::Extends(_) => Kind::Flag,
            Self::One(one) => Kind::One(one.options()),
            Self::Several(several) => Kind::Several(several.options()),
            Self::Id(_, target) => Kind::Id(*target),
            Self::MaybeId(_, target) => Kind::MaybeId(*target),
            Self::Ids(_, target) => Kind::Ids(*target),
        }
    }

    pub(super) fn content(&self) -> Content {
        match self {
            Self::Line(text) | Self::Lines(text) => Content::Text((*text).clone()),
            Self::Number(value, _) | Self::Share(value) => Content::Number(Some(**value)),
            Self::Whole(value) => Content::Number(Some(f64::from(**value))),
            Self::Money(amount) => Content::Number(Some(amount.minor())),
            Self::Currency(currency) => Content::Text(currency.code().to_owned()),
            Self::Measure(value, ..) => Content::Number(**value),
            Self::Flag(flag) => Content::Flag(**flag),
            Self::Extends(extends) => Content::Flag(extends.is_some()),
            Self::One(one) => Content::Chosen(one.chosen().into_iter().collect()),
            Self::Several(several) => Content::Chosen(several.chosen()),
            Self::Id(id, _) => Content::Ids(Some((*id).clone()).filter(|id| !id.is_empty()).into_iter().collect()),
            Self::MaybeId(id, _) => Content::Ids((*id).clone().into_iter().collect()),
            Self::Ids(ids, _) => Content::Ids((*ids).clone()),
        }
    }

    /// Fills the field. `false` if it does not take such content.
    pub(super) fn fill(self, content: &Content) -> bool {
        match (self, content) {
            (Self::Line(text) | Self::Lines(text), Content::Text(typed)) => text.clone_from(typed),
            (Self::Number(value, _) | Self::Share(value), Content::Number(Some(read))) => *value = *read,
            // What is read is within the ends of the range; lint says what the number may be.
            (Self::Whole(value), Content::Number(Some(read))) => *value = *read as u8,
            (Self::Money(amount), Content::Number(Some(read))) => *amount = Money::nearest(*read),
            (Self::Currency(currency), Content::Text(code)) => match Currency::parse(code) {
                Some(read) => *currency = read,
                None => return false,
            },
            (Self::Measure(value, ..), Content::Number(read)) => *value = *read,
            (Self::Flag(flag), Content::Flag(set)) => *flag = *set,
            (Self::Extends(extends), Content::Flag(set)) => *extends = set.then(|| general::ID.to_owned()),
            (Self::One(one), Content::Chosen(places)) => match places.first() {
                Some(place) => one.choose(*place),
                None => return false,
            },
            (Self::Several(mut several), Content::Chosen(places)) => several.choose(places),
            (Self::Id(id, _), Content::Ids(ids)) => *id = ids.first().cloned().unwrap_or_default(),
            (Self::MaybeId(id, _), Content::Ids(ids)) => *id = ids.first().cloned(),
            (Self::Ids(kept, _), Content::Ids(ids)) => kept.clone_from(ids),
            _ => return false,
        }
        true
    }
}

const fn slot<'a>(name: &'static str, label: &'static str, holds: Holds<'a>) -> Slot<'a> {
    Slot { name, label, holds }
}

impl Part {
    pub(super) fn slots(&mut self, row: Option<usize>) -> Vec<Slot<'_>> {
        match (self, row) {
            (Self::Head(head), None) => of_head(head),
            (Self::Check(check), None) => of_check(check),
            (Self::Check(check), Some(row)) => of_sign(check, row),
            (Self::Fault(fault), None) => of_fault(fault),
            (Self::Fault(fault), Some(row)) => match fault.links.get_mut(row) {
                Some(link) => {
                    vec![slot("strength", "Chance that it shows this sign", Holds::Share(&mut link.strength))]
                }
                None => Vec::new(),
            },
            (Self::Job(job), None) => of_job(job),
            (Self::Access(access), None) => of_access(access),
            (Self::Reading(reading), None) => of_reading(reading),
            (Self::Reading(reading), Some(row)) => of_limit(reading, row),
            (Self::Departure(departure), None) => of_departure(departure),
            (Self::Combination(combination), None) => of_combination(combination),
            _ => Vec::new(),
        }
    }
}

fn of_head(head: &mut Head) -> Vec<Slot<'_>> {
    use Holds as H;
    vec![
        slot("name", "Kind of car", H::Line(&mut head.name)),
        slot("author", "Written by, and when", H::Line(&mut head.author)),
        slot("labour-rate", "Price of an hour's work", H::Money(&mut head.labour_rate)),
        slot("currency", "Currency of prices here", H::Currency(&mut head.currency)),
        slot("extends", "Extends the general sheet: says only what differs from it", H::Extends(&mut head.extends)),
        slot("tags", "How every car of this kind is built", H::Several(Box::new(OfOneCar(&mut head.tags)))),
    ]
}

fn of_check(check: &mut Check) -> Vec<Slot<'_>> {
    use Holds as H;
    vec![
        slot("name", "Name", H::Line(&mut check.name)),
        slot("how", "How to do it", H::Lines(&mut check.how)),
        slot("right", "What is right", H::Lines(&mut check.right)),
        slot("stage", "Where one stands", H::One(&mut check.stage)),
        slot("system", "What it belongs to", H::One(&mut check.system)),
        slot("minutes", "Time it takes", H::Number(&mut check.minutes, "min")),
        slot("weight", "Weight in the score, 1 to 10", H::Whole(&mut check.weight)),
        slot("needs", "Needs", H::Several(Box::new(&mut check.needs))),
        slot("cautions", "Cautions", H::Several(Box::new(&mut check.cautions))),
        slot("when", "Only for cars that are", H::Several(Box::new(&mut check.when))),
        slot("before-driving", "The road test waits for it", H::Flag(&mut check.before_driving)),
        slot("source", "Where it comes from", H::Line(&mut check.source)),
    ]
}

fn of_sign(check: &mut Check, row: usize) -> Vec<Slot<'_>> {
    use Holds as H;
    let Some(sign) = check.signs.get_mut(row) else { return Vec::new() };
    vec![
        slot("name", "What is noticed", H::Line(&mut sign.name)),
        slot("leak", "Chance of noticing it with no fault there", H::Share(&mut sign.leak)),
        slot("grade", "Grade that it usually earns", H::One(&mut sign.grade)),
        slot("unsafe", "Not to be driven while it shows", H::Flag(&mut sign.is_unsafe)),
    ]
}

fn of_fault(fault: &mut Fault) -> Vec<Slot<'_>> {
    use Holds as H;
    vec![
        slot("name", "Name", H::Line(&mut fault.name)),
        slot("tell", "How to tell it from its neighbours", H::Lines(&mut fault.tell)),
        slot("system", "What it belongs to", H::One(&mut fault.system)),
        slot("drive", "May be driven", H::One(&mut fault.drive)),
        slot("prior", "Share of such cars that have it", H::Share(&mut fault.prior)),
        slot("normal", "Normal for the type: no defect, no cost", H::Flag(&mut fault.normal)),
        slot("visible", "Anyone looking sees it", H::Flag(&mut fault.visible)),
        slot("jobs", "Jobs that cure it, all of them needed", H::Ids(&mut fault.jobs, Target::Entry(Section::Jobs))),
        slot("when", "Only on cars that are", H::Several(Box::new(&mut fault.when))),
        slot("source", "Where it comes from", H::Line(&mut fault.source)),
    ]
}

/// The likely figure bears the name under which a slip of the three is told.
fn of_hours(Spread(low, likely, high): &mut Spread<f64>) -> [Slot<'_>; 3] {
    [
        slot("hours-low", "Hours, low", Holds::Number(low, "h")),
        slot("hours", "Hours, likely", Holds::Number(likely, "h")),
        slot("hours-high", "Hours, high", Holds::Number(high, "h")),
    ]
}

fn of_job(job: &mut Job) -> Vec<Slot<'_>> {
    use Holds as H;
    let Spread(low, likely, high) = &mut job.parts;
    let mut slots = vec![
        slot("name", "What is done", H::Line(&mut job.name)),
        slot("system", "What it belongs to", H::One(&mut job.system)),
        slot("market", "The market takes off", H::One(&mut job.market)),
    ];
    slots.extend(of_hours(&mut job.hours));
    slots.extend([
        slot("parts-low", "Parts, low", H::Money(low)),
        slot("parts", "Parts, likely", H::Money(likely)),
        slot("parts-high", "Parts, high", H::Money(high)),
        slot(
            "access",
            "Strip-down that it shares with other jobs",
            H::MaybeId(&mut job.access, Target::Entry(Section::Access)),
        ),
    ]);
    slots
}

fn of_access(access: &mut Access) -> Vec<Slot<'_>> {
    let mut slots = vec![slot("name", "What is taken apart", Holds::Line(&mut access.name))];
    slots.extend(of_hours(&mut access.hours));
    slots
}

fn of_reading(reading: &mut ReadingSpec) -> Vec<Slot<'_>> {
    use Holds as H;
    let chooses_quantity = matches!(reading.rule, Rule::Plain | Rule::EachWheel);
    let mut slots = vec![
        slot("name", "Name", H::Line(&mut reading.name)),
        slot("check", "The check at which it is taken", H::Id(&mut reading.check, Target::Entry(Section::Checks))),
        slot("rule", "What is entered and worked out", H::One(&mut reading.rule)),
    ];
    if chooses_quantity {
        slots.push(slot("quantity", "What is measured", H::One(&mut reading.quantity)));
    }
    slots.extend([
        slot("when", "Only for cars that are", H::Several(Box::new(&mut reading.when))),
        slot("source", "Where the limits come from", H::Line(&mut reading.source)),
    ]);
    slots
}

fn of_limit(reading: &mut ReadingSpec, row: usize) -> Vec<Slot<'_>> {
    use Holds as H;
    let results = results_of(reading);
    let Some(limit) = reading.limits.get_mut(row) else { return Vec::new() };
    let result = results.iter().find(|result| result.name == limit.of);
    let (quantity, difference) = result.map_or((Quantity::Ratio, false), |result| (result.quantity, result.difference));
    vec![
        slot("low", "Least that is right", H::Measure(&mut limit.low, quantity, difference)),
        slot("high", "Greatest that is right", H::Measure(&mut limit.high, quantity, difference)),
        slot("below", "Sign below that", H::MaybeId(&mut limit.below, Target::Sign)),
        slot("above", "Sign above that", H::MaybeId(&mut limit.above, Target::Sign)),
    ]
}

fn of_departure(departure: &mut Departure) -> Vec<Slot<'_>> {
    use Holds as H;
    vec![
        slot("name", "Name", H::Line(&mut departure.name)),
        slot("tell", "How to tell that it is there", H::Lines(&mut departure.tell)),
        slot("effect", "What it does by itself, if anything", H::Lines(&mut departure.effect)),
    ]
}

fn of_combination(combination: &mut Combination) -> Vec<Slot<'_>> {
    use Holds as H;
    let departures = Target::Entry(Section::Departures);
    vec![
        slot("effect", "What they do together to the handling", H::Lines(&mut combination.effect)),
        slot("all", "Departures that must all be there", H::Ids(&mut combination.all, departures)),
        slot("hold", "Not to be driven until it is undone", H::Flag(&mut combination.hold)),
        slot("source", "Where the rule comes from", H::Line(&mut combination.source)),
    ]
}
