//! What moves the worth: each assumption taken down and up, and where the middle then lies.
//!
//! Nothing is derived here: each end is the middle of the same reckoning with one thing changed. The market is
//! fitted again for what concerns the sales; the faults are reasoned and priced again for what concerns them.
//! All of it together takes a few dozen fits, so it is no part of [`super::appraise`].

use crate::figure::Amount;
use crate::phrase;
use crate::phrase::Phrase;
use std::sync::Arc;

use serde::Serialize;

use super::Appraisal;
use super::comparison::{Comparison, compare, compare_at};
use super::evidence::{self, Measured};
use super::prepared::{Prepared, prepare};
use super::repairs;
use super::valuation::Worth;
use crate::condition;
use crate::market::imputed::ScoreSource;
use crate::market::rates::{Column, Spread};
use crate::ordered;
use crate::reason::exact::Inference;
use crate::sheet::TypeSheet;
use crate::units::Money;
use crate::worksheet::settings::RateChoice;
use crate::worksheet::{Entry, Worksheet};
use crate::worth::rounding;

/// Unmade checks shown, the ones with the largest swing.
const MOST_CHECKS: usize = 5;

/// By how much the price of an hour is moved, as a share of it. Judgement: workshops of one district differ so much.
const LABOUR_DOUBT: f64 = 0.2;

/// What moves the middle by less than this part of the worth's step is not drawn.
const PART_OF_STEP: i64 = 10;

/// The state of things as they are.
const AS_IT_IS: &str = "as it is";

/// One end of a driver.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct End {
    /// Where the middle of the worth then lies.
    pub middle: Money,
    /// When that is.
    pub when: Phrase,
}

/// Something that the worth rests on.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Driver {
    /// What it is.
    pub label: Phrase,
    /// The end at which the middle is lower.
    pub low: End,
    /// The end at which it is higher.
    pub high: End,
}

impl Driver {
    /// From ends in any order.
    fn between(label: impl Into<Phrase>, ends: impl IntoIterator<Item = End>) -> Option<Self> {
        let mut ends: Vec<End> = ends.into_iter().collect();
        ordered::sort(&mut ends, |a, b| a.middle.cmp(&b.middle));
        let mut ends = ends.into_iter();
        let low = ends.next()?;
        let high = ends.next_back()?;
        Some(Self { label: label.into(), low, high })
    }

    /// How far it moves the middle.
    #[must_use]
    pub fn reach(&self) -> Money {
        self.high.middle - self.low.middle
    }
}

/// A ruled scale of money, with marks at round amounts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Scale {
    /// Where it begins.
    pub from: Money,
    /// Where it ends; above `from`.
    pub to: Money,
    /// Its marks, from `from` to `to`.
    pub marks: Vec<Money>,
}

impl Scale {
    /// A scale that holds two amounts, with three to five marks.
    #[must_use]
    pub fn over(low: Money, high: Money) -> Self {
        let width = (high - low).0.max(1);
        // The largest round step that the width holds once: `step` wants it to be held twenty times.
        let step = rounding::step(Money(width.saturating_mul(20))).0.max(1);
        let from = low.0.div_euclid(step).saturating_mul(step);
        let steps = (high.0.saturating_sub(from)).div_euclid(step) + 1;
        let marks: Vec<Money> = (0..=steps.min(8)).map(|place| Money(from.saturating_add(place * step))).collect();
        let to = marks.last().copied().unwrap_or(high);
        Self { from: Money(from), to, marks }
    }

    /// Where an amount lies, in hundredths of the length; within 0 to 100.
    #[must_use]
    pub fn at(&self, amount: Money) -> f64 {
        let length = (self.to - self.from).minor().max(1.0);
        (100.0 * (amount - self.from).minor() / length).clamp(0.0, 100.0)
    }
}

/// What moves the worth.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Drivers {
    /// The middle of the worth as things are.
    pub middle: Money,
    /// What moves it, furthest first.
    pub moved: Vec<Driver>,
    /// Names of what was tried and moves it by less than `least`.
    pub still: Vec<Phrase>,
    /// The least movement that is drawn.
    pub least: Money,
    /// The scale that holds every end.
    pub scale: Scale,
}

