//! Tells the program which languages there are: a file in `public/words` each. `English` in it is its own name.

use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs};

fn main() -> Result<(), Box<dyn Error>> {
    // As cargo says it at each run: what is compiled in may be of another checkout that shares the target folder.
    let folder = PathBuf::from(env::var("CARGO_MANIFEST_DIR")?).join("../public/words");
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut languages = Vec::new();
    for file in fs::read_dir(&folder).map_err(|error| format!("{}: {error}", folder.display()))? {
        languages.push(language(&file?.path())?);
    }
    languages.sort();
    println!("cargo::rustc-env=KERBWORTH_LANGUAGES={}", languages.join(";"));
    Ok(())
}

/// Code and own name of the language that a table of words is for, as `de=Deutsch`.
fn language(table: &Path) -> Result<String, Box<dyn Error>> {
    let nameless = || format!("{}: a table needs \"English\" with the language's own name", table.display());
    let text = fs::read_to_string(table)?;
    let name = text.split_once("\"English\": \"").and_then(|(_, rest)| rest.split_once('"')).ok_or_else(nameless)?.0;
    let code = table.file_stem().and_then(|code| code.to_str()).ok_or_else(nameless)?;
    Ok(format!("{code}={name}"))
}
