//! Ed25519 and passphrases by the browser's Web Crypto. Where it is not there, or knows no Ed25519, each of these gives
//! nothing, and the person is told so.

use js_sys::{Array, Object, Reflect, Uint8Array};
use kerbworth_core::link::letters;
use kerbworth_core::seal::key_file::{KeyFile, NONCE, Parts, SALT};
use kerbworth_core::seal::{Key, Signature};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Crypto, CryptoKey, SubtleCrypto};

use super::database::{self, Kind};

const ED25519: &str = "Ed25519";
const AES_GCM: &str = "AES-GCM";
const PBKDF2: &str = "PBKDF2";

/// Under which id the person's own key is kept: there is one.
const OWN: &str = "own";

/// The person's own key.
#[derive(Clone)]
pub struct OwnKey {
    /// The public half.
    pub key: Key,
    secret: CryptoKey,
}

fn crypto() -> Option<Crypto> {
    web_sys::window()?.crypto().ok()
}

/// Undefined where a page is not served securely, whatever its type says.
fn subtle() -> Option<SubtleCrypto> {
    let subtle = crypto()?.subtle();
    (!JsValue::is_undefined(&subtle)).then_some(subtle)
}

fn usages(words: &[&str]) -> JsValue {
    words.iter().map(|word| JsValue::from_str(word)).collect::<Array>().into()
}

fn object(fields: &[(&str, JsValue)]) -> Option<Object> {
    let object = Object::new();
    for (name, value) in fields {
        Reflect::set(&object, &JsValue::from_str(name), value).ok()?;
    }
    Some(object)
}

fn field(object: &JsValue, name: &str) -> Option<JsValue> {
    Reflect::get(object, &JsValue::from_str(name)).ok()
}

async fn answer(promise: Result<js_sys::Promise, JsValue>) -> Option<JsValue> {
    JsFuture::from(promise.ok()?).await.ok()
}

fn bytes_of(buffer: &JsValue) -> Vec<u8> {
    Uint8Array::new(buffer).to_vec()
}

/// Random bytes.
fn random<const N: usize>() -> Option<[u8; N]> {
    let mut bytes = [0; N];
    crypto()?.get_random_values_with_u8_array(&mut bytes).ok()?;
    Some(bytes)
}

/// The person's own key, if one is kept here.
pub async fn own() -> Option<OwnKey> {
    let kept = database::get(Kind::Keys, OWN).await?;
    let key = bytes_of(&field(&kept, "key")?).try_into().ok()?;
    Some(OwnKey { key: Key(key), secret: field(&kept, "secret")?.dyn_into().ok()? })
}

/// Makes a key and keeps it in the place of any other.
pub async fn make() -> Option<OwnKey> {
    let subtle = subtle()?;
    let pair = answer(subtle.generate_key_with_str(ED25519, true, &usages(&["sign", "verify"]))).await?;
    let public: CryptoKey = field(&pair, "publicKey")?.dyn_into().ok()?;
    let raw = answer(subtle.export_key("raw", &public)).await?;
    keep(Key(bytes_of(&raw).try_into().ok()?), field(&pair, "privateKey")?.dyn_into().ok()?).await
}

async fn keep(key: Key, secret: CryptoKey) -> Option<OwnKey> {
    let kept = object(&[("key", Uint8Array::from(key.0.as_slice()).into()), ("secret", secret.clone().into())])?;
    database::put(Kind::Keys, OWN, &kept).await?;
    Some(OwnKey { key, secret })
}

/// Signs a message.
pub async fn sign(own: &OwnKey, message: &[u8]) -> Option<Signature> {
    let signed = answer(subtle()?.sign_with_str_and_u8_array(ED25519, &own.secret, message)).await?;
    Some(Signature(bytes_of(&signed).try_into().ok()?))
}

