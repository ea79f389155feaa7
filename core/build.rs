//! Joins the general type sheet's files, one a system, into one compact JSON text that the library carries.

use std::error::Error;
use std::path::Path;
use std::{env, fs};

use serde_json::{Map, Value};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = Path::new("src/sheet/general");
    println!("cargo::rerun-if-changed={}", folder.display());
    println!("cargo::rerun-if-changed=src/sheet/demo");
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|ending| ending == "json") {
            files.push(path);
        }
    }
    files.sort();
    let mut whole = Map::new();
    for file in files {
        join(&mut whole, json(&file)?).map_err(|error| format!("{}: {error}", file.display()))?;
    }
    carry("general.json", &Value::Object(whole))?;
    for name in ["curlew", "worksheet"] {
        let file = Path::new("src/sheet/demo").join(name).with_extension("json");
        carry(&format!("demo-{name}.json"), &json(&file)?)?;
    }
    Ok(())
}

/// Adds one file's lists to those gathered so far, and its other fields, which only one file may give.
fn join(whole: &mut Map<String, Value>, part: Value) -> Result<(), String> {
    let Value::Object(part) = part else { return Err("not an object".to_owned()) };
    for (key, value) in part {
        match (whole.get_mut(&key), value) {
            (Some(Value::Array(list)), Value::Array(more)) => list.extend(more),
            (None, value) => {
                whole.insert(key, value);
            }
            (Some(_), _) => return Err(format!("“{key}” is given twice")),
        }
    }
    Ok(())
}

fn json(file: &Path) -> Result<Value, Box<dyn Error>> {
    let text = fs::read_to_string(file).map_err(|error| format!("{}: {error}", file.display()))?;
    Ok(serde_json::from_str(&text).map_err(|error| format!("{}: {error}", file.display()))?)
}

fn carry(name: &str, value: &Value) -> Result<(), Box<dyn Error>> {
    fs::write(Path::new(&env::var("OUT_DIR")?).join(name), value.to_string())?;
    Ok(())
}
