//! What is handed over as one: a worksheet, the type sheet that it needs, and a seal.
//!
//! The same parcel goes into a link ([`crate::link`]), into a file ([`Parcel::to_file`]) and under a seal
//! ([`crate::seal`]), so that a seal that holds in one holds in the other. Photographs stay apart: they are not in it,
//! and no seal speaks of them.
//!
//! A sheet that ships with the program is named by its id, which the worksheet holds, and the sum of its text; if the
//! program has another edition of it by then, [`Parcel::edition`] says so.

use serde::Serialize;
use serde_json::{Map, Value};

use crate::hand_over::file::json_file;
use crate::link::letters::sum;
use crate::restore::{self, RestoreError, Unread, record};
use crate::seal::Seal;
use crate::sheet::difference::{applied, difference};
use crate::sheet::{TypeSheet, demo, general};
use crate::worksheet::{self, Worksheet};

/// The newest parcel format: since 2 a sheet may be told by its changes. What has none is written as 1, as before, so that an
/// older program opens it.
pub const FORMAT: u32 = 2;

/// A worksheet with what it needs to be read elsewhere.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Parcel {
    /// Format of this data, up to [`FORMAT`].
    pub format: u32,
    /// The worksheet, without photographs.
    pub worksheet: Worksheet,
    /// Sum of the general sheet's text.
    pub general: u32,
    /// The worksheet's own type sheet as written, without what it extends; none if it ships with the program, or is told by
    /// its changes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheet: Option<TypeSheet>,
    /// Sum of the shipped sheet's text, if the worksheet is filled in by one beside the general one, or by a copy of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shipped: Option<u32>,
    /// What the worksheet's own type sheet changes ([`difference`]) against the shipped one, or for want of one against the
    /// general one: how a copy travels.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub changes: Option<Value>,
    /// The seal, if it was sealed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seal: Option<Seal>,
}

record! { Parcel { format, worksheet, general, sheet, shipped, changes, seal } }

/// Which edition of the program's sheets a parcel was made with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edition {
    /// The one that this program has.
    Same,
    /// Another one of the general sheet: what the worksheet says stands, figures may be reckoned otherwise here.
    OtherGeneral,
    /// Another one of the shipped sheet that the worksheet is filled in by.
    OtherShipped,
}

/// A parcel that was opened.
#[derive(Debug, Clone, PartialEq)]
pub struct Opened {
    /// The parcel, as far as it could be read.
    pub parcel: Parcel,
    /// What could not be read, kept as it was.
    pub unread: Vec<Unread>,
}

impl Parcel {
    /// A worksheet, without photographs and seal, and its own type sheet, which is left out if it is a shipped one.
    #[must_use]
    pub fn new(worksheet: &Worksheet, own: Option<&TypeSheet>) -> Self {
        let mut worksheet = worksheet.clone();
        for finding in worksheet.findings.values_mut() {
            finding.photos.clear();
        }
        let parcel = Self { format: 1, worksheet, general: sum(general::JSON.as_bytes()), ..Self::default() };
        match own {
            Some(own) if own.id != general::ID => parcel.with_sheet(own),
            _ => parcel,
        }
    }

    /// With a sheet of its own, told in the shortest way.
    fn with_sheet(self, own: &TypeSheet) -> Self {
        // By their texts: these are written anyway, and comparing is code for each of their types.
        let text = serde_json::to_string(own).unwrap_or_default();
        let json = restore::own(&text);
        let shipped = Some(sum(demo::SHEET_JSON.as_bytes()));
        let mut shortest = (text.len(), Self { sheet: Some(own.clone()), ..self.clone() });
        for shipped in [shipped, None] {
            let Some(changes) = difference(&base(shipped.is_some()), &json) else { continue };
            if changes.as_object().is_some_and(Map::is_empty) {
                return Self { shipped, ..self };
            }
            let length = changes.to_string().len();
            if length < shortest.0 {
                shortest = (length, Self { format: FORMAT, shipped, changes: Some(changes), ..self.clone() });
            }
        }
        shortest.1
    }

    /// The same parcel under this seal, or none.
    #[must_use]
    pub fn under(&self, seal: Option<Seal>) -> Self {
        Self { seal, ..self.clone() }
    }

    /// The worksheet's own type sheet as written, carried or shipped; none if it is the general one.
    #[must_use]
    pub fn own_sheet(&self) -> Option<TypeSheet> {
        self.carried_sheet().or_else(|| self.shipped.and_then(|_| demo::curlew().ok()))
    }

    /// The type sheet that comes with it, whole or by its changes; none if it ships with the program.
    #[must_use]
    pub fn carried_sheet(&self) -> Option<TypeSheet> {
        self.sheet.clone().or_else(|| Some(self.changed_sheet()?.ok()?.0))
    }

    /// The sheet that the changes make, and what of it cannot be read.
    fn changed_sheet(&self) -> Option<Result<(TypeSheet, Vec<Unread>), RestoreError>> {
        let json = applied(&base(self.shipped.is_some()), self.changes.as_ref()?);
        Some(restore::restore_value(&json, crate::sheet::FORMAT))
    }

    /// Whether the program's own sheets are still those that the parcel was made with.
    #[must_use]
    pub fn edition(&self) -> Edition {
        if self.shipped.is_some_and(|shipped| shipped != sum(demo::SHEET_JSON.as_bytes())) {
            Edition::OtherShipped
        } else if self.general != sum(general::JSON.as_bytes()) {
            Edition::OtherGeneral
        } else {
            Edition::Same
        }
    }

    /// The parcel as the text of a JSON file, indented so that a person can read it. Blank if it cannot be written,
    /// which nothing in a parcel can cause.
    #[must_use]
    pub fn to_file(&self) -> String {
        json_file(self)
    }

    /// Whether a text is that of a parcel's file, and not a worksheet's own.
    #[must_use]
    pub fn is_file(text: &str) -> bool {
        restore::parsed(text, restore::OUTSIDE).is_ok_and(|json| json.get("worksheet").is_some_and(Value::is_object))
    }

    /// Opens the text of a file.
    ///
    /// # Errors
    /// [`RestoreError`] if it cannot be read at all.
    pub fn of_file(text: &str) -> Result<Opened, RestoreError> {
        let (parcel, unread) = restore::restore(text, FORMAT)?;
        Opened::new(parcel, unread)
    }

    /// The parcel as JSON. By way of its text: code that writes values beside that which writes text would weigh more
    /// than the link itself.
    pub(crate) fn to_json(&self) -> Value {
        let text = serde_json::to_string(self).unwrap_or_default();
        restore::own(&text)
    }
}

/// The JSON of the sheet that ships beside the general one, or of the general one, as the program writes it.
fn base(shipped: bool) -> Value {
    let sheet = if shipped { demo::curlew() } else { general::general() };
    restore::own(&serde_json::to_string(&sheet.unwrap_or_default()).unwrap_or_default())
}

impl Opened {
    /// What was read; refused if the worksheet or its sheet was made by a newer build.
    pub(crate) fn new(parcel: Parcel, mut unread: Vec<Unread>) -> Result<Self, RestoreError> {
        if let Some(changed) = parcel.changed_sheet() {
            unread.extend(changed?.1);
        }
        let sheet = parcel.sheet.as_ref().map_or(0, |sheet| sheet.format);
        for (found, known) in [(parcel.worksheet.format, worksheet::FORMAT), (sheet, crate::sheet::FORMAT)] {
            if found > known {
                return Err(RestoreError::Newer { found: u64::from(found), known });
            }
        }
        Ok(Self { parcel, unread })
    }
}
