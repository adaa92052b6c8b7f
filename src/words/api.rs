//! What is told of values that no document holds.

use crate::api::Strange;

/// What is wrong with a value that came from a program.
pub fn strange_text(strange: Strange) -> &'static str {
    match strange {
        Strange::NoData => "no object, list, text, number or truth value",
        Strange::Unreadable => "cannot be read",
        Strange::TooDeep => "too many objects in each other, or one that holds itself",
        Strange::TooLarge => "larger than any recipe",
        Strange::HalfLetter => "holds half of a letter",
    }
}
