//! The ratio study: the method tried on the worksheet's own sales. Made only while it is open.

use kerbworth_core::appraise::comparison::{STUDIED_AT_MOST, ratio_study};
use kerbworth_core::market::diagnostics::study_warnings;
use kerbworth_core::market::measures::{Measure, measures};
use kerbworth_core::market::ratio_study::{LEAST_SALES, RatioStudy};
use kerbworth_core::phrase;
use leptos::prelude::*;

use super::compared;
use crate::live::{live, memo};
use crate::part::unfold::Unfold;
use crate::store::desk::desk;
use crate::words::{say, t};

/// The study, unopened.
#[component]
pub fn Study() -> impl IntoView {
    view! {
        <h2>{t("Tried on these sales")}</h2>
        <Unfold summary=ViewFn::from(|| t("Each sale valued from the others"))>
            <p class="quiet">
                {t("Each sale is taken out in turn and valued from the rest by the same method; the ratio of that value to its price says how the method does on these sales. The bounds are those that assessors of houses publish; there are none for cars.")}
            </p>
            <Made />
        </Unfold>
    }
}

#[component]
fn Made() -> impl IntoView {
    let desk = desk();
    let studied = move || {
        desk.worksheet.with(|worksheet| {
            compared(|compared| compared.can_be_studied().then(|| ratio_study(worksheet, compared))).flatten().flatten()
        })
    };
    // At each rest between changes: it fits as many times as there are sales.
    let study = memo(move || {
        desk.rests.track();
        untrack(studied)
    });
    let count = memo(move || compared(|compared| compared.rows.len()).unwrap_or_default());
    live(move || {
        match study.get() {
        Some(study) => table(&study),
        None if count.get() > STUDIED_AT_MOST => {
            view! { <p>{say(&phrase!("Not made for so many sales: it would hold up the page. The study takes {0} at most.", STUDIED_AT_MOST))}</p> }
                .into_any()
        }
        None => view! { <p>{say(&phrase!("It needs {0} sales at least.", LEAST_SALES))}</p> }.into_any(),
    }
    })
}

fn table(study: &RatioStudy) -> AnyView {
    let show = desk().show.get();
    let row = |measure: Measure| {
        let value = measure.value.map_or_else(|| "–".to_owned(), |value| show.number(value, measure.places));
        let (low, high) = measure.band;
        let band = format!("{} – {}", show.number(low, measure.places), show.number(high, measure.places));
        let within = match measure.is_within() {
            Some(true) => t("within"),
            Some(false) => t("outside"),
            None => t("too few sales"),
        };
        view! {
            <tr>
                <th scope="row">{t(measure.name)}<br /><small>{t(measure.says)}</small></th>
                <td class="amount">{value}</td>
                <td class="amount">{band}</td>
                <td>{within}</td>
            </tr>
        }
    };
    let rows: Vec<_> = measures(study).into_iter().map(row).collect();
    let warnings: Vec<_> = study_warnings(study).iter().map(|w| view! { <li>{say(w)}</li> }).collect();
    let count = study.ratios.len();
    view! {
        {study.is_indicative().then(|| view! { <p>{say(&phrase!("Indicative only: there are {0} sales in the study.", count))}</p> })}
        <div class="scroll" tabindex="0" role="region" aria-label=t("Measures of the study")>
            <table>
                <thead>
                    <tr>
                        <th scope="col">{t("Measure")}</th>
                        <th scope="col" class="amount">{t("Here")}</th>
                        <th scope="col" class="amount">{t("Bounds")}</th>
                        <th scope="col"><span class="unseen">{t("Verdict")}</span></th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
        {(!warnings.is_empty()).then(|| view! { <ul>{warnings}</ul> })}
    }
    .into_any()
}
