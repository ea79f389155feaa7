//! The browser's database, by rexie: what local storage cannot hold, by its id.

use rexie::{ObjectStore, Rexie, Store, Transaction, TransactionMode};
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// The database.
const NAME: &str = "kerbworth";
/// Its version.
const VERSION: u32 = 1;

/// What is kept in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Photographs, as files.
    Photos,
    /// The person's own key for seals.
    Keys,
}

impl Kind {
    const fn store(self) -> &'static str {
        match self {
            Self::Photos => "photos",
            Self::Keys => "keys",
        }
    }
}

/// A store in a transaction of its own.
async fn open(kind: Kind, mode: TransactionMode) -> Option<(Transaction, Store)> {
    let database = Rexie::builder(NAME)
        .version(VERSION)
        .add_object_store(ObjectStore::new(Kind::Photos.store()))
        .add_object_store(ObjectStore::new(Kind::Keys.store()));
    let transaction = database.build().await.ok()?.transaction(&[kind.store()], mode).ok()?;
    let store = transaction.store(kind.store()).ok()?;
    Some((transaction, store))
}

/// Keeps something. Nothing if there is no database, or no room in it.
pub async fn put(kind: Kind, id: &str, it: &JsValue) -> Option<()> {
    let (transaction, store) = open(kind, TransactionMode::ReadWrite).await?;
    store.put(it, Some(&JsValue::from_str(id))).await.ok()?;
    transaction.done().await.ok()?;
    Some(())
}

/// What is kept under an id.
pub async fn get(kind: Kind, id: &str) -> Option<JsValue> {
    let (_, store) = open(kind, TransactionMode::ReadOnly).await?;
    store.get(JsValue::from_str(id)).await.ok()?
}

/// Ids of all that is kept.
pub async fn ids(kind: Kind) -> Option<Vec<String>> {
    let (_, store) = open(kind, TransactionMode::ReadOnly).await?;
    let keys = store.get_all_keys(None, None).await.ok()?;
    Some(keys.into_iter().filter_map(|key| key.as_string()).collect())
}

/// Takes things away.
pub async fn remove(kind: Kind, ids: &[String]) -> Option<()> {
    let (transaction, store) = open(kind, TransactionMode::ReadWrite).await?;
    for id in ids {
        store.delete(JsValue::from_str(id)).await.ok()?;
    }
    transaction.done().await.ok()?;
    Some(())
}

/// How many bytes this page has stored, and how many it may store, as the browser estimates them.
pub async fn room() -> Option<(f64, f64)> {
    let storage = web_sys::window()?.navigator().storage();
    let estimate: web_sys::StorageEstimate = JsFuture::from(storage.estimate().ok()?).await.ok()?.into();
    Some((estimate.get_usage()?, estimate.get_quota()?))
}
