//! What is known of each sign and fault, and from where.
//!
//! A sign can be told by the person's mark, by a reading against its limits, by the lamp table, or by the check
//! having come out right. The first of these that says something is taken, in that order.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde::Serialize;

use crate::grade::Grade;
use crate::lamps::{self, Difference};
use crate::ordered;
use crate::readings::{self, Circumstances, Outcome, Verdict};
use crate::reason::network::Evidence;
use crate::reason::network_of::SheetNetwork;
use crate::sheet::{Tag, TypeSheet, car_tags};
use crate::units::Date;
use crate::worksheet::{Door, Ruling, Seen, Worksheet};

use crate::condition::Curable;

/// Where the word on a sign comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Origin {
    /// The person marked it.
    Marked,
    /// A reading lies inside or outside its limits.
    Reading,
    /// The lamp table.
    Lamps,
    /// The check came out right, or only with other signs.
    Cleared,
}

impl Origin {
    /// Where the word comes from, as it is shown.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Marked => "marked by hand",
            Self::Reading => "raised by a reading",
            Self::Lamps => "raised by the lamps",
            Self::Cleared => "cleared by the check",
        }
    }
}

/// What is known of a sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Known {
    /// Whether it is there.
    pub seen: bool,
    /// From where.
    pub origin: Origin,
}

/// All that is known, ready to be reasoned with.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// Signs by id.
    pub signs: Arc<BTreeMap<String, Known>>,
    /// Confirmed (`true`) and ruled-out faults by id.
    pub faults: BTreeMap<String, bool>,
    /// What was measured and watched.
    pub measured: Arc<Measured>,
}

/// What was measured and watched, before anything is made of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// Each reading that was taken, read.
    pub readings: Arc<BTreeMap<String, Outcome>>,
    /// Lamps that did not do what they should.
    pub lamps: Vec<Difference>,
}

impl Measured {
    /// Reads all readings and the lamp table.
    #[must_use]
    pub fn of(sheet: &TypeSheet, worksheet: &Worksheet, tags: &[Tag]) -> Self {
        Self {
            readings: Arc::new(read_all(sheet, worksheet, tags)),
            lamps: lamps::differences(&sheet.lamps, &worksheet.lamps),
        }
    }

    /// Signs that readings raise.
    fn by_readings(&self) -> impl Iterator<Item = &str> {
        let judged = self.readings.values().flat_map(|outcome| &outcome.judged);
        judged.filter_map(|judged| judged.sign.as_deref())
    }

    /// Signs that lamps raise.
    fn by_lamps(&self) -> impl Iterator<Item = &str> {
        self.lamps.iter().map(|difference| difference.sign.as_str())
    }

    /// Signs raised by either.
    pub fn raised(&self) -> impl Iterator<Item = &str> {
        self.by_readings().chain(self.by_lamps())
    }
}

/// Gathers what is known. `curable` knows what was raised ([`Curable::raised`]).
#[must_use]
pub fn told(sheet: &TypeSheet, worksheet: &Worksheet, measured: Arc<Measured>, curable: &Curable<'_>) -> Told {
    let mut signs: BTreeMap<&str, Known> = BTreeMap::new();
    let mut tell = |sign, seen, origin| {
        signs.entry(sign).or_insert(Known { seen, origin });
    };
    // Through the score door a finding is wear: no cause is sought, so no cost is taken as well.
    let mut worn: BTreeSet<&str> = BTreeSet::new();
    for check in &sheet.checks {
        let Some(finding) = worksheet.findings.get(&check.id) else { continue };
        let is_worn =
            finding.grade().is_some_and(|grade| grade != Grade::Right) && curable.door(check, finding) == Door::Score;
        if is_worn {
            check.signs.iter().for_each(|sign| {
                worn.insert(&sign.id);
            });
        }
        for (sign, seen) in &finding.signs {
            match seen {
                Seen::Yes if !is_worn => tell(sign.as_str(), true, Origin::Marked),
                Seen::Yes | Seen::Unsure => {}
                Seen::No => tell(sign.as_str(), false, Origin::Marked),
            }
        }
    }
    for sign in measured.by_readings().filter(|sign| !worn.contains(sign)) {
        tell(sign, true, Origin::Reading);
    }
    for sign in measured.by_lamps().filter(|sign| !worn.contains(sign)) {
        tell(sign, true, Origin::Lamps);
    }
    clear_by_readings(sheet, &measured.readings, &mut tell);
    if lamps::all_right(&sheet.lamps, &worksheet.lamps) {
        let raised = sheet.lamps.patterns.iter().map(|pattern| &pattern.sign);
        for sign in raised.chain([&sheet.lamps.dark, &sheet.lamps.stray]) {
            tell(sign, false, Origin::Lamps);
        }
    }
    for check in &sheet.checks {
        let Some(finding) = worksheet.findings.get(&check.id) else { continue };
        for sign in &check.signs {
            if finding.seen(&sign.id) == Some(false) {
                tell(&sign.id, false, Origin::Cleared);
            }
        }
    }
    let faults = worksheet.rulings.iter().map(|(fault, ruling)| (fault.clone(), *ruling == Ruling::Confirmed));
    signs.remove("");
    let signs = ordered::map(signs.into_iter().map(|(sign, known)| (sign.to_owned(), known)));
    Told { signs: Arc::new(signs), faults: ordered::map(faults), measured }
}

