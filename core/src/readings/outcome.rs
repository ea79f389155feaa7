//! From what was given to results, verdicts, notes and problems: the way in for every rule.

use crate::phrase;
use crate::phrase::Phrase;
use serde::Serialize;

use crate::ordered;
use crate::sheet::{Limit, ReadingSpec, Tag};
use crate::show::Show;
use crate::units::{Date, Quantity, Unit};

use super::derived::results_of;
use super::desk::Desk;
use super::given::Reading;
use super::input::inputs_of;
use super::{
    Rule, battery, brake, camber, charging, chassis_number, compression, consumption, counter, each_wheel, gearing,
    idle, leak_down, oil_pressure, paint_film, pedal, plain, speedometer, steering, toe, tyre,
};

/// What a rule may need to know besides what was measured.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Circumstances {
    /// How the car is built.
    pub tags: Vec<Tag>,
    /// The day of the visit.
    pub on: Option<Date>,
    /// The day on which the car was first used; the first of January where only the year is known.
    pub first_used: Option<Date>,
}

/// One derived value.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ResultLine {
    /// The result's name, as limits use it.
    pub name: &'static str,
    /// What to show beside it.
    pub label: &'static str,
    /// What it measures.
    pub quantity: Quantity,
    /// Its value in SI units.
    pub si: f64,
    /// It is a difference of two values.
    pub difference: bool,
}

impl ResultLine {
    /// Shows the value in a unit of its quantity.
    #[must_use]
    pub fn show(self, unit: Unit, show: &Show) -> String {
        self.show_value(self.si, unit, show)
    }

    /// Shows a value of the same kind, such as a limit. A difference of temperatures has the unit's size but not
    /// its zero.
    #[must_use]
    pub fn show_value(self, si: f64, unit: Unit, show: &Show) -> String {
        let zero = if self.difference { unit.to_si(0.0) } else { 0.0 };
        show.in_unit(unit, si + zero)
    }
}

/// How a value lies to its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Below the least that is right.
    Below,
    /// Inside the limits.
    Within,
    /// On a limit: still right, with nothing to spare.
    AtTheEdge,
    /// Above the most that is right.
    Above,
}

impl Verdict {
    /// Where a value lies between limits that may be open at either end.
    ///
    /// A limit typed in another unit than the value must compare equal to it, so a value within one part in a
    /// thousand million of a limit lies on it. Near a limit of zero the scale is a millionth of a millionth of the
    /// SI unit, which no instrument of the trade can tell.
    #[must_use]
    pub fn of(si: f64, low: Option<f64>, high: Option<f64>) -> Self {
        let on = |limit: f64| (si - limit).abs() <= 1e-9 * limit.abs() + 1e-12;
        match (low, high) {
            (Some(low), _) if si < low && !on(low) => Self::Below,
            (_, Some(high)) if si > high && !on(high) => Self::Above,
            (low, high) if low.is_some_and(on) || high.is_some_and(on) => Self::AtTheEdge,
            _ => Self::Within,
        }
    }
}

/// A result held against one limit of the sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Judged {
    /// Name of the result.
    pub result: &'static str,
    /// Least that is right, in SI units.
    pub low: Option<f64>,
    /// Most that is right, in SI units.
    pub high: Option<f64>,
    /// How the value lies to them.
    pub verdict: Verdict,
    /// Id of the sign that this raises.
    pub sign: Option<String>,
}

/// Something wrong with one field, and how to mend it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct InputProblem {
    /// Name of the input.
    pub input: &'static str,
    /// What is wrong, without a full stop.
    pub message: Phrase,
}

/// What a reading comes to.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Outcome {
    /// What was derived, in the order of [`Rule::results`]; always finite.
    pub results: Vec<ResultLine>,
    /// Each limit of the sheet whose result was derived.
    pub judged: Vec<Judged>,
    /// Plain sentences that the person should read with the results.
    pub notes: Vec<Phrase>,
    /// What is wrong with the input.
    pub problems: Vec<InputProblem>,
}

impl Outcome {
    /// The value of a result, in SI units.
    #[must_use]
    pub fn result(&self, name: &str) -> Option<f64> {
        self.results.iter().find(|line| line.name == name).map(|line| line.si)
    }

    /// Ids of the signs that the limits raise, each once.
    #[must_use]
    pub fn signs(&self) -> Vec<&str> {
        let mut signs: Vec<&str> = self.judged.iter().filter_map(|judged| judged.sign.as_deref()).collect();
        ordered::sort(&mut signs, Ord::cmp);
        signs.dedup();
        signs
    }
}

