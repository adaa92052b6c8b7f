//! Prints the outcome of a recipe: `cargo run --release --example outcome -- recipe.json`, or `-`
//! for standard input.
//!
//! Exit 1: the recipe has a fault; nothing on standard output, one line on standard error with the
//! field's path and the limits. Exit 2: the file cannot be read, or none was named.

use barrowmix::document::document;
use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use barrowmix::words::{METRIC, error_text};
use std::io::{Read as _, Write as _};
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut arguments = std::env::args_os().skip(1);
    let (Some(name), None) = (arguments.next(), arguments.next()) else {
        eprintln!("usage: outcome FILE (or - for standard input)");
        return ExitCode::from(2);
    };
    let bytes = if name == "-" {
        let mut bytes = Vec::new();
        std::io::stdin().read_to_end(&mut bytes).map(|_| bytes)
    } else {
        std::fs::read(&name)
    };
    let bytes = match bytes {
        Ok(bytes) => bytes,
        Err(error) => {
            eprintln!("{}: {error}", name.display());
            return ExitCode::from(2);
        }
    };
    match Recipe::from_bytes(&bytes).and_then(|recipe| Outcome::of(&recipe)) {
        Ok(outcome) => {
            let text = serde_json::to_string_pretty(&document(&outcome, METRIC))
                .expect("an outcome holds only finite numbers and texts");
            // A reader that has gone away is no fault of the recipe.
            if let Err(error) = writeln!(std::io::stdout(), "{text}") {
                eprintln!("standard output: {error}");
                return ExitCode::from(2);
            }
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("{}", error_text(&error));
            ExitCode::FAILURE
        }
    }
}
