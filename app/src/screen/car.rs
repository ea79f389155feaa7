//! The car's identity, the occasion, and the receipts for its work.

use kerbworth_core::sheet::{Stage, Tag, TagGroup};
use kerbworth_core::worksheet::{Car, Edit, Purpose, Visit};
use leptos::prelude::*;

use crate::live::{Derived, live, memo};
use crate::part::choice::{Buttons, Choice};
use crate::part::entry::{DateField, DistanceField, MoneyField, NumberField, WholeField};
use crate::part::field::{Field, Note};
use crate::route::Screen;
use crate::screen::receipts::Receipts;
use crate::store::desk::desk;
use crate::words::{learnt, say, t};

/// A part of the car, read.
fn car<T: Send + Sync + Clone + PartialEq + 'static>(read: fn(&Car) -> T) -> Derived<T> {
    memo(move || desk().worksheet.with(|worksheet| read(&worksheet.car)))
}

/// Changes the car.
fn put_car(change: impl FnOnce(&mut Car)) {
    let mut car = desk().worksheet.with_untracked(|worksheet| worksheet.car.clone());
    change(&mut car);
    desk().edit(Edit::Car(Box::new(car)));
}

/// A part of the occasion, read.
fn visit<T: Send + Sync + Clone + PartialEq + 'static>(read: fn(&Visit) -> T) -> Derived<T> {
    memo(move || desk().worksheet.with(|worksheet| read(&worksheet.visit)))
}

/// Changes the occasion.
fn put_visit(change: impl FnOnce(&mut Visit)) {
    let mut visit = desk().worksheet.with_untracked(|worksheet| worksheet.visit.clone());
    change(&mut visit);
    desk().edit(Edit::Visit(Box::new(visit)));
}

/// The screen.
#[component]
pub fn CarScreen() -> impl IntoView {
    view! {
        <h1>{t("Car")}</h1>
        <Kept />
        <Task />
        <Identity />
        <Occasion />
        <Build />
        <Receipts />
    }
}

/// What could not be read when the worksheet was opened.
#[component]
fn Kept() -> impl IntoView {
    let unread = memo(move || desk().worksheet.with(|worksheet| worksheet.unread.clone()));
    live(move || {
        let unread = unread.get();
        (!unread.is_empty()).then(|| {
            view! {
                <details class="notice">
                    <summary>{t("Some of this worksheet could not be read; it is kept as it was")}</summary>
                    <ul>{unread.into_iter().map(|unread| view! { <li>{say(&unread)}</li> }).collect_view()}</ul>
                </details>
            }
        })
    })
}

/// What is asked first, since all else hangs on it: the kind of car, what for, how long; and the way to the checks.
#[component]
fn Task() -> impl IntoView {
    let purposes = Purpose::ALL.into_iter().map(|purpose| (format!("{purpose:?}"), t(purpose.name()).to_owned()));
    let sheets = memo(move || desk().sheets.names());
    let sheet = memo(move || desk().worksheet.with(|worksheet| worksheet.type_sheet.clone()));
    view! {
        <Choice place="type-sheet" label=t("Type sheet") options=sheets chosen=sheet
            choose=|id: String| desk().edit(Edit::TypeSheet(id)) />
        {learnt().then(|| view! {
            <p class="quiet">{t("A type sheet speaks the language of whoever wrote it; it is not translated.")}</p>
        })}
        <Buttons
            label=t("What for")
            options=purposes.collect()
            chosen=visit(|visit| format!("{:?}", visit.purpose))
            choose=|word: String| {
                if let Some(purpose) = Purpose::ALL.into_iter().find(|purpose| format!("{purpose:?}") == word) {
                    put_visit(|visit| visit.purpose = purpose);
                }
            }
        />
        <div class="way-on">
            <NumberField place="visit.minutes" label=t("Minutes there are") unit="min"
                stored=visit(|visit| visit.minutes.clone()) put=|minutes| put_visit(|visit| visit.minutes = minutes) />
            <a class="button" href=Screen::Plan.fragment()>{t("Plan")}</a>
            <a class="button" href=Screen::Checks(Stage::Papers).fragment()>{t("All checks")}</a>
        </div>
    }
}

