//! Cautions in words: a short head, and what to do and whom to ask, or a question where a fact that
//! decides is not known.

use super::{Speech, Text};
use crate::caution::{Caution, LIFT_KG};

/// The head of a caution.
pub fn care_head(caution: &Caution) -> &'static str {
    Text::after(Text::CareBuriedLines, caution.of as usize).text()
}

/// What a caution says.
pub fn care_text(caution: &Caution, speech: Speech) -> String {
    let first = if caution.asks {
        Text::CareBuriedLinesAsked
    } else {
        Text::CareBuriedLinesTold
    };
    let text = Text::after(first, caution.of as usize);
    let lift = speech.mass(LIFT_KG);
    match caution.weight_kg {
        Some(kg) => text.with(&[&speech.mass(kg), &lift]),
        None => text.with(&[&lift]),
    }
}
