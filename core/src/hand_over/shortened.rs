//! A long working cut to what a page can hold, without losing its sum.

use crate::figure::{Amount, Figure};
use crate::ordered;
use crate::phrase;
use crate::units::Money;

/// The figure with its `most` largest lines, the rest as one line that holds their sum. Only for lines of money;
/// a figure with other lines, or few, stays as it is. Lines of lines are left out.
pub fn shortened(figure: &Figure, most: usize) -> Figure {
    let amounts: Option<Vec<Money>> = figure
        .parts
        .iter()
        .map(|part| match part.amount {
            Amount::Money(money) => Some(money),
            _ => None,
        })
        .collect();
    let Some(amounts) = amounts.filter(|amounts| amounts.len() > most + 1) else { return figure.clone() };
    let mut sizes: Vec<i64> = amounts.iter().map(|amount| amount.0.saturating_abs()).collect();
    ordered::sort(&mut sizes, |a, b| b.cmp(a));
    let least = sizes.get(most.saturating_sub(1)).copied().unwrap_or_default();
    let mut kept = Vec::new();
    let mut rest = (0_usize, Money::ZERO);
    for (part, amount) in figure.parts.iter().zip(amounts) {
        if amount.0.saturating_abs() >= least && kept.len() < most {
            kept.push(Figure { parts: Vec::new(), ..part.clone() });
        } else {
            rest = (rest.0 + 1, rest.1 + amount);
        }
    }
    kept.push(Figure::new(phrase!("{0} smaller lines together", rest.0), Amount::Money(rest.1)));
    Figure { parts: kept, ..figure.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(amounts: &[i64]) -> Figure {
        let parts = amounts.iter().map(|amount| Figure::new(amount.to_string(), Amount::Money(Money(*amount))));
        Figure::new("All", Amount::Money(amounts.iter().map(|amount| Money(*amount)).sum())).from_parts(parts.collect())
    }

    #[test]
    fn keeps_the_largest_and_the_sum() {
        let short = shortened(&lines(&[1, -50, 2, 40, 3, 50]), 3);
        let shown: Vec<(String, Amount)> =
            short.parts.iter().map(|part| (part.label.to_string(), part.amount)).collect();
        let money = |amount| Amount::Money(Money(amount));
        let expected =
            [("-50", money(-50)), ("40", money(40)), ("50", money(50)), ("3 smaller lines together", money(6))]
                .map(|(label, amount)| (label.to_owned(), amount));
        assert_eq!(shown, expected);
    }

    #[test]
    fn a_short_one_stays() {
        let four = lines(&[1, 2, 3, 4]);
        assert_eq!(shortened(&four, 3), four, "one line over is no shorter as a sum");
        let words = Figure::new("All", Amount::None).from_parts(vec![Figure::new("a", Amount::None); 9]);
        assert_eq!(shortened(&words, 3), words);
    }

    #[test]
    fn equal_lines_are_cut_at_the_limit() {
        assert_eq!(shortened(&lines(&[5; 9]), 3).parts.len(), 4);
    }
}
