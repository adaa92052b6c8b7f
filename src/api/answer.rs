//! The one shape of an answer.

use super::Issue;
use serde::ser::{Serialize, SerializeMap, Serializer};

/// What was asked for under its name, or why it could not be had.
#[derive(Clone, Debug)]
pub struct Answer<T> {
    name: &'static str,
    result: Result<T, Vec<Issue>>,
}

impl<T> Answer<T> {
    /// An answer that holds what was asked for under a name.
    pub(super) fn new(name: &'static str, result: Result<T, Vec<Issue>>) -> Answer<T> {
        Answer { name, result }
    }

    /// What was asked for.
    ///
    /// # Errors
    /// At least one issue.
    pub fn as_ref(&self) -> Result<&T, &[Issue]> {
        self.result.as_ref().map_err(Vec::as_slice)
    }
}

impl<T: Serialize> Serialize for Answer<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(2))?;
        map.serialize_entry("ok", &self.result.is_ok())?;
        match &self.result {
            Ok(value) => map.serialize_entry(self.name, value)?,
            Err(issues) => map.serialize_entry("issues", issues)?,
        }
        map.end()
    }
}
