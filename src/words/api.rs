//! What is told of values that no document holds.

use crate::api::Strange;

/// What is wrong with a value that came from a program.
pub fn strange_text(strange: Strange) -> &'static str {
    match strange {
        Strange::NoData => tr!("no object, list, text, number or truth value"),
        Strange::Unreadable => tr!("cannot be read"),
        Strange::TooDeep => tr!("too many objects in each other, or one that holds itself"),
        Strange::TooLarge => tr!("larger than any recipe"),
        Strange::HalfLetter => tr!("holds half of a letter"),
    }
}