/// What moves the worth; nothing if there is no worth.
#[must_use]
pub fn drivers(worksheet: &Worksheet, sheet: &TypeSheet, appraisal: &Appraisal) -> Option<Drivers> {
    let worth = appraisal.worth.as_ref()?;
    let compared = appraisal.comparison.as_ref().ok()?;
    let moved = Moved { worksheet, appraisal, compared, worth };
    let faults = Faults::new(worksheet, sheet, appraisal, compared);
    let mut found: Vec<Driver> = Column::ALL.into_iter().filter_map(|column| moved.rate(column)).collect();
    found.extend(moved.spread());
    found.extend(moved.unseen_condition());
    found.extend(moved.weightiest_sale());
    found.extend(faults.labour());
    found.extend(faults.checks());
    let least = Money((worth.rounded.step.0 / PART_OF_STEP).max(1));
    let (mut moved, still): (Vec<Driver>, Vec<Driver>) = found.into_iter().partition(|driver| driver.reach() >= least);
    ordered::sort(&mut moved, |a, b| b.reach().cmp(&a.reach()));
    let middle = Money::nearest(worth.stands.middle);
    let low = moved.iter().map(|driver| driver.low.middle).fold(middle, Money::min);
    let high = moved.iter().map(|driver| driver.high.middle).fold(middle, Money::max);
    let still = still.into_iter().map(|driver| driver.label).collect();
    Some(Drivers { middle, moved, still, least, scale: Scale::over(low, high) })
}

/// What concerns the sales: the deduction stays.
struct Moved<'a> {
    worksheet: &'a Worksheet,
    appraisal: &'a Appraisal,
    compared: &'a Comparison,
    worth: &'a Worth,
}

impl Moved<'_> {
    /// The middle of another comparison, the faults as they are.
    fn end(&self, compared: &Comparison, when: Phrase) -> End {
        let middle = (compared.range.middle - self.worth.deduction.minor()).max(0.0);
        End { middle: Money::nearest(middle), when }
    }

    /// The end with a change to the worksheet.
    fn changed(&self, when: Phrase, change: impl FnOnce(&mut Worksheet)) -> Option<End> {
        let mut worksheet = self.worksheet.clone();
        change(&mut worksheet);
        Some(self.end(&compare(&worksheet, &self.appraisal.condition).ok()?, when))
    }

    fn now(&self) -> End {
        End { middle: Money::nearest(self.worth.stands.middle), when: AS_IT_IS.into() }
    }

    /// A rate less and more by its doubt.
    fn rate(&self, column: Column) -> Option<Driver> {
        let assumed = self.compared.rates.of(column);
        let ends = [-1.0, 1.0].into_iter().filter_map(|sign: f64| {
            let mean = (assumed.mean + sign * assumed.sd).clamp(-1.0, 1.0);
            let own = RateChoice { mean: mean.into(), spread: assumed.sd.into() };
            self.changed(rate_in_words(column, mean), |worksheet| {
                worksheet.settings.rates.insert(column, own);
            })
        });
        Driver::between(rate_label(column), ends)
    }

    /// The other presets of the spread.
    fn spread(&self) -> Option<Driver> {
        let mine = self.worksheet.settings.spread;
        let others = Spread::ALL.into_iter().filter(|spread| *spread != mine);
        let ends = others
            .filter_map(|spread| self.changed(spread.name().into(), |worksheet| worksheet.settings.spread = spread));
        Driver::between("Assumed spread of such cars' prices", ends.chain([self.now()]))
    }

    /// The base score less and more by what is not known of the unseen.
    fn unseen_condition(&self) -> Option<Driver> {
        let base = self.compared.base_score;
        let cover = if self.compared.base_score_filled_in { 0.0 } else { self.appraisal.condition.overall.cover };
        let doubt = ScoreSource::Guess.sd_points() * (1.0 - cover);
        let ends = [-1.0, 1.0].into_iter().filter_map(|sign: f64| {
            let score = (base + sign * doubt).clamp(0.0, 100.0);
            let compared = compare_at(self.worksheet, &self.appraisal.condition, Some(score)).ok()?;
            Some(self.end(&compared, phrase!("base score {0}", Amount::Number(score, 1))))
        });
        Driver::between("Condition of what was not looked at", ends)
    }

    /// The sale with the largest weight, left out.
    fn weightiest_sale(&self) -> Option<Driver> {
        let row = self.compared.rows.iter().max_by(|a, b| a.line.share.total_cmp(&b.line.share))?;
        let end = self.changed("left out".into(), |worksheet| {
            if let Some(sale) = worksheet.sales.get_mut(row.sale) {
                sale.left_out = true;
            }
        })?;
        Driver::between(phrase!("Sale {0}, the weightiest", row.sale + 1), [end, self.now()])
    }
}

/// What concerns the faults: the market stays.
struct Faults<'a> {
    worksheet: &'a Worksheet,
    sheet: &'a TypeSheet,
    appraisal: &'a Appraisal,
    market: f64,
    prepared: Prepared,
    told: evidence::Told,
}

