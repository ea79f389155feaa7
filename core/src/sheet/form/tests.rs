use super::rows::Rows;
use super::*;
use crate::readings::Rule;
use crate::sheet::part::Head;
use crate::sheet::{Fault, TypeSheet, demo, general};
use crate::units::Unit;

/// Every part of the shipped sheets.
fn parts() -> Vec<Part> {
    let sheets = [general::general().unwrap(), demo::curlew().unwrap()];
    let of = |sheet: &TypeSheet| -> Vec<Part> {
        let entries = Section::ALL.into_iter().flat_map(|section| {
            section.ids(sheet).into_iter().filter_map(|id| Part::of(sheet, section, id)).collect::<Vec<_>>()
        });
        entries.chain([Part::Head(Box::new(Head::of(sheet)))]).collect()
    };
    sheets.iter().flat_map(of).collect()
}

/// Every field of every part and row, with the part.
fn each_field(mut see: impl FnMut(&Part, Option<usize>, &Field)) {
    for part in parts() {
        let rows = 0..part.rows().len();
        for row in std::iter::once(None).chain(rows.map(Some)) {
            let fields = part.fields(row);
            assert!(!fields.is_empty(), "{:?} {row:?}", part.id());
            for field in fields {
                see(&part, row, &field);
            }
        }
    }
}

#[test]
fn filling_a_field_with_what_it_holds_changes_nothing() {
    each_field(|part, row, field| {
        let content = part.field(row, field.name).unwrap();
        let mut again = part.clone();
        assert!(again.fill(row, field.name, &content), "{} {}", part.id(), field.name);
        // Choices come out in the order in which they are offered; once they are, nothing changes.
        let mut third = again.clone();
        assert!(third.fill(row, field.name, &again.field(row, field.name).unwrap()));
        assert_eq!(third, again, "{}", field.name);
        if !matches!(field.kind, Kind::Several(_)) {
            assert_eq!(&again, part, "{}", field.name);
        }
    });
}

#[test]
fn what_a_field_shows_reads_back() {
    let mut shows = [Show::default(), Show { locale: crate::units::NumberStyle::COMMA.into(), ..Show::default() }];
    shows[1].units.insert(Quantity::Pressure, Unit::Bar);
    shows[1].units.insert(Quantity::Temperature, Unit::Fahrenheit);
    let close = |a: f64, b: f64| (a - b).abs() <= 1e-3 * a.abs().max(1e-3);
    each_field(|part, row, field| {
        for show in &shows {
            let content = part.field(row, field.name).unwrap();
            let typed = field.kind.show(&content, show);
            let read = match content {
                Content::Flag(_) | Content::Chosen(_) | Content::Ids(_) => continue,
                _ => field.kind.read(&typed, show).unwrap(),
            };
            match (&read, &content) {
                (Content::Number(Some(a)), Content::Number(Some(b))) if close(*a, *b) => {}
                _ => assert_eq!(read, content, "{} {} as {typed:?}", part.id(), field.name),
            }
        }
    });
}

#[test]
fn a_field_does_not_take_what_is_not_its_kind() {
    let mut part = Part::new(Section::Checks, "a".into(), "A".into());
    let before = part.clone();
    assert!(!part.fill(None, "name", &Content::Flag(true)));
    assert!(!part.fill(None, "minutes", &Content::Number(None)));
    assert!(!part.fill(None, "stage", &Content::Chosen(vec![])));
    assert!(!part.fill(None, "colour", &Content::Text("red".into())));
    assert!(!part.fill(Some(0), "name", &Content::Text("no such row".into())));
    let mut head = Part::Head(Box::default());
    assert!(!head.fill(None, "currency", &Content::Text("pound".into())));
    assert_eq!((part, head), (before, Part::Head(Box::default())));
}

#[track_caller]
fn share(typed: &str, want: Result<f64, &str>) {
    let read = Kind::Share.read(typed, &Show::default());
    match (read, want) {
        (Ok(Content::Number(Some(read))), Ok(want)) => assert!((read - want).abs() < 1e-12, "{typed:?} is {read}"),
        (Err(said), Err(want)) => assert!(said.contains(want), "{typed:?}: {said}"),
        (read, want) => panic!("{typed:?}: {read:?} and not {want:?}"),
    }
}

#[test]
fn shares_are_typed_in_per_cent_or_plain() {
    share("30 %", Ok(0.3));
    share("30%", Ok(0.3));
    share("30", Ok(0.3));
    share("0.3", Ok(0.3));
    share(",3", Ok(0.3));
    share("0.5 %", Ok(0.005));
    share("1", Ok(0.01));
    share("a third", Err("is not part of a number"));
    share("%", Err("no digits"));
    share("", Err("no digits"));
    let shown = Kind::Share.show(&Content::Number(Some(0.07)), &Show::default());
    assert_eq!(shown, "7 %");
}

