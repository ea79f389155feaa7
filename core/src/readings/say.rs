//! Readings in words: how a value lies to its limits, what is right before anything is measured, and the unit in
//! which a field is filled in.

use crate::say;
use crate::sheet::ReadingSpec;
use crate::show::Show;
use crate::units::Unit;

use super::derived::results_of;
use super::{InputSpec, Judged, Outcome, Verdict};

impl Verdict {
    /// The verdict as it is shown.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Below => "below the limit",
            Self::Within => "within the limits",
            Self::AtTheEdge => "at the edge",
            Self::Above => "above the limit",
        }
    }

    /// The verdict as it is in a unit of which more is less.
    const fn in_unit(self, unit: Unit) -> Self {
        match self {
            Self::Below if unit.is_inverse() => Self::Above,
            Self::Above if unit.is_inverse() => Self::Below,
            _ => self,
        }
    }
}

/// The unit in which a field is filled in: the person's for its quantity, or the field's own of the same system
/// of units. Nothing for a text.
#[must_use]
pub fn field_unit(input: &InputSpec, show: &Show) -> Option<Unit> {
    let chosen = show.unit(input.takes.quantity()?);
    let Some((metric, imperial)) = input.own_units else { return Some(chosen) };
    Some(if matches!(chosen, Unit::Inch | Unit::Foot | Unit::Mil | Unit::Mile | Unit::Pound) {
        imperial
    } else {
        metric
    })
}

/// Limits from low to high as the unit has it: a range, a least, a most, or blank where neither is given.
fn between(show: &Show, unit: Unit, low: Option<String>, high: Option<String>) -> String {
    let (low, high) = if unit.is_inverse() { (high, low) } else { (low, high) };
    match (low, high) {
        (Some(low), Some(high)) => say!(show, "{0} to {1}", low, high),
        (Some(low), None) => say!(show, "at least {0}", low),
        (None, Some(high)) => say!(show, "at most {0}", high),
        (None, None) => String::new(),
    }
}

/// What is right, for each limit of the sheet: the result's label and the limits in the person's units.
#[must_use]
pub fn limits(spec: &ReadingSpec, show: &Show) -> Vec<(&'static str, String)> {
    let results = results_of(spec);
    let said = |limit: &crate::sheet::Limit| {
        let result = results.iter().find(|result| result.name == limit.of)?;
        let unit = show.unit(result.quantity);
        let zero = if result.difference { unit.to_si(0.0) } else { 0.0 };
        let value = |si: Option<f64>| si.map(|si| show.in_unit(unit, si + zero));
        let said = between(show, unit, value(limit.low), value(limit.high));
        (!said.is_empty()).then_some((result.label, said))
    };
    spec.limits.iter().filter_map(said).collect()
}

/// A result as a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// What it is.
    pub label: &'static str,
    /// Its value in the person's unit.
    pub value: String,
    /// Each verdict with the limits that it is held against.
    pub judged: Vec<(Verdict, String)>,
    /// Ids of the signs that it raises.
    pub signs: Vec<String>,
}

/// The results of a reading as lines, in the person's units.
#[must_use]
pub fn results(outcome: &Outcome, show: &Show) -> Vec<Said> {
    let line = |line: &super::ResultLine| {
        let unit = show.unit(line.quantity);
        let value = |si: Option<f64>| si.map(|si| line.show_value(si, unit, show));
        let own = || outcome.judged.iter().filter(|judged| judged.result == line.name);
        Said {
            label: line.label,
            value: line.show(unit, show),
            judged: own()
                .map(|it: &Judged| (it.verdict.in_unit(unit), between(show, unit, value(it.low), value(it.high))))
                .collect(),
            signs: own().filter_map(|judged| judged.sign.clone()).collect(),
        }
    };
    outcome.results.iter().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::readings::{Circumstances, Given, Reading, Rule, read};
    use crate::sheet::Limit;
    use crate::units::Quantity;

    fn pedal() -> ReadingSpec {
        ReadingSpec {
            id: "x".to_owned(),
            check: "x".to_owned(),
            name: "X".to_owned(),
            rule: Rule::Plain,
            quantity: Some(Quantity::Pressure),
            limits: vec![Limit {
                of: "value".to_owned(),
                low: Some(Unit::Psi.to_si(24.0)),
                high: Some(Unit::Psi.to_si(28.0)),
                below: Some("soft".to_owned()),
                above: None,
            }],
            when: Vec::new(),
            source: "common practice, no source".to_owned(),
        }
    }

    #[test]
    fn says_limits_and_verdicts_in_the_persons_units() {
        let mut show = Show::default();
        assert_eq!(limits(&pedal(), &show), [("Value", "24.0 psi to 28.0 psi".to_owned())]);
        show.units.insert(Quantity::Pressure, Unit::Bar);
        let reading = Reading::default().with("value", Given::Number(Unit::Bar.to_si(1.5)));
        let said = results(&read(&pedal(), &reading, &Circumstances::default()), &show);
        let line = said.first().unwrap();
        assert_eq!((line.label, line.value.as_str()), ("Value", "1.50 bar"));
        assert_eq!(line.judged, [(Verdict::Below, "1.65 bar to 1.93 bar".to_owned())]);
        assert_eq!(line.signs, ["soft"]);
    }

    #[test]
    fn a_most_that_is_used_is_a_least_that_is_gone() {
        let limit = Limit { of: "value".to_owned(), low: None, high: Some(1e-7), below: None, above: None };
        let spec = ReadingSpec { quantity: Some(Quantity::Consumption), limits: vec![limit], ..pedal() };
        let reading = Reading::default().with("value", Given::Number(2e-7));
        let outcome = read(&spec, &reading, &Circumstances::default());
        for (unit, right, verdict) in [
            (Unit::LitrePerHundredKilometres, "at most 10.0 L/100 km", Verdict::Above),
            (Unit::MilePerUsGallon, "at least 23.5 mpg (US)", Verdict::Below),
        ] {
            let show = Show { units: [(Quantity::Consumption, unit)].into(), ..Show::default() };
            assert_eq!(limits(&spec, &show), [("Value", right.to_owned())]);
            assert_eq!(results(&outcome, &show).first().unwrap().judged, [(verdict, right.to_owned())]);
        }
    }

    #[test]
    fn a_limit_open_at_one_end_says_so() {
        let both = (Some("1 V".to_owned()), Some("2 V".to_owned()));
        assert_eq!(between(&Show::default(), Unit::Volt, both.0.clone(), None), "at least 1 V");
        assert_eq!(between(&Show::default(), Unit::Volt, None, both.1.clone()), "at most 2 V");
        assert_eq!(between(&Show::default(), Unit::Volt, both.0, both.1), "1 V to 2 V");
        assert_eq!(between(&Show::default(), Unit::Volt, None, None), "");
    }

    #[test]
    fn a_field_with_units_of_its_own_keeps_to_the_persons_system() {
        let mut show = Show::default();
        let distance = Rule::Stop.inputs().iter().find(|input| input.name == "distance").unwrap();
        assert_eq!(field_unit(distance, &show), Some(Unit::Metre));
        show.units.insert(Quantity::Length, Unit::Inch);
        assert_eq!(field_unit(distance, &show), Some(Unit::Foot));
        let speed = Rule::Stop.inputs().iter().find(|input| input.name == "speed").unwrap();
        assert_eq!(field_unit(speed, &show), Some(Unit::MilePerHour));
        let size = Rule::TyreSize.inputs().first().unwrap();
        assert_eq!(field_unit(size, &show), None);
    }
}
