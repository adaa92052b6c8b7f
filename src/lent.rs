//! Texts that stand in the page and not in its module (feature `page`).

/// The lines of a text that is kept for good.
pub(crate) fn lines_of(text: &'static str) -> &'static [&'static str] {
    let bytes = text.as_bytes();
    let (mut lines, mut from) = (Vec::new(), 0);
    for at in 0..=bytes.len() {
        if at == bytes.len() || bytes[at] == b'\n' {
            lines.push(text.get(from..at).unwrap_or_default());
            from = at + 1;
        }
    }
    lines.leak()
}
