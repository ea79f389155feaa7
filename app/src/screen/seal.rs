//! The person's own key for seals, and the keys of others that they know.

use kerbworth_core::seal::key_file::KeyFile;
use kerbworth_core::seal::{KnownKey, PROVES};
use leptos::html;
use leptos::prelude::*;

use crate::browser::file::{self, Chosen};
use crate::browser::sealing::{self, OwnKey};
use crate::live::{Each, Shown, live, memo, wait};
use crate::part::field::Field;
use crate::store::desk::desk;
use crate::words::t;

/// Letters of a passphrase, at least: what it takes for guessing to be no way in.
const LEAST_PASSPHRASE: usize = 12;

/// More is no key file.
const MOST_BYTES: f64 = 20_000.0;

/// The key stays in the one thread that there is.
type Own = RwSignal<Option<OwnKey>, LocalStorage>;

/// The part of the settings.
#[component]
pub fn SealPart() -> impl IntoView {
    let own: Own = RwSignal::new_local(None);
    let said = RwSignal::new("");
    wait(async move {
        // The screen may have been left before the database answers.
        let _ = own.try_set(sealing::own().await);
    });
    view! {
        <h2>{t("Seal")}</h2>
        <p class="quiet">{t(PROVES)}</p>
        {live(move || match own.get() {
            Some(key) => view! { <p>{t("Your key's fingerprint:")} " " <strong>{key.key.fingerprint()}</strong></p> }.into_any(),
            None => view! {
                <p>{t("You have no key yet. It is made and kept in this browser.")}</p>
                <Make own said />
            }
            .into_any(),
        })}
        <KeyFiles own said />
        <p class="quiet" role="status">{live(move || t(said.get()))}</p>
        <KnownKeys />
    }
}

#[component]
fn Make(own: Own, said: RwSignal<&'static str>) -> impl IntoView {
    let make = move |_| {
        wait(async move {
            match sealing::make().await {
                Some(key) => {
                    own.set(Some(key));
                    said.set("Made. Save it as a file: without one it is gone when the browser's store is cleared.");
                }
                None => said.set(
                    "This browser makes no such key, or keeps none for this page. Use an up-to-date one, over https.",
                ),
            }
        });
    };
    view! { <button type="button" on:click=make>{t("Make a key")}</button> }
}

/// The key out as a file and in again, by a passphrase.
#[component]
fn KeyFiles(own: Own, said: RwSignal<&'static str>) -> impl IntoView {
    let desk = desk();
    let passphrase = RwSignal::new(String::new());
    let short = move || passphrase.with(|typed| typed.chars().count() < LEAST_PASSPHRASE);
    let wrong = memo(move || {
        let begun = passphrase.with(|typed| !typed.is_empty());
        (begun && short()).then(|| t("Use twelve letters or more, such as four words.").to_owned())
    });
    let save = move |_| {
        let Some(key) = own.get_untracked().filter(|_| !untrack(short)) else { return };
        let (name, passphrase) = (desk.preferences.get_untracked().seal_name, passphrase.get_untracked());
        said.set("A moment: the passphrase is made hard to guess …");
        wait(async move {
            let closed = sealing::close(&key, name, &passphrase).await;
            let saved =
                closed.is_some_and(|it| file::save("kerbworth-seal-key.json", "application/json", &it.to_file()));
            said.set(if saved { "Handed to the browser as a file." } else { "The browser would not save the key." });
        });
    };
    let field = NodeRef::<html::Input>::new();
    let open = move |_| {
        let Some(chosen) = field.get_untracked().and_then(|field| Chosen::of(&field)) else { return };
        let passphrase = passphrase.get_untracked();
        said.set("A moment: the passphrase is tried …");
        wait(async move {
            match open_key(&chosen, &passphrase).await {
                Ok((key, name)) => {
                    desk.prefer(|wanted| wanted.seal_name = name);
                    own.set(Some(key));
                    said.set("The key is kept in this browser.");
                }
                Err(why) => said.set(why),
            }
        });
    };
    view! {
        <Field place="seal.name" label=t("Your name beside the key") stored=memo(move || desk.preferences.with(|it| it.seal_name.clone()))
            typed=move |name: String| desk.prefer(|wanted| wanted.seal_name = name) />
        <Field place="seal.passphrase" label=t("Passphrase of the key's file") kind="password" stored=passphrase wrong
            typed=move |text: String| passphrase.set(text) />
        <div class="row">
            <Shown when=memo(move || own.with(Option::is_some))>
                <button type="button" disabled=short on:click=save>{t("Save the key as a file")}</button>
            </Shown>
            <label class="button">
                {t("Open a key's file")}
                <input class="unseen" type="file" accept="application/json,.json" node_ref=field on:change=open />
            </label>
        </div>
    }
}

async fn open_key(chosen: &Chosen, passphrase: &str) -> Result<(OwnKey, String), &'static str> {
    const NONE: &str = "This is not a key file, or it is damaged. Choose the one that was saved here.";
    if chosen.bytes() > MOST_BYTES {
        return Err(NONE);
    }
    let text = chosen.text().await.ok_or(NONE)?;
    let (file, parts) = KeyFile::of_file(&text).map_err(|_| NONE)?;
    let opened = sealing::open(&file, &parts, passphrase).await;
    let key = opened.ok_or("The passphrase does not open it. Type it as it was when the file was saved.")?;
    Ok((key, file.name))
}

/// The keys of others.
#[component]
fn KnownKeys() -> impl IntoView {
    let desk = desk();
    let known = memo(move || desk.preferences.with(|wanted| wanted.known_keys.clone()));
    view! {
        <Shown when=memo(move || known.with(|known| !known.is_empty()))>
            <h3>{t("Keys that you know")}</h3>
            <ul class="plain ruled">
                <Each each=move || known.get() key=|known| known.key.0 let:it>
                    <Known it />
                </Each>
            </ul>
        </Shown>
    }
}

#[component]
fn Known(it: KnownKey) -> impl IntoView {
    let desk = desk();
    let KnownKey { key, name } = it;
    let label = format!("{}: {name}", t("Forget"));
    view! {
        <li class="card">
            <span>{name} <br /> <span class="quiet">{key.fingerprint()}</span></span>
            <button type="button" class="bare" aria-label=label
                on:click=move |_| desk.prefer(|wanted| wanted.known_keys.retain(|known| known.key != key))>{t("Forget")}</button>
        </li>
    }
}