impl Told {
    /// What is known as the network takes it.
    #[must_use]
    pub fn evidence(&self, network: &SheetNetwork) -> Evidence {
        let signs = ordered::map(self.signs.iter().map(|(id, known)| (id.as_str(), known.seen)));
        let faults = ordered::map(self.faults.iter().map(|(id, there)| (id.as_str(), *there)));
        network.evidence(&signs, &faults)
    }
}

fn read_all(sheet: &TypeSheet, worksheet: &Worksheet, tags: &[Tag]) -> BTreeMap<String, Outcome> {
    let circumstances = Circumstances {
        tags: tags.to_vec(),
        on: worksheet.visit.date.value(),
        first_used: worksheet.car.year.value().and_then(|year| Date::new(year, 1, 1)),
    };
    let taken = |spec: &&crate::sheet::ReadingSpec| car_tags::applies(&spec.when, tags);
    ordered::map(sheet.readings.iter().filter(taken).filter_map(|spec| {
        let reading = worksheet.readings.get(&spec.id)?;
        (!reading.is_blank()).then(|| (spec.id.clone(), readings::read(spec, reading, &circumstances)))
    }))
}

/// A reading inside a limit clears the sign that lies beyond it.
fn clear_by_readings<'a>(
    sheet: &'a TypeSheet,
    readings: &BTreeMap<String, Outcome>,
    tell: &mut impl FnMut(&'a str, bool, Origin),
) {
    for spec in &sheet.readings {
        let Some(outcome) = readings.get(&spec.id) else { continue };
        for limit in &spec.limits {
            let inside = outcome.judged.iter().any(|judged| {
                judged.result == limit.of
                    && (judged.low, judged.high) == (limit.low, limit.high)
                    && matches!(judged.verdict, Verdict::Within | Verdict::AtTheEdge)
            });
            if inside {
                for sign in limit.below.iter().chain(&limit.above) {
                    tell(sign, false, Origin::Reading);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::appraise::appraise;
    use crate::lamps::{Should, should};
    use crate::sheet::general::general;
    use crate::worksheet::Worksheet;

    #[test]
    fn lamps_all_right_clear_every_sign_that_lamps_can_raise() {
        let sheet = general().unwrap();
        let mut worksheet = Worksheet::default();
        for situation in &sheet.lamps.situations {
            let lit = |id: &String| should(situation, id) == Should::Light;
            let lamps = sheet.lamps.lamps.iter().map(|lamp| (lamp.id.clone(), lit(&lamp.id)));
            worksheet.lamps.insert(situation.id.clone(), lamps.collect());
        }
        let appraisal = appraise(&worksheet, &sheet);
        let patterns = sheet.lamps.patterns.iter().map(|pattern| &pattern.sign);
        for sign in patterns.chain([&sheet.lamps.dark, &sheet.lamps.stray]) {
            assert!(!sign.is_empty() && appraisal.signs.get(sign).is_some_and(|known| !known.seen), "{sign}");
        }
    }
}
