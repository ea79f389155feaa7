//! The sales in pictures.

use kerbworth_core::plot::{Plot, sales};
use kerbworth_core::show::Show;
use kerbworth_core::worksheet::Worksheet;
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
        desk.rests.track();
        desk.show.with(|show| untrack(|| plots(show)))
    });
    view! {
        <Shown when=memo(move || plots.with(|plots| !plots.is_empty()))>
            <h2>{t("In pictures")}</h2>
            {live(move || plots.get().into_iter().map(|plot| view! { <Picture plot /> }).collect::<Vec<_>>())}
        </Shown>
    }
}

/// All pictures of the worksheet as it is now.
fn plots(show: &Show) -> Vec<Plot> {
    let desk = desk();
    let worth = desk.appraisal.with(|appraisal| appraisal.worth.clone());
    let drawn = |worksheet: &Worksheet| {
        compared(|compared| {
            let mileage = sales::against_mileage(worksheet, compared, show);
            let date = sales::against_date(worksheet, compared, show);
            [sales::adjusted(compared, worth.as_deref(), show), mileage, date].into_iter().flatten().collect()
        })
    };
    desk.worksheet.with(drawn).unwrap_or_default()
}
