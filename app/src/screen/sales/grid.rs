//! The grid: each sale a line from its price to what it says of this car.

use kerbworth_core::appraise::comparison::{GridRow, LeftOut, NoComparison};
use kerbworth_core::appraise::valuation;
use kerbworth_core::market::grid::Adjustment;
use kerbworth_core::market::rates::Column;
use kerbworth_core::units::{Money, Quantity};
use leptos::prelude::*;

use super::{AT_FIRST, More, called, compared};
use crate::live::{Each, Shown, live, memo};
use crate::part::figure::FigureLine;
use crate::route::Screen;
use crate::store::desk::desk;
use crate::words::{say, t};

/// Columns of the table.
const COLUMNS: &str = "10";

/// The grid, or why there is none, and the sales that are not in it.
#[component]
pub fn Grid() -> impl IntoView {
    let there = memo(move || compared(|_| ()).is_some());
    view! {
        <h2>{t("The grid")}</h2>
        <Shown when=memo(move || there.get()) fallback=NoGrid>
            <p class="quiet">
                {t("From left to right: the price paid, what each difference from this car adds or takes, what the sale so says of this car, and its weight in the middle. A name opens to its working.")}
            </p>
            <Table />
        </Shown>
        <NotInIt />
    }
}

#[component]
fn NoGrid() -> impl IntoView {
    let why = move || {
        desk().appraisal.with(|appraisal| match &appraisal.comparison {
            Err(NoComparison::NoSales) => t("No sale can be used yet: each needs a date and a price.").into_any(),
            Err(NoComparison::NoDate) => view! {
                {t("The day of valuation is missing.")} " "
                <a href=Screen::Car.fragment()>{t("Give it with the car.")}</a>
            }
            .into_any(),
            Err(NoComparison::Fit(error)) => say(error).into_any(),
            Ok(_) => ().into_any(),
        })
    };
    view! { <p>{live(why)}</p> }
}

#[component]
fn Table() -> impl IntoView {
    let places = memo(move || compared(|c| c.rows.iter().map(|row| row.sale).collect::<Vec<_>>()).unwrap_or_default());
    let shown = RwSignal::new(AT_FIRST);
    let heads: Vec<_> = Column::ALL
        .into_iter()
        .map(|column| view! { <th scope="col" class="amount">{t(column.name())}</th> })
        .collect();
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=t("The grid")>
            <table class="grid">
                <thead>
                    <tr>
                        <th scope="col">{t("Sale")}</th>
                        <th scope="col" class="amount">{t("Price")}</th>
                        {heads}
                        <th scope="col" class="amount">{t("Adjusted")}</th>
                        <th scope="col" class="amount">{t("Weight")}</th>
                    </tr>
                </thead>
                <tbody>
                    <Each
                        each=move || places.with(|places| places.iter().take(shown.get()).copied().collect::<Vec<_>>())
                        key=|place| *place
                        let:place
                    >
                        <Line place />
                    </Each>
                </tbody>
                <tfoot><ThisCar /></tfoot>
            </table>
        </div>
        <More count=memo(move || places.with(Vec::len)) shown />
    }
}

/// A sale's line, and its working below while it is open.
#[component]
fn Line(place: usize) -> impl IntoView {
    // At each rest between changes: one sale changed changes every line.
    let row = memo(move || {
        desk().rests.track();
        untrack(|| compared(|c| c.rows.iter().find(|row| row.sale == place).cloned()).flatten())
    });
    let open = RwSignal::new(false);
    let cells = move || row.get().map(|row| cells(&row));
    let working = move || {
        let row = row.get().filter(|_| open.get())?;
        let figure = valuation::row_working(&row);
        Some(view! { <tr><td colspan=COLUMNS class="inside"><div class="fixed"><FigureLine figure /></div></td></tr> })
    };
    view! {
        <tr>
            <th scope="row">
                <button
                    type="button"
                    class="bare"
                    aria-expanded=move || open.get().to_string()
                    on:click=move |_| open.update(|open| *open = !*open)
                >
                    {t("Sale")} " " {place + 1}
                </button>
            </th>
            {live(cells)}
        </tr>
        {live(working)}
    }
}

/// The figures of a line.
fn cells(row: &GridRow) -> AnyView {
    let show = desk().show.get();
    let filled_in = |column: Column| match column {
        Column::ThousandMiles => row.mileage_filled_in,
        Column::Score => row.condition_filled_in,
        _ => false,
    };
    let adjustment = |(column, adjustment): (Column, &Adjustment)| {
        let amount = Money::nearest(adjustment.amount);
        let shown = if amount == Money::ZERO { "–".to_owned() } else { show.whole_money(amount) };
        let mark = filled_in(column).then(|| view! { <br /><small>{t("filled in")}</small> });
        view! { <td class="amount">{shown}{mark}</td> }
    };
    let adjustments: Vec<_> = Column::ALL.into_iter().zip(&row.line.adjustments).map(adjustment).collect();
    view! {
        <td class="amount">{show.whole_money(row.price)}</td>
        {adjustments}
        <td class="amount">{show.whole_money(Money::nearest(row.line.adjusted))}</td>
        <td class="amount">{show.share(row.line.share)}</td>
    }
    .into_any()
}

/// What the sales are compared with.
#[component]
fn ThisCar() -> impl IntoView {
    let desk = desk();
    let cells = move || {
        let show = desk.show.get();
        let (mileage, date) =
            desk.worksheet.with(|worksheet| (worksheet.car.mileage.value(), worksheet.visit.date.value()));
        let mileage =
            mileage.map_or_else(|| t("filled in").to_owned(), |mileage| show.quantity(Quantity::Distance, mileage.0));
        compared(|compared| {
            let mark = compared.base_score_filled_in.then(|| view! { <br /><small>{t("filled in")}</small> });
            view! {
                <td></td>
                <td class="amount">{mileage}</td>
                <td class="amount">{show.number(compared.base_score, 1)}{mark}</td>
                <td class="amount">{date.map(|date| show.date(date))}</td>
                <td></td>
                <td></td>
                <td></td>
                <td class="amount">{show.whole_money(Money::nearest(compared.range.middle))}</td>
                <td class="amount">{show.share(1.0)}</td>
            }
            .into_any()
        })
    };
    view! {
        <tr>
            <th scope="row">{t("This car")}</th>
            {live(cells)}
        </tr>
    }
}

/// Sales that are not in the grid, and why.
#[component]
fn NotInIt() -> impl IntoView {
    let desk = desk();
    let left_out = memo(move || desk.appraisal.with(|appraisal| appraisal.sales_left_out.clone()));
    let line = move |(place, why): (usize, LeftOut)| {
        let reason = desk.worksheet.with(|w| w.sales.get(place).map(|sale| sale.reason.clone())).unwrap_or_default();
        let reason = (why == LeftOut::ByChoice && !reason.is_empty()).then(|| format!(": {reason}"));
        view! { <li>{called(place)} " – " {t(why.reason())} {reason}</li> }
    };
    view! {
        <Shown when=memo(move || left_out.with(|left_out| !left_out.is_empty()))>
            <h3>{t("Not in the grid")}</h3>
            <ul>{live(move || left_out.get().into_iter().take(AT_FIRST).map(line).collect::<Vec<_>>())}</ul>
        </Shown>
    }
}
