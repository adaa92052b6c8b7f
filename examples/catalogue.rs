//! Prints every number of the catalogue and of the usual soils with its source and mark, and how
//! well founded the whole is: `cargo run --example catalogue`.

use barrowmix::ground::{PRESETS, Trait};
use barrowmix::material::{EVIDENCE, Entry, Hazard, NUMBERS};
use barrowmix::recipe::number_text;
use barrowmix::source::{Mark, Number, Shares};
use barrowmix::words::{METRIC, trait_name};
use std::fmt::Write as _;
use std::io::Write as _;
use std::process::ExitCode;

fn main() -> ExitCode {
    match std::io::stdout().write_all(text().as_bytes()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("standard output: {error}");
            ExitCode::FAILURE
        }
    }
}

fn text() -> String {
    let mut out = String::new();
    for (id, numbers) in NUMBERS {
        if let Some(entry) = Entry::find(id) {
            let _ = writeln!(out, "{id}: {} ({})", entry.name, entry.group.spelling());
        }
        rows(&mut out, numbers);
    }
    for preset in PRESETS {
        let _ = writeln!(out, "{}: {} (usual soil)", preset.id, preset.name);
        rows(&mut out, preset.numbers);
    }
    let of_materials = || NUMBERS.iter().flat_map(|(_, numbers)| *numbers);
    let of_grounds = || PRESETS.iter().flat_map(|preset| preset.numbers);
    let plain = |number: &&Number| !is_hazard(number);
    let _ = writeln!(
        out,
        "{:<34} {:>8} {:>16} {:>16} {:>16}",
        "", "all", "verified", "memory", "practice"
    );
    for (name, shares) in [
        ("materials", marks(of_materials())),
        (
            "materials without hazards",
            marks(of_materials().filter(plain)),
        ),
        ("usual soils", marks(of_grounds())),
        (
            "materials and usual soils",
            marks(of_materials().chain(of_grounds())),
        ),
        (
            "both without hazards",
            marks(of_materials().chain(of_grounds()).filter(plain)),
        ),
        (
            "findings",
            EVIDENCE.iter().map(|finding| finding.mark).collect(),
        ),
    ] {
        counts(&mut out, name, shares);
    }
    out
}

fn is_hazard(number: &Number) -> bool {
    Hazard::ALL.iter().any(|of| of.name() == number.field)
}

fn marks<'a>(numbers: impl Iterator<Item = &'a Number>) -> Shares {
    numbers.map(|number| number.mark).collect()
}

fn rows(out: &mut String, numbers: &[Number]) {
    for number in numbers {
        let of_ground = Trait::ALL.iter().find(|of| of.name() == number.field);
        // A trait has its unit in its name; density is stored in kg/m3.
        let unit = match of_ground {
            Some(Trait::BulkDensity) if number.unit.is_empty() => "kg/m3",
            Some(of) if number.unit.is_empty() => trait_name(*of, METRIC).1,
            _ => number.unit,
        };
        let line = format!(
            "  {:<34} {:>10} {:>10} {:>10}  {:<6} {:<8} {unit}",
            number.field,
            number_text(number.low),
            number_text(number.typical),
            number_text(number.high),
            number.source,
            number.mark.id(),
        );
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out.push('\n');
}

fn counts(out: &mut String, name: &str, shares: Shares) {
    let _ = write!(out, "{name:<34} {:>8}", shares.all());
    for mark in Mark::ALL {
        let count = shares.of(mark);
        let percent = 100.0 * count as f64 / shares.all().max(1) as f64;
        let _ = write!(out, " {count:>8} {percent:>5.1} %");
    }
    out.push('\n');
}
