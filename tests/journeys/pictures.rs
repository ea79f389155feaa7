//! The picture at the head of the README: the demonstration's worth, as a small laptop shows it.

use kerbworth_tests::app::App;
use kerbworth_tests::browser::{DESK, LIGHT};
use kerbworth_tests::dist::{shots, tree};
use std::{env, fs};

/// Always among the screenshots; in the working tree only when it is asked for, so that a run of the tests changes nothing there.
#[test]
fn the_worth_of_the_demonstration() {
    let app = App::open(DESK);
    app.prefer(LIGHT);
    app.demo();
    app.css("#worth-range");
    app.clean();
    app.screenshot("worth");
    let picture = fs::read(shots().join("worth.png")).expect("the picture was taken");
    assert_eq!(size(&picture), Some((DESK.width, DESK.height)), "the picture is a PNG of the whole screen");
    let kept = tree().join("tests/pictures/worth.png");
    if env::var_os("KERBWORTH_WRITE_PICTURES").is_some_and(|wanted| wanted == "1") {
        fs::create_dir_all(kept.parent().expect("a file lies in a folder")).expect("the folder can be made");
        fs::write(&kept, &picture).expect("the picture can be kept");
    }
    assert!(kept.is_file(), "the README shows {}: run once with KERBWORTH_WRITE_PICTURES=1", kept.display());
}

/// Width and height of a PNG: the first two numbers of its first chunk.
fn size(png: &[u8]) -> Option<(u32, u32)> {
    let rest = png.strip_prefix(b"\x89PNG\r\n\x1a\n")?;
    let number = |at: usize| Some(u32::from_be_bytes(rest.get(at..at + 4)?.try_into().ok()?));
    (rest.get(4..8)? == b"IHDR").then_some((number(8)?, number(12)?))
}
