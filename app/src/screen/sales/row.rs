//! One sale of the worksheet: a line that opens to its fields and its working.

use kerbworth_core::appraise::comparison::{GridRow, LeftOut};
use kerbworth_core::appraise::valuation;
use kerbworth_core::ledger::alike::Common;
use kerbworth_core::ledger::{differences, kept, refreshed};
use kerbworth_core::units::Money;
use kerbworth_core::worksheet::{Edit, Sale};
use leptos::prelude::*;

use super::fields::{SaleFields, ledger_words};
use crate::browser::page;
use crate::ids;
use crate::live::{Derived, live, memo, memo_after};
use crate::part::field::Field;
use crate::part::figure::FigureLine;
use crate::part::unfold::Unfold;
use crate::store::desk::desk;
use crate::words::t;

/// The sale on a row, in the handles that its parts need.
#[derive(Clone, Copy)]
struct Here {
    /// Its place in the worksheet.
    place: Derived<usize>,
    /// The sale.
    sale: Derived<Sale>,
    /// Its part in the grid.
    grid: Derived<Option<GridRow>>,
    /// Why it is not in the grid.
    left_out: Derived<Option<LeftOut>>,
}

impl Here {
    fn of(id: String) -> Self {
        let desk = desk();
        // A row that is about to go keeps its last place for a moment.
        let place = memo_after(move |before: Option<&usize>| {
            let now = desk.worksheet.with(|worksheet| worksheet.sales.iter().position(|sale| sale.id == id));
            now.or(before.copied()).unwrap_or_default()
        });
        let sale = memo(move || {
            desk.worksheet.with(|worksheet| worksheet.sales.get(place.get()).cloned()).unwrap_or_default()
        });
        let grid = memo(move || {
            super::compared(|compared| compared.rows.iter().find(|row| row.sale == place.get()).cloned()).flatten()
        });
        let left_out = memo(move || {
            let is_here = |(sale, _): &&(usize, LeftOut)| *sale == place.get();
            desk.appraisal.with(|appraisal| appraisal.sales_left_out.iter().find(is_here).map(|(_, why)| *why))
        });
        Self { place, sale, grid, left_out }
    }

    fn put(self, sale: Sale) {
        desk().edit(Edit::Sale(sale.id.clone(), Some((self.place.get_untracked(), Box::new(sale)))));
    }

    fn change(self, change: impl FnOnce(&mut Sale)) {
        let mut sale = self.sale.get_untracked();
        change(&mut sale);
        self.put(sale);
    }
}

/// A row.
#[component]
pub fn SaleRow(
    /// The sale's id.
    id: String,
    /// Id of the sale that was just added; it opens by itself.
    added: RwSignal<String>,
    /// Where a deleted sale goes.
    gone: RwSignal<Option<(usize, Sale)>>,
    /// Sales that are like earlier ones.
    alike: Derived<Vec<(usize, usize, Common)>>,
) -> impl IntoView {
    let open = added.with_untracked(|added| *added == id);
    let here = Here::of(id);
    view! {
        <li class:left-out=move || here.left_out.get().is_some()>
            <Unfold open summary=ViewFn::from(move || summary(here))>
                <Opened here gone alike />
            </Unfold>
        </li>
    }
}

fn summary(here: Here) -> AnyView {
    let desk = desk();
    let what = move || {
        let date = here.sale.with(|sale| sale.date.value()).map(|date| desk.show.with(|show| show.date(date)));
        let date = date.unwrap_or_else(|| t("no date").to_owned());
        format!("{} · {date} · {}", here.place.get() + 1, t(here.sale.with(|sale| sale.kind.name())))
    };
    let price = move || {
        let price = here.sale.with(|sale| sale.price.value().map(|price| (price, sale.currency)));
        price.map_or_else(
            || t("no price").to_owned(),
            |(price, currency)| desk.show.with(|show| show.in_currency(currency).whole_money(price)),
        )
    };
    // At each rest between changes, as the grid: every sale's figures change when one does.
    let figures = memo(move || {
        desk.rests.track();
        let (place, show) = (here.place.get(), desk.show.get());
        let shown = |row: &GridRow| (show.whole_money(Money::nearest(row.line.adjusted)), show.share(row.line.share));
        untrack(|| super::compared(|compared| compared.rows.iter().find(|row| row.sale == place).map(shown)).flatten())
    });
    let compared = memo(move || figures.with(Option::is_some));
    let adjusted = move || figures.with(|figures| figures.as_ref().map(|(adjusted, _)| adjusted.clone()));
    let weight = move || figures.with(|figures| figures.as_ref().map(|(_, weight)| weight.clone()));
    let outcome = move || match (compared.get(), here.left_out.get()) {
        (true, _) => view! {
            <span class="figure"><span class="quiet">{t("adjusted")}</span> " " {live(adjusted)}</span>
            <span class="figure"><span class="quiet">{t("weight")}</span> " " {live(weight)}</span>
        }
        .into_any(),
        (false, Some(why)) => view! { <span class="figure quiet">{t(why.reason())}</span> }.into_any(),
        (false, None) => ().into_any(),
    };
    view! {
        <span class="sale-line">
            <span class="what">{live(what)}</span>
            <span class="figures">
                <span class="figure"><span class="quiet">{t("price")}</span> " " {live(price)}</span>
                {live(outcome)}
            </span>
        </span>
    }
    .into_any()
}

