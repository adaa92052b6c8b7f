//! Reads recipes from standard input, one a line, and prints a fingerprint of each outcome: two
//! machines, or two builds, agree to the last bit when the lists are equal. After a change that is
//! meant to move a number, the stored list is made anew:
//!
//! `cargo run --release --example fingerprints < tests/reference/grid.jsonl > tests/reference/grid_bits.txt`

#[path = "../tests/support/fingerprint.rs"]
mod fingerprint;

use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use barrowmix::words::error_text;
use std::process::ExitCode;

fn main() -> ExitCode {
    for (index, line) in std::io::stdin().lines().enumerate() {
        let Ok(line) = line else {
            return ExitCode::from(2);
        };
        match Recipe::from_json(&line).and_then(|recipe| Outcome::of(&recipe)) {
            Ok(outcome) => println!("{}", fingerprint::fingerprint(&outcome)),
            Err(error) => {
                eprintln!("line {}: {}", index + 1, error_text(&error));
                return ExitCode::FAILURE;
            }
        }
    }
    ExitCode::SUCCESS
}
