//! The desk at which a rule works: takes what was given, checks its kind, and lays down what it finds.

use crate::phrase;
use crate::phrase::{Phrase, Say};
use crate::sheet::Tag;
use crate::units::Date;
use crate::units::number::may_part_thousands;

use super::given::{Given, Reading};
use super::input::InputSpec;
use super::outcome::{Circumstances, InputProblem};

/// What one rule reads from and writes to.
pub(super) struct Desk<'a> {
    inputs: &'a [InputSpec],
    reading: &'a Reading,
    circumstances: &'a Circumstances,
    results: Vec<(&'static str, f64)>,
    notes: Vec<Phrase>,
    problems: Vec<InputProblem>,
}

impl<'a> Desk<'a> {
    pub(super) fn new(inputs: &'a [InputSpec], reading: &'a Reading, circumstances: &'a Circumstances) -> Self {
        Self { inputs, reading, circumstances, results: Vec::new(), notes: Vec::new(), problems: Vec::new() }
    }

    /// What was found: results by name, notes, problems.
    pub(super) fn close(self) -> (Vec<(&'static str, f64)>, Vec<Phrase>, Vec<InputProblem>) {
        (self.results, self.notes, self.problems)
    }

    /// Names each field that the rule cannot do without and that is empty.
    pub(super) fn name_what_is_missing(&mut self) {
        for input in self.inputs {
            if !input.optional && self.raw(input.name).is_none() {
                self.problem(input.name, "still to be entered");
            }
        }
    }

    /// What was given for a field, if anything was.
    fn raw(&self, name: &str) -> Option<&'a Given> {
        self.reading.given.get(name).filter(|given| !given.is_blank())
    }

    /// Whether anything was given for a field.
    pub(super) fn has(&self, name: &str) -> bool {
        self.raw(name).is_some()
    }

    /// One value in SI units; what is no number is a problem.
    pub(super) fn number(&mut self, name: &'static str) -> Option<f64> {
        match self.raw(name)? {
            Given::Number(si) if si.is_finite() => Some(*si),
            other => {
                self.problem(name, wrong_kind(other, "a number, as in 12.5"));
                None
            }
        }
    }

    /// Several values in SI units; a single one will do.
    pub(super) fn numbers(&mut self, name: &'static str) -> Option<Vec<f64>> {
        match self.raw(name)? {
            Given::Number(si) if si.is_finite() => Some(vec![*si]),
            Given::Numbers(values) if values.iter().all(|si| si.is_finite()) => Some(values.clone()),
            other => {
                self.problem(name, wrong_kind(other, "numbers with spaces between, as in 12 11.5 12"));
                None
            }
        }
    }

    /// A text as it was typed, without the spaces around it.
    pub(super) fn text(&mut self, name: &'static str) -> Option<&'a str> {
        match self.raw(name)? {
            Given::Text(text) | Given::Unread(text) => Some(text.trim()),
            Given::Number(_) | Given::Numbers(_) => {
                self.problem(name, "a text is wanted here, as it stands on the car");
                None
            }
        }
    }

    /// The day of the visit.
    pub(super) fn on(&self) -> Option<Date> {
        self.circumstances.on
    }

    /// The day on which the car was first used.
    pub(super) fn first_used(&self) -> Option<Date> {
        self.circumstances.first_used
    }

    /// Whether the car is built so.
    pub(super) fn is(&self, tag: Tag) -> bool {
        self.circumstances.tags.contains(&tag)
    }

    /// Lays down a result. One that is not finite comes of absurd input and is left out.
    pub(super) fn result(&mut self, name: &'static str, si: f64) {
        if si.is_finite() {
            self.results.push((name, si));
        }
    }

    /// Adds a sentence to be read with the results.
    pub(super) fn note(&mut self, sentence: impl Into<Phrase>) {
        self.notes.push(sentence.into());
    }

    /// Says what is wrong with a field; of one that several results need, once.
    pub(super) fn problem(&mut self, input: &'static str, message: impl Into<Phrase>) {
        let problem = InputProblem { input, message: message.into() };
        if !self.problems.contains(&problem) {
            self.problems.push(problem);
        }
    }

    /// The value, or its error as a problem of a field.
    pub(super) fn take<T, E: Say>(&mut self, input: &'static str, outcome: Result<T, E>) -> Option<T> {
        match outcome {
            Ok(value) => Some(value),
            Err(error) => {
                self.problem(input, error.phrase());
                None
            }
        }
    }
}

fn wrong_kind(given: &Given, wanted: &'static str) -> Phrase {
    match given {
        Given::Text(text) | Given::Unread(text) if may_part_thousands(text) => {
            phrase!("“{0}” can be read in two ways; write it without a sign between thousands", text)
        }
        Given::Text(text) | Given::Unread(text) => {
            phrase!("“{0}” cannot be read; write {1}", text.trim().to_owned(), wanted)
        }
        Given::Number(_) | Given::Numbers(_) => phrase!("this is out of reach; write {0}", wanted),
    }
}