/// Reads a reading: derives what the rule derives and holds it against the limits of the sheet.
///
/// Total: whatever was given, what can be derived is, and the rest is named in [`Outcome::problems`]. A reading of
/// which nothing was given comes to nothing.
#[must_use]
pub fn read(spec: &ReadingSpec, reading: &Reading, circumstances: &Circumstances) -> Outcome {
    if reading.is_blank() {
        return Outcome::default();
    }
    let inputs = inputs_of(spec);
    let mut desk = Desk::new(&inputs, reading, circumstances);
    desk.name_what_is_missing();
    match spec.rule {
        Rule::Plain => plain::read(&mut desk),
        Rule::EachWheel => each_wheel::read(&mut desk),
        Rule::TyreSize => tyre::read_size(&mut desk),
        Rule::TyreLoad => tyre::read_load(&mut desk),
        Rule::TyreAge => tyre::read_age(&mut desk),
        Rule::FreePlay => steering::read(&mut desk),
        Rule::Camber => camber::read(&mut desk),
        Rule::Toe => toe::read(&mut desk),
        Rule::Stop => brake::read(&mut desk),
        Rule::PedalReserve => pedal::read(&mut desk),
        Rule::BatteryRest => battery::read(&mut desk),
        Rule::Charging => charging::read(&mut desk),
        Rule::Compression => compression::read(&mut desk),
        Rule::LeakDown => leak_down::read(&mut desk),
        Rule::PaintFilm => paint_film::read(&mut desk),
        Rule::ChassisNumber => chassis_number::read(&mut desk),
        Rule::Counter => counter::read(&mut desk),
        Rule::Idle => idle::read(&mut desk),
        Rule::Speedometer => speedometer::read(&mut desk),
        Rule::Gearing => gearing::read(&mut desk),
        Rule::OilPressure => oil_pressure::read(&mut desk),
        Rule::Consumption => consumption::read(&mut desk),
    }
    let (found, notes, problems) = desk.close();
    let results: Vec<ResultLine> = results_of(spec)
        .into_iter()
        .filter_map(|result| {
            let si = found.iter().find(|(name, _)| *name == result.name)?.1;
            Some(ResultLine {
                name: result.name,
                label: result.label,
                quantity: result.quantity,
                si,
                difference: result.difference,
            })
        })
        .collect();
    let judged: Vec<Judged> = spec.limits.iter().filter_map(|limit| judge(limit, &results)).collect();
    let mut outcome = Outcome { results, judged, notes, problems };
    note_the_edges(&mut outcome);
    outcome
}

fn judge(limit: &Limit, results: &[ResultLine]) -> Option<Judged> {
    let line = results.iter().find(|line| line.name == limit.of)?;
    let verdict = Verdict::of(line.si, limit.low, limit.high);
    let sign = match verdict {
        Verdict::Below => limit.below.clone(),
        Verdict::Above => limit.above.clone(),
        Verdict::Within | Verdict::AtTheEdge => None,
    };
    Some(Judged { result: line.name, low: limit.low, high: limit.high, verdict, sign })
}

