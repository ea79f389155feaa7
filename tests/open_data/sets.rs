//! The data sets: what is read from each and which rates are stated for it.

use std::collections::BTreeMap;

use kerbworth_core::market::rates::RatePrior;

/// One car or house.
#[derive(Debug, Clone)]
pub struct Row {
    /// Natural logarithm of the price, in thousands.
    pub log_price: f64,
    /// Covariates, one a rate.
    pub covariates: Vec<f64>,
}

/// A data set with its rates.
#[derive(Debug)]
pub struct Set {
    /// Its name in the table of reference figures.
    pub name: &'static str,
    /// Its number in the seeds.
    pub number: u64,
    pub rates: Vec<RatePrior>,
    /// The rows of each group in file order; groups in alphabetical order.
    pub groups: Vec<Vec<Row>>,
    /// Places of mileage and age among the covariates, where the set has both.
    pub mileage_and_age: Option<(usize, usize)>,
}

/// The rows of a CSV file without quotes, each a map from column to text.
pub fn rows(text: &str) -> Vec<BTreeMap<String, String>> {
    let mut lines = text.lines();
    let columns: Vec<&str> = lines.next().unwrap().split(',').collect();
    lines
        .map(|line| {
            assert_eq!(line.split(',').count(), columns.len(), "{line}");
            columns.iter().map(ToString::to_string).zip(line.split(',').map(str::to_owned)).collect()
        })
        .collect()
}

fn set(name: &'static str, number: u64, text: &str, columns: &[(&str, f64, f64)]) -> Set {
    let mut groups: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for row in rows(text) {
        let number = |column: &str| row[column].parse::<f64>().unwrap();
        groups.entry(row["group"].clone()).or_default().push(Row {
            log_price: number("price_k").ln(),
            covariates: columns.iter().map(|(column, _, _)| number(column)).collect(),
        });
    }
    let place = |wanted: &str| columns.iter().position(|(column, _, _)| *column == wanted);
    Set {
        name,
        number,
        rates: columns.iter().map(|(_, mean, sd)| RatePrior { mean: *mean, sd: *sd }).collect(),
        groups: groups.into_values().collect(),
        mileage_and_age: place("miles_k").zip(place("age_years")),
    }
}

pub fn accord() -> Set {
    let columns = [("miles_k", -0.006, 0.004), ("age_years", -0.10, 0.05)];
    set("accord2017", 2, include_str!("../data/accord_2017.csv"), &columns)
}

const AREA: (&str, f64, f64) = ("area_100sf", 0.04, 0.02);
const AGE: (&str, f64, f64) = ("age_years", -0.004, 0.004);
const MONTH: (&str, f64, f64) = ("month", 0.0, 0.004);

pub fn ames() -> Set {
    let columns = [AREA, ("score", 0.010, 0.005), AGE, MONTH];
    set("ames_dev", 3, include_str!("../data/ames_dev.csv"), &columns)
}

pub fn grinnell() -> Set {
    set("grinnell_dev", 4, include_str!("../data/grinnell_dev.csv"), &[AREA, AGE, MONTH])
}

#[test]
fn sets_are_whole() {
    let sizes = |set: Set| set.groups.iter().map(Vec::len).collect::<Vec<_>>();
    assert_eq!(sizes(accord()), [30]);
    assert_eq!(sizes(ames()).iter().sum::<usize>(), 573);
    assert_eq!((ames().groups.len(), sizes(grinnell())), (2, vec![493]));
}
