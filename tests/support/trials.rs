//! Trials of others: their data, and what was computed or printed of them.

use super::{Row, assert_printed, table};

/// Rows of `trial_values.csv`.
const VALUES: usize = 2400;
/// Rows of `trial_data.csv`.
const DATA: usize = 872;

/// An expected value.
pub struct Value {
    /// The data set or the input.
    pub case: String,
    /// What of it.
    pub quantity: String,
    expected: String,
    tolerance: String,
    published: String,
}

/// The expected values of a group, so many.
pub fn values(group: &str, rows: usize) -> Vec<Value> {
    let of_group = table("trial_values", VALUES)
        .into_iter()
        .filter(|row| row.text("group") == group)
        .map(|row| Value {
            case: row.text("case").into(),
            quantity: row.text("quantity").into(),
            expected: row.text("expected").into(),
            tolerance: row.text("tolerance").into(),
            published: row.text("published").into(),
        });
    let values: Vec<Value> = of_group.collect();
    assert_eq!(values.len(), rows, "rows of {group}");
    values
}

impl Value {
    /// What it says in words.
    pub fn text(&self) -> &str {
        &self.expected
    }

    /// Asserts that a number is what is expected, within the tolerance of its row.
    pub fn check(&self, computed: f64) {
        let what = format!("{} / {}", self.case, self.quantity);
        let expected: f64 = self
            .expected
            .parse()
            .unwrap_or_else(|_| panic!("{what}: {} is no number", self.expected));
        if self.tolerance == "exact" {
            assert_printed(computed, &self.expected, &what);
            return;
        }
        let mut words = self.tolerance.split(' ');
        let size: f64 = words
            .next()
            .and_then(|size| size.parse().ok())
            .unwrap_or_else(|| panic!("{what}: a tolerance, not {:?}", self.tolerance));
        let allowed = match words.next() {
            // "1e-9 rel (AtmWtAg 1e-6)": one set with seven digits in common.
            Some("rel") if self.case == "nist_AtmWtAg" => 1e-6 * expected.abs(),
            Some("rel") => size * expected.abs(),
            Some("abs") => size,
            other => panic!("{what}: relative or absolute, not {other:?}"),
        };
        assert!(
            (computed - expected).abs() <= allowed,
            "{what}: computed {computed}, expected {expected} within {allowed}"
        );
    }

    /// And that it is what was printed, to the digits that were.
    pub fn check_printed(&self, computed: f64) {
        if !self.published.is_empty() {
            assert_printed(computed, &self.published, &self.quantity);
        }
    }

    /// The same within an allowance.
    pub fn check_printed_loosely(&self, computed: f64, allowed: f64) {
        let published: f64 = self.published.parse().expect("a printed number");
        super::assert_close(computed, published, allowed, &self.case);
    }

    /// Whether a printed value stands beside it.
    pub fn is_published(&self) -> bool {
        !self.published.is_empty()
    }

    /// The number behind a name in the case, such as 12 of "nu=12 k=4"; in sign and fraction.
    pub fn given(&self, name: &str) -> f64 {
        let head = format!("{name}=");
        let word = self
            .case
            .split([' ', ','])
            .find_map(|word| word.strip_prefix(&head))
            .unwrap_or_else(|| panic!("{} tells {name}", self.case));
        if word == "inf" {
            return f64::INFINITY;
        }
        word.parse()
            .unwrap_or_else(|_| panic!("{word} of {} is a number", self.case))
    }
}

/// The rows of a data set.
pub fn data(set: &str) -> Vec<Row> {
    let rows: Vec<Row> = table("trial_data", DATA)
        .into_iter()
        .filter(|row| row.text("dataset") == set)
        .collect();
    assert!(!rows.is_empty(), "{set} has rows");
    rows
}
