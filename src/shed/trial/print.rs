//! What of the trial goes on paper and into files.

/// A button was pressed.
pub(super) fn pressed(_deed: &str, _value: &str) {}
