//! What the page has and its module does not: with the feature `page` texts, and what the browser
//! knows of decimals.

/// The lines of a text that is kept for good.
#[cfg(feature = "page")]
pub(crate) fn lines_of(text: &'static str) -> &'static [&'static str] {
    pieces(text, b'\n').leak()
}

/// What stands between a sign. `str::split` knows all kinds of signs, and so is four times as long.
pub(crate) fn pieces(text: &str, sign: u8) -> Vec<&str> {
    let bytes = text.as_bytes();
    let (mut pieces, mut from) = (Vec::new(), 0);
    for at in 0..=bytes.len() {
        if at == bytes.len() || bytes[at] == sign {
            pieces.push(text.get(from..at).unwrap_or_default());
            from = at + 1;
        }
    }
    pieces
}

/// Bound as functions of the browser: `Number` reads up to twenty digits to the nearest number, and
/// `String` writes the fewest digits that read back as it, by the standard of the language.
#[cfg(all(feature = "page", target_arch = "wasm32"))]
#[wasm_bindgen::prelude::wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_name = Number)]
    pub(crate) fn number_of(text: &str) -> f64;
    #[wasm_bindgen(js_name = String)]
    pub(crate) fn text_of(value: f64) -> String;
}
