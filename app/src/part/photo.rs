//! A kept photograph shown.

use leptos::prelude::*;
use web_sys::{Blob, Url};

use crate::live::{Derived, live, wait};
use crate::store::photos;
use crate::words::t;

/// The photograph with an id, or a word if it is not on this device.
#[component]
pub fn Photograph(
    /// Which.
    id: String,
    /// What is on it.
    #[prop(into)]
    caption: Derived<String>,
) -> impl IntoView {
    let shown = RwSignal::new(None::<Option<String>>);
    wait(async move {
        let photo = photos::get(&id).await;
        let address = photo.as_ref().and_then(address);
        // The part may be gone by now; then nothing is to be shown, and the address is given up.
        if let Some(Some(Some(unused))) = shown.try_set(Some(address)) {
            give_up(&unused);
        }
    });
    on_cleanup(move || {
        if let Some(Some(address)) = shown.get_untracked() {
            give_up(&address);
        }
    });
    live(move || match shown.get() {
        None => ().into_any(),
        Some(None) => view! { <p class="quiet">{t("This photograph is not on this device.")}</p> }.into_any(),
        Some(Some(address)) => {
            let said = move || {
                caption.with(|caption| match caption.trim() {
                    "" => t("Photograph without a caption").to_owned(),
                    caption => caption.to_owned(),
                })
            };
            view! { <img class="photo" src=address alt=said /> }.into_any()
        }
    })
}

fn address(photo: &Blob) -> Option<String> {
    Url::create_object_url_with_blob(photo).ok()
}

fn give_up(address: &str) {
    // An address that is not there any more is no error.
    let _ = Url::revoke_object_url(address);
}
