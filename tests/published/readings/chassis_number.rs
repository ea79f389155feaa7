//! The 17-character number: 49 CFR 565 tables III to V (automobilesoftware.com wiki), NHTSA outline
//! (yumpu.com 7275978), corvetteactioncenter.com.

use kerbworth_core::readings::chassis_number::{CheckDigit, digit_for, judge, weighted_sum};
use kerbworth_core::readings::outcome::{Circumstances, read};
use kerbworth_core::readings::{Given, Rule};

use crate::{limit, reading, spec};

#[test]
fn worked_numbers() {
    // Number with an open ninth place, sum, digit. TV-3.4 and TV-3.5 from memory.
    for (number, sum, digit) in [
        ("1G4AH59H05G118341", 411, '4'),
        ("1J9RP1A30A1644345", 314, '6'),
        ("1M8GDM9A0KP042788", 351, 'X'),
        ("11111111111111111", 89, '1'),
        ("5GZCZ43D13S812715", 408, '1'),
    ] {
        assert_eq!(weighted_sum(number), Some(sum), "{number}");
        assert_eq!(digit_for(sum), digit, "{number}");
        let right: String = number.chars().enumerate().map(|(at, sign)| if at == 8 { digit } else { sign }).collect();
        assert_eq!(judge(&right), Ok(CheckDigit::Right), "{right}");
    }
    assert_eq!(judge("1J9RP1A36A1644345"), Ok(CheckDigit::Right));
}

#[test]
fn products_of_table_v() {
    // TV-3.1: 8 49 24 5 32 15 18 80 0 45 56 7 6 40 12 12 2, the ninth place open.
    let products = [8, 49, 24, 5, 32, 15, 18, 80, 0, 45, 56, 7, 6, 40, 12, 12, 2];
    assert_eq!(products.iter().sum::<u32>(), 411);
    // Each place alone: with every other place at 0, which counts nothing, the sum is that place's product.
    let number = "1G4AH59H05G118341";
    for (place, product) in products.iter().enumerate() {
        let alone: String = number.chars().enumerate().map(|(at, sign)| if at == place { sign } else { '0' }).collect();
        assert_eq!(weighted_sum(&alone), Some(*product), "place {}", place + 1);
    }
}

#[test]
fn wrong_letters_and_other_lengths() {
    // TV-3.6.
    assert_eq!(judge("1M8GDM9A0KP042788"), Ok(CheckDigit::Wrong { wanted: 'X' }));
    for (number, letter) in [("IM8GDM9AXKP042788", 'I'), ("1M8GDM9AXKPO42788", 'O'), ("1M8GDM9AXKPQ42788", 'Q')] {
        assert_eq!(judge(number), Ok(CheckDigit::Letter(letter)), "{number}");
    }
    assert_eq!(judge("AB1234567890"), Ok(CheckDigit::DoesNotExist(12)));
}

#[test]
fn an_older_number_is_not_called_invalid() {
    let spec = spec(Rule::ChassisNumber, None, vec![limit("check-digit-wrong", None, Some(0.5))]);
    let said =
        |number: &str| read(&spec, &reading(&[("number", Given::Text(number.to_owned()))]), &Circumstances::default());
    let old = said("AB1234567890");
    assert!(old.problems.is_empty() && old.results.is_empty() && old.signs().is_empty());
    assert!(old.notes.iter().any(|note| note.to_string().contains("numbers of this length (12)")), "{:?}", old.notes);
    assert_eq!(said("1M8GDM9A0KP042788").signs(), ["above"]);
    assert!(said("1M8GDM9AXKP042788").signs().is_empty());
}
