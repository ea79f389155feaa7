//! The one way in which a worksheet changes.

use super::{Car, Finding, JobChoice, LogEntry, Receipt, Ruling, Sale, Settings, Visit, Worksheet};
use crate::readings::Reading;

/// A change: one part of the worksheet becomes something else. Applying it gives the change that undoes it.
#[derive(Debug, Clone, PartialEq)]
pub enum Edit {
    /// The car becomes this.
    Car(Box<Car>),
    /// The occasion becomes this.
    Visit(Box<Visit>),
    /// The type sheet becomes the one with this id.
    TypeSheet(String),
    /// The finding at a check becomes this, or none.
    Finding(String, Option<Box<Finding>>),
    /// What is known of a fault becomes this, or nothing.
    Ruling(String, Option<Ruling>),
    /// A reading becomes this, or none.
    Reading(String, Option<Box<Reading>>),
    /// In a situation, a lamp was seen to be lit or dark, or was not looked at.
    Lamp(String, String, Option<bool>),
    /// A departure is there, is not there, or was not looked for.
    Departure(String, Option<bool>),
    /// The decision about a job becomes this, or none.
    Job(String, Option<Box<JobChoice>>),
    /// The sale with this id becomes this, at this place if it is new, or goes.
    Sale(String, Option<(usize, Box<Sale>)>),
    /// The receipts become these.
    Receipts(Vec<Receipt>),
    /// The quick log becomes this.
    Log(Vec<LogEntry>),
    /// The reason for passing over the gate becomes this.
    GatePassedOver(String),
    /// The settings become these.
    Settings(Box<Settings>),
    /// The whole becomes this, as it was put together with what another window made of it.
    Whole(Box<Worksheet>),
    /// Several changes, in order.
    Several(Vec<Edit>),
}

impl Edit {
    /// Makes the change and gives the one that undoes it.
    ///
    /// ```
    /// use kerbworth_core::worksheet::{Edit, Worksheet};
    /// let mut worksheet = Worksheet::default();
    /// let undo = Edit::Departure("stiffer-rear-springs".into(), Some(true)).apply(&mut worksheet);
    /// assert_eq!(worksheet.departures.len(), 1);
    /// undo.apply(&mut worksheet);
    /// assert_eq!(worksheet, Worksheet::default());
    /// ```
    pub fn apply(self, worksheet: &mut Worksheet) -> Self {
        match self {
            Self::Car(car) => Self::Car(Box::new(core::mem::replace(&mut worksheet.car, *car))),
            Self::Visit(visit) => Self::Visit(Box::new(core::mem::replace(&mut worksheet.visit, *visit))),
            Self::TypeSheet(id) => Self::TypeSheet(core::mem::replace(&mut worksheet.type_sheet, id)),
            Self::Finding(check, finding) => {
                let kept = finding.filter(|finding| !finding.is_blank());
                let before = put(&mut worksheet.findings, &check, kept.map(|finding| *finding));
                Self::Finding(check, before.map(Box::new))
            }
            Self::Ruling(fault, ruling) => {
                let before = put(&mut worksheet.rulings, &fault, ruling);
                Self::Ruling(fault, before)
            }
            Self::Reading(id, reading) => {
                let before = put(&mut worksheet.readings, &id, reading.map(|reading| *reading));
                Self::Reading(id, before.map(Box::new))
            }
            Self::Lamp(situation, lamp, lit) => {
                let seen = worksheet.lamps.entry(situation.clone()).or_default();
                let before = put(seen, &lamp, lit);
                if seen.is_empty() {
                    worksheet.lamps.remove(&situation);
                }
                Self::Lamp(situation, lamp, before)
            }
            Self::Departure(id, there) => {
                let before = put(&mut worksheet.departures, &id, there);
                Self::Departure(id, before)
            }
            Self::Job(id, choice) => {
                let before = put(&mut worksheet.jobs, &id, choice.map(|choice| *choice));
                Self::Job(id, before.map(Box::new))
            }
            Self::Sale(id, sale) => {
                let before = put_sale(&mut worksheet.sales, &id, sale);
                Self::Sale(id, before)
            }
            Self::Receipts(receipts) => Self::Receipts(core::mem::replace(&mut worksheet.receipts, receipts)),
            Self::Log(log) => Self::Log(core::mem::replace(&mut worksheet.log, log)),
            Self::GatePassedOver(reason) => {
                Self::GatePassedOver(core::mem::replace(&mut worksheet.gate_passed_over, reason))
            }
            Self::Settings(settings) => {
                Self::Settings(Box::new(core::mem::replace(&mut worksheet.settings, *settings)))
            }
            Self::Whole(whole) => Self::Whole(Box::new(core::mem::replace(worksheet, *whole))),
            Self::Several(edits) => {
                let mut undo: Vec<Self> = edits.into_iter().map(|edit| edit.apply(worksheet)).collect();
                undo.reverse();
                Self::Several(undo)
            }
        }
    }

