use proptest::prelude::*;

use super::*;
use crate::link;
use crate::sheet::demo;
use crate::worksheet::Sale;

fn whole() -> Bundle {
    let sale = Sale { id: "s".into(), source: "Lot 7".into(), ..Sale::default() };
    Bundle {
        worksheets: vec![demo::worksheet().unwrap(), Worksheet { id: "b".into(), ..Worksheet::default() }],
        type_sheets: vec![demo::curlew().unwrap()],
        ledger: Some(Ledger { sales: vec![sale], ..Ledger::default() }),
        photos: demo::PHOTOS.iter().map(|(id, drawn)| ((*id).to_owned(), drawn.as_bytes().to_vec())).collect(),
    }
}

#[test]
fn what_is_written_is_read() {
    for bundle in [whole(), Bundle { worksheets: vec![Worksheet::default()], ..Bundle::default() }] {
        assert_eq!(read(&write(&bundle).unwrap()), Ok((bundle, Vec::new())));
    }
}

#[test]
fn ids_that_are_no_names_of_files_are_kept() {
    let photos = ["../../etc/passwd", "a/b", "", "\u{0}"].map(|id| (id.to_owned(), vec![0xff, 0xd8, 0xff])).into();
    let bundle = Bundle { worksheets: vec![Worksheet::default()], photos, ..Bundle::default() };
    let written = write(&bundle).unwrap();
    assert!(!written.windows(8).any(|bytes| bytes == b"photos/."));
    assert_eq!(read(&written).unwrap().0.photos, bundle.photos);
}

#[test]
fn says_what_is_no_bundle() {
    assert_eq!(read(b""), Err(BundleError::NotZip));
    assert_eq!(read(b"{\"format\": 1}"), Err(BundleError::NotZip));
    let empty = write(&Bundle::default()).unwrap();
    assert_eq!(read(&empty), Err(BundleError::NotOurs));
    let written = write(&whole()).unwrap();
    assert_eq!(read(&written[..written.len() - 10]).map(|_| ()), Err(BundleError::NotZip));
}

#[test]
fn a_damaged_part_is_named_and_the_rest_is_read() {
    let mut written = write(&whole()).unwrap();
    let place = written.windows(5).position(|bytes| bytes == b"Lot 7").unwrap();
    written[place] = b'X';
    let (bundle, notes) = read(&written).unwrap();
    assert_eq!(notes, [Note { part: "ledger.json".into(), why: BundleError::Damaged }]);
    assert_eq!(bundle, Bundle { ledger: None, ..whole() });
}

#[test]
fn a_part_that_cannot_be_read_is_named() {
    let mut zip = rawzip::ZipArchiveWriter::new(Vec::new());
    let parts: [(&str, &[u8], rawzip::CompressionMethod); 5] = [
        ("worksheets/1.json", b"{}", rawzip::CompressionMethod::STORE),
        ("worksheets/2.json", b"[1]", rawzip::CompressionMethod::STORE),
        ("worksheets/3.json", b"\xff", rawzip::CompressionMethod::STORE),
        ("ledger.json", b"\x03\x00", rawzip::CompressionMethod::DEFLATE),
        ("photos/1.jpg", b"\xff\xd8", rawzip::CompressionMethod::STORE),
    ];
    for (name, content, method) in parts {
        let (mut entry, config) = zip.new_file(name).compression_method(method).start().unwrap();
        let mut writer = config.wrap(&mut entry);
        std::io::Write::write_all(&mut writer, content).unwrap();
        let (_, descriptor) = writer.finish().unwrap();
        entry.finish(descriptor).unwrap();
    }
    let (bundle, notes) = read(&zip.finish().unwrap()).unwrap();
    assert_eq!(bundle.worksheets.len(), 1);
    let said: Vec<(&str, &BundleError)> = notes.iter().map(|note| (note.part.as_str(), &note.why)).collect();
    assert_eq!(
        said,
        [
            ("ledger.json", &BundleError::Compressed),
            ("worksheets/2.json", &BundleError::Unreadable(RestoreError::NotAnObject)),
            ("worksheets/3.json", &BundleError::NotText),
            ("photos/1.jpg", &BundleError::Unnamed),
        ]
    );
}

