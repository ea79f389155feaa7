//! What to be wary of, and how far the range can be trusted.

use kerbworth_core::market::rates::Spread;
use kerbworth_core::market::tried;
use kerbworth_core::worksheet::Edit;
use leptos::prelude::*;

use super::{called, compared};
use crate::live::{Shown, live, memo};
use crate::part::choice::Buttons;
use crate::store::desk::desk;
use crate::words::{say, t};

/// Warnings, what is known of the method, and the spread assumed.
#[component]
pub fn Care() -> impl IntoView {
    let warnings =
        memo(move || compared(kerbworth_core::appraise::comparison::Comparison::warnings_by_place).unwrap_or_default());
    let line = |warning: kerbworth_core::market::diagnostics::Warning| {
        let name = warning.sale().map(|place| view! { <span class="quiet">" (" {called(place)} ")"</span> });
        view! { <li>{say(&warning)} {name}</li> }
    };
    view! {
        <Shown when=memo(move || warnings.with(|warnings| !warnings.is_empty()))>
            <h2>{t("What to be wary of")}</h2>
            <ul>{live(move || warnings.get().into_iter().map(line).collect::<Vec<_>>())}</ul>
        </Shown>
        <h2>{t("How far to trust the range")}</h2>
        {tried::sentences().map(|sentence| view! { <p>{say(&sentence)}</p> }).into_iter().collect::<Vec<_>>()}
        <Assumed />
    }
}

/// How much like cars are assumed to differ.
#[component]
fn Assumed() -> impl IntoView {
    let desk = desk();
    let spread = memo(move || desk.worksheet.with(|worksheet| worksheet.settings.spread));
    let options = Spread::ALL.map(|spread| (format!("{spread:?}"), t(spread.name()).to_owned())).to_vec();
    view! {
        <Buttons
            label=t("Spread assumed between like cars")
            options
            chosen=memo(move || format!("{:?}", spread.get()))
            choose=move |word: String| {
                if let Some(spread) = Spread::ALL.into_iter().find(|spread| format!("{spread:?}") == word) {
                    let mut settings = desk.worksheet.with_untracked(|worksheet| worksheet.settings.clone());
                    settings.spread = spread;
                    desk.edit(Edit::Settings(Box::new(settings)));
                }
            }
        />
        <p class="quiet">{live(move || t(spread.get().basis()))}</p>
    }
}