impl<'a> Faults<'a> {
    fn new(worksheet: &'a Worksheet, sheet: &'a TypeSheet, appraisal: &'a Appraisal, compared: &Comparison) -> Self {
        let prepared = prepare(sheet, condition::tags(sheet, worksheet));
        let measured = Arc::new(Measured::of(sheet, worksheet, &prepared.tags));
        let curable = prepared.curable(sheet, worksheet).raised(measured.raised());
        let told = evidence::told(sheet, worksheet, measured, &curable);
        Self { worksheet, sheet, appraisal, market: compared.range.middle, prepared, told }
    }

    /// The middle with another worksheet, or with more signs known to be absent.
    fn middle(&self, worksheet: &Worksheet, absent: &[&str]) -> Option<f64> {
        let known = self.told.signs.iter().map(|(id, known)| (id.as_str(), known.seen));
        // What was seen stays seen.
        let signs = absent.iter().map(|sign| (*sign, false)).chain(known).collect();
        let faults = self.told.faults.iter().map(|(id, there)| (id.as_str(), *there)).collect();
        let evidence = self.prepared.network.evidence(&signs, &faults);
        let inference = Inference::new(&self.prepared.network.network, &evidence);
        let reckoned = repairs::reckon(self.sheet, worksheet, &self.prepared, &inference);
        Some((self.market - reckoned.deduction()?.mean).max(0.0))
    }

    /// The price of an hour less and more by a fifth.
    fn labour(&self) -> Option<Driver> {
        let settings = &self.worksheet.settings;
        let sheets = (self.sheet.currency == settings.currency).then_some(self.sheet.labour_rate);
        let hour = settings.labour_rate.value().or(sheets)?;
        let ends = [-1.0, 1.0].into_iter().filter_map(|sign: f64| {
            let rate = Money::nearest(hour.minor() * (1.0 + sign * LABOUR_DOUBT));
            let mut worksheet = self.worksheet.clone();
            worksheet.settings.labour_rate = Entry::Read(rate);
            let middle = Money::nearest(self.middle(&worksheet, &[])?);
            Some(End { middle, when: phrase!("{0} an hour", Amount::Exact(rate)) })
        });
        Driver::between("Price of an hour's work", ends)
    }

    /// The unmade checks with the largest swing: what the worth would be if nothing, or something, were found.
    fn checks(&self) -> Vec<Driver> {
        let mut looks: Vec<_> = self.appraisal.looking.next.iter().collect();
        ordered::sort(&mut looks, |a, b| b.swing.cmp(&a.swing));
        let driver = |look: &&super::looking::NextLook| {
            let check = self.sheet.check(&look.check)?;
            let absent: Vec<&str> = check.signs.iter().map(|sign| sign.id.as_str()).collect();
            let clear = self.middle(self.worksheet, &absent)?;
            let found = (clear - look.swing.minor()).max(0.0);
            let end = |middle: f64, when: &'static str| End { middle: Money::nearest(middle), when: when.into() };
            let ends = [end(found, "something is found"), end(clear, "nothing is found")];
            Driver::between(check.name.clone(), ends)
        };
        looks.iter().take(MOST_CHECKS).filter_map(driver).collect()
    }
}

const fn rate_label(column: Column) -> &'static str {
    match column {
        Column::ThousandMiles => "What mileage takes",
        Column::Score => "What condition gives",
        Column::Month => "How prices drift with time",
        Column::Asking => "How far asking lies above sold",
        Column::Dealer => "How far a dealer's price lies above a private one",
        Column::Auction => "How far an auction price lies above a private one",
    }
}

