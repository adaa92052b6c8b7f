//! Read: what it shows and what it cannot.

use super::State;
use crate::dom::Event;

/// Writes all of it.
pub(super) fn fill(_state: &mut State) {}

/// A control was touched, or let go.
pub(super) fn touched(_event: &Event, _lets_go: bool) {}

/// A button was pressed.
pub(super) fn pressed(_deed: &str, _value: &str) {}
