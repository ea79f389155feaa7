//! A later build than the one in `dist`, without compiling a second time: every hashed file under another name, the page and
//! its start script changed, and the worker made by the same script as in a real build.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::{env, fs, process};

use crate::dist::{dist, files, tree};

/// A later build in a folder of its own, which goes when it is dropped.
pub struct Newer {
    /// Where it is.
    pub folder: PathBuf,
}

impl Newer {
    /// Makes one. Its page has a `meta` element `build-of-test`.
    ///
    /// # Panics
    /// When `dist` is not there or not as a build leaves it.
    #[must_use]
    #[track_caller]
    pub fn build() -> Self {
        static MADE: AtomicUsize = AtomicUsize::new(0);
        let number = MADE.fetch_add(1, Ordering::Relaxed);
        let newer = Self { folder: env::temp_dir().join(format!("kerbworth-newer-{}-{number}", process::id())) };
        for file in files(&dist()) {
            let within = file.strip_prefix(dist()).expect("a file of dist is in dist");
            newer.put(&newer_name(&within.to_string_lossy()), &renamed(&file));
        }
        newer
            .put("sw.template.js", &fs::read(tree().join("public/sw.template.js")).expect("the worker has a template"));
        newer.change("index.html", |page| {
            let page = page.replacen("<head>", "<head><meta name=\"build-of-test\" content=\"new\">", 1);
            // The digests in the page are of files as they were; those that the worker checks are made anew.
            let mut parts = page.split(" integrity=\"").flat_map(|part| part.split(" data-integrity=\""));
            let first = parts.next().unwrap_or_default().to_owned();
            parts.fold(first, |page, part| page + part.split_once('"').map_or(part, |(_, rest)| rest))
        });
        let ran = Command::new("sh").arg(tree().join(".ci/precache")).env("TRUNK_STAGING_DIR", &newer.folder).status();
        assert!(ran.is_ok_and(|status| status.success()), ".ci/precache failed");
        newer
    }

    /// The paths of its files, such as `/boot.js`.
    ///
    /// # Panics
    /// When the folder is gone.
    #[must_use]
    #[track_caller]
    pub fn paths(&self) -> Vec<String> {
        let within = |file: &PathBuf| file.strip_prefix(&self.folder).ok().map(|file| format!("/{}", file.display()));
        files(&self.folder).iter().filter_map(within).collect()
    }

    #[track_caller]
    fn change(&self, name: &str, change: impl FnOnce(&str) -> String) {
        let path = self.folder.join(name);
        let text = fs::read_to_string(&path).expect("it is a text");
        let changed = change(&text);
        assert_ne!(changed, text, "{name} can be changed");
        fs::write(path, changed).expect("it can be written");
    }

    #[track_caller]
    fn put(&self, at: &str, bytes: &[u8]) {
        let to = self.folder.join(at);
        fs::create_dir_all(to.parent().expect("a file lies in a folder")).expect("a folder can be made");
        fs::write(to, bytes).expect("a file of the newer build can be written");
    }
}

impl Drop for Newer {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.folder);
    }
}

/// A file of the build with the newer names in it, and not the same as before wherever its name has changed.
#[track_caller]
fn renamed(file: &Path) -> Vec<u8> {
    let bytes = fs::read(file).expect("a file of the build can be read");
    let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let is_renamed = newer_name(&name) != name;
    match file.extension().and_then(|ending| ending.to_str()) {
        Some("html") => newer_name(&String::from_utf8_lossy(&bytes)).into_bytes(),
        Some("js") if is_renamed => format!("{}\n// newer", newer_name(&String::from_utf8_lossy(&bytes))).into_bytes(),
        Some("css") if is_renamed => [&*bytes, b"\n/* newer */"].concat(),
        // A section of its own, which programs skip: its kind, its length, its name.
        Some("wasm") => [&*bytes, &[0, 6, 5], b"newer"].concat(),
        _ => bytes,
    }
}

/// A text with another digest in each hashed name: `-` and some 16 digits of base 16 before `.` or `_`.
fn newer_name(text: &str) -> String {
    let mut newer = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('-') {
        let (before, from) = rest.split_at(at + 1);
        newer.push_str(before);
        let digits = from.bytes().take_while(|it| it.is_ascii_digit() || (b'a'..=b'f').contains(it)).count();
        let hashed = (12..=16).contains(&digits) && from[digits..].starts_with(['.', '_']);
        let (digest, after) = from.split_at(if hashed { digits } else { 0 });
        newer.extend(digest.chars().rev());
        rest = after;
    }
    newer + rest
}

#[cfg(test)]
mod tests {
    use super::newer_name;

    #[test]
    fn only_digests_of_names_change() {
        for (name, want) in [
            ("kerbworth-app-0123456789abcdef_bg.wasm", "kerbworth-app-fedcba9876543210_bg.wasm"),
            ("tokens-0123456789abcde0.css, boot.js", "tokens-0edcba9876543210.css, boot.js"),
            ("icon-180.png", "icon-180.png"),
        ] {
            assert_eq!(newer_name(name), want);
        }
    }
}
