//! Photographs of what was found at a check.

use kerbworth_core::worksheet::Photo;
use leptos::prelude::*;

use super::finding;
use crate::browser::file::Chosen;
use crate::browser::{picture, random};
use crate::live::{Derived, Each, live, memo, wait};
use crate::part::field::Field;
use crate::part::photo::Photograph;
use crate::store::desk::desk;
use crate::store::photos;
use crate::words::t;

/// More than this of one file is not a photograph that a phone or camera makes.
const MOST_BYTES: f64 = 60e6;

/// The photographs of a check, and a way to add one.
#[component]
pub fn Photos(
    /// The check.
    id: String,
) -> impl IntoView {
    let photos = finding::part(&id, |finding| finding.photos.clone());
    let (of, more) = (StoredValue::new(id.clone()), id);
    view! {
        <ul class="plain photos">
            <Each each=move || photos.get() key=|photo| photo.id.clone() let:photo>
                <OnePhoto check=of.get_value() id=photo.id photos />
            </Each>
        </ul>
        <Add check=more />
    }
}

/// A photograph with its caption.
#[component]
fn OnePhoto(check: String, id: String, photos: Derived<Vec<Photo>>) -> impl IntoView {
    let (check, id) = (StoredValue::new(check), StoredValue::new(id));
    let change = move |change: &dyn Fn(&mut Vec<Photo>)| {
        check.with_value(|check| finding::change(check, |finding| change(&mut finding.photos)));
    };
    let caption = memo(move || {
        let own = |photo: &&Photo| id.with_value(|id| photo.id == *id);
        photos.with(|photos| photos.iter().find(own).map(|photo| photo.caption.clone()).unwrap_or_default())
    });
    let typed = move |text: String| {
        change(&|photos| {
            if let Some(photo) = photos.iter_mut().find(|photo| id.with_value(|id| photo.id == *id)) {
                photo.caption.clone_from(&text);
            }
        });
    };
    // The picture stays in the database, so that this can be undone; it goes with its worksheet.
    let take_out = move |_| change(&|photos| photos.retain(|photo| id.with_value(|id| photo.id != *id)));
    view! {
        <li>
            <Photograph id=id.get_value() caption />
            <Field place=format!("photo.{}", id.get_value()) label=t("Caption") stored=caption typed />
            <button type="button" class="bare" aria-label=move || said(&caption.get())
                on:click=take_out>{t("Take out")}</button>
        </li>
    }
}

/// What the button says, with the caption if there is one.
fn said(caption: &str) -> String {
    match (t("Take out the photograph"), caption.trim()) {
        (said, "") => said.to_owned(),
        (said, caption) => format!("{said}: {caption}"),
    }
}

/// Takes a photograph with the camera or from a file.
#[component]
fn Add(check: String) -> impl IntoView {
    let said = RwSignal::new("");
    let field = NodeRef::<leptos::html::Input>::new();
    let add = move |_| {
        let Some(chosen) = field.get_untracked().and_then(|field| Chosen::of(&field)) else { return };
        let (check, desk) = (check.clone(), desk());
        let car = desk.open_id();
        said.set("");
        wait(async move {
            match keep(&chosen).await {
                // Another car may be open by now; the picture goes with the next sweep then.
                Ok(id) if desk.open_id() == car => {
                    let photo = Photo { id, caption: String::new() };
                    finding::change_in(desk, &check, |finding| finding.photos.push(photo));
                }
                Ok(_) => {}
                Err(why) => drop(said.try_set(why)),
            }
        });
    };
    view! {
        <label class="button">
            {t("Add a photograph")}
            <input class="unseen" type="file" accept="image/*" node_ref=field on:change=add />
        </label>
        {live(move || (!said.with(|said| said.is_empty())).then(|| view! { <p class="message" role="alert">{t(said.get())}</p> }))}
    }
}

/// Makes a photograph fit and keeps it; gives its id.
async fn keep(chosen: &Chosen) -> Result<String, &'static str> {
    if chosen.bytes() > MOST_BYTES {
        return Err("This file is too large to be a photograph.");
    }
    let photo = picture::scaled(chosen.blob()).await;
    let photo = photo.ok_or("The browser cannot open this as a picture. Choose a JPEG or PNG file.")?;
    let id = random::fresh_id();
    photos::put(&id, &photo).await.ok_or(
        "The browser has no room for this photograph, or stores none here. Free some space, or open Kerbworth in an \
         ordinary window.",
    )?;
    Ok(id)
}
