use std::collections::BTreeMap;

use proptest::prelude::*;

use super::*;
use crate::grade::Grade;
use crate::sheet::edit::SheetEdit;
use crate::sheet::part::{Part, Section};
use crate::units::Money;
use crate::worksheet::{Edit, Entry, Finding, LogEntry, Look, Photo, Sale, Seen, WhyNot};

fn with(edits: impl IntoIterator<Item = Edit>, base: &Worksheet) -> Worksheet {
    let mut worksheet = base.clone();
    for edit in edits {
        edit.apply(&mut worksheet);
    }
    worksheet
}

fn finding(check: &str, change: impl FnOnce(&mut Finding)) -> Edit {
    let mut finding = Finding { note: "damp".into(), ..Finding::default() };
    change(&mut finding);
    Edit::Finding(check.into(), Some(Box::new(finding)))
}

fn sale(id: &str, price: i64) -> Edit {
    let sale = Sale { id: id.into(), price: Money(price).into(), ..Sale::default() };
    Edit::Sale(id.into(), Some((usize::MAX, Box::new(sale))))
}

/// What both sides get, without a conflict, whichever side merges.
#[track_caller]
fn agree(base: &Worksheet, mine: &Worksheet, theirs: &Worksheet) -> Worksheet {
    let merged = merge(base, mine, theirs);
    assert_eq!(merged.conflicts, []);
    assert_eq!(in_order(merge(base, theirs, mine).both), in_order(merged.both.clone()));
    merged.both
}

/// Lists keep the order of the side that merges, and its own come first.
fn in_order(mut worksheet: Worksheet) -> Worksheet {
    worksheet.sales.sort_by(|a, b| a.id.cmp(&b.id));
    worksheet.findings.values_mut().for_each(|it| it.photos.sort_by(|a, b| a.id.cmp(&b.id)));
    worksheet.log.sort_by(|a, b| a.at.cmp(&b.at));
    worksheet
}

#[track_caller]
fn one_conflict(base: &Worksheet, mine: &Worksheet, theirs: &Worksheet) -> (Worksheet, Conflict) {
    let Merged { both: worksheet, conflicts, .. } = merge(base, mine, theirs);
    let [conflict] = conflicts.try_into().expect("one conflict");
    (worksheet, conflict)
}

/// A list that was emptied here is not written; merged, it stays so, and is no news.
#[test]
fn an_emptied_list_is_no_news() {
    let photo = |caption: &str| Photo { id: "p".into(), caption: caption.into() };
    let with_photo =
        |caption: &str| with([finding("sills", |it| it.photos.push(photo(caption)))], &Worksheet::default());
    let (base, theirs) = (with_photo(""), with_photo("left"));
    let mine = with([finding("sills", |_| {})], &base);
    let merged = merge(&base, &mine, &theirs);
    assert_eq!((merged.conflicts.len(), merged.is_news_here, &merged.both), (1, false, &mine));
}

#[test]
fn different_fields_of_one_record_and_one_finding() {
    let base = with([finding("sills", |_| {})], &Worksheet::default());
    let (mut mine, mut theirs) = (base.clone(), base.clone());
    mine.car.maker = "Halberd".into();
    theirs.car.year = 1964.into();
    mine.findings.get_mut("sills").unwrap().look = Some(Look::Grade(Grade::Serious));
    theirs.findings.get_mut("sills").unwrap().note = "hole".into();
    let merged = agree(&base, &mine, &theirs);
    assert_eq!(merged.title(), "1964 Halberd");
    let sills = &merged.findings["sills"];
    assert_eq!((sills.look, &*sills.note), (Some(Look::Grade(Grade::Serious)), "hole"));
}

#[test]
fn entries_added_and_taken_away_on_both_sides() {
    let base = with([finding("a", |_| {}), sale("1", 100), sale("2", 200)], &Worksheet::default());
    let mine = with([Edit::Finding("a".into(), None), sale("3", 300), Edit::Sale("1".into(), None)], &base);
    let theirs = with([finding("b", |_| {}), sale("4", 400), sale("2", 250)], &base);
    let merged = agree(&base, &mine, &theirs);
    assert_eq!(merged.findings.keys().collect::<Vec<_>>(), ["b"]);
    let sales: Vec<_> = merged.sales.iter().map(|sale| (&*sale.id, sale.price.value().unwrap().0)).collect();
    assert_eq!(sales, [("2", 250), ("3", 300), ("4", 400)]);
}

#[test]
fn moments_of_the_log_from_both_sides() {
    let entry = |at: &str| LogEntry { at: at.into(), note: "whine".into() };
    let base = Worksheet::default();
    let mine = with([Edit::Log(vec![entry("10:00")])], &base);
    let theirs = with([Edit::Log(vec![entry("10:01")])], &base);
    assert_eq!(agree(&base, &mine, &theirs).log.len(), 2);
}