/// A value on a limit passes; the person should know how narrowly.
fn note_the_edges(outcome: &mut Outcome) {
    for line in &outcome.results {
        let edge = |judged: &Judged| judged.result == line.name && judged.verdict == Verdict::AtTheEdge;
        if outcome.judged.iter().any(edge) {
            outcome.notes.push(phrase!("{0}: at the edge of what is right, with nothing to spare.", line.label));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::readings::Given;
    use proptest::prelude::*;

    fn spec(rule: Rule, quantity: Option<Quantity>, limits: Vec<Limit>) -> ReadingSpec {
        ReadingSpec {
            id: "x".to_owned(),
            check: "x".to_owned(),
            name: "X".to_owned(),
            rule,
            quantity,
            limits,
            when: Vec::new(),
            source: "common practice, no source".to_owned(),
        }
    }

    fn limit(of: &str, low: Option<f64>, high: Option<f64>) -> Limit {
        Limit { of: of.to_owned(), low, high, below: Some("low".to_owned()), above: Some("high".to_owned()) }
    }

    #[test]
    fn a_limit_in_another_unit_compares_equal() {
        // 26 psi typed; the limit was written in pascals from bar and rounded.
        for unit in Unit::ALL {
            let si = unit.to_si(26.0);
            let near = si * (1.0 + 4e-16);
            assert_eq!(Verdict::of(near, None, Some(si)), Verdict::AtTheEdge, "{unit:?}");
            assert_eq!(Verdict::of(si, Some(near), None), Verdict::AtTheEdge, "{unit:?}");
        }
        assert_eq!(Verdict::of(0.1 + 0.2 - 0.3, Some(0.0), None), Verdict::AtTheEdge);
    }

    #[test]
    fn a_value_outside_raises_its_sign_and_one_on_the_limit_does_not() {
        let spec = spec(Rule::Plain, Some(Quantity::Voltage), vec![limit("value", Some(13.6), Some(13.8))]);
        let read =
            |volts| read(&spec, &Reading::default().with("value", Given::Number(volts)), &Circumstances::default());
        assert_eq!(read(13.5).signs(), ["low"]);
        assert_eq!(read(13.9).signs(), ["high"]);
        assert!(read(13.7).signs().is_empty() && read(13.7).notes.is_empty());
        assert!(read(13.8).signs().is_empty());
        assert_eq!(read(13.8).judged.first().map(|judged| judged.verdict), Some(Verdict::AtTheEdge));
        let said: Vec<String> = read(13.8).notes.iter().map(ToString::to_string).collect();
        assert_eq!(said, ["Value: at the edge of what is right, with nothing to spare."]);
        assert_eq!(read(13.7).results.first().map(|line| line.quantity), Some(Quantity::Voltage));
    }

    #[test]
    fn a_difference_of_temperatures_has_no_zero_of_its_own() {
        let hubs = Reading::default()
            .with("front-left", Given::Number(Unit::Celsius.to_si(40.0)))
            .with("front-right", Given::Number(Unit::Celsius.to_si(60.0)));
        let outcome =
            read(&spec(Rule::EachWheel, Some(Quantity::Temperature), Vec::new()), &hubs, &Circumstances::default());
        let shown = |name, unit| {
            let line = outcome.results.iter().find(|line| line.name == name).unwrap();
            line.show(unit, &Show::default())
        };
        assert_eq!(shown("side-difference", Unit::Celsius), "20 °C");
        assert_eq!(shown("side-difference", Unit::Fahrenheit), "36 °F");
        assert_eq!(shown("greatest", Unit::Fahrenheit), "140 °F");
    }

    #[test]
    fn a_blank_reading_comes_to_nothing_and_a_half_filled_one_says_what_is_missing() {
        for rule in Rule::ALL {
            let spec = spec(rule, Some(Quantity::Length), Vec::new());
            assert_eq!(read(&spec, &Reading::default(), &Circumstances::default()), Outcome::default(), "{rule:?}");
            let blank = Reading::default().with("value", Given::Unread(" ".to_owned()));
            assert_eq!(read(&spec, &blank, &Circumstances::default()), Outcome::default(), "{rule:?}");
        }
        let half = Reading::default().with("play", Given::Number(0.01));
        let outcome = read(&spec(Rule::FreePlay, None, Vec::new()), &half, &Circumstances::default());
        assert_eq!(outcome.problems.iter().map(|problem| problem.input).collect::<Vec<_>>(), ["wheel-diameter"]);
    }

    fn any_given() -> impl Strategy<Value = Given> {
        prop_oneof![
            any::<f64>().prop_map(Given::Number),
            (-1.0e3..1.0e5_f64).prop_map(Given::Number),
            prop::collection::vec(any::<f64>(), 0..9).prop_map(Given::Numbers),
            prop::collection::vec(0.0..2.0e6_f64, 0..9).prop_map(Given::Numbers),
            "\\PC{0,24}".prop_map(Given::Text),
            "[PT]?[0-9]{2,3}/[0-9]{2}[SHVZ]?R[0-9]{2} [0-9]{2,3}[A-Z]".prop_map(Given::Text),
            "[0-9A-Z]{17}".prop_map(Given::Text),
            "[0-9]{3,4}".prop_map(Given::Text),
            "\\PC{0,12}".prop_map(Given::Unread),
        ]
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]
        #[test]
        fn whatever_is_given_results_are_finite_and_problems_name_fields(
            place in 0..Rule::ALL.len(),
            givens in prop::collection::vec(any_given(), 7),
            skip in any::<u8>(),
            year in 1_i32..=9999,
            dated: bool,
        ) {
            let rule = Rule::ALL[place];
            let spec = spec(rule, Some(Quantity::Length), vec![limit(rule.results()[0].name, Some(0.0), Some(1.0))]);
            let mut reading = Reading::default();
            for (number, (input, given)) in rule.inputs().iter().zip(givens).enumerate() {
                if skip & (1 << number) == 0 {
                    reading = reading.with(input.name, given);
                }
            }
            let on = if dated { Date::new(year, 6, 1) } else { None };
            let circumstances = Circumstances { on, first_used: Date::new(1967, 1, 1), ..Circumstances::default() };
            let outcome = read(&spec, &reading, &circumstances);
            for line in &outcome.results {
                prop_assert!(line.si.is_finite(), "{rule:?} {line:?}");
            }
            for problem in &outcome.problems {
                prop_assert!(rule.inputs().iter().any(|input| input.name == problem.input), "{rule:?} {problem:?}");
                prop_assert!(!problem.message.to_string().ends_with('.') && !problem.message.is_empty(), "{problem:?}");
            }
            for note in &outcome.notes {
                prop_assert!(note.to_string().ends_with('.'), "{rule:?} {note:?}");
            }
        }
    }
}
