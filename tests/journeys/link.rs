//! A club's appraiser seals a member's worksheet and sends it as a link; the member opens it on a device of their own, sees that
//! it is what was sealed, and takes a copy. What was changed on the way is refused, or told to be altered.

use ed25519_dalek::VerifyingKey;
use kerbworth_core::appraise::appraise;
use kerbworth_core::hand_over::file::file_name;
use kerbworth_core::hand_over::{Case, report::report};
use kerbworth_core::link;
use kerbworth_core::parcel::{Opened, Parcel};
use kerbworth_core::sheet::{Stage, demo, extend::extend, general::general};
use kerbworth_core::show::Show;
use kerbworth_core::worksheet::Worksheet;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::{DESK, PHONE};
use kerbworth_tests::document::is_on_page;
use kerbworth_tests::qr;

/// What stands in the address before the link's own letters.
const BEFORE: &str = "#/link/";
/// What a link to the demonstration may take at most, address and all.
const MOST: usize = 1200;
const PASSPHRASE: &str = "four dull green bicycles";
const CLUB: &str = "Curlew Owners' Circle";

#[test]
fn a_sealed_link_is_what_was_sealed_on_another_device() {
    let club = App::open(DESK);
    club.demo();
    let fingerprint = make_key(&club);
    club.to("#/hand-over", "Hand over");
    club.unfold("Send as a link");
    let sent = club.twin();
    let plain = copy_link(&club, false);
    let own = demo::curlew().expect("the demonstration's sheet can be read");
    let core_makes = link::encode(&Parcel::new(&sent.worksheet, Some(&own))).expect("the demonstration has a link");
    assert_eq!(letters(&plain), core_makes, "the page's link is core's");
    club.field(&format!("Under my seal ({fingerprint})")).click();
    let sealed = copy_link(&club, true);
    eprintln!(
        "link to the demonstration: {} characters, of which {} are the link's own",
        plain.len(),
        core_makes.len()
    );
    eprintln!(
        "the same under a seal: {} characters, of which {} are the link's own",
        sealed.len(),
        letters(&sealed).len()
    );
    assert!(sealed.len() <= MOST, "{} characters", sealed.len());
    let parcel = is_sealed(&sealed);
    club.accessible();

    let member = club.another_device(PHONE);
    member.follow(&sealed, "Read only");
    member.shows("Nothing of it is on your shelf");
    says_the_seal(&member, &format!("with a key that you do not know ({fingerprint})."));
    is_report_of(&member, &parcel);
    assert!(!member.text().contains("other figures"), "both devices reckon the same figures");
    member.accessible();
    member.field("Keep this key, once you have compared the fingerprint, as that of").fill(CLUB);
    member.find("button", "Keep the key").click();
    member.shows("Kept; it is named the next time.");
    member.saved();
    member.reload();
    member.at("Read only");
    says_the_seal(&member, &format!("with the key that you keep as {CLUB} ({fingerprint})."));

    member.find("button", "Copy to my shelf").click();
    member.at("Car");
    let copy = member.twin();
    is_same_but_photos(&copy.worksheet, &sent.worksheet);
    assert!(copy.sheet.name.starts_with("Wexcombe Curlew"), "its type sheet is in force: {}", copy.sheet.name);
    copy.is_in_strip(&member);
    assert_eq!(copy.strip(), sent.strip());
    member.to_shelf();
    member.find("button", "Delete 1967 Wexcombe Curlew 1500 drophead");

    member.follow(&plain, "Read only");
    member.shows("Not sealed: nothing shows whether it was changed since it was written.");
    member.clean();
    club.clean();
}

#[test]
fn a_type_sheet_of_ones_own_travels_with_the_link() {
    const KEYS: &str = "Keys, books and the hood's two pegs";
    let club = App::open(DESK);
    club.demo();
    club.to("#/sheets", "Type sheets");
    let shipped = demo::curlew().expect("the demonstration's sheet can be read").name;
    club.find("button", &format!("Copy {shipped}")).click();
    let name = format!("{shipped} (copy)");
    club.at(&name);
    club.css("details.sheet-section > summary").click();
    let checks = club.css("details.sheet-section");
    checks.field("Search by name").fill("Keys, books and tools");
    club.until("the search finds it alone", || {
        let there = club.run("return document.querySelectorAll('.sheet-entry').length", &[]);
        (there == 1).then_some(())
    });
    club.css(".sheet-entry > summary").click();
    club.find("button", "Change here").click();
    club.css(".sheet-entry fieldset:enabled");
    checks.field("Name").fill(KEYS);
    club.to("#/car", "Car");
    club.field("Type sheet").choose(&name);
    let sent = club.twin();
    assert_eq!(sent.sheet.check("papers-keys").map(|check| &*check.name), Some(KEYS));
    club.to("#/hand-over", "Hand over");
    club.unfold("Send as a link");
    let address = copy_link(&club, false);
    eprintln!("link with a type sheet of {} checks of its own: {} characters", own_checks(&address), address.len());

    let member = club.another_device(PHONE);
    member.follow(&address, "Read only");
    is_report_of(&member, &opened(&address).parcel);
    member.find("button", "Copy to my shelf").click();
    member.at("Car");
    let copy = member.twin();
    is_same_but_photos(&copy.worksheet, &sent.worksheet);
    assert_eq!(copy.sheet, sent.sheet, "the sheet came with it");
    copy.is_in_strip(&member);
    member.stage(Stage::Papers);
    assert!(member.reads("#check-papers-keys").contains(KEYS), "and is in force");
    member.clean();
    club.clean();
}