#[test]
fn the_same_field_stays_as_here_and_both_values_are_told() {
    let base = Worksheet::default();
    let (mut mine, mut theirs) = (base.clone(), base.clone());
    mine.car.model = "Plover".into();
    theirs.car.model = "Dotterel".into();
    let (merged, conflict) = one_conflict(&base, &mine, &theirs);
    assert_eq!(merged, mine);
    assert_eq!(
        (conflict.place(), conflict.mine(), conflict.theirs()),
        ("car · model".into(), "Plover".into(), "Dotterel".into())
    );
    assert_eq!(conflict.take_theirs(&merged), theirs);
}

#[test]
fn a_choice_is_never_put_together_of_two() {
    let base = with([finding("sills", |_| {})], &Worksheet::default());
    let mine = with([finding("sills", |it| it.look = Some(Look::Grade(Grade::Slight)))], &base);
    let theirs = with([finding("sills", |it| it.look = Some(Look::NotLooked(WhyNot::NoTime)))], &base);
    let (merged, conflict) = one_conflict(&base, &mine, &theirs);
    assert_eq!((merged.unread.len(), &merged.findings), (0, &mine.findings));
    assert_eq!((&*conflict.mine(), &*conflict.theirs()), ("slight", "no-time"));
    assert_eq!(conflict.take_theirs(&merged).findings, theirs.findings);

    let (mut mine, mut theirs) = (Worksheet::default(), Worksheet::default());
    mine.car.asked = Entry::Unread("9k".into());
    theirs.car.asked = Money(900_000).into();
    let (merged, conflict) = one_conflict(&Worksheet::default(), &mine, &theirs);
    assert_eq!((merged, &*conflict.mine(), &*conflict.theirs()), (mine, "9k", "900000"));
}

#[test]
fn what_was_taken_away_here_and_changed_there_can_be_had_back() {
    let base = with([finding("sills", |_| {}), sale("1", 100)], &Worksheet::default());
    let mine = with([Edit::Finding("sills".into(), None)], &base);
    let theirs = with([finding("sills", |it| it.note = "worse".into())], &base);
    let (merged, conflict) = one_conflict(&base, &mine, &theirs);
    assert!(merged.findings.is_empty());
    assert_eq!(conflict.mine(), "");
    assert_eq!(conflict.take_theirs(&merged), theirs);

    let (mine, theirs) = (with([Edit::Sale("1".into(), None)], &base), with([sale("1", 120)], &base));
    let (merged, conflict) = one_conflict(&base, &mine, &theirs);
    assert!(merged.sales.is_empty());
    assert_eq!(conflict.take_theirs(&merged), theirs);
    // And the other way about.
    let (merged, conflict) = one_conflict(&base, &theirs, &mine);
    assert_eq!(merged, theirs);
    assert_eq!(conflict.take_theirs(&merged), mine);
}

#[test]
fn what_could_not_be_read_is_kept() {
    let unread = restore::Unread { place: "x".into(), text: "1".into(), why: "why".into() };
    let base = Worksheet { unread: vec![unread.clone()], ..Worksheet::default() };
    let merged = agree(&base, &with([Edit::GatePassedOver("m".into())], &base), &with([sale("1", 1)], &base));
    assert_eq!(merged.unread, [unread]);
}

fn edit() -> impl Strategy<Value = Edit> {
    let id = prop::sample::select(vec!["a", "b", "c"]).prop_map(ToOwned::to_owned);
    let look = prop_oneof![
        Just(None),
        prop::sample::select(Grade::ALL.to_vec()).prop_map(|grade| Some(Look::Grade(grade))),
        prop::sample::select(WhyNot::ALL.to_vec()).prop_map(|why| Some(Look::NotLooked(why))),
    ];
    let found = (look, "[a-z]{0,2}", any::<bool>(), any::<bool>()).prop_map(|(look, note, seen, photo)| {
        let signs = if seen { BTreeMap::from([(note.clone(), Seen::Yes)]) } else { BTreeMap::new() };
        let photos = if photo { vec![Photo { id: note.clone(), caption: "c".into() }] } else { Vec::new() };
        Box::new(Finding { look, note, signs, photos, ..Finding::default() })
    });
    prop_oneof![
        ("[a-c]?", any::<Option<bool>>()).prop_map(|(maker, read)| {
            let year = read.map_or(Entry::Empty, |read| if read { 1960.into() } else { Entry::Unread(maker.clone()) });
            Edit::Car(Box::new(crate::worksheet::Car { maker, year, ..Default::default() }))
        }),
        (id.clone(), prop::option::of(found)).prop_map(|(id, it)| Edit::Finding(id, it)),
        (id.clone(), id.clone(), any::<Option<bool>>()).prop_map(|(s, l, it)| Edit::Lamp(s, l, it)),
        (id.clone(), any::<Option<bool>>()).prop_map(|(id, it)| Edit::Departure(id, it)),
        (id, prop::option::of((0..4_usize, 0..3_i64))).prop_map(|(id, it)| {
            let put = it.map(|(at, price)| {
                (at, Box::new(Sale { id: id.clone(), price: Money(price).into(), ..Sale::default() }))
            });
            Edit::Sale(id, put)
        }),
        "[a-c]?".prop_map(Edit::GatePassedOver),
    ]
}

