//! A worksheet that came as a link or a sealed file: read only, with what its seal says.

use std::sync::Arc;

use kerbworth_core::appraise::appraise;
use kerbworth_core::bundle::Arrival;
use kerbworth_core::hand_over::{Case, report::report};
use kerbworth_core::link;
use kerbworth_core::parcel::{Edition, Opened, Parcel};
use kerbworth_core::seal::{Figures, KnownKey, PROVES, Verdict, verdict};
use kerbworth_core::sheet::extend::extend;
use leptos::prelude::*;

use crate::browser::{page, sealing};
use crate::live::{live, memo, wait};
use crate::part::field::Field;
use crate::route::Screen;
use crate::screen::hand_over::Preview;
use crate::store::desk::desk;
use crate::words::{say, t};

/// The screen.
#[component]
pub fn ReceivedScreen(
    /// The link's own letters.
    link: String,
) -> impl IntoView {
    match link::decode(&link) {
        Ok(opened) => view! { <Received opened /> }.into_any(),
        Err(why) => view! {
            <h1>{t("This link cannot be opened")}</h1>
            <p class="message" role="alert">{say(&why)}</p>
            <p><a class="button" href=Screen::Shelf.fragment()>{t("Shelf")}</a></p>
        }
        .into_any(),
    }
}

#[component]
fn Received(opened: Opened) -> impl IntoView {
    let desk = desk();
    let Opened { mut parcel, unread } = opened;
    let sheet = match parcel.own_sheet() {
        Some(own) if own.extends.is_none() => Arc::new(own),
        Some(own) => Arc::new(extend(&desk.sheets.general(), &own)),
        None => desk.sheets.general(),
    };
    let appraisal = appraise(&parcel.worksheet, &sheet);
    let figures = Figures::of(&appraisal, parcel.worksheet.settings.currency);
    let lost: Vec<String> = unread.iter().map(ToString::to_string).collect();
    let sealed_figures = parcel.seal.as_ref().map(|seal| seal.figures.clone());
    let found = RwSignal::new(None::<Verdict>);
    judge(&parcel, figures, found);
    let edition = edition(&parcel);
    // The seal is judged over what was sealed; what this build could not read is kept with the copy.
    let sent = StoredValue::new(parcel.clone());
    parcel.worksheet.unread.extend(unread);
    let worksheet = Arc::new(parcel.worksheet);
    let currency = worksheet.settings.currency;
    let show = memo(move || desk.preferences.with(|wanted| wanted.show.in_currency(currency)));
    let document = {
        let (worksheet, sheet) = (worksheet.clone(), sheet.clone());
        memo(move || {
            show.with(|show| report(Case { worksheet: &worksheet, sheet: &sheet, appraisal: &appraisal, show }))
        })
    };
    let copy = move |_| {
        let mut worksheet = (*worksheet).clone();
        sent.with_value(|parcel| {
            if let Some(id) = take_sheet(parcel) {
                worksheet.type_sheet = id;
            }
        });
        if desk.start(worksheet) {
            page::go_to(&Screen::Car.fragment());
        }
    };
    view! {
        <div class="no-print">
            <h1>{t("Read only")}</h1>
            <p class="notice">
                {t("This worksheet came from someone else and is shown as it came. Nothing of it is on your shelf, and nothing that you do here changes it.")}
            </p>
            <section aria-labelledby="seal">
                <h2 id="seal">{t("Seal")}</h2>
                {live(move || view! { <Judged found=found.get() sealed=sealed_figures.clone() sent show /> })}
            </section>
            {edition.map(|said| view! { <p class="message">{t(said)}</p> })}
            {(!lost.is_empty()).then(|| {
                let lost = lost.into_iter().map(|said| view! { <li>{said}</li> }).collect_view();
                view! { <p class="message">{t("Not all of it can be read here:")}</p> <ul>{lost}</ul> }
            })}
            <div class="row">
                <button type="button" class="chief" on:click=copy>{t("Copy to my shelf")}</button>
                <button type="button" on:click=move |_| page::print()>{t("Print")}</button>
            </div>
        </div>
        <Preview document show />
    }
}

