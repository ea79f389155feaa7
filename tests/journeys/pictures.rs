//! The pictures of the README: the demonstration's worth, as a small laptop shows it, and its checks on a phone. And, when it is asked for,
//! pictures of all there is to be seen, to be looked at by whoever changes the looks.

use kerbworth_core::sheet::Stage;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{DARK, DESK, LIGHT, PHONE, Screen, TABLET};
use kerbworth_tests::dist::{shots, tree};
use std::path::Path;
use std::{env, fs};

use crate::sights;

/// The screens on which pictures are taken.
const SCREENS: [(&str, Screen); 3] = [("phone", PHONE), ("tablet", TABLET), ("desk", DESK)];

/// Every screen and dialog, on a phone, a tablet and a desk, in every look and as printed, into `target/pictures`: one folder
/// for each screen and look. `KERBWORTH_SIGHTS` takes those alone whose group has the word in its name.
#[test]
#[ignore = "takes minutes and some hundred pictures: to be looked at, not to be passed"]
fn of_every_screen_in_every_look() {
    let folder = shots().with_file_name("pictures");
    let wanted = env::var("KERBWORTH_SIGHTS").unwrap_or_default();
    let mut taken = 0;
    for (_, walk) in sights::ALL.into_iter().filter(|(name, _)| name.contains(&wanted)) {
        let app = App::open(PHONE);
        walk(&app, &mut |app, sight| taken += take(app, &folder, sight));
    }
    eprintln!("{taken} pictures are in {}", folder.display());
    assert!(taken > 0, "no group of sights is named “{wanted}”");
}

/// Takes the pictures of what is on the screen now.
fn take(app: &App, folder: &Path, sight: &str) -> usize {
    let name = format!("{}.png", sight.replace([' ', ',', ':'], "-"));
    let picture = |of: &str, whole: bool| {
        let folder = folder.join(of);
        fs::create_dir_all(&folder).expect("the folder of the pictures can be made");
        if whole { app.whole_picture(&folder.join(&name)) } else { app.picture(&folder.join(&name)) }
    };
    let wear = |look: &str| app.run("document.documentElement.dataset.theme = arguments[0]", &[look.into()]);
    for (on, screen) in SCREENS {
        app.screen(screen);
        for (look, theme, scheme) in [("light", "device", LIGHT), ("dark", "device", DARK), ("sun", "sun", LIGHT)] {
            app.prefer(scheme);
            wear(theme);
            picture(&format!("{on}-{look}"), false);
        }
        wear("device");
    }
    app.as_printed(true);
    picture("print", true);
    app.as_printed(false);
    app.screen(PHONE);
    3 * SCREENS.len() + 1
}

#[test]
fn the_worth_of_the_demonstration() {
    let app = App::open(DESK);
    app.prefer(LIGHT);
    app.demo();
    app.css("#worth-range");
    kept(&app, "worth", DESK);
    app.clean();
}

#[test]
fn the_checks_of_the_demonstration_on_a_phone() {
    let app = App::open(PHONE);
    app.prefer(LIGHT);
    app.demo();
    app.stage(Stage::WalkRound);
    kept(&app, "checks", PHONE);
    app.find("button", "Full sun").click();
    app.css("html[data-theme=sun]");
    kept(&app, "sun", PHONE);
    app.clean();
}

/// Takes a picture of the README: always among the screenshots; in the working tree only when it is asked for, so that a run of
/// the tests changes nothing there.
#[track_caller]
fn kept(app: &App, name: &str, screen: Screen) {
    app.screenshot(name);
    let picture = fs::read(shots().join(format!("{name}.png"))).expect("the picture was taken");
    assert_eq!(size(&picture), Some((screen.width, screen.height)), "the picture is a PNG of the whole screen");
    let kept = tree().join(format!("tests/pictures/{name}.png"));
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
