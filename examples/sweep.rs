//! Prints a figure along the amount of an addition: `cargo run --release --example sweep -- FILE
//! pore_space` for the first addition of a recipe.
//!
//! Exit 1: the recipe has a fault or nothing to sweep. Exit 2: it cannot be read, or there is no such
//! figure.

use barrowmix::draws::Strata;
use barrowmix::recipe::Recipe;
use barrowmix::sweep::{Axis, Run, Swept};
use barrowmix::words::error_text;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [file, id] = arguments.as_slice() else {
        eprintln!("usage: sweep FILE FIGURE");
        return ExitCode::from(2);
    };
    let Some(swept) = Swept::find(id) else {
        let known: Vec<&str> = Swept::ALL.iter().map(|of| of.id()).collect();
        eprintln!("{id}: not one of {}", known.join(" "));
        return ExitCode::from(2);
    };
    let bytes = match std::fs::read(file) {
        Ok(bytes) => bytes,
        Err(error) => {
            eprintln!("{file}: {error}");
            return ExitCode::from(2);
        }
    };
    let recipe = match Recipe::from_bytes(&bytes) {
        Ok(recipe) => recipe,
        Err(error) => {
            eprintln!("{}", error_text(&error));
            return ExitCode::FAILURE;
        }
    };
    let run = Axis::usual(&recipe, 0).and_then(|axis| Run::of(&recipe, &[axis]).ok());
    let Some(mut run) = run else {
        eprintln!("additions[0]: there is nothing to sweep");
        return ExitCode::FAILURE;
    };
    let mut strata = Strata::default();
    while run.step(&mut strata) {}
    let axis = run.axes()[0];
    for (step, point) in run.points().iter().enumerate() {
        let amount = axis.at(step, run.all() - 1);
        if let Some(figure) = point.as_ref().and_then(|point| point.figure(swept)) {
            let ends = figure.ends();
            println!(
                "{amount:>8.2} {:>10.3} ({:.3} to {:.3})",
                figure.typical, ends.low, ends.high
            );
        }
    }
    ExitCode::SUCCESS
}
