//! JSON schemas of what the program writes and reads as files, generated from the types; published in `public`.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::Value;

use crate::sheet::TypeSheet;
use crate::worksheet::Worksheet;

/// The schema of a worksheet file.
#[must_use]
pub fn worksheet() -> Value {
    of::<Worksheet>("Kerbworth worksheet")
}

/// The schema of a type sheet file.
#[must_use]
pub fn type_sheet() -> Value {
    of::<TypeSheet>("Kerbworth type sheet")
}

fn of<T: JsonSchema>(title: &str) -> Value {
    // What is read, not what is written: a field that has a default may be left out of a file.
    let mut schema = SchemaSettings::draft2020_12().for_deserialize().into_generator().into_root_schema_for::<T>();
    schema.insert("title".to_owned(), Value::from(title));
    schema.to_value()
}
