//! QR codes, drawn from their path as a browser would and read by `rqrr`.

use kerbworth_core::link;
use kerbworth_core::parcel::Parcel;
use kerbworth_core::qr::{Code, QrError, code};
use kerbworth_core::sheet::{demo, extend::extend, general::general};
use kerbworth_tests::worksheets::full;

const BEFORE: &str = "https://kerbworth.example/#link/";

/// Pixels a module.
const SCALE: usize = 3;

/// Which pixels the path makes dark.
fn drawn(code: &Code) -> Vec<Vec<bool>> {
    let side = usize::try_from(code.size).unwrap();
    let mut dark = vec![vec![false; side]; side];
    for part in code.path.split_terminator('z') {
        let (at, run) = part.strip_prefix('M').unwrap().split_once('h').unwrap();
        let (x, y) = at.split_once(' ').unwrap();
        let (length, back) = run.split_once("v1h-").unwrap();
        assert_eq!(length, back);
        let (x, y, length): (usize, usize, usize) = (x.parse().unwrap(), y.parse().unwrap(), length.parse().unwrap());
        dark[y][x..x + length].fill(true);
    }
    dark
}

fn read(code: &Code) -> String {
    let dark = drawn(code);
    let side = dark.len() * SCALE;
    let mut picture = rqrr::PreparedImage::prepare_from_bitmap(side, side, |x, y| dark[y / SCALE][x / SCALE]);
    let grids = picture.detect_grids();
    assert_eq!(grids.len(), 1, "one code is seen");
    grids[0].decode().unwrap().1
}

#[test]
fn another_library_reads_the_demos_code() {
    let parcel = Parcel::new(&demo::worksheet().unwrap(), Some(&demo::curlew().unwrap()));
    let link = link::encode(&parcel).unwrap();
    let code = code(BEFORE, &link).unwrap();
    println!("the demo's code: {} modules a side", code.size);
    assert!(code.is_easy());
    let address = read(&code);
    assert_eq!(address, code.address);
    let there = link::decode(address.strip_prefix(BEFORE).unwrap()).unwrap();
    assert!(there == link::decode(&link).unwrap());
}

#[test]
fn a_full_worksheet_has_a_code_and_a_fuller_one_is_told_that_it_has_none() {
    let sheet = extend(&general().unwrap(), &demo::curlew().unwrap());
    let link_of = |findings, sales| link::encode(&Parcel::new(&full(&sheet, findings, sales), None)).unwrap();
    let link = link_of(150, 12);
    let digits = link::digits::digits(&link).unwrap();
    assert_eq!(read(&code(BEFORE, &link).unwrap()), format!("{BEFORE}{digits}"));
    let link = link_of(190, 450);
    assert_eq!(code(BEFORE, &link), Err(QrError::DoesNotFit { letters: link.len() }));
}