/// Asks the browser whether the seal's signature holds.
fn judge(parcel: &Parcel, figures: Figures, found: RwSignal<Option<Verdict>>) {
    let parcel = parcel.clone();
    let known = desk().preferences.with_untracked(|wanted| wanted.known_keys.clone());
    wait(async move {
        let holds = match &parcel.seal {
            Some(seal) => sealing::holds(&seal.key, &seal.signature, &seal.message(&parcel)).await,
            None => None,
        };
        // The screen may have been left before the browser answers.
        let _ = found.try_set(Some(verdict(&parcel, holds, &figures, &known)));
    });
}

/// What the seal says, and what a seal proves.
#[component]
fn Judged(
    found: Option<Verdict>,
    sealed: Option<Figures>,
    sent: StoredValue<Parcel>,
    show: crate::live::Derived<kerbworth_core::show::Show>,
) -> impl IntoView {
    let Some(found) = found else { return view! { <p role="status">{t("Being checked …")}</p> }.into_any() };
    let altered = found == Verdict::Altered;
    let (stranger, other) = match &found {
        Verdict::Unaltered { known, same_figures, .. } => (known.is_none(), !same_figures),
        _ => (false, false),
    };
    let said = say(&found);
    view! {
        {if altered {
            view! { <p class="notice hold" role="alert"><strong>{said}</strong></p> }.into_any()
        } else {
            view! { <p role="status">{said}</p> }.into_any()
        }}
        {(found != Verdict::NotSealed).then(|| view! { <p class="quiet">{t(PROVES)}</p> })}
        {sealed.filter(|_| other).map(|figures| sealed_lines(&figures, show))}
        {stranger.then(|| view! { <Remember sent /> })}
    }
    .into_any()
}

/// The figures as they were sealed.
fn sealed_lines(figures: &Figures, show: crate::live::Derived<kerbworth_core::show::Show>) -> AnyView {
    let lines = show.with(|show| figures.lines(show));
    let lines = lines.into_iter().map(|(name, said)| view! { <div><dt>{t(name)}</dt><dd>{said}</dd></div> });
    view! {
        <h3>{t("As sealed")}</h3>
        <dl class="figures">{lines.collect_view()}</dl>
    }
    .into_any()
}

/// Keeps a stranger's key under a name.
#[component]
fn Remember(sent: StoredValue<Parcel>) -> impl IntoView {
    let desk = desk();
    let (name, kept) = (RwSignal::new(String::new()), RwSignal::new(false));
    let keep = move |_| {
        let Some(key) = sent.with_value(|parcel| parcel.seal.as_ref().map(|seal| seal.key)) else { return };
        let name = name.get_untracked().trim().to_owned();
        if !name.is_empty() {
            desk.prefer(|wanted| {
                wanted.known_keys.retain(|known| known.key != key);
                wanted.known_keys.push(KnownKey { key, name });
            });
            kept.set(true);
        }
    };
    view! {
        <div class="row">
            <Field place="seal.known-as" label=t("Keep this key, once you have compared the fingerprint, as that of") stored=name
                typed=move |text: String| name.set(text) />
            <button type="button" on:click=keep>{t("Keep the key")}</button>
        </div>
        <p class="quiet" role="status">{live(move || if kept.get() { t("Kept; it is named the next time. Settings lists the keys that you keep.") } else { "" })}</p>
    }
}

fn edition(parcel: &Parcel) -> Option<&'static str> {
    match parcel.edition() {
        Edition::Same => None,
        Edition::OtherGeneral => Some(
            "It was made with another edition of the general type sheet than this program has: what was recorded stands, \
             and figures may differ a little from those its maker saw.",
        ),
        Edition::OtherShipped => Some(
            "It was made with another edition of its type sheet than this program has: what was recorded stands, and \
             figures may differ from those its maker saw.",
        ),
    }
}

/// Takes the type sheet that came with it, beside one of your own that differs; gives the id under which it is kept, if
/// there is one to keep.
fn take_sheet(parcel: &Parcel) -> Option<String> {
    let sheets = desk().sheets;
    let mut sheet = parcel.carried_sheet()?;
    let arrival = sheets.own.with_untracked(|own| Arrival::of(&sheet, own.get(&sheet.id)));
    if arrival == Arrival::Differs {
        sheet.id = sheets.free_id(&sheet.name);
    }
    let id = sheet.id.clone();
    if arrival != Arrival::Same {
        sheets.put(sheet);
    }
    Some(id)
}
