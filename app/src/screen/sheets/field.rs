//! Fields of a form: one way to draw each kind of content, whichever part of the sheet it belongs to.

use kerbworth_core::sheet::edit::SheetEdit;
use kerbworth_core::sheet::form::{Choice as Offer, Content, Field, Kind};
use kerbworth_core::sheet::part::Part;
use leptos::prelude::*;

use super::bench::bench;
use super::fold::{Open, fold};
use super::search::named;
use crate::ids;
use crate::live::{Derived, Each, fixed, live, memo};
use crate::part::choice::Choice;
use crate::words::t;

/// The name of a row. A reading may limit one result twice; the second is called apart from the first.
fn called_apart(rows: &[String], row: usize) -> Option<String> {
    let name = rows.get(row)?;
    match rows.iter().take(row).filter(|earlier| *earlier == name).count() {
        0 => Some(name.clone()),
        earlier => Some(format!("{name}-{}", earlier + 1)),
    }
}

/// Where a form is: a part of the sheet, or one of its rows.
#[derive(Clone, Copy)]
pub struct At {
    /// The part as it stands; nothing once it is gone.
    pub part: Derived<Option<Part>>,
    /// The row, for its fields.
    pub row: Option<usize>,
}

impl At {
    /// Changes the part.
    pub fn change(&self, change: impl FnOnce(&mut Part)) {
        let Some(mut part) = self.part.get_untracked() else { return };
        change(&mut part);
        bench().edit(SheetEdit::Put(part));
    }

    /// The place of a field, or of the whole if none is named.
    pub fn place(&self, field: &str) -> String {
        self.part.with_untracked(|part| {
            let Some(part) = part else { return String::new() };
            let row = self.row.and_then(|row| called_apart(&part.rows(), row));
            part.place(row.as_deref(), field)
        })
    }

    /// What a field holds, as it stands.
    fn content(self, name: &'static str) -> Derived<Option<Content>> {
        memo(move || self.part.with(|part| part.as_ref().and_then(|part| part.field(self.row, name))))
    }

    fn fill(self, name: &'static str, content: &Content) {
        self.change(|part| {
            part.fill(self.row, name, content);
        });
    }
}

/// The fields of a form, those of the same kind kept while others come and go.
pub fn fields(at: At) -> AnyView {
    let fields = memo(move || at.part.with(|part| part.as_ref().map(|part| part.fields(at.row)).unwrap_or_default()));
    view! {
        <div class="pair">
            <Each each=move || fields.get() key=Field::clone children=move |field| draw(at, field) />
        </div>
    }
    .into_any()
}

fn draw(at: At, field: Field) -> AnyView {
    match &field.kind {
        Kind::Flag => flag(at, &field),
        Kind::One(options) => one(at, &field, options),
        Kind::Several(options) => several(at, &field, options.clone()),
        Kind::Id(target) | Kind::MaybeId(target) => named(at, &field, *target, false),
        Kind::Ids(target) => named(at, &field, *target, true),
        _ => typed(at, field),
    }
}

/// What is wrong at a place, beside its field.
pub fn message(place: String) -> AnyView {
    let bench = bench();
    let id = ids::message(&place);
    let said = memo(move || bench.said(&place));
    (move || said.get().map(|said| view! { <p class="message" id=id.clone()>{said}</p> })).into_any()
}

/// Text and numbers. What cannot be read stays in the field, with what is wrong beside it, until it is mended.
fn typed(at: At, field: Field) -> AnyView {
    let bench = bench();
    let Field { name, label, kind } = field;
    let place = at.place(name);
    let (id, described, wrong) = (ids::field(&place), ids::message(&place), place.clone());
    let content = at.content(name);
    let lines = kind == Kind::Lines;
    let keyboard = if matches!(kind, Kind::Line | Kind::Currency) { "text" } else { "decimal" };
    let wide = matches!(kind, Kind::Line | Kind::Lines);
    let kind = StoredValue::new(kind);
    let stored = move || {
        let shown = |content: &Content| bench.show.with(|show| kind.with_value(|kind| kind.show(content, show)));
        content.with(|content| content.as_ref().map(shown)).unwrap_or_default()
    };
    let draft = RwSignal::new(None::<String>);
    let waiting = place.clone();
    let unread = memo(move || bench.unread.with(|unread| unread.get(&waiting).map(|(typed, _)| typed.clone())));
    let shown = move || draft.get().or_else(|| unread.get()).unwrap_or_else(stored);
    let take = move |text: String| {
        draft.set(Some(text.clone()));
        let read = bench.show.with_untracked(|show| kind.with_value(|kind| kind.read(&text, show)));
        match read {
            Ok(content) => {
                if unread.with_untracked(Option::is_some) {
                    bench.unread.update(|unread| drop(unread.remove(&place)));
                }
                at.fill(name, &content);
            }
            Err(why) => bench.unread.update(|unread| drop(unread.insert(place.clone(), (text, why)))),
        }
    };
    let problem = wrong.clone();
    let is_wrong = memo(move || bench.said(&problem).is_some());
    let invalid = move || is_wrong.get().then_some("true");
    let described = move || is_wrong.get().then(|| described.clone());
    let unit = move || bench.show.with(|show| kind.with_value(|kind| kind.unit(show)));
    let input = if lines {
        view! {
            <textarea id=id.clone() rows="3" prop:value=shown aria-invalid=invalid aria-describedby=described
                on:input=move |event| take(event_target_value(&event)) on:blur=move |_| draft.set(None)></textarea>
        }
        .into_any()
    } else {
        view! {
            <div class="with-unit">
                <input id=id.clone() type="text" inputmode=keyboard autocomplete="off" prop:value=shown
                    aria-invalid=invalid aria-describedby=described
                    on:input=move |event| take(event_target_value(&event)) on:blur=move |_| draft.set(None) />
                <span class="unit">{live(unit)}</span>
            </div>
        }
        .into_any()
    };
    view! {
        <div class="field" class:wide=wide>
            <label for=id>{t(label)}</label>
            {input}
            {message(wrong)}
        </div>
    }
    .into_any()
}

