//! Prints the letters of a recipe's link, `cargo run --example link -- FILE`, or the recipe of a link
//! or a whole address, `cargo run --example link -- --open ADDRESS`.
//!
//! Exit 1: the recipe or the link has a fault. Exit 2: nothing was named, or it cannot be read.

use barrowmix::recipe::{Recipe, from_link, to_link};
use barrowmix::words::error_text;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let printed = match words[..] {
        ["--open", address] => {
            let letters = address.rsplit('#').next().unwrap_or_default();
            from_link(letters).map(|recipe| recipe.to_json())
        }
        [file] => match std::fs::read(file) {
            Ok(bytes) => Recipe::from_bytes(&bytes)
                .and_then(|recipe| to_link(&recipe))
                .map(|letters| letters + "\n"),
            Err(error) => {
                eprintln!("{file}: {error}");
                return ExitCode::from(2);
            }
        },
        _ => {
            eprintln!("usage: link FILE, or link --open ADDRESS");
            return ExitCode::from(2);
        }
    };
    match printed {
        Ok(text) => {
            print!("{text}");
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("{}", error_text(&error));
            ExitCode::FAILURE
        }
    }
}
