//! What outlives a visit: the recipe in the browser's memory, beside those that another one has
//! taken the place of. Storage may be full, blocked or throw; the page then goes on without it.

use crate::memory::{BETWEEN, KEPT, RECIPE, items, read, write};

/// Most recipes laid by.
const MOST_KEPT: usize = 12;

/// What saving came to.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Saved {
    Done,
    /// Another tab has saved since; nothing was written.
    Elsewhere,
    /// There is no storage, or it refuses.
    Refused,
}

/// The recipe kept last.
pub(super) fn saved() -> Option<String> {
    read(RECIPE)
}

/// Saves the recipe, unless the memory holds another one than this page knows of.
pub(super) fn save(text: &str, known: &mut Option<String>) -> Saved {
    if saved() != *known {
        return Saved::Elsewhere;
    }
    if !write(RECIPE, text) {
        return Saved::Refused;
    }
    *known = Some(text.to_owned());
    Saved::Done
}

/// Keeps a recipe that gives way to another one.
pub(super) fn lay_by(text: &str) {
    let mut kept = String::from(text);
    let old = read(KEPT).unwrap_or_default();
    let mut count = 1;
    for other in items(&old) {
        if count < MOST_KEPT && !other.is_empty() && other != text {
            count += 1;
            kept += BETWEEN;
            kept += other;
        }
    }
    write(KEPT, &kept);
}