#[test]
fn a_link_that_was_changed_is_refused_and_a_file_is_told_to_be_altered() {
    let club = App::open(DESK);
    club.demo();
    let fingerprint = make_key(&club);
    club.to("#/hand-over", "Hand over");
    club.unfold("Send as a link");
    club.field(&format!("Under my seal ({fingerprint})")).click();
    let sealed = copy_link(&club, true);
    let whole = letters(&sealed);
    for place in (0..whole.len()).step_by((whole.len() / 40).max(1)).chain([whole.len() - 1]) {
        let changed = changed_at(whole, place);
        assert!(link::decode(&changed).is_err(), "the letter at {place} was changed, and the link is opened");
    }
    let cut = whole.get(..whole.len() - 1).expect("a link is long");
    assert!(link::decode(cut).is_err(), "the last letter was lost, and the link is opened");
    club.find("button", "Save the same as a file").click();
    let sent = club.twin().worksheet;
    let file = String::from_utf8(club.downloaded(&file_name(&sent, "sent", "json"))).expect("the file is text");

    let member = club.another_device(PHONE);
    let changed = changed_at(whole, whole.len() / 2);
    member.follow(&sealed.replace(whole, &changed), "This link cannot be opened");
    let said = link::decode(&changed).expect_err("it was changed").to_string();
    assert_eq!(member.reads("main [role=alert]"), said);
    member.accessible();
    member.find("link", "Shelf").click();
    member.at("Shelf");
    member.find("button", "Open the demonstration");
    assert_eq!(member.stored("kerbworth/shelf"), None, "the shelf is as it was");

    member.choose_file("sent.json", &file);
    member.at("Read only");
    says_the_seal(&member, &format!("with a key that you do not know ({fingerprint})."));
    member.to_shelf();
    let (right, wrong) = ("right front hose is cracked", "right front hose is creased");
    assert_eq!(file.matches(right).count(), 1, "the note is in the file");
    member.choose_file("altered.json", file.replace(right, wrong));
    member.at("Read only");
    member.shows("ALTERED: this is not what was sealed.");
    assert!(member.reads("main [role=alert]").starts_with("ALTERED"), "it is told at once");
    member.shows(wrong);
    member.accessible();
    member.clean();
}

#[test]
fn the_code_leads_where_the_link_does() {
    let app = App::open(PHONE);
    app.demo();
    app.to("#/hand-over", "Hand over");
    app.unfold("Send as a link");
    let address = copy_link(&app, false);
    app.find("button", "Show as a QR code").click();
    let path = app.css("svg.code path").attribute("d").expect("the code is drawn");
    let size = app.css("svg.code").attribute("viewBox").expect("the code has a size");
    let size: i32 = size.rsplit(' ').next().and_then(|side| side.parse().ok()).expect("a view box ends with its side");
    let coded = qr::read(&path, size);
    eprintln!("QR code of the demonstration: {size} modules a side with its margin");
    let (before, _) = address.split_once(letters(&address)).expect("the link is in its address");
    assert!(coded.starts_with(before), "{coded} is of this page");
    assert!(opened(&coded) == opened(&address), "the code holds what the link holds");
    app.accessible();
    app.follow(&coded, "Read only");
    is_report_of(&app, &opened(&coded).parcel);
    app.clean();
}

