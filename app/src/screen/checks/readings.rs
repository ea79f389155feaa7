//! What is measured at a check: the fields of each reading, and what they come to.

use kerbworth_core::readings::input::inputs_of;
use kerbworth_core::readings::say::{self, Said};
use kerbworth_core::readings::{InputSpec, Outcome, Takes, Verdict, read_typed, show_given};
use kerbworth_core::sheet::{ReadingSpec, car_tags};
use kerbworth_core::show::Show;
use kerbworth_core::units::Unit;
use kerbworth_core::worksheet::Edit;
use leptos::prelude::*;

use crate::live::{Derived, Shown, live, memo};
use crate::part::field::{Field, Keyboard};
use crate::store::desk::desk;
use crate::words::{say, t};

/// The readings that are taken at a check of this car.
#[component]
pub fn Readings(
    /// The check's id.
    check: String,
) -> impl IntoView {
    let specs: Vec<ReadingSpec> = desk().sheet.with_untracked(move |sheet| {
        desk().appraisal.with_untracked(move |appraisal| {
            let taken =
                move |spec: &&ReadingSpec| spec.check == check && car_tags::applies(&spec.when, &appraisal.tags);
            sheet.readings.iter().filter(taken).cloned().collect()
        })
    });
    specs.into_iter().map(|spec| view! { <OneReading spec /> }).collect_view()
}

#[component]
fn OneReading(spec: ReadingSpec) -> impl IntoView {
    let desk = desk();
    let id = spec.id.clone();
    let outcome = memo(move || desk.appraisal.with(|appraisal| appraisal.readings.get(&id).cloned()));
    let inputs = inputs_of(&spec);
    let limits = {
        let spec = spec.clone();
        move || desk.show.with(|show| say::limits(&spec, show))
    };
    view! {
        <fieldset class="reading">
            <legend>{spec.name.clone()}</legend>
            <div class="pair">
                {inputs
                    .into_iter()
                    .map(|input| view! { <Input reading=spec.id.clone() input outcome /> })
                    .collect_view()}
            </div>
            <Shown when=memo(move || outcome.with(Option::is_some)) fallback=move || view! { <Limits limits=limits() /> }>
                <Results outcome />
            </Shown>
        </fieldset>
    }
}

/// What is right, before anything is measured.
#[component]
fn Limits(limits: Vec<(&'static str, String)>) -> impl IntoView {
    limits
        .into_iter()
        .map(|(label, said)| view! { <p class="quiet">{t("Right:")} " " {t(label)} ", " {said}</p> })
        .collect_view()
}

/// One field of a reading, in the person's unit.
#[component]
fn Input(reading: String, input: InputSpec, outcome: Derived<Option<Outcome>>) -> impl IntoView {
    let desk = desk();
    // A text has no unit; the unit handed on with it is not looked at.
    let unit = move || desk.show.with(|show| say::field_unit(&input, show));
    let id = reading.clone();
    let given =
        memo(move || desk.worksheet.with(|worksheet| worksheet.readings.get(&id)?.given.get(input.name).cloned()));
    let stored = move || {
        let style = desk.show.with(Show::style);
        given.with(|given| {
            given
                .as_ref()
                .map(|given| show_given(&input, given, unit().unwrap_or(Unit::Each), style))
                .unwrap_or_default()
        })
    };
    let wrong = move || {
        outcome.with(|outcome| {
            let problems = &outcome.as_ref()?.problems;
            problems.iter().find(|problem| problem.input == input.name).map(|problem| say(&problem.message))
        })
    };
    let keyboard = match input.takes {
        Takes::Number(_) if !input.takes_minus() => Keyboard::Decimal,
        _ => Keyboard::Text,
    };
    let several = matches!(input.takes, Takes::Numbers(_));
    let place = format!("readings.{reading}.{}", input.name);
    view! {
        <Field
            place
            label=t(input.label)
            keyboard
            unit=memo(move || unit().map(|unit| t(unit.symbol()).to_owned()).unwrap_or_default())
            hint=if several { t("with spaces between") } else { "" }
            stored=memo(stored)
            wrong=memo(wrong)
            typed=move |text: String| put(&reading, &input, &text, unit().unwrap_or(Unit::Each))
        />
    }
}

/// Puts what was typed into a field of a reading; a reading of which nothing is left goes.
fn put(reading: &str, input: &InputSpec, text: &str, unit: Unit) {
    let desk = desk();
    let style = desk.show.with_untracked(Show::style);
    let mut now =
        desk.worksheet.with_untracked(|worksheet| worksheet.readings.get(reading).cloned()).unwrap_or_default();
    let given = read_typed(input, text, unit, style);
    if given.is_blank() {
        now.given.remove(input.name);
    } else {
        now.given.insert(input.name.to_owned(), given);
    }
    let kept = (!now.is_blank() || !now.note.is_empty()).then(|| Box::new(now));
    desk.edit(Edit::Reading(reading.to_owned(), kept));
}

/// What a reading comes to: results held against their limits, and sentences to be read with them.
#[component]
fn Results(outcome: Derived<Option<Outcome>>) -> impl IntoView {
    let desk = desk();
    let lines = move || {
        outcome.with(|outcome| {
            outcome.as_ref().map(|it| desk.show.with(|show| say::results(it, show))).unwrap_or_default()
        })
    };
    let notes = move || outcome.with(|outcome| outcome.as_ref().map(|it| it.notes.clone()).unwrap_or_default());
    view! {
        <output class="results">
            {live(move || lines().into_iter().map(result).collect_view())}
            {live(move || notes().into_iter().map(|note| view! { <p>{say(&note)}</p> }).collect_view())}
        </output>
    }
}

fn result(line: Said) -> impl IntoView {
    let sign_name = |id: String| {
        desk().sheet.with_untracked(|sheet| sheet.sign(&id).map(|(_, sign)| sign.name.clone())).unwrap_or(id)
    };
    let outside = line.judged.iter().any(|(verdict, _)| matches!(verdict, Verdict::Below | Verdict::Above));
    let judged = line.judged.into_iter().map(|(verdict, limits)| {
        view! { <p class="quiet">{t(verdict.word())} ": " {limits}</p> }
    });
    let signs =
        line.signs.into_iter().map(|id| view! { <p>{t("Raises the sign:")} " " <strong>{sign_name(id)}</strong></p> });
    view! {
        <div class="result" class:outside=outside>
            <div class="figure-line"><span>{t(line.label)}</span><span class="amount">{line.value}</span></div>
            {judged.collect_view()}
            {signs.collect_view()}
        </div>
    }
}
