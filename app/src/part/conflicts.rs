//! What two tabs changed differently, field by field.

use leptos::prelude::*;

use crate::live::Each;
use crate::store::desk::desk;
use crate::words::t;

/// Each field that another tab changed as well, with both values, until one is chosen.
#[component]
pub fn Conflicts() -> impl IntoView {
    let desk = desk();
    view! {
        <Each
            each=move || desk.keeper.conflicts.get()
            key=|(_, conflict)| [conflict.place(), conflict.mine(), conflict.theirs()]
            let((of, conflict))
        >
            <div class="notice hold" role="alert">
                <p>{t("This was changed here and in another tab:")} " " <strong>{conflict.place()}</strong></p>
                <dl>
                    <dt>{t("Here")}</dt>
                    <dd>{conflict.mine()}</dd>
                    <dt>{t("In the other tab")}</dt>
                    <dd>{conflict.theirs()}</dd>
                </dl>
                {[true, false]
                    .into_iter()
                    .map(|theirs| {
                        let (of, conflict) = (of.clone(), conflict.clone());
                        let choose = move |_| {
                            if theirs { desk.take_theirs(&of, &conflict) } else { desk.settle(&conflict) }
                        };
                        let said = if theirs { t("Take the other tab’s") } else { t("Keep this one") };
                        view! { <button type="button" on:click=choose>{said}</button> }
                    })
                    .collect_view()}
            </div>
        </Each>
    }
}