#[test]
fn the_key_goes_to_another_device_by_its_file_and_passphrase() {
    let club = App::open(DESK);
    let fingerprint = make_key(&club);
    let file = club.downloaded("kerbworth-seal-key");
    let other = club.another_device(PHONE);
    other.to("#/settings", "Settings");
    other.field("Passphrase of the key's file").fill("four dull green tricycles");
    other.choose_file("key.json", &file);
    other.shows("The passphrase does not open it.");
    other.shows("You have no key yet.");
    other.field("Passphrase of the key's file").fill(PASSPHRASE);
    other.choose_file("key.json", &file);
    other.shows("The key is kept in this browser.");
    other.shows(&fingerprint);
    assert_eq!(other.field("Your name beside the key").value(), CLUB);
    other.saved();
    other.reload();
    other.at("Settings");
    other.shows(&fingerprint);
    other.accessible();
    other.clean();
}

/// Makes a key in the settings, names it and saves it as a file under a passphrase; gives its fingerprint.
#[track_caller]
fn make_key(app: &App) -> String {
    app.to("#/settings", "Settings");
    app.find("button", "Make a key").click();
    app.shows("Made. Save it as a file");
    app.field("Your name beside the key").fill(CLUB);
    app.field("Passphrase of the key's file").fill("short");
    app.shows("Use twelve letters or more");
    assert!(app.find("button", "Save the key as a file").attribute("disabled").is_some());
    app.field("Passphrase of the key's file").fill(PASSPHRASE);
    app.find("button", "Save the key as a file").click();
    app.shows("Handed to the browser as a file.");
    let text = app.text();
    let said = text.split("Your key's fingerprint:").nth(1).and_then(|rest| rest.lines().next());
    said.expect("the fingerprint is shown").trim().to_owned()
}

/// Copies the link as it is set to be made, and gives it.
#[track_caller]
fn copy_link(app: &App, sealed: bool) -> String {
    app.allow_clipboard();
    app.find("button", "Copy the link").click();
    let link = app.until("the link is copied", || {
        app.text().contains("Copied. Characters:").then(|| app.copied()).filter(|link| {
            link.contains(BEFORE) && link::decode(letters(link)).is_ok_and(|it| it.parcel.seal.is_some() == sealed)
        })
    });
    let count = Show::default().number(link.len() as f64, 0);
    app.shows(&format!("Copied. Characters: {count}"));
    link
}

/// The link's own letters.
fn letters(address: &str) -> &str {
    address.split_once(BEFORE).map_or("", |(_, letters)| letters)
}

#[track_caller]
fn opened(address: &str) -> Opened {
    let opened = link::decode(letters(address)).expect("the link can be opened");
    assert!(opened.unread.is_empty(), "all of it can be read: {:?}", opened.unread);
    opened
}

fn own_checks(address: &str) -> usize {
    opened(address).parcel.own_sheet().map_or(0, |sheet| sheet.checks.len())
}

/// The seal of the browser is one to another library too.
#[track_caller]
fn is_sealed(address: &str) -> Parcel {
    let parcel = opened(address).parcel;
    let seal = parcel.seal.as_ref().expect("it is sealed");
    let key = VerifyingKey::from_bytes(&seal.key.0).expect("the key is one");
    let signature = ed25519_dalek::Signature::from_bytes(&seal.signature.0);
    key.verify_strict(&seal.message(&parcel), &signature).expect("the signature holds");
    parcel
}

#[track_caller]
fn says_the_seal(app: &App, how: &str) {
    app.shows("Unaltered since it was sealed,");
    app.shows(how);
}

/// The page shows the report that native core writes from the parcel.
#[track_caller]
fn is_report_of(app: &App, parcel: &Parcel) {
    let general = general().expect("the general sheet can be read");
    let sheet = parcel.own_sheet().map_or_else(|| general.clone(), |own| extend(&general, &own));
    let appraisal = appraise(&parcel.worksheet, &sheet);
    let show = Show::default().in_currency(parcel.worksheet.settings.currency);
    let case = Case { worksheet: &parcel.worksheet, sheet: &sheet, appraisal: &appraisal, show: &show };
    is_on_page(app, &report(case), &show);
}

/// All but what a link leaves at home: the photographs, and which worksheet of the shelf it is.
#[track_caller]
fn is_same_but_photos(copy: &Worksheet, sent: &Worksheet) {
    assert_ne!(copy.id, sent.id, "it is a worksheet of its own");
    let mut wanted = Worksheet { id: copy.id.clone(), ..sent.clone() };
    wanted.findings.values_mut().for_each(|finding| finding.photos.clear());
    assert_eq!(copy, &wanted);
}

/// The link with another letter in this place.
fn changed_at(link: &str, place: usize) -> String {
    let other = |letter| if letter == 'A' { 'B' } else { 'A' };
    link.chars().enumerate().map(|(at, letter)| if at == place { other(letter) } else { letter }).collect()
}
