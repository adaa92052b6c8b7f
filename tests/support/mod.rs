//! Reference tables, printed numbers and repeatable chance, for the tests.

// Each test file is a crate of its own and uses its own part of this; nothing reaches out of it.
#![allow(dead_code, unreachable_pub)]

pub mod blends;
pub mod dice;
pub mod errands;
pub mod judge;
pub mod recipes;
pub mod second_bed;
pub mod second_way;
pub mod spoil;
pub mod trials;

use barrowmix::texture::Class;

/// One row of a reference table.
pub struct Row {
    head: Vec<String>,
    cells: Vec<String>,
}

impl Row {
    /// A cell as printed.
    pub fn text(&self, column: &str) -> &str {
        let index = self.head.iter().position(|name| name == column);
        &self.cells[index.unwrap_or_else(|| panic!("no column {column} in {:?}", self.head))]
    }

    /// A cell as a number.
    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse()
            .unwrap_or_else(|_| panic!("{column} holds {text:?}, not a number"))
    }

    /// Three cells as numbers.
    pub fn three(&self, columns: [&str; 3]) -> [f64; 3] {
        columns.map(|column| self.number(column))
    }
}

/// A table of `tests/reference`, with the count of rows that it must have, so that none is lost.
pub fn table(name: &str, rows: usize) -> Vec<Row> {
    let path = format!("{}/tests/reference/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(&path)
        .unwrap_or_else(|error| panic!("{path}: {error}"));
    let own = |record: &csv::StringRecord| record.iter().map(|cell| cell.trim().into()).collect();
    let head: Vec<String> = own(reader.headers().expect("a table has a head"));
    let table: Vec<Row> = reader
        .records()
        .map(|record| Row {
            head: head.clone(),
            cells: own(&record.unwrap_or_else(|error| panic!("{path}: {error}"))),
        })
        .collect();
    assert_eq!(table.len(), rows, "rows of {path}");
    table
}

/// Half a unit of the last digit of a printed number, and a hair for binary fractions.
pub fn half_unit(printed: &str) -> f64 {
    let (digits, power) = printed
        .split_once(['e', 'E'])
        .map_or((printed, 0), |(digits, power)| {
            (digits, power.parse().expect("an exponent"))
        });
    let decimals = digits.split_once('.').map_or(0, |(_, part)| part.len());
    let unit = libm::exp10(f64::from(power) - decimals as f64);
    0.5 * unit * (1.0 + 1e-6)
}

/// Asserts that a number rounds to a printed one.
pub fn assert_printed(computed: f64, printed: &str, what: &str) {
    let value: f64 = printed
        .parse()
        .unwrap_or_else(|_| panic!("{what}: {printed:?} is not a number"));
    assert!(
        (computed - value).abs() <= half_unit(printed),
        "{what}: computed {computed}, printed {printed}"
    );
}

/// Asserts that two numbers agree within a tolerance.
pub fn assert_close(computed: f64, expected: f64, tolerance: f64, what: &str) {
    assert!(
        (computed - expected).abs() <= tolerance,
        "{what}: computed {computed}, expected {expected} within {tolerance}"
    );
}

/// Asserts that two numbers agree within a relative tolerance.
pub fn assert_relative(computed: f64, expected: f64, tolerance: f64, what: &str) {
    let size = computed.abs().max(expected.abs());
    assert_close(computed, expected, tolerance * size, what);
}

/// Root of the mean square.
pub fn root_mean_square(errors: &[f64]) -> f64 {
    (errors.iter().map(|error| error * error).sum::<f64>() / errors.len() as f64).sqrt()
}

/// The mean.
pub fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// The class of a short code as soil tables print it.
pub fn class_of_code(code: &str) -> Class {
    match code {
        "S" => Class::Sand,
        "LS" => Class::LoamySand,
        "SL" => Class::SandyLoam,
        "L" => Class::Loam,
        "SiL" => Class::SiltLoam,
        "Si" => Class::Silt,
        "SCL" => Class::SandyClayLoam,
        "CL" => Class::ClayLoam,
        "SiCL" => Class::SiltyClayLoam,
        "SC" => Class::SandyClay,
        "SiC" => Class::SiltyClay,
        "C" => Class::Clay,
        other => panic!("no class has the code {other:?}"),
    }
}
