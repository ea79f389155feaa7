//! The least that a page made with Leptos can be.

use leptos::prelude::*;

fn main() {
    leptos::mount::mount_to_body(|| view! { <main><h1>"Empty"</h1></main> });
}
