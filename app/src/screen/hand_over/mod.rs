//! Report, listing, bargaining sheet, files.

mod actions;
mod link;
mod preview;

use kerbworth_core::hand_over::{self, Case, Document, Kind, Length};
use leptos::prelude::*;

use crate::live::{Derived, Shown, live, memo};
use crate::part::choice::Buttons;
use crate::store::desk::{Desk, desk};
use crate::words::t;

use actions::{Actions, Files};
use link::Handing;
pub use preview::Preview;

/// Does something with all that a document is made from, as it is now.
fn with_case<T>(desk: Desk, make: impl FnOnce(Case<'_>) -> T) -> T {
    let (sheet, appraisal, show) = (desk.sheet.get(), desk.appraisal.get(), desk.show.get());
    desk.worksheet.with(|worksheet| make(Case { worksheet, sheet: &sheet, appraisal: &appraisal, show: &show }))
}

/// The screen.
#[component]
pub fn HandOverScreen() -> impl IntoView {
    let desk = desk();
    let purpose = memo(move || desk.worksheet.with(|worksheet| worksheet.visit.purpose));
    let pressed = RwSignal::new(None::<Kind>);
    let length = RwSignal::new(Length::Full);
    // Until one is pressed, the document that the purpose asks for.
    let kind = memo(move || {
        let [first, ..] = Kind::in_order(purpose.get());
        pressed.get().unwrap_or(first)
    });
    let document = memo(move || with_case(desk, |case| hand_over::document(case, kind.get(), length.get())));
    view! {
        <div class="no-print">
            <h1>{t("Hand over")}</h1>
            {live(move || view! { <Documents kinds=Kind::in_order(purpose.get()) kind pressed /> })}
            <Shown when=memo(move || kind.get() == Kind::Listing)>
                <Lengths length />
            </Shown>
            {live(move || {
                // What was said of one document is not said of another.
                length.track();
                view! { <Actions document kind=kind.get() /> }
            })}
            <Handing />
            <Files />
        </div>
        <Preview document show=desk.show />
    }
}

/// The choice of a document.
#[component]
fn Documents(
    /// The documents, the first one first.
    kinds: [Kind; 3],
    /// The one that is shown.
    kind: Derived<Kind>,
    /// The one that was pressed.
    pressed: RwSignal<Option<Kind>>,
) -> impl IntoView {
    let options = kinds.map(|kind| (kind.file_word().to_owned(), t(kind.name()).to_owned())).to_vec();
    view! {
        <Buttons
            label=t("Document")
            options
            chosen=memo(move || kind.get().file_word().to_owned())
            choose=move |word: String| pressed.set(Kind::ALL.into_iter().find(|kind| kind.file_word() == word))
        />
    }
}

/// The choice of the listing's length.
#[component]
fn Lengths(
    /// The one that is chosen.
    length: RwSignal<Length>,
) -> impl IntoView {
    let options = Length::ALL.map(|length| (length.name().to_owned(), t(length.name()).to_owned())).to_vec();
    view! {
        <Buttons
            label=t("Length")
            options
            chosen=memo(move || length.get().name().to_owned())
            choose=move |name: String| {
                if let Some(chosen) = Length::ALL.into_iter().find(|length| length.name() == name) {
                    length.set(chosen);
                }
            }
        />
    }
}

/// A document's text, as it is copied, shared and saved.
fn text_of(desk: Desk, document: &Document) -> String {
    desk.show.with_untracked(|show| hand_over::text::text(document, show))
}
