//! What a car was appraised at, in the figures that people quote.

use crate::say;
use serde::Serialize;

use crate::appraise::Appraisal;
use crate::restore::record;
use crate::sheet::Spread;
use crate::show::Show;
use crate::units::{Currency, Money};

/// The figures that a seal holds: rounded as they are shown, in the worksheet's currency.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Figures {
    /// The worth, rounded: low, middle, high of the 80 % range. None without comparable sales.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worth: Option<Spread<Money>>,
    /// What it costs to put right what was found: low, middle, high. None if not all of it has a price.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub put_right: Option<Spread<Money>>,
    /// The score, 0 to 100. None if nothing was looked at.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub score: Option<u32>,
    /// Share of the weight that was looked at, in per cent.
    pub cover: u32,
    /// Reasons not to drive the car.
    pub holds: u32,
}

record! { Figures { worth, put_right, score, cover, holds } }

impl Figures {
    /// Each figure with its name, as it is shown.
    #[must_use]
    pub fn lines(&self, show: &Show) -> Vec<(&'static str, String)> {
        let spread = |spread: &Option<Spread<Money>>| match spread {
            None => "—".to_owned(),
            Some(Spread(low, middle, high)) => {
                let [low, middle, high] = [low, middle, high].map(|amount| show.whole_money(*amount));
                say!(show, "{0} to {1}, middle {2}", low, high, middle)
            }
        };
        vec![
            ("Worth as it stands", spread(&self.worth)),
            ("To put right what was found", spread(&self.put_right)),
            ("Score", self.score.map_or_else(|| "—".to_owned(), |score| score.to_string())),
            ("Cover", show.share(f64::from(self.cover) / 100.0)),
            ("Holds", self.holds.to_string()),
        ]
    }

    /// The figures of an appraisal in its worksheet's currency.
    #[must_use]
    pub fn of(appraisal: &Appraisal, currency: Currency) -> Self {
        let found = &appraisal.repairs.found;
        // Shares and scores lie from 0 to 100; `as` saturates.
        let whole = |number: f64| libm::round(number) as u32;
        Self {
            worth: appraisal.worth.as_ref().map(|worth| {
                let rounded = &worth.rounded;
                Spread(rounded.low, rounded.middle, rounded.high)
            }),
            put_right: (!appraisal.repairs.unpriced).then(|| {
                let shown = |amount: Money| amount.to_nearest(Money(currency.minor_per_major()));
                Spread(shown(found.low), shown(found.middle), shown(found.high))
            }),
            score: appraisal.condition.overall.value.map(whole),
            cover: whole(appraisal.condition.overall.cover * 100.0),
            holds: u32::try_from(appraisal.holds.len()).unwrap_or(u32::MAX),
        }
    }
}
