//! A photograph of what was found: taken in upright and without the place where it was taken, kept, shown in the report, handed
//! out with the worksheet, taken out and brought back.

use kerbworth_core::bundle;
use kerbworth_core::hand_over::{Kind, file::file_name};
use kerbworth_core::sheet::Stage;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{DESK, PHONE};
use kerbworth_tests::photos::kept;

/// 48 pixels wide and 32 high, red above blue; its note says that the camera was held so that red belongs to the right.
const ON_ITS_SIDE: &[u8] = include_bytes!("../data/photograph-on-its-side.jpg");
const SILLS: &str = "structure-sills";
const CAPTION: &str = "Left sill, behind the front wheel";

#[test]
fn a_photograph_is_kept_upright_and_tells_no_place() {
    let mut app = App::open(PHONE);
    app.begin();
    app.field("Day").fill("2026-06-20");
    app.stage(Stage::WalkRound);
    app.open_check(SILLS).find("button", "Hole or burst seam in the sill").click();
    has_notes_of_the_camera(ON_ITS_SIDE);
    add(&app, "sill.jpg", ON_ITS_SIDE);
    app.check(SILLS).field("Caption").fill(CAPTION);
    is_upright(&app, &format!("#check-{SILLS} img.photo"));
    app.accessible();
    let [(id, photo)] = &kept(&app)[..] else { panic!("one photograph is kept") };
    assert!(photo.starts_with(&[0xff, 0xd8]), "as a JPEG");
    for word in ["Exif", "GPS", "WGS-84", "Made for this test"] {
        assert!(!holds(photo, word), "“{word}” is still in what is kept");
    }

    app.another_day();
    app.find("link", "Unnamed car 20 Jun 2026").click();
    app.at("Car");
    app.stage(Stage::WalkRound);
    app.open_check(SILLS);
    is_upright(&app, &format!("#check-{SILLS} img.photo"));
    assert_eq!(app.check(SILLS).field("Caption").value(), CAPTION);

    app.go("Hand over");
    app.document(Kind::Report);
    is_upright(&app, ".document .finding img.photo");
    assert_eq!(app.reads(".document .finding figcaption"), CAPTION);
    app.unfold("Save as a file");
    app.find("button", "Worksheet with photographs").click();
    let worksheet = app.twin().worksheet;
    let file = app.downloaded(&file_name(&worksheet, "", "zip"));
    let (there, notes) = bundle::read(&file).expect("the file can be read");
    assert!(notes.is_empty(), "in full: {notes:?}");
    assert_eq!(there.worksheets, [worksheet]);
    assert_eq!(there.photos.into_iter().collect::<Vec<_>>(), [(id.clone(), photo.clone())]);
    app.clean();
}

#[test]
fn a_photograph_taken_out_comes_back_and_goes_with_its_worksheet() {
    let mut app = App::open(PHONE);
    app.begin();
    app.stage(Stage::WalkRound);
    app.open_check(SILLS).find("button", "serious").click();
    add(&app, "sill.jpg", ON_ITS_SIDE);
    app.check(SILLS).field("Caption").fill(CAPTION);
    let photographed = app.twin().worksheet;
    app.find("button", &format!("Take out the photograph: {CAPTION}")).click();
    app.until("it is gone", || (photos(&app) == 0).then_some(()));
    app.find("button", "Undo").click();
    is_upright(&app, &format!("#check-{SILLS} img.photo"));
    assert_eq!(app.twin().worksheet, photographed);

    app.to_shelf();
    app.find("button", "Delete Unnamed car").click();
    app.another_day();
    assert_eq!(kept(&app).len(), 1, "what can be brought back keeps its photograph");
    app.find("button", "Delete these for good").click();
    app.no_longer_shows("Deleted");
    app.another_day();
    app.until("the photograph is gone too", || kept(&app).is_empty().then_some(()));
    app.clean();
}

