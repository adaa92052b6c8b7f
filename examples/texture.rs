//! Prints the class of sand, silt and clay in a system of texture classes, with the fractions by its
//! limits of size: `cargo run --release --example texture -- 30 40 30 germany`. The three are
//! percent by the limits of the United States (2, 50, 2000 um), or by those of the system itself
//! where `own` follows. Without a system all eight are printed.
//!
//! Exit 1: there is no such texture, told in one line on standard error. Exit 2: the usage is wrong.

use barrowmix::texture::{
    Converted, System, SystemClass, TextureFault, checked, classify_in, convert,
};
use barrowmix::words::{fixed, texture_fault_text};
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let Some((fractions, systems, is_own)) = read(&arguments) else {
        let ids = System::ALL.map(System::id).join(", ");
        eprintln!("usage: texture SAND SILT CLAY [SYSTEM [own]]   (systems: {ids})");
        return ExitCode::from(2);
    };
    for system in systems {
        match line(fractions, system, is_own) {
            Ok(line) => println!("{line}"),
            Err(fault) => {
                eprintln!("{}", texture_fault_text(fault));
                return ExitCode::from(1);
            }
        }
    }
    ExitCode::SUCCESS
}

fn read(arguments: &[String]) -> Option<([f64; 3], Vec<System>, bool)> {
    let [sand, silt, clay, rest @ ..] = arguments else {
        return None;
    };
    let fractions = [sand.parse().ok()?, silt.parse().ok()?, clay.parse().ok()?];
    match rest {
        [] => Some((fractions, System::ALL.to_vec(), false)),
        [id] => Some((fractions, vec![System::find(id)?], false)),
        [id, own] if own == "own" => Some((fractions, vec![System::find(id)?], true)),
        _ => None,
    }
}

/// The system, its class, sand, silt and clay by its limits, and the doubt of the conversion.
fn line(fractions: [f64; 3], system: System, is_own: bool) -> Result<String, TextureFault> {
    let there: Converted = if is_own {
        convert(checked(fractions)?, system, system)?
    } else {
        convert(fractions, System::Usda, system)?
    };
    let class: &SystemClass = classify_in(there.fractions_pct, system)?;
    let [sand, silt, clay] = there.fractions_pct.map(|pct| fixed(pct, 2));
    let doubt = fixed(there.doubt_pct, 0);
    Ok(format!(
        "{:13} {:22} sand {sand:>6}  silt {silt:>6}  clay {clay:>6}  +/- {doubt}",
        system.id(),
        class.name
    ))
}
