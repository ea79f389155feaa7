//! The pictures of the sales: what each says of the car, and price against mileage and against date.

use super::scale::Scale;
use super::{Axis, Mark, Plot, Point, Series, Shape, Tick};
use crate::appraise::comparison::{Comparison, GridRow};
use crate::appraise::valuation::Worth;
use crate::market::range::Range;
use crate::market::rates::Column;
use crate::say;
use crate::show::Show;
use crate::units::{Date, Money, Quantity, Unit};
use crate::worksheet::Worksheet;

/// Above so many sales the prices as paid are left out, and lanes go without names: the drawing would be a thicket.
const MOST_NAMED: usize = 40;

/// Ticks along an axis at most; the labels of money are the widest.
const MOST_TICKS: usize = 5;

/// Places along the fit's line.
const LINE_PLACES: usize = 33;

fn money(minor: f64, show: &Show) -> String {
    show.whole_money(Money::nearest(minor))
}

fn from_to(range: &Range, show: &Show) -> String {
    say!(show, "{0} to {1}", money(range.low, show), money(range.high, show))
}

fn name(row: &GridRow, show: &Show) -> String {
    say!(show, "Sale {0}", row.sale + 1)
}

fn ends(outer: &Range, inner: &Range, scale: &Scale) -> [f64; 5] {
    [outer.low, inner.low, outer.middle, inner.high, outer.high].map(|value| scale.at(value))
}

