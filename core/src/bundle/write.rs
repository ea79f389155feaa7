//! Writing the file.

use std::io::Write as _;

use rawzip::{CompressionMethod, DataDescriptorOutput, ZipArchiveWriter};
use serde::Serialize;

use super::read::{LEDGER, PHOTO_IDS, PHOTOS, TYPE_SHEETS, WORKSHEETS};
use super::{Bundle, SUM};

/// The file's bytes; nothing if a part cannot be written, which nothing in it can cause.
#[must_use]
pub fn write(bundle: &Bundle) -> Option<Vec<u8>> {
    let mut zip = ZipArchiveWriter::new(Vec::new());
    for (place, worksheet) in bundle.worksheets.iter().enumerate() {
        part(&mut zip, &format!("{WORKSHEETS}{}.json", place + 1), &json(worksheet)?)?;
    }
    for (place, sheet) in bundle.type_sheets.iter().enumerate() {
        part(&mut zip, &format!("{TYPE_SHEETS}{}.json", place + 1), &json(sheet)?)?;
    }
    if let Some(ledger) = &bundle.ledger {
        part(&mut zip, LEDGER, &json(ledger)?)?;
    }
    // By number: an id may be anything that a worksheet from elsewhere says, and is no name for a file.
    if !bundle.photos.is_empty() {
        let ids: Vec<&String> = bundle.photos.keys().collect();
        part(&mut zip, PHOTO_IDS, &json(&ids)?)?;
    }
    for (place, photo) in bundle.photos.values().enumerate() {
        part(&mut zip, &format!("{PHOTOS}{}.{}", place + 1, ending(photo)), photo)?;
    }
    zip.finish().ok()
}

fn json<T: Serialize>(value: &T) -> Option<Vec<u8>> {
    serde_json::to_vec(value).ok()
}

fn part(zip: &mut ZipArchiveWriter<Vec<u8>>, name: &str, content: &[u8]) -> Option<()> {
    let (mut entry, _) = zip.new_file(name).compression_method(CompressionMethod::STORE).start().ok()?;
    entry.write_all(content).ok()?;
    entry.finish(DataDescriptorOutput::new(SUM.checksum(content), content.len() as u64)).ok()?;
    Some(())
}

/// The ending of a picture's file name, by how the picture begins.
fn ending(photo: &[u8]) -> &'static str {
    match photo {
        [0xff, 0xd8, ..] => "jpg",
        [b'<', ..] => "svg",
        _ => "picture",
    }
}
