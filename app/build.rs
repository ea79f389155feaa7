//! Tells the program which languages there are: a file in `public/words` each. `English` in it is its own name.

use std::fs;
use std::path::Path;

fn main() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../public/words");
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut languages: Vec<String> = fs::read_dir(folder)
        .into_iter()
        .flatten()
        .filter_map(|file| {
            let path = file.ok()?.path();
            let text = fs::read_to_string(&path).ok()?;
            let name = text.split_once("\"English\": \"")?.1.split('"').next()?.to_owned();
            Some(format!("{}={name}", path.file_stem()?.to_str()?))
        })
        .collect();
    languages.sort();
    println!("cargo::rustc-env=KERBWORTH_LANGUAGES={}", languages.join(";"));
}
