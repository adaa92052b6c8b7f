//! Worked examples of chemistry by their names.

use super::{assert_close, table};

/// Rows of the table of worked examples.
const ROWS: usize = 30;

/// Asserts that what was computed agrees with the printed numbers of an example, in order.
pub(crate) fn agree(what: &str, computed: &[f64]) {
    let rows = table("worked_chemistry", ROWS);
    let row = rows
        .iter()
        .find(|row| row.text("what") == what)
        .unwrap_or_else(|| panic!("no example of {what}"));
    let expected: Vec<f64> = row
        .text("expected")
        .split(' ')
        .map(|number| number.parse().expect("a number"))
        .collect();
    assert_eq!(expected.len(), computed.len(), "numbers of {what}");
    let tolerance = row.number("tolerance");
    for (computed, expected) in computed.iter().zip(expected) {
        // From a hundredth on it is told as an amount, below as a share.
        let size = if tolerance < 1e-2 {
            expected.abs()
        } else {
            1.0
        };
        // Printed numbers end after six digits.
        assert_close(*computed, expected, tolerance * size + 6e-7, what);
    }
}
