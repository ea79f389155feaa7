//! The built page, as `.ci/build` leaves it in `dist`.

use std::path::{Path, PathBuf};
use std::{env, fs};

/// The working tree.
#[must_use]
pub fn tree() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("tests lies in the working tree").to_path_buf()
}

/// The folder of the built page.
///
/// # Panics
/// When there is none: a browser check that quietly does nothing would be worse.
#[must_use]
#[track_caller]
pub fn dist() -> PathBuf {
    let dist = tree().join("dist");
    assert!(
        dist.join("index.html").is_file(),
        "there is no built page in {}: run `sh .ci/build` first",
        dist.display()
    );
    dist
}

/// Every file of a folder and of those in it, in order of their paths.
///
/// # Panics
/// When the folder cannot be read.
#[must_use]
#[track_caller]
pub fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("the folder can be read") {
        let path = entry.expect("the folder can be read").path();
        if path.is_dir() { found.extend(files(&path)) } else { found.push(path) }
    }
    found.sort();
    found
}

/// What a host with brotli sends of these bytes, in bytes.
///
/// # Panics
/// Never: memory takes what is written.
#[must_use]
pub fn as_brotli(bytes: &[u8]) -> usize {
    let parameters = brotli::enc::BrotliEncoderParams { quality: 11, ..Default::default() };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &bytes[..], &mut packed, &parameters).expect("memory takes what is written");
    packed.len()
}

/// Where the tools that `.ci/setup` installed are (`$KERBWORTH_TOOLS`, by default in the home folder's cache).
#[must_use]
pub fn tools() -> PathBuf {
    env::var_os("KERBWORTH_TOOLS").map_or_else(
        || PathBuf::from(env::var_os("HOME").unwrap_or("/var/tmp".into())).join(".cache/kerbworth-tools"),
        PathBuf::from,
    )
}

/// Where screenshots go: `$KERBWORTH_SHOTS`, by default `screenshots` in cargo's target folder.
///
/// # Panics
/// When the folder cannot be made.
#[must_use]
#[track_caller]
pub fn shots() -> PathBuf {
    let folder = env::var_os("KERBWORTH_SHOTS").map_or_else(
        || {
            // A test binary is target/debug/deps/journeys-….
            let binary = env::current_exe().expect("a program knows its own path");
            binary.ancestors().nth(3).expect("a test binary lies in the target folder").join("screenshots")
        },
        PathBuf::from,
    );
    fs::create_dir_all(&folder).expect("the folder of the screenshots can be made");
    folder
}