    /// Whether two changes are to the same part and of a kind, so that typing on in one field is one step to undo. What is
    /// pressed, added or taken away is a step of its own: of two findings only the texts may differ, of two lists only what
    /// stands in their lines, and elsewhere only what is typed.
    #[must_use]
    pub fn same_part(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::GatePassedOver(_), Self::GatePassedOver(_)) => true,
            (Self::Car(this), Self::Car(that)) => this.tags == that.tags,
            (Self::Visit(this), Self::Visit(that)) => this.purpose == that.purpose,
            (Self::Settings(this), Self::Settings(that)) => {
                let pressed = |it: &Settings| (it.currency, it.spread, it.fees.on_whole_price, it.fees.premium.len());
                pressed(this) == pressed(that)
            }
            (Self::Receipts(a), Self::Receipts(b)) => a.len() == b.len(),
            (Self::Log(a), Self::Log(b)) => a.len() == b.len(),
            (Self::Finding(a, Some(this)), Self::Finding(b, Some(that))) => {
                a == b && without_texts(this) == without_texts(that)
            }
            (Self::Reading(a, Some(_)), Self::Reading(b, Some(_))) => a == b,
            (Self::Job(a, Some(this)), Self::Job(b, Some(that))) => {
                a == b && (this.do_it, this.leave_out) == (that.do_it, that.leave_out)
            }
            (Self::Sale(a, Some((_, this))), Self::Sale(b, Some((_, that)))) => {
                let pressed = |it: &Sale| (it.currency, it.kind, it.condition_known, it.left_out);
                a == b && pressed(this) == pressed(that)
            }
            _ => false,
        }
    }
}

/// A finding without what is typed.
fn without_texts(finding: &Finding) -> Finding {
    let mut finding = Finding { note: String::new(), ..finding.clone() };
    finding.photos.iter_mut().for_each(|photo| photo.caption.clear());
    finding
}

/// Puts a value under a key, or takes it away; gives what was there.
fn put<T>(map: &mut std::collections::BTreeMap<String, T>, key: &str, value: Option<T>) -> Option<T> {
    match value {
        Some(value) => map.insert(key.to_owned(), value),
        None => map.remove(key),
    }
}