#[component]
fn Identity() -> impl IntoView {
    view! {
        <h2>{t("Identity")}</h2>
        <div class="pair identity">
            <Field place="car.maker" label=t("Maker") stored=car(|car| car.maker.clone())
                typed=|text: String| put_car(|car| car.maker = text) />
            <Field place="car.model" label=t("Model and body") stored=car(|car| car.model.clone())
                typed=|text: String| put_car(|car| car.model = text) />
            <WholeField place="car.year" label=t("Year made") stored=car(|car| car.year.clone())
                put=|year| put_car(|car| car.year = year) />
            <Field place="car.registration" label=t("Registration mark") stored=car(|car| car.registration.clone())
                typed=|text: String| put_car(|car| car.registration = text) />
            <Field place="car.chassis-number" label=t("Chassis number, as stamped")
                stored=car(|car| car.chassis_number.clone())
                typed=|text: String| put_car(|car| car.chassis_number = text) />
            <Field place="car.engine-number" label=t("Engine number, as stamped")
                stored=car(|car| car.engine_number.clone())
                typed=|text: String| put_car(|car| car.engine_number = text) />
            <Field place="car.colour" label=t("Colour, outside and in") stored=car(|car| car.colour.clone())
                typed=|text: String| put_car(|car| car.colour = text) />
            <DistanceField place="car.mileage" label=t("Mileage, as you believe it") stored=car(|car| car.mileage.clone())
                put=|mileage| put_car(|car| car.mileage = mileage) />
            <MoneyField place="car.asked" label=t("Price asked") stored=car(|car| car.asked.clone())
                put=|asked| put_car(|car| car.asked = asked) />
        </div>
        <Note place="car.note" label=t("Note") stored=car(|car| car.note.clone())
            typed=|text: String| put_car(|car| car.note = text) />
    }
}

#[component]
fn Occasion() -> impl IntoView {
    view! {
        <h2>{t("Occasion")}</h2>
        <div class="pair">
            <DateField place="visit.date" label=t("Day") stored=visit(|visit| visit.date.clone())
                put=|date| put_visit(|visit| visit.date = date) />
            <Field place="visit.place" label=t("Place") stored=visit(|visit| visit.place.clone())
                typed=|text: String| put_visit(|visit| visit.place = text) />
            <Field place="visit.by" label=t("Looked at by") stored=visit(|visit| visit.by.clone())
                typed=|text: String| put_visit(|visit| visit.by = text) />
            <Field place="visit.on-behalf-of" label=t("On behalf of") stored=visit(|visit| visit.on_behalf_of.clone())
                typed=|text: String| put_visit(|visit| visit.on_behalf_of = text) />
        </div>
    }
}

/// How the car is built: what switches checks on and off.
#[component]
fn Build() -> impl IntoView {
    view! {
        <h2>{t("How it is built")}</h2>
        <p class="quiet">
            {t("Checks that do not fit are left out. What the type sheet says is marked already; what nobody says is looked at.")}
        </p>
        <div class="built">{TagGroup::ALL.into_iter().map(|group| view! { <Group group /> }).collect_view()}</div>
    }
}

#[component]
fn Group(group: TagGroup) -> impl IntoView {
    let has = move |tag: Tag| desk().appraisal.with(|appraisal| appraisal.tags.contains(&tag));
    let press = move |tag: Tag| {
        let whole = desk().appraisal.with_untracked(|appraisal| appraisal.tags.clone());
        put_car(|car| {
            let mut tags: Vec<Tag> = whole.into_iter().filter(|has| has.group() == group).collect();
            let was = tags.contains(&tag);
            if group.takes_several() {
                tags.retain(|has| *has != tag);
            } else {
                tags.clear();
            }
            if !was {
                tags.push(tag);
            }
            car.tags.retain(|has| has.group() != group);
            car.tags.extend(tags);
            car.tags.sort_unstable();
        });
    };
    view! {
        <fieldset>
            <legend>{t(group.name())}</legend>
            <div class="row">
                {group
                    .tags()
                    .map(|tag| {
                        view! {
                            <button
                                type="button"
                                aria-pressed=move || has(tag).to_string()
                                on:click=move |_| press(tag)
                            >
                                {t(tag.name())}
                            </button>
                        }
                    })
                    .collect_view()}
            </div>
        </fieldset>
    }
}
