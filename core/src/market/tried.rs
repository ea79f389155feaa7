//! How far the range can be trusted: what trying the method on open data showed, in plain words. The figures
//! are those of `tests/data/reproduction.csv`, which the tests reproduce.

use crate::phrase;
use crate::phrase::Phrase;

/// Least and most of a hundred sales that fell within the 80 % range, over all sets and numbers of sales tried.
pub const HELD: (u32, u32) = (72, 97);

/// Least and most per cent by which the middle missed in half of the cases.
pub const MISSED: (u32, u32) = (7, 23);

/// What is known of the range, a paragraph each.
#[must_use]
pub fn sentences() -> [Phrase; 3] {
    [
        phrase!("Tried on open data (asking prices of everyday cars, sales of houses), the 80 % range held between {0} and {1} \
             of 100 sales, and in half of the cases the middle missed by less than {2} % to {3} %, depending on the market.", HELD.0, HELD.1, MISSED.0, MISSED.1),
        "So it is right on average, not in every market. Where like cars sell closer together than the spread assumed \
         below, the range is too wide; where they sell further apart, it is too narrow."
            .into(),
        "The middle is about as near as a good grid worked by hand, and far nearer than a plain average when there are \
         few sales; the range stays steadier with three or four sales and with a wild one. That all this holds for older \
         cars too is an assumption."
            .into(),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The figures in the sentence are those of the reproduced table: the recommended method on clean data.
    #[test]
    fn the_figures_are_those_of_the_table() {
        let table = include_str!("../../../tests/data/reproduction.csv");
        let head: Vec<&str> = table.lines().next().unwrap().split(',').collect();
        let column = |name: &str| head.iter().position(|here| *here == name).unwrap();
        let rows: Vec<Vec<&str>> = table.lines().skip(1).map(|line| line.split(',').collect()).collect();
        let of_ours = |name: &str| -> (f64, f64) {
            let values = rows
                .iter()
                .filter(|row| row[column("method")] == "e_bayes_t_gross" && row[column("scenario")] == "clean")
                .map(|row| row[column(name)].parse::<f64>().unwrap());
            values.fold((f64::INFINITY, 0.0), |(least, most), value| (least.min(value), most.max(value)))
        };
        let rounded = |(least, most): (f64, f64)| (least.round() as u32, most.round() as u32);
        assert_eq!(rounded(of_ours("cov80")), HELD);
        assert_eq!(rounded(of_ours("mdape")), MISSED);
        assert!(sentences()[0].to_string().contains("between 72 and 97 of 100 sales"));
    }
}
