//! The app's own texts in the person's language.
//!
//! The English text is the key: `t("Cover")`. Every text of the app that a person reads goes through [`t`], so
//! that a language is one table of pairs; core's texts (names of stages, grades, …) go through it where they
//! are shown. What a table lacks is shown in English.

/// The text in the person's language.
pub fn t(english: &'static str) -> &'static str {
    english
}
