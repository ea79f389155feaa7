//! Sales from a spreadsheet: pasted or from a file, matched column by column, checked row by row, and added.

mod columns;
mod rows;

use std::collections::BTreeSet;
use std::sync::Arc;

use kerbworth_core::ledger::import::{Plan, Row};
use kerbworth_core::ledger::kept;
use kerbworth_core::ledger::table::Table;
use kerbworth_core::restore::STORED;
use kerbworth_core::units::Quantity;
use kerbworth_core::worksheet::{Edit, Sale};
use leptos::html;
use leptos::prelude::*;

use crate::browser::file::Chosen;
use crate::browser::random;
use crate::live::{Derived, Shown, live, memo, wait};
use crate::part::field::Note;
use crate::store::desk::desk;
use crate::words::t;

/// Where the sales go.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Into {
    /// Into the open worksheet.
    Worksheet,
    /// Into the ledger.
    Ledger,
}

impl Into {
    /// Reads the sales that are there.
    fn with<T>(self, read: impl FnOnce(&[Sale]) -> T) -> T {
        match self {
            Self::Worksheet => desk().worksheet.with(|worksheet| read(&worksheet.sales)),
            Self::Ledger => desk().ledger.body.with(|ledger| read(&ledger.sales)),
        }
    }

    /// Adds sales, each under an id of its own.
    fn add(self, mut sales: Vec<Sale>) {
        let mut taken: BTreeSet<String> = self.with(|there| there.iter().map(|sale| sale.id.clone()).collect());
        for sale in &mut sales {
            if sale.id.is_empty() || !taken.insert(sale.id.clone()) {
                sale.id = random::fresh_id();
            }
        }
        match self {
            Self::Worksheet => {
                let first = self.with(<[Sale]>::len);
                let edit =
                    |(place, sale): (usize, Sale)| Edit::Sale(sale.id.clone(), Some((first + place, Box::new(sale))));
                desk().edit(Edit::Several(sales.into_iter().enumerate().map(edit).collect()));
            }
            Self::Ledger => desk().ledger.change(|ledger| ledger.sales.extend(sales.iter().map(kept))),
        }
    }
}

/// What was pasted, and how it is read.
#[derive(Clone, Copy)]
struct Pasted {
    into: Into,
    /// What stands in the text field.
    text: RwSignal<String>,
    table: RwSignal<Table>,
    plan: RwSignal<Plan>,
    /// Every row, read.
    rows: Derived<Arc<Vec<Row>>>,
    /// Rows that look like a sale that is there are added too.
    with_alike: RwSignal<bool>,
    /// How many were added last.
    added: RwSignal<Option<usize>>,
}

impl Pasted {
    fn new(into: Into) -> Self {
        let (table, plan) = (RwSignal::new(Table::default()), RwSignal::new(Plan::default()));
        let rows =
            memo(move || into.with(|known| table.with(|table| plan.with(|plan| Arc::new(plan.read(table, known))))));
        Self {
            into,
            text: RwSignal::new(String::new()),
            table,
            plan,
            rows,
            with_alike: RwSignal::new(false),
            added: RwSignal::new(None),
        }
    }

    /// Takes a text, and guesses how it is to be read.
    fn take(self, text: String) {
        self.read(Table::read(&text));
        self.text.set(text);
    }

    fn read(self, table: Table) {
        let (distance, decimal_comma) =
            desk().show.with_untracked(|show| (show.unit(Quantity::Distance), show.decimal_comma));
        // The ledger is no worksheet's: its sales are by the person's own currency.
        let currency = match self.into {
            Into::Worksheet => desk().worksheet.with_untracked(|worksheet| worksheet.settings.currency),
            Into::Ledger => desk().preferences.with_untracked(|wanted| wanted.currency),
        };
        self.plan.set(Plan::guess(&table, &Plan { decimal_comma, distance, currency, ..Plan::default() }));
        self.table.set(table);
        self.added.set(None);
    }

    /// Whether a row would be added now.
    fn goes_in(self, row: &Row) -> bool {
        row.sale.is_ok() && (row.alike.is_none() || self.with_alike.get())
    }

    /// Adds the good rows; the others stay.
    fn add(self) {
        let rows = self.rows.get_untracked();
        let (good, gone): (Vec<Sale>, BTreeSet<usize>) = untrack(|| {
            let good = rows.iter().filter(|row| self.goes_in(row));
            good.filter_map(|row| Some((row.sale.clone().ok()?, row.row))).unzip()
        });
        self.table.update(|table| table.rows.retain(|row| !gone.contains(&row.row)));
        self.text.set(String::new());
        self.added.set(Some(good.len()));
        untrack(|| self.into.add(good));
    }
}

/// The whole of it.
#[component]
pub fn Import(
    /// Where the sales go.
    into: Into,
) -> impl IntoView {
    let pasted = Pasted::new(into);
    let place = match into {
        Into::Worksheet => "paste",
        Into::Ledger => "ledger.paste",
    };
    let some = memo(move || pasted.rows.with(|rows| !rows.is_empty()));
    let added = move || {
        let said = pasted.added.get().map(|count| format!("{} {count}", t("Sales added:")));
        view! { <p role="status">{said}</p> }
    };
    view! {
        <div class="opened">
            <Note
                place
                label=t("Rows copied from a spreadsheet, or the text of a CSV file")
                stored=pasted.text
                typed=move |text: String| pasted.take(text)
            />
            <div class="row"><OpenTable pasted /></div>
            <Shown when=memo(move || some.get())>
                <columns::Reading pasted />
                <rows::Rows pasted />
            </Shown>
            {added}
        </div>
    }
}

/// Opens a CSV file.
#[component]
fn OpenTable(pasted: Pasted) -> impl IntoView {
    let said = RwSignal::new(None::<String>);
    let field = NodeRef::<html::Input>::new();
    let open = move |_| {
        let Some(chosen) = field.get_untracked().and_then(|field| Chosen::of(&field)) else { return };
        if chosen.bytes() > STORED.bytes as f64 {
            said.set(Some(format!("{}: {}", chosen.name(), t("too large a file; open it in parts"))));
            return;
        }
        wait(async move {
            match chosen.text().await {
                Some(text) => {
                    // The screen may be gone by the time the file is read.
                    let _ = said.try_set(None);
                    if pasted.text.try_set(String::new()).is_none() {
                        pasted.read(Table::read(&text));
                    }
                }
                None => drop(said.try_set(Some(format!("{}: {}", chosen.name(), t("could not be read"))))),
            }
        });
    };
    view! {
        <label class="button">
            {t("Open a CSV file")}
            <input class="unseen" type="file" accept=".csv,.tsv,.txt,text/csv,text/plain" node_ref=field on:change=open />
        </label>
        {live(move || said.get().map(|said| view! { <p class="message" role="alert">{said}</p> }))}
    }
}
