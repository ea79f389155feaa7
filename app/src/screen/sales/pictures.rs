//! The sales in pictures.

use kerbworth_core::plot::{Plot, sales};
use leptos::prelude::*;

use super::compared;
use crate::live::{Shown, live, memo};
use crate::part::plot::Picture;
use crate::store::desk::desk;
use crate::words::t;

/// What each sale says of this car; price against mileage and against date.
#[component]
pub fn Pictures() -> impl IntoView {
    let desk = desk();
    let plots = memo(move || {
        desk.show.with(|show| {
            desk.worksheet.with(|worksheet| {
                compared(|compared| {
                    let worth = desk.appraisal.with(|appraisal| appraisal.worth.clone());
                    [
                        sales::adjusted(compared, worth.as_ref(), show),
                        sales::against_mileage(worksheet, compared, show),
                        sales::against_date(worksheet, compared, show),
                    ]
                    .into_iter()
                    .flatten()
                    .collect::<Vec<Plot>>()
                })
                .unwrap_or_default()
            })
        })
    });
    view! {
        <Shown when=Signal::derive(move || plots.with(|plots| !plots.is_empty()))>
            <h2>{t("In pictures")}</h2>
            {live(move || plots.get().into_iter().map(|plot| view! { <Picture plot /> }).collect::<Vec<_>>())}
        </Shown>
    }
}
