//! A pasted table read as sales: what its columns hold is guessed and may be changed, rows that cannot be read
//! are kept for mending, and the rest is read.

use super::alike::{Common, Known};
use super::cells::{self, CellProblem, DateOrder, Why};
use super::csv::{MOST_IN_CELL, Record, unguarded};
use super::heading::Heading;
use super::table::Table;
use crate::ordered;
use crate::units::{Currency, NumberStyle, Unit};
use crate::worksheet::{Sale, SaleKind};

/// Rows that are looked at to guess.
const LOOKED_AT: usize = 50;

/// Signs of a cell that are shown if it is too long.
const SHOWN: usize = 40;

/// How a table is read.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The first row names the columns.
    pub has_head: bool,
    /// What each column holds; none if it is passed over.
    pub columns: Vec<Option<Heading>>,
    /// Order of dates.
    pub dates: DateOrder,
    /// Whether the decimal sign is a comma.
    pub decimal_comma: bool,
    /// Unit of mileages that name none.
    pub distance: Unit,
    /// Currency of prices that name none.
    pub currency: Currency,
    /// Kind of sales that name none.
    pub kind: SaleKind,
    /// What an auction price is taken for when nothing says whether the premium is in it.
    pub auction: SaleKind,
}

impl Default for Plan {
    fn default() -> Self {
        Self {
            has_head: false,
            columns: Vec::new(),
            dates: DateOrder::default(),
            decimal_comma: false,
            distance: Unit::Mile,
            currency: Currency::default(),
            kind: SaleKind::default(),
            auction: SaleKind::AuctionHammer,
        }
    }
}

impl Plan {
    /// A guess at how a table is to be read, from its head and its first rows. `usual` says what the person
    /// usually writes, and stands where the table does not tell.
    #[must_use]
    pub fn guess(table: &Table, usual: &Self) -> Self {
        let first = table.rows.first().map(|row| row.cells.as_slice()).unwrap_or_default();
        let named: Vec<Option<Heading>> = first.iter().map(|head| Heading::of(head)).collect();
        let is_data = first.iter().any(|cell| DateOrder::ALL.iter().any(|order| cells::date(cell, *order).is_ok()));
        let has_head = !is_data && named.iter().any(Option::is_some);
        let mut plan = Self { has_head, columns: vec![None; table.width()], ..usual.clone() };
        if has_head {
            for (place, heading) in named.into_iter().enumerate() {
                // The first column of a kind wins; the person can put another in its place.
                if heading.is_some() && !plan.columns.contains(&heading) {
                    plan.put(place, heading);
                }
            }
            plan.learn_from_head(first);
        }
        plan.dates = plan.order_of_dates(table);
        plan.guess_by_content(table);
        plan
    }

    /// Says what a column holds; another that held it is passed over from then on.
    pub fn put(&mut self, column: usize, heading: Option<Heading>) {
        if heading.is_some() {
            for other in self.columns.iter_mut().filter(|other| **other == heading) {
                *other = None;
            }
        }
        if let Some(here) = self.columns.get_mut(column) {
            *here = heading;
        }
    }

    /// What a head says beside the part of the sale: the unit, the currency, the kind of price.
    fn learn_from_head(&mut self, head: &[String]) {
        for (heading, text) in self.columns.clone().into_iter().zip(head) {
            let text = text.to_lowercase();
            let words = || text.split(|sign: char| !sign.is_alphanumeric());
            match heading {
                Some(Heading::Mileage) if words().any(|word| word.starts_with("km") || word.starts_with("kilom")) => {
                    self.distance = Unit::Kilometre;
                }
                Some(Heading::Mileage) if words().any(|word| word == "mi" || word == "miles") => {
                    self.distance = Unit::Mile;
                }
                Some(Heading::Price) => {
                    if text.contains("hammer") {
                        self.kind = SaleKind::AuctionHammer;
                    } else if text.contains("ask") {
                        self.kind = SaleKind::Asking;
                    }
                    const KNOWN: [&str; 7] = ["gbp", "eur", "usd", "chf", "aud", "jpy", "sek"];
                    let named = words().find(|word| KNOWN.contains(word)).and_then(Currency::parse);
                    let signed = ["£", "€", "$"].into_iter().find(|sign| text.contains(sign));
                    let signed = signed.and_then(|sign| cells::currency(sign).ok());
                    self.currency = named.or(signed).unwrap_or(self.currency);
                }
                _ => {}
            }
        }
    }

