//! Reads what a soil laboratory printed and tells what it says of the ground:
//! `cargo run --example report -- ph=7.9 ec=0.4 cec=26 organic=2.1 calcium=2600 magnesium=320 sodium=410`,
//! cations in mg/kg.
//!
//! Exit 2: something that is no such number.

use barrowmix::chemistry::exchange::Cation;
use barrowmix::ground::Traits;
use barrowmix::ground::report::{Report, read};
use barrowmix::recipe::number_text;
use barrowmix::words::finding_text;
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut report = Report::EMPTY;
    for argument in std::env::args().skip(1) {
        let (name, text) = argument.split_once('=').unwrap_or((&argument, ""));
        let value = text.parse::<f64>().ok();
        let place = match name {
            "ph" => &mut report.ph,
            "ec" => &mut report.ec,
            "cec" => &mut report.cec,
            "organic" => &mut report.organic,
            "carbonate" => &mut report.carbonate,
            "calcium" => &mut report.cations[Cation::Calcium as usize],
            "magnesium" => &mut report.cations[Cation::Magnesium as usize],
            "potassium" => &mut report.cations[Cation::Potassium as usize],
            "sodium" => &mut report.cations[Cation::Sodium as usize],
            _ => return refused(&argument),
        };
        if value.is_none() {
            return refused(&argument);
        }
        *place = value;
    }
    let told = read(&report, &Traits::NONE);
    for (of, figure) in &told.traits {
        let ends = figure.ends();
        let [low, typical, high] = [ends.low, figure.typical, ends.high].map(number_text);
        println!("{:<28} {typical} ({low} to {high})", of.name());
    }
    for finding in &told.findings {
        println!("{}", finding_text(finding, true));
    }
    ExitCode::SUCCESS
}

fn refused(argument: &str) -> ExitCode {
    eprintln!(
        "{argument}: not ph, ec, cec, organic, carbonate, calcium, magnesium, potassium or sodium = number"
    );
    ExitCode::from(2)
}
