//! The worth as it is stated: both ranges at one step, and the label of a range that is mostly assumed.

use crate::market::diagnostics::Warning;
use crate::worth::rounding::{RoundedRange, at_the_step};

use super::comparison::Comparison;
use super::valuation::Worth;

impl Worth {
    /// The 50 % range at the step of the 80 % range: a narrower range is no finer knowledge.
    #[must_use]
    pub fn inner_rounded(&self) -> RoundedRange {
        at_the_step(&self.inner, self.rounded.step)
    }

    /// The worth once the chosen work is done, at the step of the worth as it stands, so that the two compare.
    #[must_use]
    pub fn when_done_rounded(&self) -> RoundedRange {
        at_the_step(&self.when_done, self.rounded.step)
    }
}

impl Comparison {
    /// The label of a range whose width comes from the assumed spread more than from the sales, if it is one.
    #[must_use]
    pub fn mostly_assumed(&self) -> Option<Warning> {
        let assumed = |warning: &&Warning| matches!(warning, Warning::PriorDriven | Warning::MostlyAssumed);
        self.warnings.iter().find(assumed).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::appraise::appraise;
    use crate::sheet::{demo, extend::extend, general::general};

    #[test]
    fn the_narrower_range_is_stated_no_finer() {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let worth = appraise(&demo::worksheet().unwrap(), &sheet).worth.unwrap();
        let (outer, inner) = (worth.rounded, worth.inner_rounded());
        assert_eq!(inner.step, outer.step);
        assert_eq!(inner.middle, outer.middle);
        assert!(outer.low < inner.low && inner.high < outer.high);
        assert_eq!((inner.low.0 % inner.step.0, inner.high.0 % inner.step.0), (0, 0));
    }

    #[track_caller]
    fn check(sales: usize, expected: Option<Warning>) {
        let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
        let mut worksheet = demo::worksheet().unwrap();
        worksheet.sales.retain(|sale| !sale.left_out);
        worksheet.sales.truncate(sales);
        let comparison = appraise(&worksheet, &sheet).comparison.unwrap();
        assert_eq!(comparison.rows.len(), sales);
        assert_eq!(comparison.mostly_assumed(), expected);
    }

    #[test]
    fn few_sales_are_labelled() {
        check(1, Some(Warning::PriorDriven));
        check(3, Some(Warning::MostlyAssumed));
        check(6, None);
    }
}
