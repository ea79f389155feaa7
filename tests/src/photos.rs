//! The photographs that the browser keeps, read from its database as they are.

use crate::app::App;

/// Each photograph with its id, in the order of the ids.
///
/// # Panics
/// When the database cannot be read.
#[must_use]
#[track_caller]
pub fn kept(app: &App) -> Vec<(String, Vec<u8>)> {
    let script = "return (async () => {
        const asked = (request) => new Promise((done, failed) => {
            request.onsuccess = () => done(request.result);
            request.onerror = () => failed(request.error);
        });
        // Opened where there is none yet, it would be made without its stores.
        if (!(await indexedDB.databases()).some(({ name }) => name === 'kerbworth')) return [];
        const database = await asked(indexedDB.open('kerbworth'));
        const store = database.transaction('photos').objectStore('photos');
        const [ids, files] = await Promise.all([asked(store.getAllKeys()), asked(store.getAll())]);
        database.close();
        const bytes = async (file) => [...new Uint8Array(await file.arrayBuffer())];
        return Promise.all(ids.map(async (id, place) => [id, await bytes(files[place])]));
    })()";
    serde_json::from_value(app.run(script, &[])).expect("photographs by their ids")
}