#[test]
fn what_cannot_be_read_of_a_type_sheet_is_noted() {
    let (mut zip, content) = (rawzip::ZipArchiveWriter::new(Vec::new()), br#"{"id":"own","checks":7}"#);
    let (mut entry, _) = zip.new_file("type-sheets/1.json").start().unwrap();
    std::io::Write::write_all(&mut entry, content).unwrap();
    entry.finish(rawzip::DataDescriptorOutput::new(SUM.checksum(content), content.len() as u64)).unwrap();
    let (bundle, notes) = read(&zip.finish().unwrap()).unwrap();
    assert_eq!(bundle.type_sheets.iter().map(|sheet| &*sheet.id).collect::<Vec<_>>(), ["own"]);
    assert_eq!(notes.len(), 1, "{notes:?}");
    assert!(notes[0].to_string().starts_with("type-sheets/1.json: checks: "), "{}", notes[0]);
}

#[test]
fn tells_what_is_new() {
    assert_eq!(Arrival::of(&1, None), Arrival::New);
    assert_eq!(Arrival::of(&1, Some(&1)), Arrival::Same);
    assert_eq!(Arrival::of(&1, Some(&2)), Arrival::Differs);
    let ledger = |ids: &[&str]| Ledger {
        sales: ids.iter().map(|id| Sale { id: (*id).to_owned(), ..Sale::default() }).collect(),
        ..Ledger::default()
    };
    let added = sales_to_add(&ledger(&["a", "b", "c"]), &ledger(&["b"]));
    assert_eq!(added.iter().map(|sale| sale.id.as_str()).collect::<Vec<_>>(), ["a", "c"]);
}

/// Anything that a device may keep: a file without worksheets and without a ledger is none of ours.
fn any_bundle() -> impl Strategy<Value = Bundle> {
    let sheet = prop_oneof![
        Just(demo::curlew().unwrap()),
        Just(crate::restore::full::type_sheet()),
        (any::<String>(), any::<String>()).prop_map(|(id, name)| TypeSheet { id, name, ..TypeSheet::default() })
    ];
    let ledger = link::any::worksheet().prop_map(|it| Ledger { sales: it.sales, ..Ledger::default() });
    let photo = prop::collection::vec(any::<u8>(), 0..200);
    (
        prop::collection::vec(link::any::worksheet(), 1..4),
        prop::collection::vec(sheet, 0..3),
        prop::option::of(ledger),
        prop::collection::btree_map(any::<String>(), photo, 0..4),
    )
        .prop_map(|(worksheets, type_sheets, ledger, photos)| Bundle { worksheets, type_sheets, ledger, photos })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_bundle_comes_back(bundle in any_bundle()) {
        let (found, notes) = read(&write(&bundle).unwrap()).unwrap();
        prop_assert_eq!(notes, []);
        prop_assert_eq!(found, bundle);
    }
}

proptest! {
    #[test]
    fn any_bytes_are_read_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..2000)) {
        let _ = read(&bytes);
    }

    #[test]
    fn a_changed_byte_changes_nothing_unseen(place in any::<prop::sample::Index>(), bit in 0_u8..8) {
        let bundle = Bundle { worksheets: vec![demo::worksheet().unwrap()], ..Bundle::default() };
        let mut written = write(&bundle).unwrap();
        let place = place.index(written.len());
        written[place] ^= 1 << bit;
        // Read as it was, refused, or something said of it: never something else in silence.
        if let Ok((found, notes)) = read(&written) {
            prop_assert!(found == bundle || !notes.is_empty(), "at {place}");
        }
    }
}
