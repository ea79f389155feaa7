//! Sales as a table for a spreadsheet.

use super::csv::{guarded, row};
use super::heading::Heading;
use crate::show::Show;
use crate::units::{Quantity, number};
use crate::worksheet::{Entry, Sale};

/// Decimals of a condition.
const CONDITION_PLACES: u8 = 6;

/// The sales as a CSV file, a row each under a head. Numbers are written in the person's style; where the
/// decimal sign is a comma, semicolons part the cells, as spreadsheets there expect.
#[must_use]
pub fn table(sales: &[Sale], show: &Show) -> String {
    let style = show.style();
    let separator = if style.decimal == ',' { ';' } else { ',' };
    let distance = show.unit(Quantity::Distance);
    let heads = Heading::ALL.map(|heading| match heading {
        Heading::Mileage => format!("{} ({})", heading.name(), distance.symbol()),
        _ => heading.name().to_owned(),
    });
    let mut text = row(&heads, separator);
    for sale in sales {
        text.push_str(&row(&Heading::ALL.map(|heading| cell(sale, heading, show)), separator));
    }
    text
}

fn cell(sale: &Sale, heading: Heading, show: &Show) -> String {
    let style = show.style();
    match heading {
        Heading::Date => written(&sale.date, ToString::to_string),
        Heading::Price => written(&sale.price, |price| sale.currency.show_plain(*price, style)),
        Heading::Currency => sale.currency.code().to_owned(),
        Heading::Kind => sale.kind.name().to_owned(),
        Heading::Mileage => {
            written(&sale.mileage, |mileage| show.unit(Quantity::Distance).show_plain(mileage.0, style))
        }
        Heading::Condition => written(&sale.condition, |score| number::show_short(*score, CONDITION_PLACES, style)),
        Heading::ConditionKnown => sale.condition_known.name().to_owned(),
        Heading::Departures => guarded(&sale.departures),
        Heading::Source => guarded(&sale.source),
        Heading::LeftOut => if sale.left_out { "yes" } else { "no" }.to_owned(),
        Heading::Reason => guarded(&sale.reason),
        Heading::Id => guarded(&sale.id),
    }
}

/// A value as text; a text that could not be read goes out as it is.
fn written<T>(entry: &Entry<T>, show: impl FnOnce(&T) -> String) -> String {
    match entry {
        Entry::Empty => String::new(),
        Entry::Read(value) => show(value),
        Entry::Unread(text) => guarded(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::import::Plan;
    use crate::ledger::table::Table;
    use crate::market::imputed::ScoreSource;
    use crate::units::{Currency, Date, Length, Money, Unit};
    use crate::worksheet::SaleKind;
    use proptest::prelude::*;

    #[test]
    fn a_row_as_it_is_written() {
        let sale = Sale {
            id: "s1".to_owned(),
            date: Date::parse("2025-08-23").into(),
            price: Entry::Read(Money(1_280_050)),
            kind: SaleKind::AuctionHammer,
            mileage: Entry::Read(Length::of(118_000.0, Unit::Mile)),
            condition: Entry::Unread("good".to_owned()),
            source: "=lot \"41\"".to_owned(),
            ..Sale::default()
        };
        let mut show = Show::default();
        let text = table(core::slice::from_ref(&sale), &show);
        let mut lines = text.lines();
        assert_eq!(
            lines.next(),
            Some(
                "date,price,currency,kind,mileage (mi),condition,condition known from,departures,source,left out,reason,id"
            )
        );
        assert_eq!(
            lines.next(),
            Some("2025-08-23,12800.5,GBP,\"auction, hammer price\",118000,good,a guess,,\"'=lot \"\"41\"\"\",no,,s1")
        );
        show.locale = crate::units::NumberStyle::COMMA.into();
        assert!(table(&[sale], &show).contains("2025-08-23;12800,5;GBP;auction, hammer price;"));
    }

    fn sale() -> impl Strategy<Value = Sale> {
        let text = || {
            "[a-z '\",;\t\r\n=@é-]{0,8}"
                .prop_filter("blank texts are read as none", |text| text.is_empty() || !text.trim().is_empty())
        };
        let numbers = (1..=9_999_999_999_i64, prop::option::of(0..99_999_999_u32), prop::option::of(0..=10_000_u32));
        let kinds = (prop::sample::select(SaleKind::ALL.to_vec()), prop::sample::select(ScoreSource::ALL.to_vec()));
        let day = (1885..=2100_i32, 1..=12_u8, 1..=28_u8);
        let code = prop::sample::select(vec!["GBP", "EUR", "JPY", "KWD"]);
        (day, numbers, kinds, code, (text(), text(), text(), "[a-z0-9]{1,4}"), any::<bool>()).prop_map(
            |(
                (year, month, day),
                (price, miles, score),
                (kind, known),
                code,
                (departures, source, reason, id),
                out,
            )| {
                Sale {
                    id,
                    date: Date::new(year, month, day).into(),
                    price: Entry::Read(Money(price)),
                    currency: Currency::parse(code).unwrap(),
                    kind,
                    // Hundredths, as a field keeps them.
                    mileage: miles.map(|miles| Length::of(f64::from(miles) / 100.0, Unit::Mile)).into(),
                    condition: score.map(|score| f64::from(score) / 100.0).into(),
                    condition_known: known,
                    departures,
                    source,
                    left_out: out,
                    reason,
                }
            },
        )
    }

    proptest! {
        #[test]
        fn what_goes_out_comes_in_again(sales in prop::collection::vec(sale(), 1..6), comma: bool) {
            let show = Show { locale: if comma { crate::units::NumberStyle::COMMA } else { crate::units::NumberStyle::POINT }.into(), ..Show::default() };
            let text = table(&sales, &show);
            let pasted = Table::read(&text);
            let plan = Plan::guess(&pasted, &Plan { decimal_comma: comma, ..Plan::default() });
            let read: Vec<Sale> = plan.read(&pasted, &[]).into_iter().map(|row| row.sale.unwrap()).collect();
            prop_assert_eq!(read, sales);
        }
    }
}
