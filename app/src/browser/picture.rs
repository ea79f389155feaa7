//! A photograph made fit to keep: no larger than needed, upright, and with nothing in it but what is seen.

use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, CanvasRenderingContext2d, HtmlCanvasElement, ImageBitmap};

/// The longer edge of what is kept, in pixels: a crack in a weld is still seen, and a worksheet of fifty stays under
/// what browsers give a page.
const LONGER_EDGE: f64 = 1600.0;

/// How much of the detail is kept, 0 to 1.
const QUALITY: f64 = 0.8;

/// The format of what is kept.
pub const KIND: &str = "image/jpeg";

/// Draws a picture anew at the size it is kept in. The browser turns it upright by what the camera noted, and the new
/// file has neither that note nor the place where it was taken. Nothing if it is no picture that the browser can open.
pub async fn scaled(file: &Blob) -> Option<Blob> {
    let window = web_sys::window()?;
    let bitmap = JsFuture::from(window.create_image_bitmap_with_blob(file).ok()?).await.ok()?;
    let bitmap: ImageBitmap = bitmap.dyn_into().ok()?;
    let (width, height) = fitted(bitmap.width(), bitmap.height());
    let canvas: HtmlCanvasElement = window.document()?.create_element("canvas").ok()?.dyn_into().ok()?;
    canvas.set_width(width);
    canvas.set_height(height);
    let context: CanvasRenderingContext2d = canvas.get_context("2d").ok()??.dyn_into().ok()?;
    context.draw_image_with_image_bitmap_and_dw_and_dh(&bitmap, 0.0, 0.0, f64::from(width), f64::from(height)).ok()?;
    bitmap.close();
    let drawn = js_sys::Promise::new(&mut |done, _| {
        let taken = Closure::once_into_js(move |blob: JsValue| {
            // A promise's own function cannot fail.
            let _ = done.call1(&JsValue::NULL, &blob);
        });
        // Refused, it never calls back; then the promise is left as it is and the person sees no picture come.
        let _ = canvas.to_blob_with_type_and_encoder_options(taken.unchecked_ref(), KIND, &JsValue::from_f64(QUALITY));
    });
    JsFuture::from(drawn).await.ok()?.dyn_into().ok()
}

/// The size in which a picture is kept: in proportion, and never larger than it was.
fn fitted(width: u32, height: u32) -> (u32, u32) {
    let scale = (LONGER_EDGE / f64::from(width.max(height).max(1))).min(1.0);
    let edge = |pixels: u32| (f64::from(pixels) * scale).round().max(1.0) as u32;
    (edge(width), edge(height))
}

#[cfg(test)]
mod tests {
    use super::fitted;

    #[test]
    fn fits_in_proportion_and_never_grows() {
        let cases = [
            ((4000, 3000), (1600, 1200)),
            ((3000, 4000), (1200, 1600)),
            ((1600, 900), (1600, 900)),
            ((640, 480), (640, 480)),
            ((20_000, 3), (1600, 1)),
            ((0, 0), (1, 1)),
        ];
        for ((width, height), kept) in cases {
            assert_eq!(fitted(width, height), kept);
        }
    }
}
