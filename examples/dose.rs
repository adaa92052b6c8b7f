//! Prints what a label's rate comes to in one container, by each way to read it:
//! `cargo run --example dose -- 50 lb/1000ft2 0.06 10 gypsum` (rate, unit, surface in m2, litres of
//! soil, material).
//!
//! Exit 1: a number is outside its limits. Exit 2: something is missing or not known.

use barrowmix::dose::{Deed, Label, RATE_UNITS, Rate, Reading, Soil};
use barrowmix::material::Entry;
use barrowmix::quantity::LITRES_PER_M3;
use barrowmix::words::{METRIC, dose_advice, dose_cautions, dose_fault_text};
use std::process::ExitCode;

/// Dry density of a garden soil as it lies in a container, kg/m3 (a choice).
const DENSITY_KG_M3: f64 = 1100.0;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let number = |at: usize| arguments.get(at).and_then(|text| text.parse().ok());
    let rate = number(0).zip(arguments.get(1));
    let rate = rate.and_then(|(value, unit)| Rate::of(value, unit));
    let material = arguments.get(4).and_then(|id| Entry::find(id));
    let (Some(rate), Some(area_m2), Some(litres), Some(material)) =
        (rate, number(2), number(3), material)
    else {
        eprintln!(
            "usage: dose RATE UNIT M2 LITRES MATERIAL; units: {}",
            RATE_UNITS.join(" ")
        );
        return ExitCode::from(2);
    };
    let of_volume = matches!(rate, Rate::Volume(_));
    let label = Label::of(rate, None, None);
    let soil = Soil::of(area_m2, litres / LITRES_PER_M3, DENSITY_KG_M3);
    let (label, soil) = match (label, soil) {
        (Ok(label), Ok(soil)) => (label, soil),
        (Err(fault), _) | (_, Err(fault)) => {
            eprintln!("{}", dose_fault_text(fault, of_volume, METRIC));
            return ExitCode::FAILURE;
        }
    };
    let readings = label.readings(&soil);
    let deed = Deed::of(material.group, false);
    let advised = label.reading(deed);
    for (reading, name) in [
        (Reading::Area, "by surface"),
        (Reading::Volume, "by volume"),
        (Reading::Mass, "by dry weight"),
    ] {
        let mark = if reading == advised {
            "  <- use this"
        } else {
            ""
        };
        println!("{name:<14} {}{mark}", METRIC.dose(readings.of(reading)));
    }
    println!("{}", dose_advice(of_volume, deed, None));
    let dose_kg = readings.of(advised);
    for caution in dose_cautions(dose_kg, label.times_per_area(dose_kg, &soil), deed) {
        println!("{caution}");
    }
    ExitCode::SUCCESS
}
