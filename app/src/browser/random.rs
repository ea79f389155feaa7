//! Fresh ids.

/// An id that no other worksheet or sale has: 16 letters and digits from the browser's secure source, or from
/// its clock and plain random numbers where there is none.
pub fn fresh_id() -> String {
    let mut bytes = [0_u8; 16];
    let filled = web_sys::window()
        .and_then(|window| window.crypto().ok())
        .is_some_and(|crypto| crypto.get_random_values_with_u8_array(&mut bytes).is_ok());
    if !filled {
        for byte in &mut bytes {
            *byte = (js_sys::Math::random() * 256.0) as u8;
        }
    }
    const LETTERS: &[u8; 32] = b"abcdefghijkmnpqrstuvwxyz23456789";
    bytes.iter().filter_map(|byte| LETTERS.get(usize::from(byte % 32))).map(|letter| char::from(*letter)).collect()
}
