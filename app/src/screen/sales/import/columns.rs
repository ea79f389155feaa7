//! How the table is read: what each column holds, in which order and unit, with the first rows to see by.

use kerbworth_core::ledger::cells::DateOrder;
use kerbworth_core::ledger::heading::Heading;
use kerbworth_core::ledger::table::Separator;
use kerbworth_core::units::{Quantity, Unit};
use kerbworth_core::worksheet::SaleKind;
use leptos::prelude::*;

use super::Pasted;
use crate::live::{fixed, live, memo};
use crate::part::choice::Choice;
use crate::part::entry::CurrencyField;
use crate::words::t;

/// Rows that are shown to see by.
const PREVIEW: usize = 5;

/// What a column may hold that nothing is taken from.
const PASSED_OVER: &str = "-";

/// The choices, and the preview.
#[component]
pub fn Reading(pasted: Pasted) -> impl IntoView {
    let plan = pasted.plan;
    let again = move |separator: Separator| {
        pasted.read(pasted.table.with_untracked(|table| table.parted_anew_by(separator)));
    };
    view! {
        <h2>{t("What the columns hold")}</h2>
        <Preview pasted />
        <label class="tick">
            <input type="checkbox" prop:checked=move || plan.with(|plan| plan.has_head)
                on:change=move |_| plan.update(|plan| plan.has_head = !plan.has_head) />
            {t("The first row names the columns")}
        </label>
        <div class="pair">
            {choice("paste.separator", t("Between cells stands"), &Separator::ALL, Separator::name,
                move || pasted.table.with(|table| table.separator), again)}
            {choice("paste.dates", t("Dates are written"), &DateOrder::ALL, DateOrder::name,
                move || plan.with(|plan| plan.dates), move |dates| plan.update(|plan| plan.dates = dates))}
            {choice("paste.decimal", t("Numbers are written"), &[false, true], decimal,
                move || plan.with(|plan| plan.decimal_comma),
                move |comma| plan.update(|plan| plan.decimal_comma = comma))}
            {choice("paste.distance", t("Mileage without a unit is in"), &[Unit::Mile, Unit::Kilometre], symbol,
                move || plan.with(|plan| plan.distance), move |unit| plan.update(|plan| plan.distance = unit))}
            {choice("paste.kind", t("A price of no stated kind is"), &SaleKind::ALL, SaleKind::name,
                move || plan.with(|plan| plan.kind), move |kind| plan.update(|plan| plan.kind = kind))}
            {choice("paste.auction", t("“Auction” alone means"),
                &[SaleKind::AuctionHammer, SaleKind::AuctionWithPremium], SaleKind::name,
                move || plan.with(|plan| plan.auction), move |kind| plan.update(|plan| plan.auction = kind))}
            <CurrencyField place="paste.currency" label=t("Currency of prices without one, by its three letters")
                stored=memo(move || plan.with(|plan| plan.currency))
                put=move |currency| plan.update(|plan| plan.currency = currency) />
        </div>
    }
}

const fn decimal(comma: bool) -> &'static str {
    if comma { "1.234,5" } else { "1,234.5" }
}

fn symbol(unit: Unit) -> &'static str {
    debug_assert_eq!(unit.quantity(), Quantity::Distance);
    unit.symbol()
}

/// A choice among a few values with names.
fn choice<T: Copy + PartialEq + Send + Sync + 'static>(
    place: &'static str,
    label: &'static str,
    values: &[T],
    name: fn(T) -> &'static str,
    chosen: impl Fn() -> T + Send + Sync + 'static,
    choose: impl Fn(T) + Send + Sync + 'static,
) -> AnyView {
    let values = values.to_vec();
    let options: Vec<_> = values.iter().map(|value| (name(*value).to_owned(), t(name(*value)).to_owned())).collect();
    view! {
        <Choice place label options=fixed(options)
            chosen=memo(move || name(chosen()).to_owned())
            choose=move |word: String| {
                if let Some(value) = values.iter().find(|value| name(**value) == word) {
                    choose(*value);
                }
            } />
    }
    .into_any()
}

/// The first rows, each column under what it holds.
#[component]
fn Preview(pasted: Pasted) -> impl IntoView {
    let width = memo(move || pasted.plan.with(|plan| plan.columns.len()));
    let heads = move || {
        (0..width.get()).map(|column| view! { <th scope="col"><Column pasted column /></th> }).collect::<Vec<_>>()
    };
    let rows = move || {
        pasted.table.with(|table| {
            let row = |row: &kerbworth_core::ledger::csv::Record| {
                let cells: Vec<_> = row.cells.iter().map(|cell| view! { <td>{cell.clone()}</td> }).collect();
                view! { <tr><th scope="row">{row.row}</th>{cells}</tr> }
            };
            table.rows.iter().take(PREVIEW).map(row).collect::<Vec<_>>()
        })
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=t("The first rows")>
            <table class="preview">
                <thead><tr><th scope="col">{t("Row")}</th>{live(heads)}</tr></thead>
                <tbody>{live(rows)}</tbody>
            </table>
        </div>
    }
}

#[component]
fn Column(pasted: Pasted, column: usize) -> impl IntoView {
    let options: Vec<_> = core::iter::once((PASSED_OVER.to_owned(), t("passed over").to_owned()))
        .chain(Heading::ALL.into_iter().map(|heading| (heading.name().to_owned(), t(heading.name()).to_owned())))
        .collect();
    let held = move || {
        let held = pasted.plan.with(|plan| plan.columns.get(column).copied().flatten());
        held.map_or(PASSED_OVER, Heading::name).to_owned()
    };
    view! {
        <Choice place=format!("paste.column.{column}") label=format!("{} {}", t("Column"), column + 1)
            options=fixed(options) chosen=memo(held)
            choose=move |word: String| {
                let heading = Heading::ALL.into_iter().find(|heading| heading.name() == word);
                pasted.plan.update(|plan| plan.put(column, heading));
            } />
    }
}