fn flag(at: At, field: &Field) -> AnyView {
    let name = field.name;
    let content = at.content(name);
    let checked = move || content.with(|content| matches!(content, Some(Content::Flag(true))));
    view! {
        <label class="tick wide">
            <input id=ids::field(&at.place(name)) type="checkbox" prop:checked=checked
                on:change=move |event| at.fill(name, &Content::Flag(event_target_checked(&event))) />
            {t(field.label)}
        </label>
    }
    .into_any()
}

/// Places of what is chosen.
fn chosen(content: Derived<Option<Content>>) -> Derived<Vec<usize>> {
    memo(move || match content.get() {
        Some(Content::Chosen(places)) => places,
        _ => Vec::new(),
    })
}

fn one(at: At, field: &Field, options: &[&'static str]) -> AnyView {
    let name = field.name;
    let chosen = chosen(at.content(name));
    let options: Vec<(String, String)> =
        options.iter().enumerate().map(|(place, name)| (place.to_string(), t(name).to_owned())).collect();
    view! {
        <Choice
            place=at.place(name)
            label=t(field.label)
            options=fixed(options)
            chosen=memo(move || chosen.with(|chosen| chosen.first().map(ToString::to_string).unwrap_or_default()))
            choose=move |word: String| {
                if let Ok(place) = word.parse() {
                    at.fill(name, &Content::Chosen(vec![place]));
                }
            }
        />
    }
    .into_any()
}

/// Any of many: folded away behind what is chosen.
fn several(at: At, field: &Field, options: Vec<Offer>) -> AnyView {
    let (name, label) = (field.name, field.label);
    let chosen = chosen(at.content(name));
    let kind = StoredValue::new(Kind::Several(options.clone()));
    let names: Vec<&'static str> = options.iter().map(|option| t(option.name)).collect();
    let in_short = move || {
        let names: Vec<&str> =
            chosen.with(|chosen| chosen.iter().filter_map(|place| names.get(*place).copied()).collect());
        if names.is_empty() { "—".to_owned() } else { names.join(", ") }
    };
    let summary = view! { <span>{t(label)} ": " <span class="quiet">{live(in_short)}</span></span> }.into_any();
    let button = move |place: usize, option: Offer| {
        let press = move |_| {
            let now = chosen.with_untracked(|chosen| kind.with_value(|kind| kind.toggled(chosen, place)));
            at.fill(name, &Content::Chosen(now));
        };
        let pressed = move || chosen.with(|chosen| chosen.contains(&place)).to_string();
        view! { <button type="button" aria-pressed=pressed on:click=press>{t(option.name)}</button> }
    };
    let inside = move || {
        let indexed: Vec<(usize, Offer)> = options.iter().copied().enumerate().collect();
        let groups = indexed.chunk_by(|(_, a), (_, b)| a.group == b.group);
        groups
            .map(|group| {
                let heading = group.first().map(|(_, option)| option.group).filter(|group| !group.is_empty());
                let buttons = group.iter().map(|(place, option)| button(*place, *option)).collect_view();
                view! {
                    <fieldset>
                        <legend>{t(heading.unwrap_or(label))}</legend>
                        <div class="row">{buttons}</div>
                    </fieldset>
                }
            })
            .collect_view()
            .into_any()
    };
    view! { <div class="wide">{fold("choices", None, Open::here(), summary, inside)}</div> }.into_any()
}