#[test]
fn a_caption_is_undone_and_a_photograph_comes_in_though_its_screen_was_left() {
    let app = App::open(DESK);
    app.begin();
    app.stage(Stage::WalkRound);
    app.open_check(SILLS).find("button", "serious").click();
    add(&app, "sill.jpg", ON_ITS_SIDE);
    let caption = app.check(SILLS).field("Caption");
    caption.fill("Left sill");
    // Typing on would be one step with it.
    app.css("#check-wheels-tread .grades button").click();
    caption.fill(CAPTION);
    app.find("button", "Undo").click();
    app.until("the caption before is back", || (caption.value() == "Left sill").then_some(()));
    app.css(".head").find("link", "Shelf").click();
    app.at("Shelf");
    app.css("li.card > a").click();
    app.at("Car");
    app.stage(Stage::WalkRound);
    app.open_check(SILLS);
    app.find("button", "Redo").click();
    app.until("the caption is", || (app.check(SILLS).field("Caption").value() == CAPTION).then_some(()));

    let leave = "document.querySelector(arguments[0]).addEventListener('change', () => { location.hash = '#/car' })";
    app.run(leave, &[format!("#check-{SILLS} input[type=file]").into()]);
    choose(&app, "sill-again.jpg", ON_ITS_SIDE);
    app.at("Car");
    app.until("the photograph has come in", || {
        let worksheet = app.twin().worksheet;
        (worksheet.findings.values().map(|finding| finding.photos.len()).sum::<usize>() == 2).then_some(())
    });
    app.clean();
}

#[test]
fn what_is_no_picture_is_refused_and_the_room_is_told() {
    let app = App::open(PHONE);
    app.begin();
    app.stage(Stage::WalkRound);
    app.open_check(SILLS).find("button", "serious").click();
    let before = app.twin().worksheet;
    let cut_short = ON_ITS_SIDE.get(..40).expect("it is longer");
    for (name, file) in [("notes.jpg", &b"not a picture at all"[..]), ("cut.jpg", cut_short)] {
        choose(&app, name, file);
        app.check(SILLS).find("alert", "");
        assert_eq!(
            app.reads(&format!("#check-{SILLS} [role=alert]")),
            "The browser cannot open this as a picture. Choose a JPEG or PNG file."
        );
    }
    assert_eq!(app.twin().worksheet, before);
    assert!(kept(&app).is_empty());
    app.accessible();
    add(&app, "sill.jpg", ON_ITS_SIDE);
    assert!(!app.has("alert", ""), "what was said of the file before is gone");

    app.to("#/settings", "Settings");
    app.shows("Worksheets and photographs take up");
    let text = app.text();
    let megabytes = |after: &str| {
        let number = text.split(after).nth(1).and_then(|rest| rest.split(" MB").next()).map(|it| it.replace(',', ""));
        number.and_then(|number| number.trim().parse::<f64>().ok()).expect("a number of megabytes")
    };
    let (used, whole) = (megabytes("photographs take up"), megabytes("the browser allows about"));
    assert!(used < whole && whole > 10.0, "{used} of {whole} MB");
    app.clean();
}

#[track_caller]
fn choose(app: &App, name: &str, file: &[u8]) {
    let path = app.file(name, file);
    app.css(&format!("#check-{SILLS} input[type=file]")).type_keys(path);
}

/// Adds a photograph to the check of the sills, which is open.
#[track_caller]
fn add(app: &App, name: &str, file: &[u8]) {
    choose(app, name, file);
    app.css(&format!("#check-{SILLS} img.photo"));
    app.saved();
    assert_eq!(photos(app), 1);
}

fn photos(app: &App) -> u64 {
    app.run("return document.querySelectorAll('img.photo').length", &[]).as_u64().unwrap_or(u64::MAX)
}

/// The picture is higher than wide, blue at its left and red at its right.
#[track_caller]
fn is_upright(app: &App, selector: &str) {
    app.css(selector);
    let script = "const picture = document.querySelector(arguments[0]);
        return (async () => {
            await picture.decode();
            const [width, height] = [picture.naturalWidth, picture.naturalHeight];
            const canvas = Object.assign(document.createElement('canvas'), { width, height });
            const context = canvas.getContext('2d', { willReadFrequently: true });
            context.drawImage(picture, 0, 0);
            const colour = (x) => {
                const [red, , blue] = context.getImageData(x, height / 2, 1, 1).data;
                return red > blue ? 'red' : 'blue';
            };
            return [width, height, colour(4), colour(width - 4)];
        })()";
    assert_eq!(app.run(script, &[selector.into()]), serde_json::json!([32, 48, "blue", "red"]));
}

fn holds(file: &[u8], word: &str) -> bool {
    file.windows(word.len()).any(|part| part == word.as_bytes())
}

/// What is looked for in vain later on is in the file that is chosen.
#[track_caller]
fn has_notes_of_the_camera(file: &[u8]) {
    for word in ["Exif", "GPS", "WGS-84", "Made for this test"] {
        assert!(holds(file, word), "“{word}” is in the file");
    }
}