/// Puts a sale in the place of the one with its id, or at a place if there is none, or takes it away; gives
/// what was there and where.
fn put_sale(sales: &mut Vec<Sale>, id: &str, sale: Option<(usize, Box<Sale>)>) -> Option<(usize, Box<Sale>)> {
    let place = sales.iter().position(|sale| sale.id == id);
    let before = place.map(|place| (place, Box::new(sales.remove(place))));
    if let Some((wanted, sale)) = sale {
        sales.insert(place.unwrap_or(wanted).min(sales.len()), *sale);
    }
    before
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grade::Grade;
    use crate::market::rates::Spread;
    use crate::sheet::Tag;
    use crate::units::Money;
    use crate::worksheet::{Entry, Look, Photo, PremiumStep, Purpose, Seen};
    use proptest::prelude::*;
    use std::collections::BTreeMap;

    fn edit() -> impl Strategy<Value = Edit> {
        let id = prop_oneof![Just("a".to_owned()), Just("b".to_owned()), Just("c".to_owned())];
        let finding =
            (prop::sample::select(Grade::ALL.to_vec()), "[a-z]{0,3}", any::<bool>()).prop_map(|(grade, note, seen)| {
                Finding {
                    look: Some(Look::Grade(grade)),
                    note,
                    signs: if seen { BTreeMap::from([("s".to_owned(), Seen::Yes)]) } else { BTreeMap::new() },
                    ..Finding::default()
                }
            });
        let leaf = prop_oneof![
            "[a-z]{0,4}".prop_map(|maker| Edit::Car(Box::new(Car { maker, ..Car::default() }))),
            "[a-z]{0,4}".prop_map(Edit::TypeSheet),
            (id.clone(), prop::option::of(finding)).prop_map(|(id, it)| Edit::Finding(id, it.map(Box::new))),
            (id.clone(), prop::option::of(Just(Ruling::Confirmed))).prop_map(|(id, it)| Edit::Ruling(id, it)),
            (id.clone(), id.clone(), any::<Option<bool>>()).prop_map(|(s, l, it)| Edit::Lamp(s, l, it)),
            (id.clone(), any::<Option<bool>>()).prop_map(|(id, it)| Edit::Departure(id, it)),
            (id, prop::option::of((0..4_usize, "[a-z]{0,3}"))).prop_map(|(id, it)| {
                let sale =
                    it.map(|(place, note)| (place, Box::new(Sale { id: id.clone(), source: note, ..Sale::default() })));
                Edit::Sale(id, sale)
            }),
            "[a-z]{0,4}".prop_map(Edit::GatePassedOver),
            "[a-z]{0,4}".prop_map(|id| Edit::Whole(Box::new(Worksheet { id, ..Worksheet::default() }))),
        ];
        leaf.prop_recursive(1, 8, 4, |inner| prop::collection::vec(inner, 0..4).prop_map(Edit::Several))
    }

    #[test]
    fn typing_is_one_step_and_a_press_is_one_of_its_own() {
        let finding = |grade: Grade, note: &str, photos: &[(&str, &str)]| {
            let photo = |(id, caption): &(&str, &str)| Photo { id: (*id).to_owned(), caption: (*caption).to_owned() };
            let photos = photos.iter().map(photo).collect();
            let look = Some(Look::Grade(grade));
            Edit::Finding("a".into(), Some(Box::new(Finding { look, note: note.into(), photos, ..Finding::default() })))
        };
        let typed = finding(Grade::Slight, "rus", &[("p", "")]);
        assert!(typed.same_part(&finding(Grade::Slight, "rust", &[("p", "")])));
        assert!(typed.same_part(&finding(Grade::Slight, "rus", &[("p", "left")])));
        assert!(!typed.same_part(&finding(Grade::Serious, "rus", &[("p", "")])));
        assert!(!typed.same_part(&finding(Grade::Slight, "rus", &[])));
        let receipts = |what: &[&str]| {
            let receipt = |what: &&str| Receipt { what: (*what).to_owned(), ..Receipt::default() };
            Edit::Receipts(what.iter().map(receipt).collect())
        };
        let car = |maker: &str, tags: &[Tag]| {
            Edit::Car(Box::new(Car { maker: maker.into(), tags: tags.to_vec(), ..Car::default() }))
        };
        assert!(car("Hal", &[]).same_part(&car("Halberd", &[])));
        assert!(!car("Hal", &[]).same_part(&car("Hal", &Tag::ALL[..1])));
        let visit = |purpose| Edit::Visit(Box::new(Visit { purpose, ..Visit::default() }));
        assert!(!visit(Purpose::Buying).same_part(&visit(Purpose::Selling)));
        let settings = |change: &dyn Fn(&mut Settings)| {
            let mut settings = Settings::default();
            change(&mut settings);
            Edit::Settings(Box::new(settings))
        };
        assert!(settings(&|_| {}).same_part(&settings(&|it| it.margin = Entry::Read(0.3))));
        assert!(!settings(&|_| {}).same_part(&settings(&|it| it.fees.premium.push(PremiumStep::default()))));
        assert!(!settings(&|_| {}).same_part(&settings(&|it| it.spread = Spread::Wide)));
        let job = |job: JobChoice| Edit::Job("a".into(), Some(Box::new(job)));
        let (none, dear) = (JobChoice::default(), JobChoice { high: Entry::Read(Money(9)), ..JobChoice::default() });
        assert!(job(none.clone()).same_part(&job(dear)));
        assert!(!job(none).same_part(&job(JobChoice { do_it: true, ..JobChoice::default() })));
        let sale = |sale: Sale| Edit::Sale("a".into(), Some((0, Box::new(sale))));
        assert!(sale(Sale::default()).same_part(&sale(Sale { source: "Lot".into(), ..Sale::default() })));
        assert!(!sale(Sale::default()).same_part(&sale(Sale { left_out: true, ..Sale::default() })));
        assert!(receipts(&["hos"]).same_part(&receipts(&["hose"])));
        assert!(!receipts(&["hose"]).same_part(&receipts(&["hose", ""])));
    }

    proptest! {
        #[test]
        fn undo_gives_back_what_was(edits in prop::collection::vec(edit(), 0..12)) {
            let mut worksheet = Worksheet::default();
            let mut before = Vec::new();
            for edit in edits {
                before.push((worksheet.clone(), edit.clone().apply(&mut worksheet), edit));
            }
            while let Some((was, undo, edit)) = before.pop() {
                let now = worksheet.clone();
                let redo = undo.apply(&mut worksheet);
                prop_assert_eq!(&worksheet, &was);
                let mut again = worksheet.clone();
                redo.apply(&mut again);
                prop_assert_eq!(again, now, "redo of {:?}", edit);
            }
        }
    }
}
