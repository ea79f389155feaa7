//! The browser's database, by rexie: photographs by their id, and nothing else.

use rexie::{ObjectStore, Rexie, Store, Transaction, TransactionMode};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::Blob;

/// The database.
const NAME: &str = "kerbworth";
/// Its one store.
const PHOTOS: &str = "photos";
/// Its version.
const VERSION: u32 = 1;

/// The store of photographs in a transaction of its own.
async fn open(mode: TransactionMode) -> Option<(Transaction, Store)> {
    let database = Rexie::builder(NAME).version(VERSION).add_object_store(ObjectStore::new(PHOTOS)).build();
    let transaction = database.await.ok()?.transaction(&[PHOTOS], mode).ok()?;
    let store = transaction.store(PHOTOS).ok()?;
    Some((transaction, store))
}

/// Keeps a photograph. Nothing if there is no database, or no room in it.
pub async fn put(id: &str, photo: &Blob) -> Option<()> {
    let (transaction, store) = open(TransactionMode::ReadWrite).await?;
    store.put(photo, Some(&JsValue::from_str(id))).await.ok()?;
    transaction.done().await.ok()?;
    Some(())
}

/// The photograph with an id.
pub async fn get(id: &str) -> Option<Blob> {
    let (_, store) = open(TransactionMode::ReadOnly).await?;
    store.get(JsValue::from_str(id)).await.ok()??.dyn_into().ok()
}

/// Ids of all photographs.
pub async fn ids() -> Option<Vec<String>> {
    let (_, store) = open(TransactionMode::ReadOnly).await?;
    let keys = store.get_all_keys(None, None).await.ok()?;
    Some(keys.into_iter().filter_map(|key| key.as_string()).collect())
}

/// Takes photographs away.
pub async fn remove(ids: &[String]) -> Option<()> {
    let (transaction, store) = open(TransactionMode::ReadWrite).await?;
    for id in ids {
        store.delete(JsValue::from_str(id)).await.ok()?;
    }
    transaction.done().await.ok()?;
    Some(())
}

/// How many bytes this page has stored, and how many it may store, as the browser estimates them.
pub async fn room() -> Option<(f64, f64)> {
    let storage = web_sys::window()?.navigator().storage();
    let estimate = JsFuture::from(storage.estimate().ok()?).await.ok()?;
    let estimate: web_sys::StorageEstimate = estimate.dyn_into().ok()?;
    Some((estimate.get_usage()?, estimate.get_quota()?))
}