    /// Rows below the head.
    fn body<'a>(&self, table: &'a Table) -> impl Iterator<Item = &'a Record> + use<'a> {
        table.rows.iter().skip(usize::from(self.has_head))
    }

    /// The order in which the most of the dates can be read; where several do, the usual one.
    fn order_of_dates(&self, table: &Table) -> DateOrder {
        let column = self.columns.iter().position(|heading| *heading == Some(Heading::Date));
        let readable = |order: DateOrder| {
            let rows = self.body(table).take(LOOKED_AT);
            let cells = rows.flat_map(|row| row.cells.iter().enumerate());
            cells
                .filter(|(place, _)| column.is_none_or(|column| column == *place))
                .filter(|(_, cell)| cells::date(cell, order).is_ok())
                .count()
        };
        let mut best = (readable(self.dates), self.dates);
        for order in [DateOrder::DayFirst, DateOrder::MonthFirst, DateOrder::YearFirst] {
            let count = readable(order);
            if count > best.0 {
                best = (count, order);
            }
        }
        best.1
    }

    /// Finds date and price by what most cells of a column are, where no head names them.
    fn guess_by_content(&mut self, table: &Table) {
        let style = self.style();
        let most = |column: usize, is: &dyn Fn(&str) -> bool| {
            let rows: Vec<&Record> = self.body(table).take(LOOKED_AT).collect();
            let good = rows.iter().filter(|row| row.cells.get(column).is_some_and(|cell| is(cell))).count();
            good > 0 && good * 2 >= rows.len()
        };
        let free = |column: &usize| self.columns.get(*column).is_some_and(Option::is_none);
        let find = |heading: Heading, taken: Option<usize>, is: &dyn Fn(&str) -> bool| {
            let wanted = !self.columns.contains(&Some(heading));
            let mut columns = 0..self.columns.len();
            wanted.then(|| columns.find(|column| free(column) && Some(*column) != taken && most(*column, is))).flatten()
        };
        let dates = self.dates;
        let date = find(Heading::Date, None, &|cell| cells::date(cell, dates).is_ok());
        // Below a hundred it is more likely a lot, a score or a count.
        let least = crate::units::Money(100 * self.currency.minor_per_major());
        let price = find(Heading::Price, date, &|cell| {
            cells::price(cell, self.currency, style).is_ok_and(|(price, _)| price >= least)
        });
        for (heading, column) in [(Heading::Date, date), (Heading::Price, price)] {
            if let Some(column) = column {
                self.put(column, Some(heading));
            }
        }
    }

    const fn style(&self) -> NumberStyle {
        if self.decimal_comma { NumberStyle::COMMA } else { NumberStyle::POINT }
    }

    /// A row read as a sale.
    ///
    /// # Errors
    /// Everything that is wrong in the row.
    pub fn sale(&self, row: &Record) -> Result<Sale, Vec<CellProblem>> {
        let mut sale = Sale { currency: self.currency, kind: self.kind, ..Sale::default() };
        let mut problems = Vec::new();
        // The price last: what it is in may stand in a column after it.
        let price = self.cell(row, Heading::Price);
        for (heading, cell) in self.columns.iter().zip(&row.cells) {
            let Some(heading) = *heading else { continue };
            if cell.len() >= MOST_IN_CELL {
                let text = cell.chars().take(SHOWN).chain(['…']).collect();
                problems.push(CellProblem { heading, text, why: Why::TooLong });
            } else if let Err(why) = self.take(&mut sale, heading, cell) {
                problems.push(CellProblem { heading, text: cell.trim().to_owned(), why });
            }
        }
        match cells::price(price, sale.currency, self.style()) {
            Ok((amount, written)) => {
                sale.currency = written.unwrap_or(sale.currency);
                sale.price = amount.into();
            }
            Err(_) if price.len() >= MOST_IN_CELL => {}
            Err(why) => {
                let why = if price.trim().is_empty() { Why::Missing } else { why };
                problems.push(CellProblem { heading: Heading::Price, text: price.trim().to_owned(), why });
            }
        }
        if self.cell(row, Heading::Date).trim().is_empty() {
            problems.push(CellProblem { heading: Heading::Date, text: String::new(), why: Why::Missing });
        }
        ordered::sort(&mut problems, |a, b| a.heading.cmp(&b.heading));
        if problems.is_empty() { Ok(sale) } else { Err(problems) }
    }

    fn cell<'a>(&self, row: &'a Record, heading: Heading) -> &'a str {
        let column = self.columns.iter().position(|here| *here == Some(heading));
        column.and_then(|column| row.cells.get(column)).map_or("", String::as_str)
    }

    /// Puts a cell into the sale. A blank one leaves what is there.
    fn take(&self, sale: &mut Sale, heading: Heading, cell: &str) -> Result<(), Why> {
        if cell.trim().is_empty() {
            return Ok(());
        }
        match heading {
            Heading::Date => sale.date = cells::date(cell, self.dates)?.into(),
            Heading::Price => {}
            Heading::Currency => sale.currency = cells::currency(cell)?,
            Heading::Kind => sale.kind = cells::kind(cell, self.auction)?,
            Heading::Mileage => sale.mileage = cells::mileage(cell, self.distance, self.style())?.into(),
            Heading::Condition => sale.condition = cells::condition(cell, self.style())?.into(),
            Heading::ConditionKnown => sale.condition_known = cells::score_source(cell)?,
            Heading::Departures => unguarded(cell).clone_into(&mut sale.departures),
            Heading::Source => unguarded(cell).clone_into(&mut sale.source),
            Heading::LeftOut => sale.left_out = cells::yes(cell)?,
            Heading::Reason => unguarded(cell).clone_into(&mut sale.reason),
            Heading::Id => unguarded(cell).clone_into(&mut sale.id),
        }
        Ok(())
    }

    /// All rows read, in order; each that is like a sale already `known`, or like an earlier row, says so.
    #[must_use]
    pub fn read(&self, table: &Table, known: &[Sale]) -> Vec<Row> {
        let mut index = Known::of(known);
        let mut numbers = Vec::new();
        let rows = self.body(table).map(|record| {
            let sale = self.sale(record);
            let mut alike = None;
            if let Ok(sale) = &sale {
                alike = index.like(sale).map(|(place, common)| match place.checked_sub(known.len()) {
                    None => (Alike::Known(place), common),
                    Some(earlier) => (Alike::Row(numbers.get(earlier).copied().unwrap_or_default()), common),
                });
                index.add(known.len() + numbers.len(), sale);
                numbers.push(record.row);
            }
            Row { row: record.row, sale, alike }
        });
        rows.collect()
    }
}

