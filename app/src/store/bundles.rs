//! Bundles gathered from what is kept here, and taken in.

use kerbworth_core::bundle::{Arrival, Bundle, photos_of, sales_to_add};
use kerbworth_core::sheet::edit::fresh_id;
use kerbworth_core::sheet::{TypeSheet, general};
use kerbworth_core::worksheet::Worksheet;
use leptos::prelude::*;

use super::keep::Key;
use super::{Desk, photos};
use crate::browser::{file, picture, random};

/// The open worksheet with the type sheet of the person's own that it is filled in by, and its photographs.
pub async fn of_open(desk: Desk) -> Bundle {
    let worksheet = desk.worksheet.get_untracked();
    let own = desk.sheets.own.with_untracked(|own| own.get(&worksheet.type_sheet).cloned());
    with_photos(Bundle { worksheets: vec![worksheet], type_sheets: own.into_iter().collect(), ..Bundle::default() })
        .await
}

/// All that is kept here: worksheets that are not deleted, type sheets, ledger and photographs.
pub async fn of_all(desk: Desk) -> Bundle {
    desk.store_now();
    desk.ledger.wake();
    let ids = desk.shelf.cards.with_untracked(|cards| {
        cards.iter().filter(|card| !card.deleted).map(|card| card.id.clone()).collect::<Vec<_>>()
    });
    with_photos(Bundle {
        worksheets: ids.iter().filter_map(|id| stored(desk, id)).collect(),
        type_sheets: desk.sheets.own.with_untracked(|own| own.values().cloned().collect()),
        ledger: Some(desk.ledger.body.get_untracked()),
        ..Bundle::default()
    })
    .await
}

async fn with_photos(mut bundle: Bundle) -> Bundle {
    let ids: Vec<String> = bundle.worksheets.iter().flat_map(photos_of).map(ToOwned::to_owned).collect();
    for id in ids {
        let Some(photo) = photos::get(&id).await else { continue };
        if let Some(bytes) = file::bytes(&photo).await {
            bundle.photos.insert(id, bytes);
        }
    }
    bundle
}

fn stored(desk: Desk, id: &str) -> Option<Worksheet> {
    desk.keeper.get(&Key::Worksheet(id.to_owned()))
}

/// What a worksheet of a bundle would change here.
pub fn worksheet_arrives(desk: Desk, comes: &Worksheet) -> Arrival {
    let deleted = desk.shelf.cards.with_untracked(|cards| cards.iter().any(|card| card.id == comes.id && card.deleted));
    Arrival::of(comes, stored(desk, &comes.id).filter(|_| !deleted).as_ref())
}

/// What a type sheet of a bundle would change here; one that ships with the program is here, too.
pub fn sheet_arrives(desk: Desk, comes: &TypeSheet) -> Arrival {
    Arrival::of(comes, desk.sheets.as_written(&comes.id).as_ref())
}

/// Takes in what a bundle holds. Nothing that is here is lost: a worksheet that differs comes beside the one that is
/// here, and a type sheet that differs comes only if it was ticked.
pub async fn take_in(desk: Desk, bundle: Bundle) {
    for (id, photo) in &bundle.photos {
        // SVG is what the demonstration's drawings are; the browser runs nothing of it in a picture.
        let kind = if photo.first() == Some(&b'<') { "image/svg+xml" } else { picture::KIND };
        if let Some(photo) = file::blob(kind, &js_sys::Uint8Array::from(photo.as_slice()).into()) {
            let _ = photos::put(id, &photo).await;
        }
    }
    for mut sheet in bundle.type_sheets {
        // As for a sheet's own file: nothing takes the place of the general sheet.
        if sheet.id == general::ID || fresh_id("", &sheet.id, |_| false) != sheet.id {
            sheet.id = desk.sheets.free_id(&sheet.name);
        }
        desk.sheets.put(sheet);
    }
    // From last to first: each new one is put before the others.
    for mut worksheet in bundle.worksheets.into_iter().rev() {
        if worksheet_arrives(desk, &worksheet) == Arrival::Differs || worksheet.id.is_empty() {
            worksheet.id = random::fresh_id();
        }
        desk.put_on_shelf(&worksheet);
    }
    if let Some(ledger) = bundle.ledger {
        desk.ledger.wake();
        let more = desk.ledger.body.with_untracked(|there| sales_to_add(&ledger, there));
        if !more.is_empty() {
            desk.ledger.change(|there| there.sales.extend(more));
        }
    }
}
