//! Short fixed texts of the page, by key. `www/index.html` names them as `{{key}}`.

/// Every label.
pub const LABELS: &[(&str, &str)] = &[("name", "Barrowmix")];

/// The label of a key; a key that does not exist gives itself, so that a slip is seen.
pub fn label(key: &'static str) -> &'static str {
    LABELS
        .iter()
        .find(|(known, _)| *known == key)
        .map_or(key, |(_, text)| text)
}
