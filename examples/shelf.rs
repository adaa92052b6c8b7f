//! Lays two recipes side by side: `cargo run --release --example shelf -- ONE OTHER` prints what each
//! comes to, how the other differs from the one, and in how many of ten draws it does.
//!
//! Exit 1: a recipe has a fault. Exit 2: it cannot be read.

use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use barrowmix::shelf::{Against, Compared, Side, compare};
use barrowmix::words::{
    METRIC, compared_name, compared_told, difference_told, error_text, odds_told,
};
use std::process::ExitCode;

/// A recipe's currency and what becomes of it.
fn side(file: &str) -> Result<(Option<String>, Side), ExitCode> {
    let bytes = std::fs::read(file).map_err(|error| {
        eprintln!("{file}: {error}");
        ExitCode::from(2)
    })?;
    let recipe = Recipe::from_bytes(&bytes);
    let outcome = recipe.and_then(|recipe| Ok((Outcome::of(&recipe)?, recipe)));
    let (outcome, recipe) = outcome.map_err(|error| {
        eprintln!("{file}: {}", error_text(&error));
        ExitCode::FAILURE
    })?;
    // Only a comparison with the ground asks for the ground alone.
    let alone = None;
    Ok((recipe.currency, Side { outcome, alone }))
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [one, other] = arguments.as_slice() else {
        eprintln!("usage: shelf ONE OTHER");
        return ExitCode::from(2);
    };
    let both = side(one).and_then(|one| Ok((one, side(other)?)));
    let ((money, one), (others, other)) = match both {
        Ok(both) => both,
        Err(code) => return code,
    };
    println!(
        "{:<22} {:>14} {:>14}   of the other, nine times in ten",
        "", "one", "other"
    );
    for of in Compared::ALL {
        // Prices in two currencies are no difference.
        if of == Compared::Cost && money != others {
            continue;
        }
        let money = money.as_deref();
        let told = |side: &Side| {
            let told = compared_told(of, &side.outcome, money, METRIC);
            told.map_or("-".to_owned(), |told| told.value)
        };
        let differs = compare(of, &other, Against::Other(&one)).map(|found| {
            let told = difference_told(of, found.difference, money, METRIC);
            let range = match told.range.as_str() {
                "" => String::new(),
                range => format!(" ({range})"),
            };
            format!("{}{range}, {}", told.value, odds_told(of, &found))
        });
        println!(
            "{:<22} {:>14} {:>14}   {}",
            compared_name(of),
            told(&one),
            told(&other),
            differs.unwrap_or_default()
        );
    }
    ExitCode::SUCCESS
}