fn edits() -> impl Strategy<Value = Vec<Edit>> {
    prop::collection::vec(edit(), 0..8)
}

proptest! {
    #[test]
    fn one_side_alone_is_taken_as_it_is(first in edits(), then in edits()) {
        let base = with(first, &Worksheet::default());
        let changed = with(then, &base);
        for (mine, theirs) in [(&changed, &base), (&base, &changed), (&changed, &changed)] {
            let merged = merge(&base, mine, theirs);
            prop_assert_eq!(&merged.both, &changed);
            prop_assert_eq!(merged.conflicts.len(), 0);
            prop_assert_eq!(merged.is_news_here, mine != &changed);
            prop_assert_eq!(merged.is_news_there, theirs != &changed);
        }
    }

    #[test]
    fn both_sides_agree_but_for_conflicts(first in edits(), one in edits(), other in edits()) {
        let base = with(first, &Worksheet::default());
        let (mine, theirs) = (with(one, &base), with(other, &base));
        let (here, there) = (merge(&base, &mine, &theirs), merge(&base, &theirs, &mine));
        let places = |merged: &Merged<Worksheet>| {
            let mut places: Vec<_> = merged.conflicts.iter().map(|it| (it.place(), it.mine.clone(), it.theirs.clone())).collect();
            places.sort_by(|a, b| a.0.cmp(&b.0));
            places
        };
        let turned: Vec<_> = places(&there).into_iter().map(|(place, mine, theirs)| (place, theirs, mine)).collect();
        prop_assert_eq!(places(&here), turned);
        prop_assert_eq!(here.both.unread.len(), 0, "what is merged can be read: {:?}", here.both);
        // Taking the other side's word everywhere comes to what the other side has.
        let taken = here.conflicts.iter().fold(here.both.clone(), |worksheet, conflict| conflict.take_theirs(&worksheet));
        prop_assert_eq!(in_order(taken), in_order(there.both));
        // Merging again brings nothing.
        let again = merge(&theirs, &here.both, &theirs);
        prop_assert!(!again.is_news_here);
        prop_assert_eq!(again.both, here.both);
    }
}

#[test]
fn the_ledger_and_a_type_sheet_keep_what_both_sides_added() {
    let ledger = |ids: &[&str]| {
        let sales = ids.iter().map(|id| Sale { id: (*id).into(), ..Sale::default() }).collect();
        Ledger { sales, ..Ledger::default() }
    };
    let merged = merge(&ledger(&["1"]), &ledger(&["1", "2"]), &ledger(&["3"]));
    assert_eq!((merged.both, merged.conflicts), (ledger(&["2", "3"]), vec![]));

    let sheet = |changes: &[(&str, &str)]| {
        let mut sheet = TypeSheet::default();
        for (id, name) in changes {
            SheetEdit::Put(Part::new(Section::Checks, (*id).into(), (*name).into())).apply(&mut sheet);
        }
        sheet
    };
    let base = sheet(&[("sills", "Sills"), ("floor", "Floor")]);
    let mine = sheet(&[("sills", "Sills from below"), ("floor", "Floor"), ("hood", "Hood")]);
    let theirs = sheet(&[("sills", "Sills"), ("floor", "Floors"), ("boot", "Boot")]);
    let merged = merge(&base, &mine, &theirs);
    let want = sheet(&[("sills", "Sills from below"), ("floor", "Floors"), ("hood", "Hood"), ("boot", "Boot")]);
    assert_eq!((merged.both, merged.conflicts), (want, vec![]));

    let merged = merge(&base, &mine, &sheet(&[("sills", "Sills, cold"), ("floor", "Floor")]));
    assert_eq!(merged.both, mine);
    let [conflict] = merged.conflicts.try_into().expect("one conflict");
    assert_eq!((&*conflict.place(), &*conflict.theirs()), ("checks · sills · name", "Sills, cold"));
}
