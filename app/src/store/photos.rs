//! Photographs that come with the demonstration, and those that no worksheet shows any more.

use leptos::task::spawn_local_scoped;

use super::Desk;
use super::keep::Key;
use crate::browser::{database, file};

/// Keeps drawings that stand for photographs, by their ids.
pub fn keep_drawings(drawings: &'static [(&str, &str)]) {
    spawn_local_scoped(async move {
        for (id, drawn) in drawings {
            // Without a database the demonstration says that its photographs are not there.
            if let Some(drawn) = file::blob("image/svg+xml", &(*drawn).into()) {
                let _ = database::put(id, &drawn).await;
            }
        }
    });
}

/// Takes away the photographs that neither a stored worksheet names nor a step that can be undone.
pub fn sweep(desk: Desk) {
    let keeper = desk.keeper;
    spawn_local_scoped(async move {
        let Some(mut unused) = database::ids().await else { return };
        unused.retain(|id| !desk.can_bring_back_photo(id));
        let kind = Key::Worksheet(String::new());
        // The text is searched as it is, so that one that cannot be read keeps its photographs too.
        for text in keeper.ids(&kind).into_iter().filter_map(|id| keeper.text(&Key::Worksheet(id))) {
            unused.retain(|id| !text.contains(id.as_str()));
        }
        // What could not be taken away is tried again the next time.
        let _ = database::remove(&unused).await;
    });
}