/// Whether a signature is that of a key under a message; nothing if the browser cannot tell.
pub async fn holds(key: &Key, signature: &Signature, message: &[u8]) -> Option<bool> {
    let subtle = subtle()?;
    // Tried first with a key that is one: a browser that takes it knows Ed25519, so that a refusal below means the key.
    const BASE_POINT: [u8; 32] = {
        let mut point = [0x66; 32];
        point[0] = 0x58;
        point
    };
    public_key(&subtle, &BASE_POINT).await?;
    let Some(public) = public_key(&subtle, &key.0).await else { return Some(false) };
    let told = subtle.verify_with_str_and_u8_array_and_u8_array(ED25519, &public, &signature.0, message);
    answer(told).await?.as_bool()
}

async fn public_key(subtle: &SubtleCrypto, key: &[u8; 32]) -> Option<CryptoKey> {
    let raw = Uint8Array::from(key.as_slice());
    let imported = subtle.import_key_with_str("raw", &raw, ED25519, true, &usages(&["verify"]));
    answer(imported).await?.dyn_into().ok()
}

/// The key that a passphrase gives with a file's salt and rounds.
async fn passphrase_key(file: &KeyFile, salt: &[u8], passphrase: &str) -> Option<CryptoKey> {
    let subtle = subtle()?;
    let typed = Uint8Array::from(passphrase.as_bytes());
    let base = answer(subtle.import_key_with_str("raw", &typed, PBKDF2, false, &usages(&["deriveKey"]))).await?;
    let how = object(&[
        ("name", PBKDF2.into()),
        ("hash", "SHA-256".into()),
        ("salt", Uint8Array::from(salt).into()),
        ("iterations", file.rounds.into()),
    ])?;
    let wanted = object(&[("name", AES_GCM.into()), ("length", 256.into())])?;
    let derived = subtle.derive_key_with_object_and_object(
        &how,
        base.unchecked_ref(),
        &wanted,
        false,
        &usages(&["encrypt", "decrypt"]),
    );
    answer(derived).await?.dyn_into().ok()
}

fn gcm(file: &KeyFile, nonce: &[u8]) -> Option<Object> {
    object(&[
        ("name", AES_GCM.into()),
        ("iv", Uint8Array::from(nonce).into()),
        ("additionalData", Uint8Array::from(file.bound().as_slice()).into()),
    ])
}

/// The own key as a file that only the passphrase opens.
pub async fn close(own: &OwnKey, name: String, passphrase: &str) -> Option<KeyFile> {
    let (salt, nonce) = (random::<SALT>()?, random::<NONCE>()?);
    let mut file = KeyFile::new(name, own.key, salt, nonce);
    let subtle = subtle()?;
    let secret = bytes_of(&answer(subtle.export_key("pkcs8", &own.secret)).await?);
    let by = passphrase_key(&file, &salt, passphrase).await?;
    let closed = answer(subtle.encrypt_with_object_and_u8_array(&gcm(&file, &nonce)?, &by, &secret)).await?;
    file.closed = letters::letters(&bytes_of(&closed));
    Some(file)
}

/// Opens a key file and keeps its key in the place of any other. Nothing if the passphrase is not the one, or the
/// secret half does not belong to the public one.
pub async fn open(file: &KeyFile, parts: &Parts, passphrase: &str) -> Option<OwnKey> {
    let subtle = subtle()?;
    let by = passphrase_key(file, &parts.salt, passphrase).await?;
    let opened = subtle.decrypt_with_object_and_u8_array(&gcm(file, &parts.nonce)?, &by, &parts.closed);
    let secret = Uint8Array::new(&answer(opened).await?);
    let secret = subtle.import_key_with_str("pkcs8", &secret, ED25519, true, &usages(&["sign"]));
    let own = OwnKey { key: file.key, secret: answer(secret).await?.dyn_into().ok()? };
    const TRIAL: &[u8] = b"one key";
    let signed = sign(&own, TRIAL).await?;
    if holds(&own.key, &signed, TRIAL).await? { keep(own.key, own.secret).await } else { None }
}
