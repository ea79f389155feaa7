//! Mounts the worksheet.

use leptos::prelude::*;

mod panic;

fn main() {
    panic::tell_the_page();
    mount_to_body(App);
}

#[component]
fn App() -> impl IntoView {
    let count = RwSignal::new(0);
    view! {
        <main>
            <h1>"Kerbworth"</h1>
            <button on:click=move |_| count.update(|count| *count += 1)>"Add one"</button>
            <p role="status">{count}</p>
        </main>
    }
}
