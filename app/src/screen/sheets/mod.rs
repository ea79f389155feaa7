//! Type sheets: the list of them, and the bench at which one is written.
//!
//! The editor knows no check from a fault: core hands it each part as a form (`kerbworth_core::sheet::form`), and
//! the fields here draw whatever the form says.

mod bench;
mod editor;
mod entry;
mod field;
mod fold;
mod left_out;
mod list;
mod rows;
mod search;
mod section;
mod trial;

use leptos::prelude::*;

use editor::editor;
use list::SheetList;

/// The screen.
#[component]
pub fn SheetsScreen(
    /// The sheet that is opened, if one is.
    open: Option<String>,
) -> AnyView {
    match open {
        None => view! { <SheetList /> }.into_any(),
        Some(id) => editor(&id),
    }
}