/// What each sale says of the car, in a lane each, with the market's range and the worth as it stands below.
#[must_use]
pub fn adjusted(comparison: &Comparison, worth: Option<&Worth>, show: &Show) -> Option<Plot> {
    let rows = &comparison.rows;
    let few = rows.len() <= MOST_NAMED;
    let ranges: Vec<(&'static str, &Range, &Range)> =
        core::iter::once(("Market", &comparison.range, &comparison.inner))
            .chain(worth.map(|worth| ("As it stands", &worth.stands, &worth.inner)))
            .collect();
    let of_sales = rows.iter().flat_map(|row| [Some(row.line.adjusted), few.then_some(row.line.price)]).flatten();
    let of_ranges = ranges.iter().flat_map(|(_, outer, _)| [outer.low, outer.high]);
    let scale = Scale::around(of_sales.chain(of_ranges))?.not_below(0.0);
    let sale_lanes = rows.len().min(MOST_NAMED);
    let lanes = sale_lanes + ranges.len();
    let across = |lane: f64| 1.0 - (lane + 0.5) / lanes as f64;
    let lane_of = |place: usize| place as f64 * sale_lanes as f64 / rows.len() as f64;
    let lane = |place: usize| across(if few { place as f64 } else { lane_of(place) });
    let place = |value: f64, number: usize| (scale.at(value), lane(number));
    let marks: Vec<Point> = rows.iter().enumerate().map(|(number, row)| place(row.line.adjusted, number)).collect();
    let mut series = Vec::new();
    if few {
        let paid: Vec<Point> = rows.iter().enumerate().map(|(number, row)| place(row.line.price, number)).collect();
        series
            .push(Series { name: "", shape: Shape::Stems(paid.iter().copied().zip(marks.iter().copied()).collect()) });
        series.push(Series { name: "price, premium included", shape: Shape::Marks(Mark::Ring, paid) });
    }
    series.push(Series { name: "adjusted to this car", shape: Shape::Marks(Mark::Disc, marks) });
    let mut ticks: Vec<Tick> = rows
        .iter()
        .enumerate()
        .filter(|_| few)
        .map(|(number, row)| Tick { at: lane(number), label: name(row, show) })
        .collect();
    for (number, (label, outer, inner)) in ranges.iter().enumerate() {
        let at = across((sale_lanes + number) as f64);
        ticks.push(Tick { at, label: show.word(label).to_owned() });
        let name = if number == 0 { "80 % range, with the 50 % range and the middle" } else { "" };
        series.push(Series { name, shape: Shape::Range { across: at, ends: ends(outer, inner, &scale) } });
    }
    let mut table: Vec<Vec<String>> = rows
        .iter()
        .map(|row| {
            let share = format!("{} %", show.number(row.line.share * 100.0, 1));
            vec![name(row, show), show.whole_money(row.price), money(row.line.adjusted, show), share]
        })
        .collect();
    let mut said = Vec::new();
    for (label, outer, inner) in &ranges {
        table.push(vec![format!("{}, 80 %", show.word(label)), String::new(), from_to(outer, show), String::new()]);
        table.push(vec![format!("{}, 50 %", show.word(label)), String::new(), from_to(inner, show), String::new()]);
        said.push(say!(
            show,
            "{0}: middle {1}, 80 % range {2}",
            label,
            money(outer.middle, show),
            from_to(outer, show)
        ));
    }
    Some(Plot {
        title: "What each sale says of this car",
        description: say!(show, "{0} sales, each adjusted to this car. {1}.", rows.len(), said.join(". ")),
        x: scale.of_money("Price", show, MOST_TICKS),
        y: Axis { title: String::new(), ticks },
        lanes: Some(lanes),
        series,
        note: String::new(),
        head: vec!["Sale", "Price", "Adjusted", "Weight"],
        rows: table,
    })
}

/// A sale in a picture of price against something: where it lies, what it fetched, and its price adjusted for
/// everything else.
struct Placed {
    name: String,
    shown: String,
    at: f64,
    paid: f64,
    adjusted: f64,
}

/// The price adjusted for everything but one column.
fn but_for(row: &GridRow, column: Column) -> f64 {
    let this = Column::ALL.iter().zip(&row.line.adjustments).find(|(here, _)| **here == column);
    // The last step of the grid undone: the adjustment multiplied by exp(−d β).
    this.map_or(row.line.adjusted, |(_, step)| row.line.adjusted * libm::exp(step.difference * step.rate))
}

/// The fit's rate for a column.
fn rate(comparison: &Comparison, column: Column) -> f64 {
    Column::ALL.iter().zip(&comparison.fit.beta).find(|(here, _)| **here == column).map_or(0.0, |(_, rate)| *rate)
}

/// The words of a picture of price against something.
struct Words {
    title: &'static str,
    against: &'static str,
    adjusted: &'static str,
    line: &'static str,
    head: Vec<&'static str>,
}

/// Price against something: `subject` is where this car lies on it, `per_one`
/// the fit's rate for one of it.
fn against(
    words: Words,
    placed: &[Placed],
    subject: f64,
    per_one: f64,
    comparison: &Comparison,
    show: &Show,
    axis: impl FnOnce(&Scale) -> Axis,
) -> Option<Plot> {
    if placed.is_empty() {
        return None;
    }
    let few = placed.len() <= MOST_NAMED;
    let x = Scale::around(placed.iter().map(|sale| sale.at).chain([subject]))?.not_below(0.0);
    let by_fit = |at: f64| comparison.range.middle * libm::exp(per_one * (at - subject));
    let line: Vec<(f64, f64)> = x.spaced(LINE_PLACES).into_iter().map(|at| (at, by_fit(at))).collect();
    let prices = placed.iter().flat_map(|sale| [Some(sale.adjusted), few.then_some(sale.paid)]).flatten();
    let range = &comparison.range;
    let y = Scale::around(prices.chain([range.low, range.high]))?.not_below(0.0);
    let place = |at: f64, price: f64| (x.at(at), y.at(price));
    let marks: Vec<Point> = placed.iter().map(|sale| place(sale.at, sale.adjusted)).collect();
    let mut series = Vec::new();
    if few {
        let paid: Vec<Point> = placed.iter().map(|sale| place(sale.at, sale.paid)).collect();
        series
            .push(Series { name: "", shape: Shape::Stems(paid.iter().copied().zip(marks.iter().copied()).collect()) });
        series.push(Series { name: "price, premium included", shape: Shape::Marks(Mark::Ring, paid) });
    }
    series.push(Series { name: words.adjusted, shape: Shape::Marks(Mark::Disc, marks) });
    let line: Vec<Point> = line.into_iter().map(|(at, price)| place(at, price)).collect();
    series.push(Series { name: words.line, shape: Shape::Line(line) });
    let upright = Shape::Upright { across: x.at(subject), ends: ends(range, &comparison.inner, &y) };
    series.push(Series { name: "this car, market range", shape: upright });
    let first = placed.iter().map(|sale| sale.at).fold(f64::INFINITY, f64::min);
    let last = placed.iter().map(|sale| sale.at).fold(f64::NEG_INFINITY, f64::max);
    let description = say!(
        show,
        "{0} sales. {1} By the fit a car like this one goes from {2} at the left-most sale to {3} at the right-most; this \
         car stands at {4}.",
        placed.len(),
        words.against,
        money(by_fit(first), show),
        money(by_fit(last), show),
        money(range.middle, show)
    );
    let left = comparison.rows.len() - placed.len();
    let note = match left {
        0 => String::new(),
        1 => show.word("One sale has no mileage and is not drawn.").to_owned(),
        _ => say!(show, "{0} sales have no mileage and are not drawn.", left),
    };
    let table = placed
        .iter()
        .map(|sale| vec![sale.name.clone(), sale.shown.clone(), money(sale.paid, show), money(sale.adjusted, show)]);
    Some(Plot {
        title: words.title,
        description,
        x: axis(&x),
        y: y.of_money("Price", show, MOST_TICKS),
        lanes: None,
        series,
        note,
        head: words.head,
        rows: table.collect(),
    })
}

/// Price against mileage, with the fit's line. Nothing if no sale in the grid has a mileage.
#[must_use]
pub fn against_mileage(worksheet: &Worksheet, comparison: &Comparison, show: &Show) -> Option<Plot> {
    let unit = show.unit(Quantity::Distance);
    let mileage = |row: &GridRow| worksheet.sales.get(row.sale)?.mileage.value();
    let known: Vec<Placed> = comparison
        .rows
        .iter()
        .filter_map(|row| {
            let mileage = mileage(row)?;
            Some(Placed {
                name: name(row, show),
                shown: show.quantity(Quantity::Distance, mileage.0),
                at: mileage.to(unit),
                paid: row.line.price,
                adjusted: but_for(row, Column::ThousandMiles),
            })
        })
        .collect();
    let thousand_miles = Unit::Mile.to_si(1000.0);
    // A car of unknown mileage is compared at the one that was filled in for it.
    let filled_in = comparison.rows.iter().find_map(|row| {
        let difference = row.line.adjustments.first()?.difference;
        Some(mileage(row)?.0 - difference * thousand_miles)
    });
    let subject = unit.from_si(worksheet.car.mileage.value().map_or(filled_in?, |mileage| mileage.0));
    let per_one = rate(comparison, Column::ThousandMiles) * unit.to_si(1.0) / thousand_miles;
    let words = Words {
        title: "Price against mileage",
        against: "Mileage runs to the right, price upward; each sale is adjusted for everything but its mileage.",
        adjusted: "adjusted for all but mileage",
        line: "a car like this one, by mileage",
        head: vec!["Sale", "Mileage", "Price", "Adjusted for all but mileage"],
    };
    against(words, &known, subject, per_one, comparison, show, |x| x.of_distance("Mileage", show, MOST_TICKS))
}

/// Price against date, with the fit's line. Nothing without a day of valuation.
#[must_use]
pub fn against_date(worksheet: &Worksheet, comparison: &Comparison, show: &Show) -> Option<Plot> {
    let known: Vec<Placed> = comparison
        .rows
        .iter()
        .filter_map(|row| {
            let date = worksheet.sales.get(row.sale)?.date.value()?;
            Some(Placed {
                name: name(row, show),
                shown: show.date(date),
                at: months(date),
                paid: row.line.price,
                adjusted: but_for(row, Column::Month),
            })
        })
        .collect();
    let subject = months(worksheet.visit.date.value()?);
    let words = Words {
        title: "Price against date",
        against: "Time runs to the right, price upward; each sale is adjusted for everything but its date.",
        adjusted: "adjusted for all but time",
        line: "a car like this one, by date",
        head: vec!["Sale", "Date", "Price", "Adjusted for all but time"],
    };
    let per_one = rate(comparison, Column::Month);
    against(words, &known, subject, per_one, comparison, show, |x| x.of_months("Date", show, MOST_TICKS))
}

/// A date in months from the year 0, the day as a part of its month.
fn months(date: Date) -> f64 {
    f64::from(date.year() * 12 + i32::from(date.month()) - 1) + (f64::from(date.day()) - 1.0) / 31.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::{Appraisal, appraise};
    use crate::sheet::{demo, extend::extend, general::general};

    fn demo_appraisal() -> (Worksheet, Appraisal) {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let worksheet = demo::worksheet().unwrap();
        let appraisal = appraise(&worksheet, &sheet);
        (worksheet, appraisal)
    }

    fn marks(plot: &Plot, wanted: Mark) -> Vec<Point> {
        let of = |series: &Series| match &series.shape {
            Shape::Marks(mark, points) if *mark == wanted => points.clone(),
            _ => Vec::new(),
        };
        plot.series.iter().flat_map(of).collect()
    }

    #[track_caller]
    fn is_sound(plot: &Plot) {
        let within = |(x, y): &Point| (0.0..=1.0).contains(x) && (0.0..=1.0).contains(y);
        for series in &plot.series {
            let sound = match &series.shape {
                Shape::Marks(_, points) | Shape::Line(points) => points.iter().all(within),
                Shape::Stems(stems) => stems.iter().all(|(from, to)| within(from) && within(to)),
                Shape::Range { across, ends } | Shape::Upright { across, ends } => {
                    (0.0..=1.0).contains(across) && ends.is_sorted()
                }
            };
            assert!(sound, "{series:?}");
        }
        assert!(plot.x.ticks.len() >= 2 && plot.y.ticks.len() >= 2, "{plot:?}");
        assert!(plot.x.ticks.is_sorted_by(|a, b| a.at < b.at));
        assert!(plot.rows.iter().all(|row| row.len() == plot.head.len()));
    }

    #[test]
    fn every_sale_has_a_lane_and_the_ranges_theirs() {
        let (_, appraisal) = demo_appraisal();
        let comparison = appraisal.comparison.as_ref().unwrap();
        let plot = adjusted(comparison, appraisal.worth.as_deref(), &Show::default()).unwrap();
        is_sound(&plot);
        assert_eq!(plot.lanes, Some(10));
        let labels: Vec<&str> = plot.y.ticks.iter().map(|tick| tick.label.as_str()).collect();
        assert_eq!((labels[0], labels[8], labels[9]), ("Sale 1", "Market", "As it stands"));
        assert_eq!((marks(&plot, Mark::Disc).len(), marks(&plot, Mark::Ring).len()), (8, 8));
        assert_eq!(plot.rows.len(), 12);
        assert!(plot.description.starts_with("8 sales, each adjusted to this car. Market: middle £"));
        let alone = adjusted(comparison, None, &Show::default()).unwrap();
        assert_eq!(alone.lanes, Some(9));
    }

    #[test]
    fn many_sales_share_the_lanes() {
        let (_, appraisal) = demo_appraisal();
        let mut comparison = (*appraisal.comparison.unwrap()).clone();
        let row = comparison.rows[0].clone();
        comparison.rows = vec![row; 1000];
        let plot = adjusted(&comparison, None, &Show::default()).unwrap();
        is_sound_but_for_names(&plot);
        assert_eq!(plot.lanes, Some(41));
    }

    #[track_caller]
    fn is_sound_but_for_names(plot: &Plot) {
        assert!(marks(plot, Mark::Ring).is_empty());
        assert_eq!(marks(plot, Mark::Disc).len(), 1000);
        assert_eq!(plot.y.ticks.len(), 1);
    }

    #[test]
    fn the_line_goes_through_this_car() {
        let (worksheet, appraisal) = demo_appraisal();
        let comparison = appraisal.comparison.as_ref().unwrap();
        for plot in [
            against_mileage(&worksheet, comparison, &Show::default()).unwrap(),
            against_date(&worksheet, comparison, &Show::default()).unwrap(),
        ] {
            is_sound(&plot);
            let line = plot.series.iter().find_map(|series| match &series.shape {
                Shape::Line(points) => Some(points.clone()),
                _ => None,
            });
            let car = plot.series.iter().find_map(|series| match series.shape {
                Shape::Upright { across, ends } => Some((across, ends[2])),
                _ => None,
            });
            let (line, (across, middle)) = (line.unwrap(), car.unwrap());
            // On the piece of the line around the car, between its two ends.
            let piece = line.windows(2).find(|piece| piece[0].0 <= across && across <= piece[1].0).unwrap();
            let share = (across - piece[0].0) / (piece[1].0 - piece[0].0);
            let here = piece[0].1 + share * (piece[1].1 - piece[0].1);
            assert!((here - middle).abs() < 2e-3, "{here} {middle}");
        }
    }

    #[test]
    fn sales_without_a_mileage_are_not_drawn() {
        let (worksheet, appraisal) = demo_appraisal();
        let comparison = appraisal.comparison.as_ref().unwrap();
        let plot = against_mileage(&worksheet, comparison, &Show::default()).unwrap();
        assert_eq!(marks(&plot, Mark::Disc).len(), 7);
        assert_eq!(plot.note, "One sale has no mileage and is not drawn.");
        let mut blank = worksheet.clone();
        for sale in &mut blank.sales {
            sale.mileage = crate::worksheet::Entry::Empty;
        }
        assert_eq!(against_mileage(&blank, comparison, &Show::default()), None);
        assert!(against_date(&blank, comparison, &Show::default()).is_some());
    }

    #[test]
    fn adjusted_for_all_but_one_column_undoes_that_one() {
        let (_, appraisal) = demo_appraisal();
        for row in &appraisal.comparison.as_ref().unwrap().rows {
            let whole: f64 = row.line.adjustments.iter().map(|step| step.difference * step.rate).sum();
            let miles = row.line.adjustments[0];
            let want = row.line.price * libm::exp(-(whole - miles.difference * miles.rate));
            assert!((but_for(row, Column::ThousandMiles) / want - 1.0).abs() < 1e-12);
        }
    }
}
