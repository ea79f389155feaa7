//! Seals, signed and judged by `ed25519-dalek` as a browser does by Web Crypto.

use ed25519_dalek::{Signer, SigningKey, VerifyingKey};
use kerbworth_core::appraise::appraise;
use kerbworth_core::link;
use kerbworth_core::parcel::Parcel;
use kerbworth_core::seal::{Figures, Key, KnownKey, Seal, Signature, Verdict, verdict};
use kerbworth_core::sheet::{demo, extend::extend, general::general};
use kerbworth_core::units::Currency;
use kerbworth_core::worksheet::Worksheet;

fn figures() -> Figures {
    let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
    Figures::of(&appraise(&demo::worksheet().unwrap(), &sheet), Currency::default())
}

fn seal(mut parcel: Parcel) -> Parcel {
    let signer = SigningKey::from_bytes(&[42; 32]);
    let mut seal = Seal::unsigned("2026-10-17T18:20".into(), Key(signer.verifying_key().to_bytes()), figures());
    seal.signature = Signature(signer.sign(&seal.message(&parcel)).to_bytes());
    parcel.seal = Some(seal);
    parcel
}

fn holds(key: &Key, signature: &Signature, message: &[u8]) -> bool {
    // What is no point of the curve is no key.
    VerifyingKey::from_bytes(&key.0)
        .is_ok_and(|key| key.verify_strict(message, &ed25519_dalek::Signature::from_bytes(&signature.0)).is_ok())
}

fn judged(parcel: &Parcel) -> Verdict {
    let seal = parcel.seal.as_ref().unwrap();
    let holds = holds(&seal.key, &seal.signature, &seal.message(parcel));
    verdict(parcel, Some(holds), &figures(), &[KnownKey { key: seal.key, name: "the Circle".into() }])
}

fn demo_sealed() -> Parcel {
    seal(Parcel::new(&demo::worksheet().unwrap(), Some(&demo::curlew().unwrap())))
}

#[track_caller]
fn unaltered(parcel: &Parcel) {
    let verdict = judged(parcel);
    let Verdict::Unaltered { known, same_figures, .. } = verdict else { panic!("{verdict}") };
    assert_eq!((known.as_deref(), same_figures), (Some("the Circle"), true));
}

#[test]
fn holds_after_a_link_and_after_a_file() {
    let parcel = demo_sealed();
    unaltered(&parcel);
    let link = link::encode(&parcel).unwrap();
    println!("the demo, sealed: {} letters", link.len());
    let opened = link::decode(&link).unwrap().parcel;
    unaltered(&opened);
    unaltered(&Parcel::of_file(&opened.to_file()).unwrap().parcel);
}

#[test]
fn any_bit_of_key_or_signature_changed_is_refused() {
    let parcel = seal(Parcel::new(&Worksheet::default(), None));
    for bit in 0..(32 + 64) * 8 {
        let mut changed = parcel.clone();
        let seal = changed.seal.as_mut().unwrap();
        match bit / 8 {
            byte @ 0..32 => seal.key.0[byte] ^= 1 << (bit % 8),
            byte => seal.signature.0[byte - 32] ^= 1 << (bit % 8),
        }
        assert_eq!(judged(&changed), Verdict::Altered, "bit {bit}");
    }
}

/// Every bit of what is signed of an empty worksheet, and every 97th of the demo's.
#[test]
fn any_bit_of_what_is_sealed_changed_is_refused() {
    for (parcel, step) in [(seal(Parcel::new(&Worksheet::default(), None)), 1), (demo_sealed(), 97)] {
        let seal = parcel.seal.as_ref().unwrap();
        let message = seal.message(&parcel);
        assert!(holds(&seal.key, &seal.signature, &message));
        for bit in (0..message.len() * 8).step_by(step) {
            let mut changed = message.clone();
            changed[bit / 8] ^= 1 << (bit % 8);
            assert!(!holds(&seal.key, &seal.signature, &changed), "bit {bit}");
        }
    }
}

#[test]
fn a_changed_worksheet_is_refused_and_another_key_is_not_known() {
    let mut changed = demo_sealed();
    changed.worksheet.findings.remove("brakes-hoses");
    assert_eq!(judged(&changed), Verdict::Altered);
    let parcel = demo_sealed();
    assert!(matches!(verdict(&parcel, Some(true), &figures(), &[]), Verdict::Unaltered { known: None, .. }));
}
