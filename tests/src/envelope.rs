//! What is stored, in its envelope as the app writes it.

use serde_json::Value;

/// An envelope with its sum, which is over all that comes after it.
///
/// # Panics
/// When it is no object.
#[must_use]
#[track_caller]
pub fn sealed(envelope: &mut Value) -> String {
    envelope.as_object_mut().expect("an envelope is an object").remove("sum");
    let text = envelope.to_string();
    let summed = text.strip_prefix('{').unwrap_or_default();
    format!("{{\"sum\":{},{summed}", kerbworth_core::link::letters::sum(summed.as_bytes()))
}