/// What a row is like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alike {
    /// A sale that is there already, by its place.
    Known(usize),
    /// An earlier row, by its number.
    Row(usize),
}

/// A row of the table, read.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its number, as in [`Record::row`].
    pub row: usize,
    /// The sale, or what is wrong.
    pub sale: Result<Sale, Vec<CellProblem>>,
    /// What it is like, and in what.
    pub alike: Option<(Alike, Common)>,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::market::imputed::ScoreSource;
    use crate::units::{Date, Money};
    use crate::worksheet::Entry;
    use proptest::prelude::*;

    const PASTED: &str = "Sold on\tHammer price (EUR)\tkm\tScore\tLot\tColour\n\
        23/8/2025\t12.800\t118000\t82\tHarrowmere 41\tgreen\n\
        13/9/2025\tnot sold\t90000\t101\tHarrowmere 42\tred\n\
        \n\
        1/11/2025\t9.950,50\t\t\tHarrowmere 41\tblue\n\
        1/11/2025\t9.950,50\t\t\t\tblue\n";

    fn usual() -> Plan {
        Plan { decimal_comma: true, ..Plan::default() }
    }

    #[test]
    fn guesses_from_the_head() {
        let plan = Plan::guess(&Table::read(PASTED), &usual());
        let wanted = [Heading::Date, Heading::Price, Heading::Mileage, Heading::Condition, Heading::Source].map(Some);
        assert_eq!(plan.columns[..5], wanted);
        assert_eq!(plan.columns[5], None);
        assert!(plan.has_head);
        assert_eq!(
            (plan.dates, plan.distance, plan.kind),
            (DateOrder::DayFirst, Unit::Kilometre, SaleKind::AuctionHammer)
        );
        assert_eq!(plan.currency.code(), "EUR");
    }

    #[test]
    fn good_rows_are_read_and_bad_ones_say_what_is_wrong() {
        let table = Table::read(PASTED);
        let rows = Plan::guess(&table, &usual()).read(&table, &[]);
        assert_eq!(rows.iter().map(|row| row.row).collect::<Vec<_>>(), [2, 3, 5, 6]);
        let sale = rows[0].sale.clone().unwrap();
        assert_eq!(
            (sale.price, sale.mileage),
            (Entry::Read(Money(1_280_000)), Entry::Read(crate::units::Length(1.18e8)))
        );
        assert_eq!((sale.source.as_str(), sale.kind), ("Harrowmere 41", SaleKind::AuctionHammer));
        let said: Vec<String> = rows[1].sale.clone().unwrap_err().iter().map(ToString::to_string).collect();
        assert_eq!(
            said,
            [
                "price “not sold”: “n” is not part of a number; write digits, as in 1250.50",
                "condition “101”: should be a score from 0 to 100"
            ]
        );
        assert_eq!(rows[2].alike, Some((Alike::Row(2), Common::Source)));
        assert_eq!(rows[3].alike, Some((Alike::Row(5), Common::Deal)));
    }

    #[test]
    fn a_mended_row_is_read() {
        let mut table = Table::read(PASTED);
        let plan = Plan::guess(&table, &usual());
        table.mend(3, "13/9/2025\t11.000\t90000\t71\tHarrowmere 42\tred");
        assert!(plan.read(&table, &[])[1].sale.is_ok());
    }

    #[test]
    fn without_a_head_date_and_price_are_found() {
        let table = Table::read("1;8/23/2025;private;12800\n2;9/30/2025;dealer;9000");
        let plan = Plan::guess(&table, &Plan::default());
        assert!(!plan.has_head);
        assert_eq!(plan.columns, [None, Some(Heading::Date), None, Some(Heading::Price)]);
        assert_eq!(plan.dates, DateOrder::MonthFirst);
        assert!(plan.read(&table, &[]).iter().all(|row| row.sale.is_ok()));
    }

    #[test]
    fn a_row_needs_date_and_price() {
        let plan = Plan { columns: vec![Some(Heading::Date), Some(Heading::Price)], ..Plan::default() };
        let read = |text: &str| plan.sale(&Table::read(text).rows[0]).map_err(|wrong| wrong.len());
        assert_eq!(read("\t"), Err(2));
        assert_eq!(read("2025-08-23"), Err(1));
        assert!(read("2025-08-23\t£900").is_ok());
    }

    /// A quote that nobody closed: what follows it is told of, and no sale is made of a part of it.
    #[test]
    fn a_cell_too_long_is_told_and_not_taken() {
        let text = format!("date,source,price\n2025-08-23,\"{},900", "Lot 41,\n".repeat(2000));
        let table = Table::parted_by(&text, super::super::table::Separator::Comma);
        assert_eq!(table.rows[1].cells[1].len(), MOST_IN_CELL);
        assert!(text.ends_with(&table.rows[1].text), "its text is whole");
        let rows = Plan::guess(&table, &Plan::default()).read(&table, &[]);
        let wrong = rows[0].sale.clone().unwrap_err();
        let long = wrong.iter().find(|it| it.heading == Heading::Source).unwrap();
        assert_eq!((long.why.clone(), long.text.chars().count()), (Why::TooLong, SHOWN + 1));
        let long = format!("date,price\n2025-08-23,{}", "9".repeat(2 * MOST_IN_CELL));
        let table = Table::read(&long);
        let wrong = Plan::guess(&table, &Plan::default()).read(&table, &[])[0].sale.clone().unwrap_err();
        assert_eq!(wrong.iter().map(|it| it.why.clone()).collect::<Vec<_>>(), [Why::TooLong]);
    }

    #[test]
    fn a_column_holds_one_thing_and_a_thing_has_one_column() {
        let mut plan = Plan { columns: vec![Some(Heading::Date), None], ..Plan::default() };
        plan.put(1, Some(Heading::Date));
        assert_eq!(plan.columns, [None, Some(Heading::Date)]);
        plan.put(1, None);
        plan.put(7, Some(Heading::Price));
        assert_eq!(plan.columns, [None, None]);
    }

    #[test]
    fn what_is_known_already_is_noticed() {
        let known = Sale {
            date: Date::parse("2025-08-23").into(),
            price: Entry::Read(Money(90_000)),
            condition_known: ScoreSource::Inspected,
            ..Sale::default()
        };
        let plan = Plan { columns: vec![Some(Heading::Date), Some(Heading::Price)], ..Plan::default() };
        let rows = plan.read(&Table::read("2025-08-23\t900"), &[Sale::default(), known]);
        assert_eq!(rows[0].alike, Some((Alike::Known(1), Common::Deal)));
    }

    proptest! {
        #[test]
        fn never_panics(text in "([a-z0-9£/.-]{0,8}[,;\t\n\"]){0,20}") {
            let table = Table::read(&text);
            let plan = Plan::guess(&table, &Plan::default());
            let rows = plan.read(&table, &[]);
            prop_assert!(rows.len() <= table.rows.len());
        }
    }
}