#[component]
fn Opened(
    here: Here,
    gone: RwSignal<Option<(usize, Sale)>>,
    alike: Derived<Vec<(usize, usize, Common)>>,
) -> impl IntoView {
    let twin = move || {
        let place = here.place.get();
        let found = alike.with(|alike| alike.iter().find(|(this, _, _)| *this == place).copied());
        found.map(|(_, earlier, common)| {
            let said = format!("{} {}: {}.", t("Looks like sale"), earlier + 1, t(common.name()));
            view! { <p class="notice">{said} " " {t("Delete one if they are the same sale.")}</p> }
        })
    };
    let working = move || here.grid.get().map(|row| view! { <FigureLine figure=valuation::row_working(&row) /> });
    let delete = move |_| {
        let sale = here.sale.get_untracked();
        gone.set(Some((here.place.get_untracked(), sale.clone())));
        desk().edit(Edit::Sale(sale.id, None));
    };
    let fields = move || {
        let place = format!("sales[{}]", here.place.get());
        view! {
            <SaleFields place=place.clone() sale=here.sale put=move |sale| here.put(sale) />
            <Decision here place />
        }
    };
    view! {
        <div class="opened">
            {live(twin)}
            {live(fields)}
            {live(working)}
            <InLedger here />
            <p class="row">
                <button type="button" on:click=delete>{t("Delete this sale")}</button>
            </p>
        </div>
    }
}

/// Whether the sale counts, and why.
#[component]
fn Decision(here: Here, place: String) -> impl IntoView {
    let left_out = memo(move || here.sale.with(|sale| sale.left_out));
    let field = format!("{place}.reason");
    let focus = ids::field(&field);
    let toggle = move |_| {
        here.change(|sale| sale.left_out = !sale.left_out);
        if left_out.get_untracked() {
            let focus = focus.clone();
            request_animation_frame(move || page::focus(&focus));
        }
    };
    let reason = move || {
        let label = if left_out.get() { t("Why it is left out") } else { t("Why it is kept, if it looks odd") };
        view! {
            <Field
                place=field.clone()
                label
                stored=memo(move || here.sale.with(|sale| sale.reason.clone()))
                typed=move |text: String| here.change(|sale| sale.reason = text)
            />
        }
    };
    view! {
        <p class="row">
            <button type="button" on:click=toggle>
                {live(move || if left_out.get() { t("Count it again") } else { t("Leave it out") })}
            </button>
        </p>
        {live(reason)}
    }
}

/// How the sale stands to the ledger.
#[component]
fn InLedger(here: Here) -> impl IntoView {
    let ledger = desk().ledger;
    let entry = memo(move || ledger.body.with(|body| here.sale.with(|sale| body.sale(&sale.id).cloned())));
    let keep = move |_| ledger.change(|body| body.keep(kept(&here.sale.get_untracked())));
    live(move || {
        let Some(entry) = entry.get() else {
            return view! {
                <p class="row"><button type="button" on:click=keep>{t("Keep it in the ledger")}</button></p>
            }
            .into_any();
        };
        let differ = here.sale.with(|sale| differences(sale, &entry));
        if differ.is_empty() {
            return view! { <p class="quiet">{t("The ledger has this sale.")}</p> }.into_any();
        }
        let refresh = move |_| here.put(refreshed(&here.sale.get_untracked(), &entry));
        view! {
            <div class="notice">
                <p>{t("The ledger has it otherwise in:")} " " {ledger_words(&differ)} "."</p>
                <p class="row">
                    <button type="button" on:click=refresh>{t("Take the ledger's")}</button>
                    <button type="button" on:click=keep>{t("Put this in the ledger")}</button>
                </p>
            </div>
        }
        .into_any()
    })
}
