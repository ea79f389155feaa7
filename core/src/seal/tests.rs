use proptest::prelude::*;

use super::*;
use crate::appraise::appraise;
use crate::link;
use crate::sheet::{Spread, TypeSheet, demo, extend::extend, general::general};
use crate::units::{Currency, Money};

fn figures() -> Figures {
    let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
    Figures::of(&appraise(&demo::worksheet().unwrap(), &sheet), Currency::default())
}

fn sealed(own: &TypeSheet) -> Parcel {
    let mut parcel = Parcel::new(&demo::worksheet().unwrap(), Some(own));
    let seal = Seal::unsigned("2026-10-17T18:20".into(), Key([7; 32]), figures());
    parcel.seal = Some(Seal { signature: Signature([9; 64]), ..seal });
    parcel
}

fn message(parcel: &Parcel) -> String {
    String::from_utf8(parcel.seal.as_ref().unwrap().message(parcel)).unwrap()
}

#[test]
fn the_demo_has_figures() {
    let figures = figures();
    let worth = figures.worth.unwrap();
    assert!(worth.0 < worth.1 && worth.1 < worth.2);
    let put_right = figures.put_right.unwrap();
    assert_eq!([put_right.0.0 % 100, put_right.1.0 % 100, put_right.2.0 % 100], [0; 3], "as they are shown");
    assert!(figures.score.unwrap() <= 100 && (1..=100).contains(&figures.cover) && figures.holds > 0);
}

/// What is signed is the same on the sealer's side and after a link, a file, and a store that reads and writes it.
#[test]
fn the_message_is_the_same_wherever_the_parcel_has_been() {
    let own = TypeSheet { id: "curlew-of-the-circle".into(), ..demo::curlew().unwrap() };
    for parcel in [sealed(&own), sealed(&demo::curlew().unwrap())] {
        let want = message(&parcel);
        assert!(want.starts_with("Kerbworth seal 1\n{\"") && want.contains(",\"general\":"), "{}", &want[..60]);
        let mut there = link::decode(&link::encode(&parcel).unwrap()).unwrap().parcel;
        assert!(message(&there) == want, "after a link");
        for round in 0..4 {
            there = Parcel::of_file(&there.to_file()).unwrap().parcel;
            assert!(message(&there) == want, "after file {round}");
        }
    }
}

#[track_caller]
fn told_apart(what: &str, change: impl FnOnce(&mut Parcel)) {
    let parcel = sealed(&demo::curlew().unwrap());
    let mut changed = parcel.clone();
    change(&mut changed);
    assert_eq!(message(&changed) == message(&parcel), what == "signature", "{what}");
}

#[test]
fn all_but_the_signature_is_signed() {
    let seal = |parcel: &mut Parcel, change: fn(&mut Seal)| change(parcel.seal.as_mut().unwrap());
    told_apart("signature", |parcel| seal(parcel, |seal| seal.signature.0[0] ^= 1));
    told_apart("key", |parcel| seal(parcel, |seal| seal.key.0[31] ^= 1));
    told_apart("time", |parcel| seal(parcel, |seal| seal.when.push('1')));
    told_apart("figures", |parcel| seal(parcel, |seal| seal.figures.cover += 1));
    told_apart("worksheet", |parcel| parcel.worksheet.car.note.push('.'));
    told_apart("general", |parcel| parcel.general ^= 1);
    told_apart("shipped", |parcel| parcel.shipped = None);
    told_apart("sheet", |parcel| parcel.sheet = Some(TypeSheet::default()));
}

#[test]
fn a_verdict_says_what_was_found() {
    let mut parcel = sealed(&demo::curlew().unwrap());
    let known = [KnownKey { key: Key([7; 32]), name: "the Circle".into() }];
    let said =
        |parcel: &Parcel, holds, now: &Figures, known: &[KnownKey]| verdict(parcel, holds, now, known).to_string();
    assert_eq!(
        said(&parcel, Some(true), &figures(), &known),
        "Unaltered since it was sealed, 2026-10-17T18:20 by the sealer's clock, with the key that you keep as the Circle \
         (0707 0707 0707 0707 0707)."
    );
    assert_eq!(
        said(&parcel, Some(true), &Figures::default(), &[]),
        "Unaltered since it was sealed, 2026-10-17T18:20 by the sealer's clock, with a key that you do not know \
         (0707 0707 0707 0707 0707). This program reckons other figures from it than those sealed: both are shown."
    );
    assert!(said(&parcel, Some(false), &figures(), &known).starts_with("ALTERED"));
    assert_eq!(verdict(&parcel, None, &figures(), &known), Verdict::CannotTell);
    parcel.seal = None;
    assert_eq!(verdict(&parcel, Some(true), &figures(), &known), Verdict::NotSealed);
}

fn any_figures() -> impl Strategy<Value = Figures> {
    let money = || (0..1_000_000_000_i64).prop_map(Money);
    let spread =
        || prop::option::of((money(), money(), money()).prop_map(|(low, middle, high)| Spread(low, middle, high)));
    (spread(), spread(), prop::option::of(0..=100_u32), 0..=100_u32, any::<u32>())
        .prop_map(|(worth, put_right, score, cover, holds)| Figures { worth, put_right, score, cover, holds })
}

fn any_seal() -> impl Strategy<Value = Seal> {
    let bytes = |count| {
        prop::collection::vec(any::<u8>(), count).prop_filter("no key is all zeros", |it| it.iter().any(|it| *it != 0))
    };
    (any::<String>(), bytes(32), bytes(64), any_figures()).prop_map(|(when, key, signature, figures)| Seal {
        when,
        key: Key(key.try_into().unwrap()),
        signature: Signature(signature.try_into().unwrap()),
        figures,
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever is sealed: by a file and by a link it comes back, and the bytes that were signed are the same.
    #[test]
    fn any_sealed_parcel_comes_back(worksheet in link::any::worksheet(), seal in any_seal(), with_sheet: bool) {
        let own = TypeSheet { id: "own".into(), ..demo::curlew().unwrap() };
        let parcel = Parcel::new(&worksheet, with_sheet.then_some(&own)).under(Some(seal));
        let by_file = Parcel::of_file(&parcel.to_file()).unwrap();
        let by_link = link::decode(&link::encode(&parcel).unwrap()).unwrap();
        for opened in [by_file, by_link] {
            prop_assert_eq!(opened.unread, []);
            prop_assert!(message(&opened.parcel) == message(&parcel));
            prop_assert_eq!(opened.parcel, parcel.clone());
        }
    }

    #[test]
    fn different_texts_have_different_messages(a in any::<String>(), b in any::<String>()) {
        let parcel = |maker: &str, model: &str| {
            let mut parcel = Parcel { seal: Some(Seal::default()), ..Parcel::default() };
            parcel.worksheet.car.maker = maker.into();
            parcel.worksheet.car.model = model.into();
            message(&parcel)
        };
        prop_assert_eq!(parcel(&a, &b) == parcel(&b, &a), a == b);
    }
}
