//! Find: not there yet, and its tab is hidden until it is.

use super::State;
use crate::dom::Event;

/// Shows what is so now.
pub(super) fn fill(_: &State) {}

/// A control was touched, or let go.
pub(super) fn touched(_: &Event, _: bool) {}

/// A button was pressed.
pub(super) fn pressed(_: &str, _: &str) {}
