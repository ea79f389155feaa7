//! The app's own texts in the person's language.
//!
//! The English text is the key: `t("Cover")`, `say(&phrase!("{0} of {1}", …))`. Every text of the app that a person
//! reads goes through one of them; core's texts (names of stages, grades, …) go through them where they are shown. A
//! language is one table in `public/words`, fetched from this page's own origin when it is chosen. What a table lacks
//! is shown in English.

use std::sync::OnceLock;

use kerbworth_core::phrase::{Say, Words};
use kerbworth_core::show::Show;
use leptos::prelude::*;

use crate::browser::{locale, page};
use crate::store::Desk;

/// English, which needs no table.
pub const ENGLISH: &str = "en";

static WORDS: OnceLock<Words> = OnceLock::new();

/// The languages there are beside English, by code and own name.
pub fn languages() -> impl Iterator<Item = (&'static str, &'static str)> {
    env!("KERBWORTH_LANGUAGES").split(';').filter_map(|language| language.split_once('='))
}

/// The code of the language to use: as chosen, else the browser's if there is a table of it, else English.
pub fn language(chosen: &str) -> String {
    let known = |code: &str| code == ENGLISH || languages().any(|(known, _)| known == code);
    if known(chosen) {
        return chosen.to_owned();
    }
    let browsers = locale::language();
    let code = browsers.split('-').next().filter(|code| known(code));
    code.unwrap_or(ENGLISH).to_owned()
}

/// Fetches the table of a language, for as long as the page lives. `false` if there is none to be had; it is English then.
pub async fn learn(code: &str) -> bool {
    let text = match page::text(&format!("words-{code}")) {
        // A page in one file brings its tables along.
        Some(text) => Some(text),
        None => page::fetch(&format!("words/{code}.json")).await,
    };
    let words = text.and_then(|text| Words::read(&text));
    words.is_some_and(|words| WORDS.set(words).is_ok())
}

/// Whether the page speaks another language than English.
pub fn learnt() -> bool {
    WORDS.get().is_some()
}

/// The table of the language.
pub fn words() -> Words {
    WORDS.get().cloned().unwrap_or_default()
}

/// The text in the person's language.
pub fn t(english: &'static str) -> &'static str {
    WORDS.get().and_then(|words| words.get(english)).unwrap_or(english)
}

/// A text that may be one of the app's own, such as the title of a worksheet without a car.
pub fn own(text: &str) -> String {
    words().get(text).unwrap_or(text).to_owned()
}

/// What has a text of its own, such as an error, in the person's language, with figures as they want them shown.
pub fn say(it: &impl Say) -> String {
    match use_context::<Desk>() {
        Some(desk) => desk.show.with(|show| show.say(it)),
        None => Show { words: words(), ..Show::default() }.say(it),
    }
}
