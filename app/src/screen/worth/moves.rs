//! What moves the worth: each assumption down and up, drawn as bars on one ruled scale.

use kerbworth_core::appraise::drivers::{Driver, Drivers, Scale, drivers};
use kerbworth_core::figure::Amount;
use kerbworth_core::phrase;
use kerbworth_core::units::Money;
use leptos::prelude::*;

use super::read::{between, money, of_appraisal};
use super::unfold::Unfold;
use crate::live::{Shown, live, memo};
use crate::store::desk::desk;
use crate::words::{say, t};

/// The section; nothing without a worth.
#[component]
pub fn Moves() -> impl IntoView {
    let there = of_appraisal(|appraisal| appraisal.worth.is_some());
    view! {
        <Shown when=memo(move || there.get())>
            <h2>{t("What moves the worth")}</h2>
            <Unfold label=t("Each assumption down and up")>
                <Found />
            </Unfold>
        </Shown>
    }
}

/// Reckoned while it is open, at each rest between changes: it takes a few dozen fits.
#[component]
fn Found() -> impl IntoView {
    let desk = desk();
    let reckoned = move || {
        let (appraisal, sheet) = (desk.appraisal.get(), desk.sheet.get());
        desk.worksheet.with(|worksheet| drivers(worksheet, &sheet, &appraisal))
    };
    let found = memo(move || {
        desk.rests.track();
        untrack(reckoned)
    });
    live(move || found.with(|found| found.as_ref().map(drawn)))
}

fn drawn(found: &Drivers) -> AnyView {
    let Drivers { middle, moved, still, least, scale } = found;
    let rows = moved.iter().map(|driver| bar(driver, scale, *middle)).collect_view();
    let ends = moved.clone();
    let still = (!still.is_empty()).then(|| {
        let names = still.iter().map(say).collect::<Vec<_>>().join("; ");
        view! {
            <p class="quiet">
                {say(&phrase!("Moves the middle by less than {0}: {1}.", Amount::Money(*least), names))}
            </p>
        }
    });
    view! {
        <p class="quiet">
            {say(&phrase!(
                "Where the middle of the worth would lie with one thing changed and all else as it is. The upright line is \
                 the middle now: {0}.",
                Amount::Money(*middle)
            ))}
        </p>
        <figure class="moves">
            <figcaption class="unseen">{t("Middle of the worth under each assumption; the table below has the figures")}</figcaption>
            {axis(scale)}
            <ul class="plain">{rows}</ul>
        </figure>
        {still}
        <Unfold label=t("The same as a table")>{table(&ends)}</Unfold>
    }
    .into_any()
}

/// A place on the scale, as an attribute.
fn at(scale: &Scale, amount: Money) -> String {
    format!("{:.2}%", scale.at(amount))
}

/// The marks of the scale with their amounts.
fn axis(scale: &Scale) -> impl IntoView + use<> {
    let last = scale.marks.len().saturating_sub(1);
    let marks = scale.marks.iter().enumerate().map(|(place, mark)| {
        let x = at(scale, *mark);
        let anchor = if place == 0 {
            "start"
        } else if place == last {
            "end"
        } else {
            "middle"
        };
        view! {
            <text x=x.clone() y="14" text-anchor=anchor>{money(*mark)}</text>
            <line class="axis" x1=x.clone() x2=x y1="19" y2="26" />
        }
    });
    view! {
        <svg class="scale" aria-hidden="true">
            {marks.collect_view()}
            <line class="axis" x1="0%" x2="100%" y1="26" y2="26" />
        </svg>
    }
}

fn bar(driver: &Driver, scale: &Scale, middle: Money) -> impl IntoView + use<> {
    let marks = scale.marks.iter().map(|mark| {
        let x = at(scale, *mark);
        view! { <line class="axis" x1=x.clone() x2=x y1="0" y2="18" /> }
    });
    let now = at(scale, middle);
    view! {
        <li>
            <div class="figure-line">
                <span>{say(&driver.label)}</span>
                <span class="amount">{between(driver.low.middle, driver.high.middle)}</span>
            </div>
            <svg class="bars" aria-hidden="true">
                {marks.collect_view()}
                <line class="bar" x1=at(scale, driver.low.middle) x2=at(scale, driver.high.middle) y1="9" y2="9" />
                <line class="stroke" x1=now.clone() x2=now y1="0" y2="18" />
            </svg>
        </li>
    }
}

fn table(moved: &[Driver]) -> AnyView {
    let rows = moved.iter().map(|driver| {
        view! {
            <tr>
                <th scope="row">{say(&driver.label)}</th>
                <td class="amount">{money(driver.low.middle)}</td>
                <td>{say(&driver.low.when)}</td>
                <td class="amount">{money(driver.high.middle)}</td>
                <td>{say(&driver.high.when)}</td>
            </tr>
        }
    });
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=t("What moves the worth, as a table")>
            <table class="amounts">
                <thead>
                    <tr>
                        <th scope="col">{t("What is changed")}</th>
                        <th scope="col" class="amount">{t("Lower")}</th>
                        <th scope="col">{t("when")}</th>
                        <th scope="col" class="amount">{t("Higher")}</th>
                        <th scope="col">{t("when")}</th>
                    </tr>
                </thead>
                <tbody>{rows.collect_view()}</tbody>
            </table>
        </div>
    }
    .into_any()
}
