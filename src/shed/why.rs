use super::Tool;
pub(super) fn fill(_: &mut Tool, _: &str) {}
