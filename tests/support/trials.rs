//! Trials of others: their data, and what was computed or printed of them.

use super::{Row, assert_printed, table};
use barrowmix::trial::analysis::{Analysis, Comparison, Limit, Limits, Measure, Reading, Scale};
use barrowmix::trial::fit::Point;
use barrowmix::trial::power::Design;
use barrowmix::trial::verdict::{Good, Matters, YIELD_MATTERS};

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

    /// The same where the print was rounded or cut off.
    pub fn check_printed_or_cut(&self, computed: f64) {
        let published: f64 = self.published.parse().expect("a printed number");
        let unit = 2.0 * super::half_unit(&self.published);
        super::assert_close(computed, published, unit, &self.case);
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

/// A data set as readings, with the names of its treatments; the control comes first.
pub struct Set {
    /// How its containers stand, and who is the control.
    pub measure: Measure,
    /// Names of treatments.
    pub names: Vec<String>,
    /// Its readings.
    pub readings: Vec<Reading>,
}

/// The data set of a case, such as "lettuce/ln".
pub fn set(case: &str) -> Set {
    let (name, scale) = match case.split_once('/') {
        None => (case, Scale::Raw),
        Some((name, "ln")) => (name, Scale::Log),
        Some((name, "log10p1")) => (name, Scale::LogOfOneMore),
        Some((_, other)) => panic!("{other} is a scale"),
    };
    let rows = data(name);
    // Without a control, any treatment stands in its place.
    let control = match rows[0].text("control") {
        "" => rows[0].text("treatment"),
        control => control,
    };
    let mut names = vec![control.to_owned()];
    let label = |text: &str| {
        let digits: String = text.chars().filter(char::is_ascii_digit).collect();
        digits.parse().ok()
    };
    let readings = rows
        .iter()
        .map(|row| {
            let own = row.text("treatment");
            let treatment = names.iter().position(|known| known == own);
            let treatment = treatment.unwrap_or_else(|| {
                names.push(own.to_owned());
                names.len() - 1
            });
            Reading {
                treatment,
                block: label(row.text("block")),
                row: label(row.text("row")),
                column: label(row.text("col")),
                value: row.number("value"),
                limit: Limit::No,
            }
        })
        .collect();
    let design = match rows[0].text("design") {
        "CRD" => Design::Random,
        "RCBD" => Design::Blocks,
        "LATIN" => Design::Latin,
        other => panic!("{other} is a design"),
    };
    let good = if name == "synth_infiltration_min" {
        Good::Less
    } else {
        Good::More
    };
    Set {
        measure: Measure {
            design,
            treatments: names.len(),
            control: 0,
            scale,
            matters: Matters::Share(YIELD_MATTERS),
            good,
        },
        names,
        readings,
    }
}

impl Set {
    /// What it shows.
    pub fn analysed(&self) -> Analysis {
        Analysis::of(&self.measure, &self.readings, &mut Limits::default())
            .unwrap_or_else(|refused| panic!("{refused:?}"))
    }

    /// Which treatment has this name.
    pub fn treatment(&self, name: &str) -> usize {
        let at = self.names.iter().position(|known| known == name);
        at.unwrap_or_else(|| panic!("{name} is a treatment of {:?}", self.names))
    }

    /// Its comparison with the control.
    pub fn versus<'a>(&self, analysis: &'a Analysis, name: &str) -> &'a Comparison {
        let treatment = self.treatment(name);
        let mut of = analysis.comparisons.iter();
        of.find(|comparison| comparison.treatment == treatment)
            .unwrap_or_else(|| panic!("{name} is compared"))
    }

    /// Its readings as points, on the scale of the case.
    pub fn points(&self) -> Vec<Point> {
        let scaled = |value: f64| match self.measure.scale {
            Scale::Log => libm::log(value),
            Scale::LogOfOneMore => libm::log10(value + 1.0),
            Scale::Raw | Scale::Score => value,
        };
        let square = self.measure.design == Design::Latin;
        let point = |reading: &Reading| Point {
            treatment: reading.treatment,
            block: (if square { reading.row } else { reading.block }).unwrap_or(0) as usize,
            column: reading.column.unwrap_or(0) as usize,
            value: scaled(reading.value),
        };
        self.readings.iter().map(point).collect()
    }

    /// The readings of one treatment.
    pub fn values(&self, treatment: usize) -> Vec<f64> {
        let own = self
            .points()
            .into_iter()
            .filter(|point| point.treatment == treatment);
        own.map(|point| point.value).collect()
    }
}