#[test]
fn what_cannot_be_read_says_how_to_mend_it() {
    let show = Show::default();
    let said = |kind: Kind, text: &str| kind.read(text, &show).unwrap_err();
    assert_eq!(said(Kind::Currency, "pound"), "a currency is a code of three letters, such as GBP");
    assert_eq!(said(Kind::Whole, "2.5"), "whole numbers only here");
    assert_eq!(said(Kind::Whole, "300"), "a whole number from 0 to 255 is wanted here");
    assert!(said(Kind::Money, "about 12").contains("is not part of a number"));
    assert_eq!(Kind::Measure(Quantity::Voltage, false).read(" ", &show), Ok(Content::Number(None)));
}

#[test]
fn a_difference_of_temperatures_has_no_zero_point() {
    let show = Show::default();
    let difference = Kind::Measure(Quantity::Temperature, true);
    assert_eq!(difference.show(&Content::Number(Some(20.0)), &show), "20");
    assert_eq!(difference.read("20", &show), Ok(Content::Number(Some(20.0))));
    let Ok(Content::Number(Some(kelvin))) = Kind::Measure(Quantity::Temperature, false).read("20", &show) else {
        panic!("a number")
    };
    assert!((kelvin - 293.15).abs() < 1e-9);
}

#[test]
fn a_car_has_one_tag_of_most_groups_and_a_condition_may_name_alternatives() {
    let chosen = |part: &mut Part, field: &str, names: &[&str]| {
        let kind = part.fields(None).into_iter().find(|known| known.name == field).unwrap().kind;
        let Kind::Several(options) = &kind else { panic!("{kind:?}") };
        for name in names {
            let place = options.iter().position(|option| option.name == *name).unwrap();
            let Some(Content::Chosen(now)) = part.field(None, field) else { panic!("choices") };
            assert!(part.fill(None, field, &Content::Chosen(kind.toggled(&now, place))));
        }
        let Some(Content::Chosen(now)) = part.field(None, field) else { panic!("choices") };
        now.into_iter().map(|place| options[place].name).collect::<Vec<_>>()
    };
    let press = ["air-cooled", "drums", "water-cooled", "discs", "open", "open"];
    let mut head = Part::Head(Box::default());
    assert_eq!(chosen(&mut head, "tags", &press), ["water-cooled", "drums", "discs"]);
    let mut check = Part::new(Section::Checks, "a".into(), "A".into());
    assert_eq!(chosen(&mut check, "when", &press), ["air-cooled", "water-cooled", "drums", "discs"]);
}

#[test]
fn rows_are_added_filled_and_taken() {
    let mut check = Part::new(Section::Checks, "a".into(), "A".into());
    check.add_row("sign".into(), "Odd".into());
    assert_eq!(check.rows(), ["sign"]);
    assert!(check.fill(Some(0), "leak", &Content::Number(Some(0.1))));
    assert_eq!(check.place(Some("sign"), "leak"), "signs.sign.leak");
    assert_eq!(check.place(None, "minutes"), "checks.a.minutes");
    assert_eq!(check.place(None, ""), "checks.a");
    check.take_row(7);
    assert_eq!(check.rows().len(), 1);
    check.take_row(0);
    assert_eq!(check, Part::new(Section::Checks, "a".into(), "A".into()));

    let mut fault = Part::new(Section::Faults, "f".into(), "F".into());
    fault.add_row("sign".into(), String::new());
    assert_eq!(fault.place(Some("sign"), "strength"), "faults.f.links.sign.strength");
    assert!(matches!(&fault, Part::Fault(it) if matches!(&**it, Fault { links, .. } if links[0].strength == 0.5)));
}

#[test]
fn a_limit_is_typed_in_the_unit_of_its_result() {
    let mut reading = Part::new(Section::Readings, "r".into(), "R".into());
    if let Part::Reading(it) = &mut reading {
        it.rule = Rule::OilPressure;
    }
    let Some(Rows::Limits(results)) = reading.kind_of_rows() else { panic!("limits") };
    assert_eq!(results[0], ("hot-idle", "Hot, at idle"));
    reading.add_row("hot-idle".into(), String::new());
    let low = reading.fields(Some(0)).remove(0);
    assert_eq!(low.kind, Kind::Measure(Quantity::Pressure, false));
    assert!(reading.fill(Some(0), "low", &low.kind.read("10", &Show::default()).unwrap()));
    let Part::Reading(it) = &reading else { panic!("a reading") };
    assert!((it.limits[0].low.unwrap() - 68_947.57).abs() < 0.01);
    // Only a rule that leaves the quantity to the sheet asks for it.
    let asks = |part: &Part| part.fields(None).iter().any(|field| field.name == "quantity");
    assert!(!asks(&reading) && asks(&Part::new(Section::Readings, "p".into(), "P".into())));
}
