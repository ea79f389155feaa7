//! Appraises without a screen: a worksheet's JSON on standard input, the appraisal's JSON on standard output.
//!
//! ```sh
//! cargo run -p kerbworth-core --example appraise < tests/data/demo-worksheet.json
//! cargo run -p kerbworth-core --example appraise -- own-sheet.json < worksheet.json
//! ```
//!
//! Without an argument the type sheet is the one that the worksheet names, if it ships with the program; with
//! one, the file's. What is wrong in the worksheet goes to standard error, place by place, and the exit status
//! is 1; nothing is appraised then.

use std::error::Error;
use std::io::{self, Read, Write};
use std::process::ExitCode;

use kerbworth_core::appraise::appraise;
use kerbworth_core::restore::restore;
use kerbworth_core::sheet::{self, TypeSheet, demo, extend::extend, general};
use kerbworth_core::worksheet::{self, Worksheet, check};

fn main() -> ExitCode {
    let own = std::env::args().nth(1);
    match run(io::stdin(), io::stdout().lock(), own.as_deref()) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// Appraises; `false` if the worksheet has something wrong in it, which is then said.
pub fn run(mut from: impl Read, mut to: impl Write, own: Option<&str>) -> Result<bool, Box<dyn Error>> {
    let mut text = String::new();
    from.read_to_string(&mut text)?;
    let (mut filled_in, unread) = restore::<Worksheet>(&text, worksheet::FORMAT)?;
    filled_in.unread.extend(unread);
    let whole = type_sheet(&filled_in.type_sheet, own)?;
    let problems = check::check(&filled_in, &whole);
    for problem in &problems {
        eprintln!("{problem}");
    }
    if !problems.is_empty() {
        return Ok(false);
    }
    let appraisal = appraise(&filled_in, &whole);
    serde_json::to_writer_pretty(&mut to, &appraisal)?;
    writeln!(to)?;
    Ok(true)
}

/// The whole of the sheet in the file `own`, or of the shipped one with the id.
fn type_sheet(id: &str, own: Option<&str>) -> Result<TypeSheet, Box<dyn Error>> {
    let own = match own {
        Some(file) => {
            let (own, unread) = restore::<TypeSheet>(&std::fs::read_to_string(file)?, sheet::FORMAT)?;
            if let Some(first) = unread.first() {
                return Err(format!("{file}: {first}").into());
            }
            own
        }
        None => match demo::curlew()? {
            demo if demo.id == id => demo,
            _ if id == general::ID => return Ok(general::general()?),
            _ => return Err(format!("no type sheet “{id}” ships with the program; name its file").into()),
        },
    };
    Ok(if own.extends.is_some() { extend(&general::general()?, &own) } else { own })
}
