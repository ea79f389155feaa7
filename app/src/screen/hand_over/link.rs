//! The worksheet as a link, as a QR code, and under a seal.

use kerbworth_core::hand_over::file::file_name;
use kerbworth_core::link;
use kerbworth_core::parcel::Parcel;
use kerbworth_core::qr::{self, Code};
use kerbworth_core::seal::{Figures, PROVES, Seal};
use leptos::prelude::*;

use crate::browser::sealing::{self, OwnKey};
use crate::browser::share::{self, Shared};
use crate::browser::{clipboard, clock, file, page};
use crate::live::{live, wait};
use crate::route::{LINK, Screen};
use crate::store::desk::{Desk, desk};
use crate::words::{say, t};

/// What is done with a link.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Copy,
    Share,
    Code,
    File,
}

/// The worksheet as a link.
#[component]
pub fn Handing() -> impl IntoView {
    let desk = desk();
    let (own, sealed) = (RwSignal::new_local(None::<OwnKey>), RwSignal::new(false));
    let (said, code) = (RwSignal::new(String::new()), RwSignal::new(None::<Code>));
    wait(async move {
        // The screen may have been left before the database answers.
        let _ = own.try_set(sealing::own().await);
    });
    let press = move |way: Way| {
        code.set(None);
        wait(async move {
            let by = own.get_untracked().filter(|_| sealed.get_untracked());
            let done = hand(desk, way, by, code).await;
            let _ = said.try_set(done.unwrap_or_else(|why| why));
        });
    };
    view! {
        <details>
            <summary>{t("Send as a link")}</summary>
            <p class="quiet">
                {t("The link holds the whole worksheet but the photographs. It goes to nobody until you send it, and it opens read only.")}
            </p>
            {live(move || match own.get() {
                Some(own) => view! {
                    <label class="tick">
                        <input type="checkbox" prop:checked=move || sealed.get() on:change=move |event| sealed.set(event_target_checked(&event)) />
                        {t("Under my seal")} " (" {own.key.fingerprint()} ")"
                    </label>
                    <p class="quiet">{t(PROVES)}</p>
                }
                .into_any(),
                None => view! {
                    <p class="quiet">
                        {t("To put your seal on it, make a key first:")} " "
                        <a href=Screen::Settings.fragment()>{t("Settings")}</a>
                    </p>
                }
                .into_any(),
            })}
            <div class="row">
                <button type="button" on:click=move |_| press(Way::Copy)>{t("Copy the link")}</button>
                {share::is_there().then(|| view! { <button type="button" on:click=move |_| press(Way::Share)>{t("Share the link")}</button> })}
                <button type="button" on:click=move |_| press(Way::Code)>{t("Show as a QR code")}</button>
                <button type="button" on:click=move |_| press(Way::File)>{t("Save the same as a file")}</button>
            </div>
            <p class="quiet" role="status">{live(move || said.get())}</p>
            {live(move || code.get().map(drawn))}
        </details>
    }
}

/// Makes the link and does with it what was pressed; says what came of it.
async fn hand(desk: Desk, way: Way, by: Option<OwnKey>, code: RwSignal<Option<Code>>) -> Result<String, String> {
    let parcel = parcel(desk, by).await?;
    if way == Way::File {
        let name = desk.worksheet.with_untracked(|worksheet| file_name(worksheet, t("sent"), "json"));
        let saved = file::save(&name, "application/json", &parcel.to_file());
        return if saved {
            Ok(t("Handed to the browser as a file.").to_owned())
        } else {
            Err(t("The browser would not save a file.").to_owned())
        };
    }
    let link = link::encode(&parcel).map_err(|error| format!("{}: {}.", t("There is no link"), say(&error)))?;
    let before = page::address() + LINK;
    let whole = format!("{before}{link}");
    let long = format!("{} {}", t("Characters:"), desk.show.with_untracked(|show| show.number(whole.len() as f64, 0)));
    match way {
        Way::Copy if clipboard::copy(&whole).await => Ok(format!("{} {long}", t("Copied."))),
        Way::Copy => Err(t("The browser does not let this page copy; save it as a file instead.").to_owned()),
        Way::Share => match share::share(&parcel.worksheet.title(), &whole).await {
            Shared::Done => Ok(format!("{} {long}", t("Handed on."))),
            Shared::Left => Ok(String::new()),
            Shared::Refused => Err(t("The device would not share it; copy the link instead.").to_owned()),
        },
        Way::Code | Way::File => {
            let made =
                qr::code(&before, &link).map_err(|error| format!("{}: {}.", t("There is no QR code"), say(&error)))?;
            let hard = if made.is_easy() { "" } else { t("It is dense: hold the camera close, or send the link.") };
            code.set(Some(made));
            Ok(format!("{long} {hard}"))
        }
    }
}

/// The open worksheet with what it needs elsewhere, sealed by a key if one is given.
async fn parcel(desk: Desk, by: Option<OwnKey>) -> Result<Parcel, String> {
    let sheet = desk.worksheet.with_untracked(|worksheet| desk.sheets.as_written(&worksheet.type_sheet));
    let mut parcel = desk.worksheet.with_untracked(|worksheet| Parcel::new(worksheet, sheet.as_ref()));
    if let Some(own) = by {
        let figures =
            desk.appraisal.with_untracked(|appraisal| Figures::of(appraisal, parcel.worksheet.settings.currency));
        let mut seal = Seal::unsigned(clock::now(), own.key, figures);
        let signed = sealing::sign(&own, &seal.message(&parcel)).await;
        seal.signature = signed.ok_or_else(|| t("The browser would not sign; send it without the seal.").to_owned())?;
        parcel.seal = Some(seal);
    }
    Ok(parcel)
}

fn drawn(code: Code) -> AnyView {
    view! {
        <figure>
            <svg class="code" viewBox=format!("0 0 {0} {0}", code.size) role="img" aria-label=t("QR code of the link")>
                <rect width="100%" height="100%" />
                <path d=code.path />
            </svg>
        </figure>
    }
    .into_any()
}
