//! QR codes, drawn from their path as a browser would and read by `rqrr`.

use kerbworth_core::link;
use kerbworth_core::parcel::Parcel;
use kerbworth_core::qr::{Code, QrError, code};
use kerbworth_core::sheet::{demo, extend::extend, general::general};
use kerbworth_tests::worksheets::full;

const BEFORE: &str = "https://kerbworth.example/#link/";

fn read(code: &Code) -> String {
    kerbworth_tests::qr::read(&code.path, code.size)
}

#[test]
fn another_library_reads_the_demos_code() {
    let parcel = Parcel::new(&demo::worksheet().unwrap(), Some(&demo::curlew().unwrap()));
    let link = link::encode(&parcel).unwrap();
    let code = code(BEFORE, &link).unwrap();
    println!("the demo's code: {} modules a side", code.size);
    assert!(code.is_easy());
    let address = read(&code);
    let there = link::decode(address.strip_prefix(BEFORE).unwrap()).unwrap();
    assert!(there == link::decode(&link).unwrap());
}

#[test]
fn a_full_worksheet_has_a_code_and_a_fuller_one_is_told_that_it_has_none() {
    let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
    let link = link::encode(&Parcel::new(&full(&sheet, 150, 12), None)).unwrap();
    let digits = link::digits::digits(&link).unwrap();
    assert_eq!(read(&code(BEFORE, &link).unwrap()), format!("{BEFORE}{digits}"));
    // Whole bytes of it, four times.
    let fuller = link[..link.len() / 4 * 4].repeat(4);
    assert!(matches!(code(BEFORE, &fuller), Err(QrError::DoesNotFit { letters }) if letters == fuller.len()));
}