/// A rate as a person says it; small rates on the logarithm are as many hundredths.
fn rate_in_words(column: Column, rate: f64) -> Phrase {
    let per_cent = |places| Amount::Number(100.0 * rate, places);
    match column {
        Column::ThousandMiles | Column::Score | Column::Month => phrase!("{0} % a {1}", per_cent(2), column.unit()),
        Column::Asking | Column::Dealer | Column::Auction => phrase!("{0} %", per_cent(0)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::appraise;
    use crate::sheet::{demo, extend::extend, general::general};
    use crate::worksheet::{Finding, Seen};

    fn demo() -> (Worksheet, TypeSheet) {
        (demo::worksheet().unwrap(), extend(&general().unwrap(), &demo::curlew().unwrap()))
    }

    fn found(worksheet: &Worksheet, sheet: &TypeSheet) -> Option<Drivers> {
        drivers(worksheet, sheet, &appraise(worksheet, sheet))
    }

    /// The driver that bears a label, drawn or not.
    #[track_caller]
    fn named<'a>(drivers: &'a Drivers, label: &str) -> &'a Driver {
        drivers
            .moved
            .iter()
            .find(|driver| driver.label.to_string() == label)
            .unwrap_or_else(|| panic!("{label}: {drivers:#?}"))
    }

    #[test]
    fn each_end_is_the_middle_of_the_whole_reckoning_with_one_thing_changed() {
        let (worksheet, sheet) = demo();
        let drivers = found(&worksheet, &sheet).unwrap();
        let middle = |change: &dyn Fn(&mut Worksheet)| {
            let mut changed = worksheet.clone();
            change(&mut changed);
            Money::nearest(appraise(&changed, &sheet).worth.unwrap().stands.middle)
        };
        // The deduction is kept in whole pence between, so an end may be one off.
        let near = |a: Money, b: Money| assert!((a - b).0.abs() <= 1, "{a:?} {b:?}");
        let condition = named(&drivers, "What condition gives");
        let rate = |mean: f64| {
            move |worksheet: &mut Worksheet| {
                worksheet.settings.rates.insert(Column::Score, RateChoice { mean: mean.into(), spread: 0.005.into() });
            }
        };
        let ends = [middle(&rate(0.005)), middle(&rate(0.015))];
        near(condition.low.middle, ends[0].min(ends[1]));
        near(condition.high.middle, ends[0].max(ends[1]));
        assert!(
            [&condition.low.when, &condition.high.when]
                .iter()
                .any(|when| when.to_string() == "0.50 % a point of score")
        );
        let labour = named(&drivers, "Price of an hour's work");
        let hour = worksheet.settings.labour_rate.value().unwrap_or(sheet.labour_rate);
        let dear = Money::nearest(hour.minor() * 1.2);
        near(labour.low.middle, middle(&|worksheet| worksheet.settings.labour_rate = Entry::Read(dear)));
    }

    #[test]
    fn a_check_that_finds_nothing_raises_the_worth_as_far_as_it_says() {
        let (worksheet, sheet) = demo();
        let appraisal = appraise(&worksheet, &sheet);
        let drivers = drivers(&worksheet, &sheet, &appraisal).unwrap();
        let look = appraisal.looking.next.iter().max_by_key(|look| look.swing).unwrap();
        let check = sheet.check(&look.check).unwrap();
        let driver = named(&drivers, &check.name);
        // Looked for and not seen, with no grade given: the score does not move, only the faults do.
        let mut changed = worksheet.clone();
        let signs = check.signs.iter().map(|sign| (sign.id.clone(), Seen::No)).collect();
        changed.findings.insert(check.id.clone(), Finding { signs, ..Finding::default() });
        let clear = Money::nearest(appraise(&changed, &sheet).worth.unwrap().stands.middle);
        assert_eq!((driver.high.middle, driver.high.when.to_string()), (clear, "nothing is found".to_owned()));
        assert_eq!(driver.reach(), look.swing);
        assert!(driver.low.middle < drivers.middle && drivers.middle < driver.high.middle);
    }

    #[test]
    fn furthest_first_and_all_within_the_scale() {
        let (worksheet, sheet) = demo();
        let Drivers { moved, least, scale, middle, .. } = found(&worksheet, &sheet).unwrap();
        assert!(moved.len() > 5 && moved.is_sorted_by(|a, b| a.reach() >= b.reach()));
        assert!(moved.iter().all(|driver| driver.reach() >= least));
        assert!(moved.iter().all(|driver| scale.from <= driver.low.middle && driver.high.middle <= scale.to));
        assert!(scale.from <= middle && middle <= scale.to);
    }

    #[test]
    fn one_sale_alone_is_not_left_out() {
        let (mut worksheet, sheet) = demo();
        worksheet.sales.truncate(1);
        let Drivers { moved, still, .. } = found(&worksheet, &sheet).unwrap();
        assert!(
            !moved.iter().map(|driver| &driver.label).chain(&still).any(|label| label.to_string().starts_with("Sale "))
        );
    }

    #[test]
    fn without_a_worth_nothing_moves_it() {
        let (mut worksheet, sheet) = demo();
        worksheet.sales.clear();
        assert_eq!(found(&worksheet, &sheet), None);
    }

    #[track_caller]
    fn scale(low: i64, high: i64, marks: &[i64]) {
        let scale = Scale::over(Money(low), Money(high));
        assert_eq!(scale.marks.iter().map(|mark| mark.0).collect::<Vec<_>>(), marks, "{low} to {high}");
        assert!(scale.from.0 <= low && high <= scale.to.0);
        assert_eq!((scale.at(scale.from), scale.at(scale.to)), (0.0, 100.0));
    }

    #[test]
    fn scales_have_round_marks() {
        scale(1_572_520, 2_953_430, &[1_000_000, 2_000_000, 3_000_000]);
        scale(1_990_000, 2_190_000, &[1_800_000, 2_000_000, 2_200_000]);
        scale(0, 0, &[0, 1]);
        scale(0, 490, &[0, 200, 400, 600]);
    }
}
