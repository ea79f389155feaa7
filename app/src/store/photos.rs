//! Photographs that come with the demonstration, and those that no worksheet shows any more.

use super::Desk;
use super::keep::Key;
use wasm_bindgen::JsCast;
use web_sys::Blob;

use crate::browser::database::{self, Kind};
use crate::browser::file;
use crate::live::wait;

/// Keeps a photograph. Nothing if there is no database, or no room in it.
pub async fn put(id: &str, photo: &Blob) -> Option<()> {
    database::put(Kind::Photos, id, photo).await
}

/// The photograph with an id.
pub async fn get(id: &str) -> Option<Blob> {
    database::get(Kind::Photos, id).await?.dyn_into().ok()
}

/// Keeps drawings that stand for photographs, by their ids.
pub fn keep_drawings(drawings: &'static [(&str, &str)]) {
    wait(async move {
        for (id, drawn) in drawings {
            // Without a database the demonstration says that its photographs are not there.
            if let Some(drawn) = file::blob("image/svg+xml", &(*drawn).into()) {
                let _ = put(id, &drawn).await;
            }
        }
    });
}

/// Takes away the photographs that neither a stored worksheet names nor a step that can be undone.
pub fn sweep(desk: Desk) {
    let keeper = desk.keeper;
    wait(async move {
        let Some(mut unused) = database::ids(Kind::Photos).await else { return };
        unused.retain(|id| !desk.can_bring_back_photo(id));
        for kind in [Key::Worksheet, Key::Steps] {
            // The text is searched as it is, so that one that cannot be read keeps its photographs too.
            for text in keeper.ids(&kind(String::new())).into_iter().filter_map(|id| keeper.text(&kind(id))) {
                unused.retain(|id| !text.contains(id.as_str()));
            }
        }
        // What could not be taken away is tried again the next time.
        let _ = database::remove(Kind::Photos, &unused).await;
    });
}
